package order

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
)

// An adversary makes markets that are hard to buy in: every seller is the
// cheapest for some needs, and thresholds lie where splitting just misses
// them.
type adversary struct {
	needs, sellers, perNeed int // offers for a need, over all sellers
	cluster                 int // needs that share offers; 1 = none
	rising                  bool
	factors                 bool
}

func (a adversary) market(seed uint64) Market {
	r := rand.New(rand.NewPCG(seed, 77))
	var m Market
	goods := 0.0
	for at := 0; at < a.needs; at += a.cluster {
		n := min(a.cluster, a.needs-at)
		base := math.Exp(5.3 + 0.9*r.NormFloat64())
		spread := make([]float64, a.sellers)
		for s := range spread {
			spread[s] = math.Exp(0.35 * r.NormFloat64())
		}
		for i := range n {
			w := Want{ID: fmt.Sprint("N", at+i), Pieces: 1 + r.IntN(12)}
			goods += float64(w.Pieces) * base * 0.7
			m.Wants = append(m.Wants, w)
		}
		for k := range a.perNeed * n {
			s := k % a.sellers
			m.Packs = append(m.Packs, a.pack(r, len(m.Packs), s, base*spread[s]*math.Exp(0.1*r.NormFloat64())))
			for i := range n {
				if n == 1 || i == k/a.sellers%n || r.IntN(3) == 0 {
					m.Wants[at+i].Fits = append(m.Wants[at+i].Fits, Fit{len(m.Packs) - 1, r.IntN(5)})
				}
			}
		}
	}
	for s := range a.sellers {
		m.Sellers = append(m.Sellers, a.seller(r, s, goods/float64(a.sellers)))
	}
	return m
}

func (a adversary) pack(r *rand.Rand, id, seller int, price float64) Pack {
	p := Pack{ID: fmt.Sprint("O", id), Seller: seller, Pieces: 1, Stock: -1, Days: r.IntN(20)}
	if r.IntN(6) == 0 {
		p.Pieces = []int{2, 5, 10}[r.IntN(3)]
	}
	if r.IntN(6) == 0 {
		p.Least = 1 + r.IntN(5)
	}
	if r.IntN(6) == 0 {
		p.Stock = 1 + r.IntN(12)
	}
	each := int64(price*float64(p.Pieces)) + 1
	p.Prices = []Break{{1, each}}
	if r.IntN(2) == 0 {
		p.Prices = append(p.Prices, Break{3 + r.IntN(13), each * int64(70+r.IntN(25)) / 100})
	}
	return p
}

// seller has one to three rows of carriage near its fair share of the goods.
func (a adversary) seller(r *rand.Rand, id int, share float64) Seller {
	s := Seller{ID: fmt.Sprint("S", id)}
	part := func(of float64) int64 { return int64(share * of * (0.5 + r.Float64())) }
	fees := []int64{part(0.08), part(0.04), 0}[:1+r.IntN(3)]
	slices.SortFunc(fees, func(a, b int64) int { return int(b - a) })
	if a.rising && r.IntN(2) == 0 {
		slices.Reverse(fees)
	}
	from := int64(0)
	for k, f := range fees {
		s.Carriage = append(s.Carriage, Fee{from, f})
		from += part(0.6+0.2*float64(k)) + 1
	}
	if r.IntN(3) == 0 {
		s.MinGoods = part(0.3)
	}
	if a.factors {
		s.Factor = Factor{Digits: int64(90 + r.IntN(30)), Places: 2}
	}
	return s
}
