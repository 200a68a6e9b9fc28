package job

import (
	"cmp"
	"slices"

	"lugworth/core/order"
	"lugworth/core/sorted"
)

// A Ranked is what one offer for a need does to the whole order.
type Ranked struct {
	Pack     int   // of Market.Packs
	Alone    int64 // what the need costs there, carriage aside; order.Never where it has not the pieces
	Known    bool  // Delta has been worked out
	Delta    int64 // the cheapest order that takes it, less the cheapest of all; not known where Fails is set
	Exact    bool  // false: the order may cost as little as Delta more, and was not searched to its end
	Fails    string
	Planned  bool // the plan line names it
	Chosen   bool // the answer takes it
	Original int  // its score
}

// A Ranking works out, offer by offer, what insisting on each would do to the
// order: one search each with the need's offers restricted. Amounts count
// 10^-Places of a minor unit of the shop's currency.
type Ranking struct {
	Rows   []Ranked // cheapest alone first; they keep their places
	Places int

	o    *Ordering
	lim  order.Limits
	base order.Answer
	want int
	next int
	now  *order.Search
	left int
}

// rankSteps is how often one offer's search is stepped before its bound is
// given for an answer.
const rankSteps = 100

// Rank sets up the ranking of an opened need under the limits that gave the
// answer. It is nil where there is no answer to compare with.
func (o *Ordering) Rank(lim order.Limits, base order.Answer, want int) *Ranking {
	if !base.Feasible || want < 0 || want >= len(base.Plan) {
		return nil
	}
	k := &Ranking{o: o, lim: lim, base: base, want: want, Places: base.Places}
	w := reasons{o: o, a: base, want: want}
	for _, f := range o.Market.Wants[want].Fits {
		k.Rows = append(k.Rows, Ranked{Pack: f.Pack, Alone: w.cost(f.Pack), Planned: f.Pack == o.planned[want], Chosen: f.Pack == base.Plan[want], Original: f.Score})
	}
	sorted.By(k.Rows, func(a, b Ranked) int { return cmp.Or(cmp.Compare(a.Alone, b.Alone), cmp.Compare(a.Pack, b.Pack)) })
	return k
}

// Step works on the next offer once and reports whether all are known.
func (k *Ranking) Step() bool {
	if k.next >= len(k.Rows) {
		return true
	}
	row := &k.Rows[k.next]
	if row.Chosen && k.base.Proven {
		row.Known, row.Exact = true, true
		k.next++
		return k.next >= len(k.Rows)
	}
	if k.now == nil {
		s, err := k.only(row.Pack)
		if err != nil {
			row.Known, row.Fails = true, err.Error()
			k.next++
			return k.next >= len(k.Rows)
		}
		k.now, k.left = s, rankSteps
	}
	k.left--
	if done := k.now.Step(); done || k.left == 0 {
		row.take(k.now.Answer(), k.base)
		k.now = nil
		k.next++
	}
	return k.next >= len(k.Rows)
}

// only is a search in which the need takes one offer.
func (k *Ranking) only(pack int) (*order.Search, error) {
	m := k.o.Market
	m.Wants = slices.Clone(m.Wants)
	w := &m.Wants[k.want]
	w.Fits = slices.DeleteFunc(slices.Clone(w.Fits), func(f order.Fit) bool { return f.Pack != pack })
	return order.NewSearch(m, k.lim)
}

// take notes what a search gave: exact where it and the answer compared with
// are proven, else how little more the order may cost.
func (r *Ranked) take(a, base order.Answer) {
	r.Known = true
	switch {
	case a.Feasible && a.Proven && base.Proven:
		r.Delta, r.Exact = a.Cost-base.Cost, true
	case a.Feasible || !a.Proven:
		r.Delta = max(0, a.Lower-base.Cost)
	default:
		r.Fails = a.Why
	}
}
