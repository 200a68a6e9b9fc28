package order

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// random makes a market with everything in it that makes orders hard: breaks,
// packs, least packs, scarce stock, shared offers, carriage that falls and
// rises, least goods, factors.
func random(r *rand.Rand, needs, sellers, perNeed int) (Market, Limits) {
	var m Market
	for i := range sellers {
		s := Seller{ID: fmt.Sprint("S", i)}
		if r.IntN(3) == 0 {
			s.MinGoods = int64(r.IntN(4000))
		}
		switch r.IntN(4) {
		case 0:
			s.Carriage = []Fee{{0, int64(r.IntN(900))}}
		case 1:
			s.Carriage = []Fee{{0, 500 + int64(r.IntN(900))}, {2000 + int64(r.IntN(6000)), int64(r.IntN(400))}}
		case 2:
			s.Carriage = []Fee{{0, 300 + int64(r.IntN(300))}, {1500 + int64(r.IntN(1500)), int64(r.IntN(1500))}, {6000 + int64(r.IntN(3000)), 0}}
		}
		if r.IntN(3) == 0 {
			s.Factor = Factor{Digits: int64(80 + r.IntN(50)), Places: 2}
		}
		m.Sellers = append(m.Sellers, s)
	}
	for i := range needs {
		w := Want{ID: fmt.Sprint("N", i), Pieces: 1 + r.IntN(12)}
		base := 20 + r.IntN(800)
		for range perNeed {
			if len(m.Packs) > 0 && r.IntN(5) == 0 { // an offer of an earlier need serves too
				w.Fits = append(w.Fits, Fit{r.IntN(len(m.Packs)), r.IntN(5)})
				continue
			}
			p := Pack{ID: fmt.Sprint("O", len(m.Packs)), Seller: r.IntN(sellers), Pieces: 1, Stock: -1, Days: r.IntN(20)}
			if r.IntN(6) == 0 {
				p.Pieces = []int{2, 5, 10}[r.IntN(3)]
			}
			if r.IntN(6) == 0 {
				p.Least = 1 + r.IntN(5)
			}
			if r.IntN(6) == 0 {
				p.Stock = 1 + r.IntN(12)
			}
			price := int64(base*(65+r.IntN(70))/100+1) * int64(p.Pieces)
			p.Prices = []Break{{1, price}}
			if r.IntN(2) == 0 {
				p.Prices = append(p.Prices, Break{3 + r.IntN(13), price * int64(70+r.IntN(25)) / 100})
			}
			m.Packs = append(m.Packs, p)
			w.Fits = append(w.Fits, Fit{len(m.Packs) - 1, r.IntN(5)})
		}
		m.Wants = append(m.Wants, w)
	}
	var lim Limits
	switch r.IntN(5) {
	case 0:
		lim.Parcels = 1 + r.IntN(sellers)
	case 1:
		lim.Days, lim.HasDays = 5+r.IntN(15), true
	case 2:
		lim.Score = r.IntN(3 * needs)
	}
	return m, lim
}

// wild makes a small market with all that is odd but has a meaning.
func wild(r *rand.Rand) (Market, Limits) {
	m, lim := random(r, 1+r.IntN(5), 1+r.IntN(4), 1+r.IntN(5))
	for i := range m.Packs {
		p := &m.Packs[i]
		switch r.IntN(8) {
		case 0:
			p.Prices[0].Price = 0
		case 1:
			p.Prices[0].From = r.IntN(4)
			if len(p.Prices) > 1 {
				p.Prices[1].From += 4
			}
		case 2:
			p.Stock = r.IntN(3)
		case 3:
			p.Days = -1
		case 4:
			p.Least = r.IntN(30)
		}
	}
	for i := range m.Sellers {
		s := &m.Sellers[i]
		if len(s.Carriage) > 0 && r.IntN(3) == 0 {
			s.Carriage[0].From = int64(1 + r.IntN(1400))
		}
		if r.IntN(4) == 0 {
			s.Factor = Factor{Digits: 1 + int64(r.IntN(3e7)), Places: 5 + r.IntN(3)}
		}
	}
	for i := range m.Wants {
		w := &m.Wants[i]
		switch r.IntN(12) {
		case 0:
			w.Fits = append(w.Fits, w.Fits[0])
			w.Fits[0].Score = r.IntN(9)
		case 1:
			w.Pieces = 100 + r.IntN(400)
		}
	}
	if lim.Score > 0 && r.IntN(3) == 0 {
		lim.Parcels = 1 + r.IntN(3)
	}
	return m, lim
}

// byTrying prices every assignment: the plain way.
func byTrying(m Market, lim Limits) (best int64, places int) {
	for _, s := range m.Sellers {
		places = max(places, s.Factor.Places)
	}
	best = Never
	pick := make([]int, len(m.Wants))
	for {
		if c, ok := costOf(m, lim, pick, places); ok && c < best {
			best = c
		}
		i := 0
		for ; i < len(pick); i++ {
			if pick[i]++; pick[i] < len(m.Wants[i].Fits) {
				break
			}
			pick[i] = 0
		}
		if i == len(pick) {
			return best, places
		}
	}
}

