package order

// users is who could ask something of an offer in one part of the work.
type users struct {
	fixed int64   // pieces of needs that have no other choice
	open  []int32 // leans of needs that have
	sure  []int32 // leans of the others
}

// tighten works out anew what each loose need adds at least, now that fewer
// needs can take the same offer or some must. It reports whether anything
// changed.
func (w *work) tighten(n *node) bool {
	t := &w.tight
	t.gather(w.s, n)
	t.gone = false
	w.s.effort += len(n.list)
	changed := false
	for _, p := range t.packs {
		u := &t.by[p]
		if len(u.open) < 2 {
			changed = t.exact(w.s, n, int(p), u) || changed
		} else {
			for _, list := range [2][]int32{u.open, u.sure} {
				for _, i := range list {
					changed = t.raise(w.s, n, i, t.share(w.s, n, int(p), u, i)) || changed
				}
			}
		}
		u.fixed, u.open, u.sure = 0, u.open[:0], u.sure[:0]
	}
	if t.gone {
		n.close()
	}
	return changed
}

// tight is room for tightening.
type tight struct {
	by    []users // by offer
	packs []int32 // offers in use
	group []int32 // by lean: its group
	sums  [2][]int64
	gone  bool    // some option cannot be had
	paid  []int64 // by offer
}

// gather lists who could take each offer.
func (t *tight) gather(s *Search, n *node) {
	if t.by == nil {
		t.by = make([]users, len(s.market.Packs))
	}
	t.packs, t.group = t.packs[:0], t.group[:0]
	for g := range s.groups {
		from, to := n.start[g], n.start[g+1]
		for i := from; i < to; i++ {
			t.group = append(t.group, int32(g))
			if !s.groups[g].loose {
				continue
			}
			p := s.packs[s.options[n.list[i].id].packs]
			u := &t.by[p]
			if len(u.open)+len(u.sure) == 0 {
				t.packs = append(t.packs, p)
			}
			if to == from+1 {
				u.sure = append(u.sure, i)
				u.fixed += t.pieces(s, i)
			} else {
				u.open = append(u.open, i)
			}
		}
	}
}

func (t *tight) pieces(s *Search, lean int32) int64 {
	return int64(s.market.Wants[s.wants[s.groups[t.group[lean]].wants.from]].Pieces)
}

// mostOpen is how many needs that may take an offer or not are looked at
// together.
const mostOpen = 12

// share is the least a need adds, below zero where nothing new is known.
func (t *tight) share(s *Search, n *node, pack int, u *users, lean int32) int64 {
	if len(u.open) > mostOpen {
		return -1
	}
	q, from := t.pieces(s, lean), u.fixed
	if t.open(n, lean) {
		from += q
	}
	sums, other := append(t.sums[0][:0], from), t.sums[1]
	for _, i := range u.open {
		if i != lean {
			sums, other = withMore(other[:0], sums, t.pieces(s, i)), sums
		}
	}
	t.sums[0], t.sums[1] = sums, other
	s.effort += len(sums)
	least := int64(Never)
	for _, x := range sums {
		if c, _ := s.market.Packs[pack].Cost(int(x)); c != Never {
			least = min(least, share(q, c, x))
		}
	}
	return least
}

func (t *tight) open(n *node, lean int32) bool {
	g := t.group[lean]
	return n.start[g+1] > n.start[g]+1
}

// exact shares out what an offer truly costs where at most one need is still
// free to take it: the others pay for what they ask together, that one pays
// what it adds.
func (t *tight) exact(s *Search, n *node, pack int, u *users) bool {
	p := &s.market.Packs[pack]
	s.effort += 2
	paid, _ := p.Cost(int(u.fixed))
	changed := false
	rest := paid
	for k, i := range u.sure {
		part := rest
		if paid != Never && k+1 < len(u.sure) {
			part = share(t.pieces(s, i), paid, u.fixed)
			rest -= part
		}
		changed = t.set(s, n, i, part) || changed
	}
	for _, i := range u.open {
		both, _ := p.Cost(int(u.fixed + t.pieces(s, i)))
		if both != Never {
			both -= paid
		}
		changed = t.set(s, n, i, both) || changed
	}
	return changed
}

// raise takes a greater share.
func (t *tight) raise(s *Search, n *node, lean int32, goods int64) bool {
	return goods > n.list[lean].goods && t.set(s, n, lean, goods)
}

// set takes another share, and marks an option that cannot be had.
func (t *tight) set(s *Search, n *node, lean int32, goods int64) bool {
	l := &n.list[lean]
	seller := s.market.Packs[s.packs[s.options[l.id].packs]].Seller
	if goods > pastReckoning/s.factor[seller] {
		l.id, t.gone = -1, true
		return true
	}
	if goods == l.goods {
		return false
	}
	l.seller, l.goods, l.cost = int32(seller), goods, goods*s.factor[seller]*s.one
	return true
}

// unpaid is the undecided need whose offer is paid least of what it truly
// costs in the relaxed pick, below zero where all is paid.
func (w *work) unpaid(n *node) int {
	s, x := w.s, &w.s.spare
	if x.asked == nil {
		x.asked = make([]int, len(s.market.Packs))
	}
	if w.tight.paid == nil {
		w.tight.paid = make([]int64, len(s.market.Packs))
	}
	paid := w.tight.paid
	each := func(do func(g int, p int32, l *lean)) {
		for g := range s.groups {
			if !s.groups[g].loose {
				continue
			}
			for i := n.start[g]; i < n.start[g+1]; i++ {
				if l := &n.list[i]; l.id == w.pick[g] {
					do(g, s.packs[s.options[l.id].packs], l)
				}
			}
		}
	}
	each(func(g int, p int32, l *lean) {
		x.asked[p] += s.market.Wants[s.wants[s.groups[g].wants.from]].Pieces
		paid[p] += l.goods
	})
	most, at := int64(0), -1
	each(func(g int, p int32, l *lean) {
		if n.start[g+1] == n.start[g]+1 {
			return
		}
		pack := &s.market.Packs[p]
		c, _ := pack.Cost(x.asked[p])
		owed := int64(Never)
		if c < pastReckoning/s.factor[pack.Seller] {
			owed = (c - paid[p]) * s.factor[pack.Seller]
		}
		if owed > most {
			most, at = owed, g
		}
	})
	each(func(_ int, p int32, _ *lean) { x.asked[p], paid[p] = 0, 0 })
	s.effort += len(n.list)
	return at
}
