package plan

// Fits returns the offers that may be bought in place of the one a line
// takes, cheapest a piece first: those of the lists that have a price, may be
// put to the owner, are of a verdict class no worse than the line's own and
// need no reason. Where the technician named an offer there are none: the
// name stands; nor where several pieces were weighed together. The line's own
// offer is not among them.
func (l *Line) Fits() []Priced {
	if l.scales == nil || l.Chosen == nil || l.Problem != "" || l.part.Number != "" || l.part.together() {
		return nil
	}
	s := l.scales
	if have, ok := s.fits[l.part]; ok {
		return have
	}
	var out []Priced
	asks := s.demands(l.part)
	for _, o := range s.shelf(l.part) {
		if o.Offer != l.Chosen.Offer && unpriced(o) == 0 && s.classOf(o.Offer, asks) <= l.Chosen.class {
			out = append(out, o)
		}
	}
	if s.fits == nil {
		s.fits = map[*Part][]Priced{}
	}
	s.fits[l.part] = out
	return out
}

// Weigh judges one offer for the line, as Candidates does.
func (l *Line) Weigh(o Priced) Candidate {
	if l.scales == nil {
		return Candidate{Offer: o.Offer, Cost: o.Cost}
	}
	return l.scales.weigh(o, l.part, l.scales.demands(l.part))
}

// Instead finds an offer by supplier and number among the fits of a line. why
// says what keeps it from being one, "" where nothing does.
func (l *Line) Instead(list, number string) (o Priced, why string) {
	switch {
	case l.scales == nil || l.Chosen == nil:
		return o, "the line takes no offer"
	case l.part.Number != "":
		return o, "the technician named " + l.part.List + " " + l.part.Number
	case l.part.together():
		return o, "it was weighed together with the other pieces of its place"
	case l.Problem != "":
		return o, l.Problem
	}
	for _, o := range l.scales.shelf(l.part) {
		if o.Offer.List != list || o.Offer.Number != number {
			continue
		}
		c := l.Weigh(o)
		switch {
		case o.Offer == l.Chosen.Offer:
			return o, ""
		case !c.Offered():
			return o, l.scales.desk.refusal(&c)
		case unpriced(o) == 1:
			return o, noPrice(&c)
		case c.class > l.Chosen.class:
			return o, "its verdict is " + c.Kind.String() + ", that of the part planned is " + l.Chosen.Kind.String()
		}
		return o, ""
	}
	return o, "the lists hold no such offer for " + l.part.Is
}
