package order

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// point is what a point of a front is told apart by.
type point struct {
	cost                 int64
	parcels, days, score int
}

// all prices every assignment of a market.
func all(m Market) []point {
	places := 0
	for _, s := range m.Sellers {
		places = max(places, s.Factor.Places)
	}
	var out []point
	pick := make([]int, len(m.Wants))
	for {
		if c, ok := costOf(m, Limits{}, pick, places); ok {
			out = append(out, pointOf(m, pick, c))
		}
		i := 0
		for ; i < len(pick); i++ {
			if pick[i]++; pick[i] < len(m.Wants[i].Fits) {
				break
			}
			pick[i] = 0
		}
		if i == len(pick) {
			return out
		}
	}
}

func pointOf(m Market, pick []int, cost int64) point {
	p := point{cost: cost}
	used := map[int]bool{}
	for i, k := range pick {
		f := m.Wants[i].Fits[k]
		used[m.Packs[f.Pack].Seller] = true
		p.days = max(p.days, m.Packs[f.Pack].Days)
		p.score += f.Score
	}
	p.parcels = len(used)
	return p
}

// undominated leaves the points no other is as good as in everything.
func undominated(ps []point) []point {
	var out []point
	for i, p := range ps {
		if !slices.ContainsFunc(ps[:i], func(o point) bool { return o == p }) &&
			!slices.ContainsFunc(ps, func(o point) bool {
				return o != p && o.cost <= p.cost && o.parcels <= p.parcels && o.days <= p.days && o.score >= p.score
			}) {
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b point) int {
		if a.cost != b.cost {
			return int(a.cost - b.cost)
		}
		return a.parcels - b.parcels
	})
	return out
}

func front(t testing.TB, f *Front, err error) []Answer {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	for !f.Step() {
	}
	return f.Points()
}

func TestFrontsEqualTryingAll(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 5))
	points := 0
	for n := range 150 {
		m, _ := random(r, 1+r.IntN(4), 1+r.IntN(4), 1+r.IntN(5))
		every := all(m)
		pf, err := NewParcelFront(m)
		hold(t, n, "parcels", front(t, pf, err), every, func(p *point) { p.score = 0 })
		sf, err := NewScoreFront(m)
		if err == nil {
			sf.most = 1000
		}
		hold(t, n, "score", front(t, sf, err), every, func(p *point) { p.parcels, p.days = 0, 0 })
		if !pf.Whole() || !sf.Whole() {
			t.Errorf("market %d: a front is not whole", n)
		}
		points += len(pf.Points()) + len(sf.Points())
	}
	if points < 600 {
		t.Errorf("%d points: the markets have lost their teeth", points)
	}
}

// hold compares a front with what trying all gives.
func hold(t *testing.T, n int, name string, got []Answer, every []point, forget func(*point)) {
	t.Helper()
	every = slices.Clone(every)
	for i := range every {
		forget(&every[i])
	}
	var have []point
	for _, a := range got {
		p := point{a.Cost, a.Parcels, a.Days, a.Score}
		if forget(&p); !a.Proven {
			t.Errorf("market %d, %s: %+v is not proven", n, name, p)
		}
		have = append(have, p)
	}
	if want := undominated(every); !slices.Equal(have, want) {
		t.Errorf("market %d, %s: %v, trying all gives %v", n, name, have, want)
	}
}

// Every point of a front is the cheapest order within its own limits; of the
// largest market one in eight is looked at.
func TestFrontPointsStandAlone(t *testing.T) {
	for _, tt := range []struct {
		adversary
		each int
	}{
		{adversary{needs: 20, sellers: 5, perNeed: 15, cluster: 1, factors: true}, 1},
		{adversary{needs: 16, sellers: 5, perNeed: 12, cluster: 2, rising: true}, 1},
		{sizes[0].adversary, 8},
	} {
		m := tt.market(3)
		pf, err := NewParcelFront(m)
		points := front(t, pf, err)
		for i := 0; i < len(points); i += tt.each {
			a := &points[i]
			alone(t, m, a, Limits{Parcels: a.Parcels, Days: a.Days, HasDays: true})
		}
		sf, err := NewScoreFront(m)
		scores := front(t, sf, err)
		for i := 0; i < len(scores); i += tt.each {
			alone(t, m, &scores[i], Limits{Score: scores[i].Score})
		}
		if len(points) < 4 || len(scores) < 8 {
			t.Errorf("%d points and %d: the market has lost its teeth", len(points), len(scores))
		}
	}
}

func alone(t *testing.T, m Market, a *Answer, lim Limits) {
	t.Helper()
	b := solve(t, m, lim)
	switch {
	case !b.Proven || !b.Feasible:
		t.Errorf("limits %+v: proven %v, %s", lim, b.Proven, b.Why)
	case a.Proven && a.Cost != b.Cost, a.Lower > b.Cost, a.Cost < b.Cost:
		t.Errorf("limits %+v: %d to %d, alone %d", lim, a.Lower, a.Cost, b.Cost)
	}
}

// What cannot be had has no front, and says why.
func TestFrontOfNothing(t *testing.T) {
	m, err := ReadMarket([]byte(instance))
	if err != nil {
		t.Fatal(err)
	}
	m.Wants[0].Pieces = 101
	for _, set := range []func(Market) (*Front, error){NewParcelFront, NewScoreFront} {
		f, err := set(m)
		if points := front(t, f, err); len(points) > 0 || f.Why() != "need N1: no offer has 101 pieces" {
			t.Errorf("%v, %q", points, f.Why())
		}
	}
}
