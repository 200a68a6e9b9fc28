// Package bench holds what stands on the bench beside the figures: which
// checks came before the first power, and how the amp was left when the work
// was put down.
//
//	speaker and output winding not checked → no powered chart yet
//	put down at 16:10, filters not stated  → "treat as charged" until someone measures
package bench

import "strings"

// A Check is one thing looked at before an amp is powered for the first time.
type Check struct {
	ID   string
	Ask  string // what is looked at
	How  string // how, in one sentence
	Risk string // what comes of leaving it out
}

// Checks are the checks in the order of work. Common practice, no source; the
// local code and those licensed for mains work come first.
var Checks = []Check{
	{"lead", "Mains lead, plug and grommet", "By eye and by ohms, unplugged: no cracks, the cores on the right pins.", "A bare core at the chassis."},
	{"ground", "Ground from the plug to the chassis", "Ohms from the ground pin to bare metal of the chassis, unplugged.", "A chassis that is live, with strings and hands on it."},
	{"fuse", "Fuse and mains switch", "The fuse that is in against the label; the switch in the right wire.", "A fault that burns instead of blowing a fuse."},
	{"line", "Anything from the mains to the chassis", "Look for a capacitor there, and what class it is.", "Current through whoever touches strings and ground."},
	{"windings", "Windings of the mains transformer", "Ohms of each winding, and none to the chassis.", "A short that is powered."},
	{"load", "Load on the output", "Speaker or dummy load in place; ohms of it and of the output transformer's primary, both halves.", "A tube driven without a load ruins the output transformer."},
	{"insulation", "Insulation of the mains side", "As local practice asks and by whoever is permitted to.", "A breakdown found by the owner."},
	{"filters", "Filters discharged, leaking, bulged", "Discharge through a resistor rated for it, measure, wait, measure again; look at each can.", "A charge that is still there, or a can that bursts."},
	{"hazards", "Materials that harm", "Oil-filled parts and their dates, asbestos pads, selenium, mold.", "Harm to whoever works on it."},
}

// Result is how a check came out. The zero value is that nobody did it.
type Result string

const (
	Passed     Result = "passed"
	Failed     Result = "failed"
	Absent     Result = "absent"     // the amp has no such thing
	Overridden Result = "overridden" // powered all the same, for a reason
)

// An Answer is what was recorded of one check.
type Answer struct {
	ID     string `json:"id,omitempty"`
	Result Result `json:"result,omitempty"`
	Say    string `json:"say,omitempty"` // what was read, or the reason
	At     string `json:"at,omitempty"`
}

// A Gate says whether the amp may be powered as far as the checks go, and
// what is in the way.
type Gate struct {
	Open       bool
	Wants      []Check // not done
	Failed     []Check // done and not passed, no reason given
	Overridden []Answer
}

// GateOf holds answers against the checks. A check that failed, or was passed
// over, opens the gate only with a reason.
func GateOf(answers []Answer) Gate {
	by := map[string]Answer{}
	for _, a := range answers {
		by[a.ID] = a
	}
	var g Gate
	for _, c := range Checks {
		a := by[c.ID]
		switch {
		case a.Result == Passed || a.Result == Absent:
		case a.Result == Overridden && strings.TrimSpace(a.Say) != "":
			g.Overridden = append(g.Overridden, a)
		case a.Result == Failed:
			g.Failed = append(g.Failed, c)
		default:
			g.Wants = append(g.Wants, c)
		}
	}
	g.Open = len(g.Wants) == 0 && len(g.Failed) == 0
	return g
}

// Find returns the check of that name.
func Find(id string) (Check, bool) {
	for _, c := range Checks {
		if c.ID == id {
			return c, true
		}
	}
	return Check{}, false
}

// Words says for a paper which checks were passed over, and why: "Powered
// without: load on the output (speaker comes tomorrow)". "" where none was.
func (g Gate) Words() string {
	var says []string
	for _, a := range g.Overridden {
		if c, ok := Find(a.ID); ok {
			says = append(says, lower(c.Ask)+" ("+strings.TrimSpace(a.Say)+")")
		}
	}
	if len(says) == 0 {
		return ""
	}
	return "Powered without these checks: " + strings.Join(says, "; ") + "."
}

func lower(s string) string { return strings.ToLower(s[:1]) + s[1:] }
