package catalog

// An Index finds offers by kind and value, by tube type and by number.
// It is built once for a set of lists and is then only read.
type Index struct {
	offers []*Offer
}

// NewIndex indexes every offer of lists. The lists must not change afterwards.
func NewIndex(lists []List) *Index { return &Index{} }

// Find returns the offers that answer w, ordered by list, number and line.
func (x *Index) Find(w Want) []*Offer { return nil }

// ByNumber returns the first offer of a list with that part number.
func (x *Index) ByNumber(list, number string) (*Offer, bool) { return nil, false }
