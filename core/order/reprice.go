package order

import "fmt"

// Places is how many decimals of a minor unit costs are counted with: the
// most any supplier's factor has.
func (m *Market) Places() int {
	places := 0
	for _, s := range m.Sellers {
		places = max(places, s.Factor.Places)
	}
	return places
}

// Times is the factor as a whole number of 10^-places.
func (f Factor) Times(places int) int64 {
	n := f.Digits
	if f == (Factor{}) {
		n = 1
	}
	for i := f.Places; i < places; i++ {
		n *= 10
	}
	return n
}

// Price reckons an order that is written out, by need the offer it takes: what
// each seller gets, and the cost in all, in 10^-Places of a minor unit. It
// searches nothing.
//
// Errors: an offer that has not so many pieces.
func (m *Market) Price(plan []int) (cost int64, baskets []Priced, err error) {
	goods, used, err := m.goods(plan)
	if err != nil {
		return 0, nil, err
	}
	places := m.Places()
	for s := range m.Sellers {
		if !used[s] {
			continue
		}
		b := Priced{Seller: s, Goods: goods[s]}
		b.Landed, b.Row, b.TopUp = m.Sellers[s].Landed(goods[s])
		b.Landed *= m.Sellers[s].Factor.Times(places)
		cost += b.Landed
		baskets = append(baskets, b)
	}
	return cost, baskets, nil
}

// goods adds up what is bought at each seller.
func (m *Market) goods(plan []int) (goods []int64, used []bool, err error) {
	pieces := make([]int, len(m.Packs))
	for w, p := range plan {
		pieces[p] += m.Wants[w].Pieces
	}
	goods, used = make([]int64, len(m.Sellers)), make([]bool, len(m.Sellers))
	for p, q := range pieces {
		if q == 0 {
			continue
		}
		c, _ := m.Packs[p].Cost(q)
		if c == Never {
			return nil, nil, fmt.Errorf("offer %s has not %d pieces", m.Packs[p].ID, q)
		}
		s := m.Packs[p].Seller
		goods[s], used[s] = goods[s]+c, true
	}
	return goods, used, nil
}

// Without is what is bought at each seller, before its factor, if a need were
// left out of an order.
func (m *Market) Without(plan []int, want int) (goods []int64, used []bool, err error) {
	rest := *m
	rest.Wants = append([]Want(nil), m.Wants...)
	rest.Wants[want].Pieces = 0
	return rest.goods(plan)
}