func costOf(m Market, lim Limits, pick []int, places int) (int64, bool) {
	pieces, score := map[int]int{}, 0
	for i, k := range pick {
		f := m.Wants[i].Fits[k]
		pieces[f.Pack] += m.Wants[i].Pieces
		score += f.Score
	}
	goods := map[int]int64{}
	for p, q := range pieces {
		least := int64(Never)
		x := m.Packs[p]
		for y := max(1, x.Least); y <= max(q, x.Least, x.Prices[len(x.Prices)-1].From); y++ { // every count of packs
			if y*x.Pieces < q || x.Stock >= 0 && y > x.Stock {
				continue
			}
			for k := len(x.Prices) - 1; k >= 0; k-- {
				if y >= x.Prices[k].From {
					least = min(least, int64(y)*x.Prices[k].Price)
					break
				}
			}
		}
		if least == Never || lim.HasDays && (x.Days < 0 || x.Days > lim.Days) {
			return 0, false
		}
		if least > 0 { // what is free comes without a parcel of its own
			goods[x.Seller] += least
		}
	}
	if lim.Parcels > 0 && len(goods) > lim.Parcels || score < lim.Score {
		return 0, false
	}
	total := int64(0)
	for s, g := range goods {
		x := m.Sellers[s]
		least := int64(Never)
		rows := x.Carriage
		if len(rows) == 0 {
			rows = []Fee{{0, 0}}
		}
		for k, f := range rows {
			v := max(g, f.From, x.MinGoods)
			if k+1 < len(rows) && v >= rows[k+1].From {
				continue
			}
			least = min(least, v+f.Fee)
		}
		factor := x.Factor
		if factor.Digits == 0 {
			factor.Digits = 1
		}
		for i := factor.Places; i < places; i++ {
			factor.Digits *= 10
		}
		total += least * factor.Digits
	}
	return total, true
}

func solve(t testing.TB, m Market, lim Limits) Answer {
	t.Helper()
	s, err := NewSearch(m, lim)
	return finish(t, s, err)
}

// oneByOne solves a market with every need that shares offers looked at by
// itself.
func oneByOne(t testing.TB, m Market, lim Limits) Answer {
	t.Helper()
	s, err := newSearch(reduce(&m, lim, 0), lim)
	return finish(t, s, err)
}

func finish(t testing.TB, s *Search, err error) Answer {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	for steps := 0; !s.Step(); steps++ {
		if a := s.Answer(); a.Feasible && a.Lower > a.Cost || steps == 20_000 {
			t.Fatalf("step %d: %d to %d", steps, a.Lower, a.Cost)
		}
	}
	return s.Answer()
}

// Every small market: equal to trying all assignments.
func TestCheapestOrderEqualsTryingAll(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	feasible := 0
	for n := range 1600 {
		m, lim := random(r, 1+r.IntN(5), 1+r.IntN(4), 1+r.IntN(5))
		if n%2 == 0 {
			m, lim = wild(r)
		}
		want, places := byTrying(m, lim)
		a := solve(t, m, lim)
		if b := oneByOne(t, m, lim); a.Feasible != b.Feasible || a.Cost != b.Cost || !a.Proven || !b.Proven {
			t.Fatalf("market %d: %v %d proven %v, need by need %v %d %v", n, a.Feasible, a.Cost, a.Proven, b.Feasible, b.Cost, b.Proven)
		}
		if a.Feasible != (want != Never) {
			t.Fatalf("market %d: feasible %v (%s), trying all says %v", n, a.Feasible, a.Why, want != Never)
		}
		if want == Never {
			continue
		}
		feasible++
		if a.Cost != want || a.Places != places {
			t.Fatalf("market %d: %s, trying all gives %s", n, Exact(a.Cost, a.Places), Exact(want, places))
		}
		if got, ok := repriced(m, lim, a); !ok || got != want {
			t.Fatalf("market %d: the plan itself costs %d, %v; want %d", n, got, ok, want)
		}
	}
	if feasible < 800 {
		t.Errorf("only %d markets had an order: the generator has lost its teeth", feasible)
	}
}

// repriced prices an answer's plan the plain way.
func repriced(m Market, lim Limits, a Answer) (int64, bool) {
	pick := make([]int, len(m.Wants))
	for i, p := range a.Plan {
		pick[i] = -1
		for k, f := range m.Wants[i].Fits {
			if f.Pack == p && (pick[i] < 0 || f.Score > m.Wants[i].Fits[pick[i]].Score) {
				pick[i] = k
			}
		}
	}
	return costOf(m, lim, pick, a.Places)
}
