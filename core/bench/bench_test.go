package bench

import (
	"strings"
	"testing"
)

// answers gives each check the same answer.
func answers(to []Check, r Result, say string) []Answer {
	var out []Answer
	for _, c := range to {
		out = append(out, Answer{ID: c.ID, Result: r, Say: say})
	}
	return out
}

func all(r Result, say string) []Answer { return answers(Checks, r, say) }

func TestGate(t *testing.T) {
	but := func(id string, r Result, say string) []Answer {
		as := all(Passed, "")
		for i := range as {
			if as[i].ID == id {
				as[i] = Answer{ID: id, Result: r, Say: say}
			}
		}
		return as
	}
	for _, c := range []struct {
		say                       string
		in                        []Answer
		open                      bool
		wants, failed, overridden int
	}{
		{"nothing done", nil, false, len(Checks), 0, 0},
		{"all passed", all(Passed, ""), true, 0, 0, 0},
		{"all absent", all(Absent, ""), true, 0, 0, 0},
		{"output load left out", but("load", "", ""), false, 1, 0, 0},
		{"ground failed", but("ground", Failed, "12 ohms"), false, 0, 1, 0},
		{"passed over without a reason", but("load", Overridden, "  "), false, 1, 0, 0},
		{"passed over with one", but("load", Overridden, "speaker comes tomorrow"), true, 0, 0, 1},
		{"a word of another version", but("load", "perhaps", "x"), false, 1, 0, 0},
		{"a check of another version", append(all(Passed, ""), Answer{ID: "smell", Result: Failed}), true, 0, 0, 0},
	} {
		g := GateOf(c.in)
		if g.Open != c.open || len(g.Wants) != c.wants || len(g.Failed) != c.failed || len(g.Overridden) != c.overridden {
			t.Errorf("%s: %+v", c.say, g)
		}
	}
	if w := GateOf(but("load", Overridden, "speaker comes tomorrow")).Words(); w != "Powered without these checks: load on the output (speaker comes tomorrow)." {
		t.Error(w)
	}
	if w := GateOf(all(Passed, "")).Words(); w != "" {
		t.Error(w)
	}
}

func TestChecksAreWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Checks {
		if c.ID == "" || c.Ask == "" || c.How == "" || c.Risk == "" || seen[c.ID] {
			t.Errorf("%+v", c)
		}
		seen[c.ID] = true
	}
}

func TestPark(t *testing.T) {
	for _, c := range []struct {
		p            Park
		parked, asks bool
		charge       string
	}{
		{Park{}, false, false, "Treat them as charged"},
		{Park{At: "x"}, true, true, "Treat them as charged"},
		{Park{At: "x", Discharged: "no"}, true, true, "Left charged"},
		{Park{At: "x", Discharged: "yes"}, true, false, "measure again"},
		{Park{At: "x", Discharged: "maybe"}, true, true, "Treat them as charged"},
		{Park{At: "x", Seen: true}, false, false, "Treat them as charged"},
	} {
		if c.p.Parked() != c.parked || c.p.Asks() != c.asks || !strings.Contains(c.p.Charge(), c.charge) {
			t.Errorf("%+v: parked %v asks %v, %s", c.p, c.p.Parked(), c.p.Asks(), c.p.Charge())
		}
	}
	if l := (Park{Lifted: "C4 at the plate", Next: " "}).Lines(); len(l) != 1 || l[0][1] != "C4 at the plate" {
		t.Error(l)
	}
}
