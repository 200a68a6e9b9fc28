package plan

import (
	"cmp"
	"fmt"
	"slices"

	"lugworth/core/catalog"
	"lugworth/core/limit"
	"lugworth/core/rating"
	"lugworth/core/sorted"
	"lugworth/core/unit"
)

// A Test is one thing an offer must pass to serve a need.
type Test string

// The tests an offer may fail.
const (
	TestValue     Test = "value"     // outside the window of the need
	TestTolerance Test = "tolerance" // its greatest value is too much for the place
	TestVolts     Test = "volts"     // short of what the place asks
	TestWatts     Test = "watts"     // short of what the place asks
	TestStyle     Test = "style"     // another make, form, class, number of sections or tubes
	TestStated    Test = "stated"    // the row, or the amp, does not tell what it is judged by
	TestPlace     Test = "place"     // never goes there
	TestStock     Test = "stock"     // the supplier states too few
	TestLate      Test = "late"      // does not arrive in time, or nobody says so
	TestPrice     Test = "price"     // there is none
)

// A Miss is an offer that fails exactly one test of a need.
type Miss struct {
	Priced
	Test Test
	Say  string // what it has and what is needed: "400.0 V, needs 445.2 V"
	// Safety: the test guards people or the amp. Such an offer is shown so
	// that nobody wonders, and can never be ticked.
	Safety bool
	off    float64 // how far it misses, as a ratio; for order only
}

// Asked is what the order asks of an offer besides the need itself.
type Asked struct {
	Pieces  int
	Days    int // longest lead, where HasDays
	HasDays bool
}

// stretch is how far past the ends of a need's window a value may lie and
// still be listed as a near miss. Common practice, no source.
const stretch = 2

// Near lists the offers of the lists that fail exactly one test of a line:
// those that can be helped first, then by how far they miss, then cheapest
// first. Values beyond twice the window, and parts of another nature, are no
// near misses. It weighs every row of the kind: ask it for an opened need.
func (l *Line) Near(ask Asked) []Miss {
	if l.scales == nil || l.part.together() || len(l.part.Want.Kinds) == 0 && l.part.Want.Tube == "" {
		return nil // several pieces of one place are weighed together, not one by one
	}
	worst := passes
	if l.Chosen != nil {
		worst = max(worst, l.Chosen.class)
	}
	var out []Miss
	for _, o := range l.scales.desk.Shelf(around(l.part.Want)) {
		n := nearness{offer: o, want: l.part.Want, ask: ask}
		n.row()
		if len(n.misses) > 1 {
			continue
		}
		c := l.Weigh(o)
		n.judged(&c, worst)
		if len(n.misses) == 1 {
			out = append(out, n.misses[0])
		}
	}
	sorted.By(out, func(a, b Miss) int {
		return cmp.Or(cmp.Compare(rankOf(a), rankOf(b)), cmp.Compare(a.off, b.off), Cheapest(a.Priced, b.Priced))
	})
	return out
}

func rankOf(m Miss) int {
	if m.Safety {
		return 1
	}
	return 0
}

// around asks for everything that might miss a need by one test.
func around(w catalog.Want) catalog.Want {
	out := catalog.Want{Kinds: w.Kinds, Tube: w.Tube, ValueLow: w.ValueLow / stretch, ValueHigh: w.ValueHigh * stretch}
	for _, family := range [][]catalog.Kind{catalog.Couplers(), catalog.Resistors()} {
		if slices.ContainsFunc(w.Kinds, func(k catalog.Kind) bool { return slices.Contains(family, k) }) {
			out.Kinds = append(slices.Clone(w.Kinds), family...)
		}
	}
	return out
}

// nearness gathers the tests one offer fails.
type nearness struct {
	offer  Priced
	want   catalog.Want
	ask    Asked
	misses []Miss
}

func (n *nearness) miss(t Test, safety bool, off float64, format string, args ...any) {
	n.misses = append(n.misses, Miss{Priced: n.offer, Test: t, Say: fmt.Sprintf(format, args...), Safety: safety, off: off})
}

