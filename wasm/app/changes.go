package app

import (
	"cmp"
	"slices"

	"lugworth/core/catalog"
)

// A Digest is what a new list changes, in the order a person reads it: the
// largest amounts first, at most DigestRows of each sort.
type Digest struct {
	Dearer, Cheaper, Gone, Added, Other Sort
	Same                                int
}

// A Sort is the changes of one sort: how many there are, and the first ones.
type Sort struct {
	Count int
	Top   []catalog.Change
}

// DigestRows is how many changes of each sort are laid out; the rest is
// counted.
const DigestRows = 12

// other are the aspects besides the first price.
const other = ^(catalog.PriceUp | catalog.PriceDown)

// digestOf sorts out what changed. Rows whose price fell or rose and that
// changed otherwise as well are told of under both.
func digestOf(c catalog.ListChange) Digest {
	d := Digest{Same: c.Same}
	for i := range c.Changed {
		one := &c.Changed[i]
		switch {
		case one.What&catalog.PriceUp != 0:
			d.Dearer.take(one, amountFirst)
		case one.What&catalog.PriceDown != 0:
			d.Cheaper.take(one, amountFirst)
		}
		if one.What&other != 0 {
			d.Other.take(one, nil)
		}
	}
	for i := range c.Gone {
		d.Gone.take(&c.Gone[i], nil)
	}
	for i := range c.Added {
		d.Added.take(&c.Added[i], nil)
	}
	return d
}

// amountFirst puts the larger amount first, up or down; of equal ones the
// part number that comes first.
func amountFirst(a, b catalog.Change) int {
	x, y := a.By, b.By
	if x.Sign() < 0 {
		x, y = y, x
	}
	return cmp.Or(y.Cmp(x), cmp.Compare(a.Number, b.Number))
}

// take counts a change and keeps it where it is among the first.
func (s *Sort) take(c *catalog.Change, compare func(a, b catalog.Change) int) {
	s.Count++
	if compare == nil {
		if len(s.Top) < DigestRows {
			s.Top = append(s.Top, *c)
		}
		return
	}
	if len(s.Top) == DigestRows && compare(*c, s.Top[DigestRows-1]) >= 0 {
		return
	}
	at, _ := slices.BinarySearchFunc(s.Top, *c, compare)
	s.Top = slices.Insert(s.Top, at, *c)
	s.Top = s.Top[:min(len(s.Top), DigestRows)]
}
