package bench

import (
	"strconv"
	"strings"
)

// Finals are the tests before an amp leaves the bench, in the order of work.
// Common practice, no source. The limits are those the technician names from
// the local code: this program states none and says nothing of meeting one.
var Finals = []Check{
	{"ground", "Ground from the plug to the chassis", "Ohms from the ground pin to bare metal, with the lead moved; what was read, and the limit that holds where you work.", "A chassis that can be live."},
	{"work", "Each must that was agreed is done", "At the bench, against the list of what was agreed: an answer on record is no work done.", "A fault that everyone takes for mended."},
	{"insulation", "Insulation or touch current", "As the local code asks, by whoever is permitted to; what was read, and against which limit.", "Current through whoever touches strings and ground."},
	{"fuse", "Fuse that is in, against the label", "Value and speed.", "A fault that burns instead of blowing a fuse."},
	{"load", "Power into a load", "Watts at the first clipping, into which load, at which mains.", "A fault heard only at the first loud evening."},
	{"noise", "Hum, noise, controls, jacks", "Each control through its travel, each jack moved.", "It comes back for a crackle."},
	{"soak", "Soak", "Hours at a stated mains, idle currents at start, middle and end.", "A fault that comes after an hour."},
	{"tubes", "Tubes fitted, and idle current set", "Which tubes are in, and what they draw at which mains.", "A tube that runs too hot unseen."},
	{"chart", "Final chart of readings", "The nodes of the first chart again, marked final.", "Nobody can show what the work changed."},
}

// hard are the tests no reason passes over.
var hard = map[string]bool{"ground": true, "work": true}

// Hard reports whether no reason passes over a test.
func Hard(id string) bool { return hard[id] }

// A Leaving is everything the release rests on.
type Leaving struct {
	Finals   []Answer
	Chart    bool     // there are readings marked final
	Declined []string // musts that are not done, each in words
	OldOpen  []string // old parts nobody said the place of, each in words
}

// A Release says whether an amp may leave in working order, and what is in
// the way.
type Release struct {
	Free       bool
	Never      []string // in the way, whatever the reason
	Wants      []Check  // tests not done or failed: done, or passed over for a reason
	OldOpen    []string
	Overridden []Answer
}

// ReleaseOf holds what was done against what a release asks for. A must that
// is not done or not said to be, or a ground that was not read or failed, is never passed over;
// an old part without a place holds the hand-back until someone says where it
// is.
func ReleaseOf(l Leaving) Release {
	by := map[string]Answer{}
	for _, a := range l.Finals {
		by[a.ID] = a
	}
	if l.Chart && by["chart"].Result != Failed { // one that failed is not mended by another reading
		by["chart"] = Answer{ID: "chart", Result: Passed}
	}
	r := Release{OldOpen: l.OldOpen}
	for _, d := range l.Declined {
		r.Never = append(r.Never, "not done: "+d)
	}
	for _, c := range Finals {
		a := by[c.ID]
		read := strings.TrimSpace(a.Say) != ""
		switch {
		case c.ID == "work" && a.Result == Passed:
		case c.ID == "work":
			r.Never = append(r.Never, lower(c.Ask)+": nobody has said so")
		case hard[c.ID] && a.Result == Passed && read:
		case hard[c.ID] && a.Result == Passed:
			r.Never = append(r.Never, lower(c.Ask)+": what was read is not written down")
		case hard[c.ID] && a.Result == Failed:
			r.Never = append(r.Never, lower(c.Ask)+": failed")
		case hard[c.ID]:
			r.Never = append(r.Never, lower(c.Ask)+": not read")
		case a.Result == Passed:
		case (a.Result == Overridden || a.Result == Absent) && read:
			r.Overridden = append(r.Overridden, a)
		default:
			r.Wants = append(r.Wants, c)
		}
	}
	r.Free = len(r.Never)+len(r.Wants)+len(r.OldOpen) == 0
	return r
}

// Say is the release in one sentence, for page and paper.
func (r Release) Say() string {
	var what []string
	what = append(what, r.Never...)
	var open []string
	for _, c := range r.Wants {
		open = append(open, lower(c.Ask)+": open")
	}
	what = append(what, few(open, "tests are open")...)
	var old []string
	for _, o := range r.OldOpen {
		old = append(old, "old part without a place: "+o)
	}
	what = append(what, few(old, "old parts have no place yet")...)
	switch {
	case r.Free:
		return "Released after the tests listed here."
	case len(r.Never) > 0:
		return "Not released for use. " + capital(strings.Join(what, "; ")) + "."
	}
	return "Not released yet. " + capital(strings.Join(what, "; ")) + "."
}

// few names what there is, or counts it where it is much.
func few(says []string, many string) []string {
	if len(says) > 2 {
		return []string{strconv.Itoa(len(says)) + " " + many}
	}
	return says
}

func capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// PassedOver names the tests left out, for a paper; "" where there are none.
func (r Release) PassedOver() string {
	var says []string
	for _, a := range r.Overridden {
		for _, c := range Finals {
			if c.ID == a.ID {
				says = append(says, lower(c.Ask)+" ("+strings.TrimSpace(a.Say)+")")
			}
		}
	}
	if len(says) == 0 {
		return ""
	}
	return "Left out for a reason: " + strings.Join(says, "; ") + "."
}

// An OldPart is where a part that came out went.
type OldPart struct {
	ID    string `json:"id,omitempty"`    // the option that took it out
	Place string `json:"place,omitempty"` // one of Places
	Say   string `json:"say,omitempty"`
}

// Places are what may become of an old part.
var Places = []string{"given back", "stays in place", "used up by the work", "left with the shop, as the owner wishes"}
