package labor

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// By hand: chassis out 0.3 and in 0.2, board up 0.4 and down 0.3. The board's
// work, then a test with the amp closed, then more work on the board: out,
// up, down, in, test, and all of it again: 2·(0.3 + 0.4 + 0.3 + 0.2) = 2.4.
func TestRouteByHand(t *testing.T) {
	states := []Access{{Name: "closed"}, {Name: "chassis out", Open: 0.3, Close: 0.2}, {Name: "board lifted", From: 1, Open: 0.4, Close: 0.3}}
	visits := []Visit{{Name: "new filters", In: []int{2}}, {Name: "ripple test", In: []int{0}, After: []int{0}}, {Name: "trim", In: []int{2}, After: []int{1}}, {Name: "couplers", In: []int{1, 2}}}
	h, legs, err := Route(states, visits)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(h-2.4) > 1e-9 {
		t.Errorf("%.2f h, want 2.4: %v", h, legs)
	}
	if why := Why(states, visits, legs); why != "board lifted comes again because ripple test (closed) must come before trim" {
		t.Errorf("says %q", why)
	}
	visits[1].After, visits[2].After = nil, nil
	if h, legs, _ = Route(states, visits); math.Abs(h-1.2) > 1e-9 || Why(states, visits, legs) != "" {
		t.Errorf("without the order: %.2f h, want 1.2; says %q", h, Why(states, visits, legs))
	}
}

func TestRouteRefuses(t *testing.T) {
	states := []Access{{Name: "closed"}}
	for want, visits := range map[string][]Visit{
		"wait for each other": {{Name: "a", In: []int{0}, After: []int{1}}, {Name: "b", In: []int{0}, After: []int{0}}},
		"no state in which":   {{Name: "a"}},
		"there is no state 4": {{Name: "a", In: []int{4}}},
		"65 tasks, 64 at":     make([]Visit, 65),
	} {
		if _, _, err := Route(states, visits); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
}

// Equal to trying every order of tasks, on 400 small cases.
func TestRouteEqualsTryingAll(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 4))
	for range 400 {
		states := []Access{{Name: "closed"}}
		for i := 1; i < 2+r.IntN(4); i++ {
			states = append(states, Access{Name: fmt.Sprint("s", i), From: r.IntN(i), Open: float64(1+r.IntN(9)) / 8, Close: float64(1+r.IntN(9)) / 8})
		}
		var visits []Visit
		for i := range 1 + r.IntN(5) {
			v := Visit{Name: fmt.Sprint("t", i), In: []int{r.IntN(len(states))}}
			if r.IntN(3) == 0 {
				v.In = append(v.In, r.IntN(len(states)))
			}
			for k := range i {
				if r.IntN(4) == 0 {
					v.After = append(v.After, k)
				}
			}
			visits = append(visits, v)
		}
		got, _, err := Route(states, visits)
		if err != nil {
			t.Fatal(err)
		}
		if want := tryAll(states, visits); math.Abs(got-want) > 1e-9 {
			t.Fatalf("%v %v: %g, trying all gives %g", states, visits, got, want)
		}
	}
}

// tryAll goes through every order of tasks and every state each is done in.
func tryAll(states []Access, visits []Visit) float64 {
	walk := func(a, b int) float64 {
		h := 0.0
		for a != b {
			if a > b {
				h += states[a].Close
				a = states[a].From
			} else {
				h += states[b].Open
				b = states[b].From
			}
		}
		return h
	}
	best := math.Inf(1)
	var try func(at int, done int, h float64)
	try = func(at, done int, h float64) {
		if done == 1<<len(visits)-1 {
			best = min(best, h+walk(at, 0))
			return
		}
	next:
		for i, v := range visits {
			if done>>i&1 == 1 {
				continue
			}
			for _, a := range v.After {
				if done>>a&1 == 0 {
					continue next
				}
			}
			for _, s := range v.In {
				try(s, done|1<<i, h+walk(at, s))
			}
		}
	}
	try(0, 0, 0)
	return best
}
