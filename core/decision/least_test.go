package decision

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// front is the plain way: every choice, and each held against every other.
func (m Model) front(t *testing.T, touch map[string]Touch) []Point {
	t.Helper()
	choices, err := m.choices()
	if err != nil {
		return nil
	}
	var all []Point
	for _, c := range choices {
		s, err := m.held(c)
		if err != nil {
			continue
		}
		m.dated(&s)
		if !s.FitsCeiling || !s.FitsDate || m.Refused != nil && m.Refused(s.Accept, true) != "" {
			continue
		}
		p := Point{Standing: s}
		for _, id := range s.Accept {
			p.Matter, p.Look, p.Undo = p.Matter+touch[id].Matter, p.Look+touch[id].Look, p.Undo+touch[id].Undo
		}
		all = append(all, p)
	}
	var out []Point
	for _, p := range all {
		if !slices.ContainsFunc(all, func(o Point) bool { return betters(o, p) }) {
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b Point) int {
		return cmp.Or(cmp.Compare(a.Matter, b.Matter), cmp.Compare(a.Look, b.Look), cmp.Compare(a.Undo, b.Undo), cmp.Compare(a.Total, b.Total), cmp.Compare(a.Day(), b.Day()))
	})
	return out
}

// betters: no worse in any, and better in one or, all alike, of fewer options
// or earlier IDs.
func betters(a, b Point) bool {
	if a.Matter > b.Matter || a.Look > b.Look || a.Undo > b.Undo || a.Total > b.Total || a.Day() > b.Day() {
		return false
	}
	if a.Touch != b.Touch || a.Total != b.Total || a.Day() != b.Day() {
		return true
	}
	return cmp.Or(cmp.Compare(len(a.Accept), len(b.Accept)), slices.Compare(a.Accept, b.Accept)) < 0
}

// touched gives every option a touch by chance.
func touched(s *shopModel, random *rand.Rand) map[string]Touch {
	out := map[string]Touch{}
	for i := range s.Decisions {
		for k := range s.Decisions[i].Options {
			o := &s.Decisions[i].Options[k]
			o.Touch = Touch{random.IntN(4), random.IntN(3), random.IntN(4)}
			out[o.ID] = o.Touch
		}
	}
	return out
}

// All choices that touch least against exhaustive search, on 120 small jobs of
// at most 8 options, in the long run 600 of at most 12: set-ups, needs,
// options that change what others cost, leads not stated, choices refused.
func TestLeastOracle(t *testing.T) {
	rounds, most := 120, 8
	if long() {
		rounds, most = 600, 12
	}
	random := rand.New(rand.NewPCG(9, 5))
	several, none := 0, 0
	for round := 0; round < rounds; {
		s := randomShop(random, 3+random.IntN(most-4), 3)
		s.Limits.Ceiling, s.Limits.Days = 4*s.Limits.Ceiling, s.Limits.Days+5
		for i := range s.Decisions {
			if len(s.Decisions[i].Options) > 1 {
				s.Decisions[i].Pile = "must"
			}
		}
		if len(s.cost) > most {
			continue
		}
		round++
		touch := touched(s, random)
		want := s.front(t, touch)
		for _, floor := range []func([]string, bool) *Floor{s.floor, nil} {
			s.Floor = floor
			got, err := s.Least()
			if err != nil {
				if want != nil {
					t.Fatalf("round %d: %v", round, err)
				}
				continue
			}
			if !got.Proven || !reflect.DeepEqual(pointWords(got.Points), pointWords(want)) {
				t.Fatalf("round %d, floors %v: proven %v\n got %v\nwant %v", round, floor != nil, got.Proven, pointWords(got.Points), pointWords(want))
			}
		}
		if len(want) > 1 {
			several++
		}
		if len(want) == 0 {
			none++
		}
	}
	if several < rounds/3 || none > rounds/3 {
		t.Errorf("%d of %d jobs have several choices to weigh, %d none: too tame", several, rounds, none)
	}
}

func pointWords(points []Point) []string {
	var out []string
	for _, p := range points {
		out = append(out, fmt.Sprint(p.Accept, p.Touch, p.Total, p.Day()))
	}
	return out
}

// Two ways of a must, a free action that makes one of them cheaper, and a
// could nobody needs: by hand.
func TestLeast(t *testing.T) {
	m := Model{Currency: gbp, Limits: Limits{Ceiling: 10000, HasCeiling: true}}
	m.Decisions = []Decision{one("F1", "must", 0, "keep", "swap"), one("F2", "should", 0, "tap"), one("F3", "could", 0, "paint")}
	m.Decisions[0].Options[0].Touch = Touch{Matter: 1, Undo: 1}
	m.Decisions[0].Options[1].Touch = Touch{Matter: 100, Look: 1, Undo: 1}
	m.Decisions[2].Options[0].Touch = Touch{Look: 100, Undo: 10000}
	m.Price = func(accept []string) (p Price, err error) {
		for _, id := range accept {
			switch {
			case id == "keep" && slices.Contains(accept, "tap"):
				p.Total += 4000
			case id == "keep":
				p.Total += 6000
			case id == "swap":
				p.Total += 2500
			case id == "tap":
				p.Total += 500
			}
		}
		return p, nil
	}
	got, err := m.Least()
	// keep alone is 60.00 and, with the tap, 45.00: the tap touches nothing.
	want := []string{"[keep tap] {1 0 1} 4500 0", "[swap] {100 1 1} 2500 0"}
	if err != nil || !slices.Equal(pointWords(got.Points), want) {
		t.Errorf("%q, %v; want %q", pointWords(got.Points), err, want)
	}
}
