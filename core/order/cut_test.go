package order

import "testing"

// Wherever a search is cut short, the lower bound is true, rises, and soon
// comes close.
func TestCutShortOrderTellsATrueGap(t *testing.T) {
	cut := 0
	for _, z := range sizes {
		for _, seed := range []uint64{47, 67, 90, 169} {
			m := z.market(seed)
			s, err := NewSearch(m, Limits{})
			if err != nil {
				t.Fatal(err)
			}
			said := []Answer{s.Answer()}
			for !s.Step() {
				said = append(said, s.Answer())
			}
			best := s.Answer().Cost
			for i, a := range said {
				if a.Lower > best || a.Feasible && a.Cost < best || i > 0 && a.Lower < said[i-1].Lower {
					t.Fatalf("%s, seed %d: after %d steps %d to %d; the cheapest is %d", z.name, seed, i, a.Lower, a.Cost, best)
				}
				if a.Proven && a.Lower != a.Cost {
					t.Errorf("%s, seed %d: proven from %d to %d", z.name, seed, a.Lower, a.Cost)
				}
			}
			// Twenty steps are a fifth of the time there is.
			if at := 20; z.sellers == 8 && z.cluster == 1 && len(said) > at {
				cut++
				if a := said[at]; 100*(a.Cost-a.Lower) > a.Cost {
					t.Errorf("%s, seed %d: after %d steps %d to %d, more than 1 in 100 apart", z.name, seed, at, a.Lower, a.Cost)
				}
			}
		}
	}
	if cut < 3 {
		t.Errorf("%d searches took so long: the markets have lost their teeth", cut)
	}
}

// A bound on the cost ends a search sooner, and is told of.
func TestOrderAtMost(t *testing.T) {
	m := sizes[3].market(1)
	best := solve(t, m, Limits{}).Cost
	for _, tt := range []struct {
		at   int64
		have bool
	}{{best - 1, false}, {best, true}, {best + 100, true}} {
		s, err := NewSearch(m, Limits{})
		if err != nil {
			t.Fatal(err)
		}
		s.AtMost(tt.at)
		for !s.Step() {
		}
		a := s.Answer()
		if a.Feasible != tt.have || !a.Proven || tt.have && a.Cost != best {
			t.Errorf("at most %d: %v %d (%s), want %v %d", tt.at, a.Feasible, a.Cost, a.Why, tt.have, best)
		}
	}
}

// Insisting on an offer is a search of the market without the others.
func TestOrderOnlyWithAnOffer(t *testing.T) {
	m := sizes[3].market(2)
	s, err := NewSearch(m, Limits{})
	if err != nil {
		t.Fatal(err)
	}
	for !s.Step() {
	}
	free := s.Answer()
	dearer := 0
	for i, f := range m.Wants[4].Fits {
		if i%5 > 0 {
			continue
		}
		only, err := s.Only(4, f.Pack)
		if err != nil {
			t.Fatal(err)
		}
		for !only.Step() {
		}
		a := only.Answer()
		alone := m
		alone.Wants = append([]Want(nil), m.Wants...)
		alone.Wants[4].Fits = []Fit{f}
		want := solve(t, alone, Limits{})
		if a.Feasible != want.Feasible || a.Cost != want.Cost || a.Feasible && (a.Plan[4] != f.Pack || a.Cost < free.Cost) {
			t.Errorf("offer %d: %d, want %d (%s)", f.Pack, a.Cost, want.Cost, a.Why)
		}
		if a.Cost > free.Cost {
			dearer++
		}
	}
	if dearer == 0 {
		t.Error("no offer made the order dearer: the case has lost its teeth")
	}
}
