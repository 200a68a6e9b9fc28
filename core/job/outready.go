package job

import (
	"strconv"

	"lugworth/core/unit"
)

type (
	// OutReady is when a choice is ready and how long it takes, by chances. It
	// is there where the shop states its bench hours.
	OutReady struct {
		Set     string       `json:"set"`
		Hours   *OutChances  `json:"hours"`
		Days    *OutChances  `json:"days"`
		Dates   *OutChances  `json:"dates"`
		Method  string       `json:"method"`
		Missing []string     `json:"missing"`
		Waits   []OutHolding `json:"waits"`
	}
	// OutChances are the figures for five, eight and nine of ten cases.
	OutChances struct {
		P50 string `json:"p50"`
		P80 string `json:"p80"`
		P90 string `json:"p90"`
	}
	// OutHolding is what a date waits for: the share of cases, and days on
	// average.
	OutHolding struct {
		Say   string `json:"say"`
		Share string `json:"share"`
		Days  string `json:"days"`
	}
)

// outReady lists the named choices; nothing where the shop states no bench
// hours.
func (r *Result) outReady() []OutReady {
	if !r.Books.Sheet.Has("bench_hours") {
		return nil
	}
	var out []OutReady
	for _, s := range r.Sets {
		if s.Err != "" {
			continue
		}
		d, h := r.DatesOf(s.Accept), r.HoursOf(s.Accept)
		hour := func(v unit.Hours) string { return fixed(float64(v), 2) }
		o := OutReady{Set: s.Name, Hours: &OutChances{hour(h.P50), hour(h.P80), hour(h.P90)}, Method: h.Method, Missing: d.Missing}
		if d.Ok() {
			o.Days = &OutChances{strconv.Itoa(d.P50), strconv.Itoa(d.P80), strconv.Itoa(d.P90)}
			o.Dates = &OutChances{d.Date50, d.Date80, d.Date90}
			o.Method += "; dates: " + d.Method
			for _, w := range append(d.Waits[:len(d.Waits):len(d.Waits)], d.Bench) {
				o.Waits = append(o.Waits, OutHolding{w.Say, fixed(w.Share, 3), fixed(w.Days, 2)})
			}
		}
		out = append(out, o)
	}
	return out
}