// row tests what the row alone tells.
func (n *nearness) row() {
	p, o, w := &n.offer.Offer.Part, n.offer.Offer, n.want
	if v := p.Spec.Value(); w.ValueHigh > 0 && (v < w.ValueLow*(1-1e-9) || v > w.ValueHigh*(1+1e-9)) {
		q := func(v float64) string { return unit.Quantity{Amount: v, Unit: p.Spec.Unit}.String() }
		n.miss(TestValue, false, max(w.ValueLow/v, v/w.ValueHigh), "%s, needs %s to %s", q(v), q(w.ValueLow), q(w.ValueHigh))
	}
	n.style(p)
	if have := o.StockPacks * o.Pack; o.StockPacks >= 0 && have < n.ask.Pieces {
		n.miss(TestStock, false, float64(n.ask.Pieces)/float64(max(have, 1)), "%d in stock, needs %d", have, n.ask.Pieces)
	}
	switch {
	case !n.ask.HasDays:
	case o.LeadDays < 0:
		n.miss(TestLate, false, 2, "lead time not stated, needs %d days", n.ask.Days)
	case o.LeadDays > n.ask.Days:
		n.miss(TestLate, false, float64(o.LeadDays)/float64(max(n.ask.Days, 1)), "%d days, needs %d", o.LeadDays, n.ask.Days)
	}
	if unpriced(n.offer) == 1 {
		n.miss(TestPrice, false, 1, "%s", noPrice(&Candidate{Cost: n.offer.Cost}))
	}
}

// style tests how the part is made.
func (n *nearness) style(p *catalog.Part) {
	w := n.want
	if len(w.Kinds) > 0 && !slices.Contains(w.Kinds, p.Kind) {
		n.miss(TestStyle, false, 1, "%s, needs %s", p.Kind, w.Kinds[0])
	}
	if w.Form != catalog.AnyForm && p.Form != w.Form {
		have := p.Form.String()
		if p.Form == catalog.AnyForm {
			have = "form not stated"
		}
		n.miss(TestStyle, false, 1, "%s, needs %s", have, w.Form)
	}
	if w.Class != "" && p.Class != w.Class {
		n.miss(TestStyle, true, 1, "class %s, needs %s", cmp.Or(p.Class, "not stated"), w.Class)
	}
	if have := len(p.Spec.Values); w.Sections > 0 && have != w.Sections {
		n.miss(TestStyle, false, 1, "%d sections, needs %d", have, w.Sections)
	}
	if w.Count > 0 && p.Count != w.Count {
		n.miss(TestStyle, false, 1, "%d tubes in the piece, needs %d", p.Count, w.Count)
	}
}

// judged tests what the places ask, one miss for each quantity.
func (n *nearness) judged(c *Candidate, worst int) {
	if c.Refused != "" {
		n.miss(TestPlace, true, 1, "%s", c.Refused)
		return
	}
	if c.class <= worst {
		return
	}
	var seen []limit.Quantity
	for i := range c.Rows {
		j := &c.Rows[i]
		if classOf(*j) <= worst || slices.Contains(seen, j.Quantity) {
			continue
		}
		seen = append(seen, j.Quantity)
		n.short(c.hardest(j.Quantity))
	}
}

// hardest is the judgment of a quantity that misses by most.
func (c *Candidate) hardest(q limit.Quantity) *rating.Judgment {
	var worst *rating.Judgment
	for i := range c.Rows {
		j := &c.Rows[i]
		if j.Quantity == q && (worst == nil || classOf(*j) > classOf(*worst) || classOf(*j) == classOf(*worst) && tighter(*j, *worst)) {
			worst = j
		}
	}
	return worst
}

// short says by how much a rating misses.
func (n *nearness) short(j *rating.Judgment) {
	q := func(v float64) string { return unit.Quantity{Amount: v, Unit: j.Unit}.String() }
	t := map[limit.Quantity]Test{limit.DCVolts: TestVolts, limit.Watts: TestWatts}[j.Quantity]
	v := n.offer.Offer.Part.Spec.Value()
	switch {
	case j.Kind == rating.BelowReserve:
		n.miss(t, false, j.Wanted/j.Bound, "%s, needs %s with the shop's reserve", q(j.Bound), q(j.Wanted))
	case !j.Kind.Over():
		n.miss(TestStated, true, 1, "%s", j.Reason())
	case j.Quantity == limit.FirstCapacitor && v <= j.Bound:
		n.miss(TestTolerance, true, j.Worst/j.Bound, "may be as large as %s, the rectifier may feed %s", q(j.Worst), q(j.Bound))
	case t == "":
		n.miss(TestValue, true, j.Worst/j.Bound, "%s, at most %s", q(j.Worst), q(j.Bound))
	default:
		n.miss(t, true, j.Worst/j.Bound, "%s, needs %s", q(j.Bound), q(j.Worst))
	}
}
