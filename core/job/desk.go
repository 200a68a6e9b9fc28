package job

import (
	"lugworth/core/catalog"
	"lugworth/core/labor"
	"lugworth/core/plan"
	"lugworth/core/quote"
	"lugworth/core/why"
)

// TermsOf returns what the prices of a list mean to the shop. A supplier
// without a row in the terms trades in the shop's own currency at a rate of
// one.
func (b *Books) TermsOf(list string) catalog.Terms { return b.termsOf(list) }

// UseIndex makes an index of the lists at hand the one that is searched, in
// place of one made by Reindex. It reports false, and changes nothing, where
// the index is not of these lists.
func (b *Books) UseIndex(x *catalog.Index) bool {
	if x == nil || !x.Of(b.Lists) {
		return false
	}
	b.index, b.shelf = x, &shelf{}
	return true
}

// WhySelling is the reason of what the owner pays for one piece of a
// candidate; nil where it cannot be priced.
func (r *Result) WhySelling(c *plan.Candidate) *why.Node {
	if !c.Offer.Priced || c.Cost.Err != nil {
		return nil
	}
	return r.sellingNode(c)
}

// LaborOf is the bench work of some options taken together, every line with
// its reason: the set-ups they need, each once, then their tasks. Options the
// job has not are passed over.
//
// Errors: as labor.Sum.
func (r *Result) LaborOf(options ...string) (labor.Estimate, error) {
	if r.stops != nil {
		return labor.Estimate{}, r.stops
	}
	var tasks []labor.Task
	for _, id := range options {
		if t, ok := r.labor.tasks[id]; ok {
			if err := r.unclear(&r.Job.Options[r.worlds.at[id]]); err != nil {
				return labor.Estimate{}, err
			}
			tasks = append(tasks, t)
		}
	}
	return labor.Sum(tasks, r.Job.SetUps, quote.RateOf(r.Books.Sheet, "shop sheet"))
}
