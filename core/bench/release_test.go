package bench

import (
	"math/rand/v2"
	"strings"
	"testing"
)

func finals(r Result, say string) []Answer { return answers(Finals, r, say) }

func TestRelease(t *testing.T) {
	but := func(id string, r Result, say string) []Answer {
		as := finals(Passed, "0.1 ohms")
		for i := range as {
			if as[i].ID == id {
				as[i] = Answer{ID: id, Result: r, Say: say}
			}
		}
		return as
	}
	for _, c := range []struct {
		say  string
		in   Leaving
		free bool
		want string
	}{
		{"nothing done", Leaving{}, false, "Not released for use. Ground from the plug to the chassis: not read"},
		{"all done", Leaving{Finals: finals(Passed, "0.1 ohms"), Chart: true}, true, "Released after the tests"},
		{"ground without a reading", Leaving{Finals: but("ground", Passed, " "), Chart: true}, false, "not written down"},
		{"ground failed", Leaving{Finals: but("ground", Failed, "12 ohms"), Chart: true}, false, "Not released for use. Ground from the plug to the chassis: failed"},
		{"ground passed over", Leaving{Finals: but("ground", Overridden, "no time"), Chart: true}, false, "Not released for use"},
		{"ground absent", Leaving{Finals: but("ground", Absent, "two-core amp"), Chart: true}, false, "Not released for use"},
		{"nobody said that the work is done", Leaving{Finals: but("work", "", ""), Chart: true}, false, "Not released for use. Each must that was agreed is done: nobody has said so"},
		{"work passed over", Leaving{Finals: but("work", Overridden, "later"), Chart: true}, false, "Not released for use"},
		{"a fuse that is not there, for no reason", Leaving{Finals: but("fuse", Absent, ""), Chart: true}, false, "Fuse that is in, against the label: open"},
		{"a fuse that is not there", Leaving{Finals: but("fuse", Absent, "a breaker in its place"), Chart: true}, true, "Released"},
		{"a must declined", Leaving{Finals: finals(Passed, "x"), Chart: true, Declined: []string{"A2, capacitor from mains to chassis"}}, false, "Not released for use. Not done: A2"},
		{"soak left out", Leaving{Finals: but("soak", "", ""), Chart: true}, false, "Not released yet. Soak: open"},
		{"soak left out for a reason", Leaving{Finals: but("soak", Overridden, "owner leaves at noon"), Chart: true}, true, "Released"},
		{"no final chart", Leaving{Finals: but("chart", "", "")}, false, "Final chart of readings: open"},
		{"a final chart that failed", Leaving{Finals: but("chart", Failed, "B2 low"), Chart: true}, false, "Final chart of readings: open"},
		{"an old part without a place", Leaving{Finals: finals(Passed, "x"), Chart: true, OldOpen: []string{"A5"}}, false, "old part without a place: A5"},
	} {
		r := ReleaseOf(c.in)
		say := r.Say()
		if r.Free != c.free || !strings.Contains(strings.ToLower(say), strings.ToLower(c.want)) {
			t.Errorf("%s: free %v, %q, want %q", c.say, r.Free, say, c.want)
		}
	}
	r := ReleaseOf(Leaving{Finals: but("soak", Overridden, "owner leaves at noon"), Chart: true})
	if w := r.PassedOver(); w != "Left out for a reason: soak (owner leaves at noon)." {
		t.Error(w)
	}
}

// Whatever is answered, an amp with a must left undone or without a ground
// that was read is never released.
func TestNeverReleased(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	results := []Result{"", Passed, Failed, Absent, Overridden, "perhaps"}
	free := 0
	for range 100_000 {
		l := Leaving{Chart: r.IntN(2) == 0}
		if r.IntN(3) == 0 {
			l.Declined = []string{"A1"}
		}
		ground, work := false, false
		for _, c := range Finals {
			a := Answer{ID: c.ID, Result: results[1+r.IntN(2)*3], Say: []string{"", "x"}[min(1, r.IntN(8))]}
			if r.IntN(4) == 0 {
				a.Result = results[r.IntN(len(results))]
			}
			l.Finals = append(l.Finals, a)
			work = work || c.ID == "work" && a.Result == Passed
			ground = ground || c.ID == "ground" && a.Result == Passed && a.Say != ""
		}
		if ReleaseOf(l).Free {
			free++
			if len(l.Declined) > 0 || !ground || !work {
				t.Fatalf("released: %+v", l)
			}
		}
	}
	if free < 100 {
		t.Errorf("%d released: the test tries too little", free)
	}
}
