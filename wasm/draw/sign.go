package draw

// Sign is the drawing of a posture on its tab: bench, plan, call, order,
// papers. The word stands beside it, so it has no name of its own.
func Sign(posture string) string {
	c := &canvas{w: 32}
	if d, ok := signs[posture]; ok {
		for _, part := range d {
			c.path(stroke("pic-line", inkTint, "2.2", ""), part)
		}
	}
	return `<svg xmlns="http://www.w3.org/2000/svg" class="sign" aria-hidden="true" viewBox="0 0 32 24">` + c.b.String() + `</svg>`
}

// signs: a probe on a tag strip; two columns; two brackets that face each
// other, one speaking; a tied parcel; a sheet with its sum ruled off.
var signs = map[string][]string{
	"bench":  {"M3 20H29", "M7 20V14M13 20V14M19 20V14M25 20V14", "M19 11L24 2"},
	"plan":   {"M3 4H13M3 10H13M3 16H13M3 21H9", "M17 3V22", "M21 4H29M21 10H29M21 16H26"},
	"call":   {"M4 3V17H9L9 22L14 17H18V3Z", "M23 6V14M28 3V17"},
	"order":  {"M4 7H28V21H4Z", "M16 7V21M4 13H28", "M11 2L16 7L21 2"},
	"papers": {"M7 2H25V22H7Z", "M11 7H21M11 11H21", "M15 16H21M15 19H21"},
}
