package part

import "lugworth/wasm/keyed"

// Foot is the sum at the foot of the leaf: total, ceiling and date in one
// place on every posture that talks about money.
type Foot struct {
	Total, Currency string
	TotalK          string // k of the total's reason
	Ceiling         string // "" : none agreed
	Left            string // "17.63 left", "over by 6.37"
	Over            bool   // over the ceiling
	Line            string // drawing, see draw.MoneyLine
	Ready           string // "ready day 21"
	ReadyK          string
	Needed          string // "needed by day 21", "" : no date agreed
	Late            bool
}

// Node is the foot as a row of the leaf.
func (f Foot) Node() keyed.Node {
	return keyed.Row("footer", "foot", keyed.LiveClass("foot"+f.classes()), keyed.Attr("aria-label", "Total, ceiling and date"),
		keyed.El("div", keyed.Class("foot-total"),
			keyed.El("span", keyed.Class("foot-say"), keyed.Text("Total")),
			keyed.El("span", keyed.Class("money money-big"), Why(f.TotalK, f.Total),
				keyed.El("span", keyed.Class("unit"), keyed.Text(f.Currency)))),
		keyed.El("div", keyed.Class("foot-line"), keyed.Raw(f.Line)),
		keyed.El("div", keyed.Class("foot-ceiling"),
			keyed.El("span", keyed.Class("foot-say"), keyed.Text(f.ceiling())),
			keyed.El("strong", keyed.Class("foot-left"), keyed.Attr("aria-live", "polite"), keyed.Text(f.Left))),
		keyed.El("button", keyed.Attr("type", "button"), keyed.Class("foot-date"), keyed.Do("why", "", f.ReadyK), keyed.Flag("disabled", f.ReadyK == ""),
			keyed.El("span", keyed.Class("foot-say"), keyed.Text(f.Needed)),
			keyed.El("span", keyed.Class("foot-ready"), keyed.Text(f.Ready))))
}

func (f Foot) ceiling() string {
	if f.Ceiling == "" {
		return "no ceiling agreed"
	}
	return "Ceiling " + f.Ceiling
}

func (f Foot) classes() string {
	s := ""
	if f.Over {
		s += " is-over"
	}
	if f.Late {
		s += " is-late"
	}
	return s
}
