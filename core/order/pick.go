package order

// price is what a pick truly costs; Never where it cannot be had or a limit
// is broken.
func (s *Search) price(pick []int32) int64 {
	score, ok := s.buyAll(pick)
	if !ok || score < s.lim.Score {
		return Never
	}
	return s.landed()
}

// buyAll reckons the goods at each seller of a pick, and its score.
func (s *Search) buyAll(pick []int32) (score int, ok bool) {
	clear(s.spare.goods)
	for i, k := range pick {
		o := &s.options[k]
		score += int(o.score)
		if !s.groups[i].loose {
			s.buy(o, 1)
		}
	}
	return score, !s.loose || s.pool(pick)
}

// buy adds the goods of an option so many times.
func (s *Search) buy(o *option, times int64) {
	for _, p := range s.parts[o.first:o.past] {
		s.spare.goods[p.seller] += times * p.goods
	}
}

// landed is what the goods at each seller cost.
func (s *Search) landed() int64 {
	cost, parcels := int64(0), 0
	for i, g := range s.spare.goods {
		if g == 0 {
			continue
		}
		parcels++
		c, _, _ := s.market.Sellers[i].Landed(g)
		if c >= pastReckoning/s.factor[i] {
			return Never
		}
		cost += c * s.factor[i]
	}
	if s.lim.Parcels > 0 && parcels > s.lim.Parcels {
		return Never
	}
	return cost
}

// offer takes a pick as the best one if it is, with what single changes
// better it.
func (s *Search) offer(pick []int32) {
	if s.take(pick) {
		s.polish()
	}
}

// take takes a pick as the best one if it is.
func (s *Search) take(pick []int32) bool {
	if s.effort += len(pick) / 2; s.loose {
		s.effort += 2 * len(pick)
	}
	c := s.price(pick)
	if c >= s.best {
		return false
	}
	s.best = c
	s.pick = append(s.pick[:0], pick...)
	return true
}

// polish changes the option of one group at a time while that helps.
func (s *Search) polish() {
	pick := s.pick
	score, _ := s.buyAll(pick)
	for again := true; again; {
		again = false
		for i := range pick {
			best := pick[i]
			for k := s.groups[i].options.from; k < s.groups[i].options.to; k++ {
				if k != best && s.options[k].base < s.best && s.swapped(pick, i, best, k, &score) {
					best, again = k, true
				}
			}
		}
	}
}

// swapped changes the option of one group if that is cheaper.
func (s *Search) swapped(pick []int32, i int, was, to int32, score *int) bool {
	if s.effort++; s.loose {
		s.effort += 2 * len(pick)
	}
	a, b := &s.options[was], &s.options[to]
	changed := *score - int(a.score) + int(b.score)
	if changed < s.lim.Score {
		return false
	}
	pick[i] = to
	c := int64(Never)
	if s.loose {
		c = s.price(pick)
	} else {
		s.buy(a, -1)
		s.buy(b, 1)
		c = s.landed()
	}
	if c < s.best {
		s.best, *score = c, changed
		return true
	}
	if pick[i] = was; !s.loose {
		s.buy(b, -1)
		s.buy(a, 1)
	}
	return false
}

// first tries the cheapest options that leave each set of sellers out, for
// all sets where they are few, else opening and closing one at a time.
func (s *Search) first() {
	n := len(s.rank)
	if n <= 8 {
		for set := range uint32(1) << n {
			s.without(s.spread(set))
		}
	} else {
		var out uint32
		s.without(0)
		for better := true; better; {
			better = false
			for i := range n {
				if other := out ^ 1<<s.rank[i]; s.without(other) {
					out, better = other, true
				}
			}
		}
	}
	if s.best != Never {
		s.polish()
	}
}

// spread turns a set of ranks into a set of sellers.
func (s *Search) spread(set uint32) uint32 {
	var out uint32
	for i, x := range s.rank {
		out |= set >> i & 1 << x
	}
	return out
}

// without tries the cheapest options that leave these sellers out.
func (s *Search) without(out uint32) bool {
	pick := s.spare.picked
	for i := range s.groups {
		k, end := s.groups[i].options.from, s.groups[i].options.to
		for k < end && s.options[k].mask&out != 0 {
			k++
		}
		if k == end {
			return false
		}
		pick[i] = k
	}
	return s.take(pick)
}
