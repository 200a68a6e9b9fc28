package bench

import "strings"

// A Park is how an opened amp was left when the work was put down.
type Park struct {
	At         string `json:"at,omitempty"`
	Discharged string `json:"discharged,omitempty"` // "yes": discharged and measured; "no"; "" nobody said
	Lifted     string `json:"lifted,omitempty"`     // leads lifted, and where
	Out        string `json:"out,omitempty"`        // tubes and parts that are out
	Next       string `json:"next,omitempty"`       // the next step
	Seen       bool   `json:"seen,omitempty"`       // read by whoever took it up again
}

// Parked reports whether work was put down and not taken up again.
func (p Park) Parked() bool { return p.At != "" && !p.Seen }

// Charge says what to think of the filters. Only a measurement now settles
// it: old capacitors recover charge.
func (p Park) Charge() string {
	switch p.Discharged {
	case "yes":
		return "Discharged and measured then. Old capacitors recover charge: measure again before you touch."
	case "no":
		return "Left charged. Discharge through a resistor rated for it, measure, wait, measure again."
	}
	return "Nobody said whether the filters are discharged. Treat them as charged."
}

// Asks reports whether the question of charge is still open: then it is asked
// again each time, until someone has measured.
func (p Park) Asks() bool { return p.Parked() && p.Discharged != "yes" }

// Lines are what was noted, each with its label, in the order to be read.
func (p Park) Lines() [][2]string {
	var out [][2]string
	for _, l := range [][2]string{{"Leads lifted", p.Lifted}, {"Out of the amp", p.Out}, {"Next step", p.Next}} {
		if strings.TrimSpace(l[1]) != "" {
			out = append(out, l)
		}
	}
	return out
}
