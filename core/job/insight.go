package job

import (
	"lugworth/core/money"
	"lugworth/core/quote"
	"lugworth/core/shop"
	"lugworth/core/unit"
)

// An Insight sets two ways of one finding side by side where the dearer
// bench work keeps less of the amp: something owners expect the other way
// round.
type Insight struct {
	Finding      string
	More, Less   string // options: more labor, less labor
	Labor        money.Amount
	Hours        unit.Hours
	Kept, Spends shop.Matter // what Less keeps, what More does to the original
}

// Say is the sentence for the owner: "T2c costs 72.00 more labor than T2b
// and keeps less of the original: consumed, not in place".
func (i Insight) Say(c money.Currency) string {
	return i.More + " costs " + c.Format(i.Labor) + " more labor than " + i.Less + " and keeps less of the original: " + string(i.Spends) + ", not " + string(i.Kept)
}

// keeps orders what becomes of the original part, the most kept first. Our
// own judgment: a part out of use in its place is kept better than one in a
// bag.
var keeps = map[shop.Matter]int{shop.Untouched: 3, shop.InPlace: 2, shop.Bagged: 1, shop.Consumed: 0}

// Insights lists pairs of ways of one finding, with the same set-ups, of
// which one costs more labor and keeps less. No choice changes them: they are
// looked for once. The caller must not change them.
func (r *Result) Insights() []Insight {
	if !r.ground.compared {
		r.ground.insights, r.ground.compared = r.compare(), true
	}
	return r.ground.insights
}

func (r *Result) compare() []Insight {
	var out []Insight
	for _, f := range r.Findings {
		for _, a := range f.Options {
			for _, b := range f.Options {
				if i, ok := r.insight(a, b); ok {
					out = append(out, i)
				}
			}
		}
	}
	return out
}

func (r *Result) insight(more, less int) (Insight, bool) {
	a, b := &r.Job.Options[more], &r.Job.Options[less]
	ka, oka := keeps[a.Matter]
	kb, okb := keeps[b.Matter]
	if !oka || !okb || ka >= kb || !sameWords(a.SetUps, b.SetUps) {
		return Insight{}, false
	}
	rate := quote.RateOf(r.Books.Sheet, "shop sheet")
	ta, tb := r.labor.tasks[a.ID].Three, r.labor.tasks[b.ID].Three
	ca, err1 := ta.Cost(rate)
	cb, err2 := tb.Cost(rate)
	if err1 != nil || err2 != nil || ca <= cb {
		return Insight{}, false
	}
	return Insight{Finding: a.Finding, More: a.ID, Less: b.ID, Labor: ca - cb, Hours: ta.Expected() - tb.Expected(), Kept: b.Matter, Spends: a.Matter}, true
}

// sameWords reports whether two lists name the same, in any order.
func sameWords(a, b []string) bool {
	seen := map[string]bool{}
	for _, s := range a {
		seen[s] = true
	}
	for _, s := range b {
		if !seen[s] {
			return false
		}
	}
	return len(a) == len(b)
}
