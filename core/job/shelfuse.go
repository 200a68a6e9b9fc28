package job

import (
	"slices"

	"lugworth/core/order"
)

// shelfFor is what of the shop's shelf may be used for an order. A line that
// takes the offer it names takes what there is of it. A line bought elsewhere
// than planned takes from the shelf only where that serves it whole: this is
// how the search counts, for which the shelf is one more supplier.
func (r *Result) shelfFor(takes []taken) []order.Holding {
	if len(r.Books.Stock) == 0 || !slices.ContainsFunc(takes, func(t taken) bool { return t.moved() }) {
		return r.Books.Stock
	}
	left, used := r.onShelf(), map[string]int{}
	for _, moved := range []bool{false, true} {
		for i := range takes {
			t := &takes[i]
			k := offerKey(t.need.List, t.need.Number)
			if t.moved() != moved || t.need.Barred != "" || moved && left[k] < t.need.Pieces {
				continue
			}
			n := min(left[k], t.need.Pieces)
			left[k], used[k] = left[k]-n, used[k]+n
		}
	}
	var out []order.Holding
	for _, h := range r.Books.Stock {
		k := offerKey(h.List, h.Number)
		h.Pieces = min(h.Pieces, used[k])
		used[k] -= h.Pieces
		out = append(out, h)
	}
	return out
}

// moved reports whether a line is bought elsewhere than planned.
func (t *taken) moved() bool {
	c := t.line.Chosen
	return c != nil && t.from != nil && (c.Offer.List != t.from.List || c.Offer.Number != t.from.Number)
}

// onShelf counts the pieces on the shop's shelf by part.
func (r *Result) onShelf() map[string]int {
	if len(r.Books.Stock) == 0 {
		return nil
	}
	out := map[string]int{}
	for _, h := range r.Books.Stock {
		out[offerKey(h.List, h.Number)] += h.Pieces
	}
	return out
}
