package app

// Known reports whether anything can be done to an element with an act: it is
// pressed, changed, typed into or sent.
func Known(act string) bool {
	for _, t := range []map[string]handler{pressed, changed, submitted, typed, keys} {
		if _, ok := t[act]; ok {
			return true
		}
	}
	return false
}
