package circuit

import (
	"lugworth/core/amp"
	"lugworth/core/unit"
)

// Names of the scenarios every amp is judged under.
const (
	AtBottom   = "bottom of the range"
	AtMeasured = "measured at the owner's"
	AtTop      = "top of the range"
	FromCold   = "cold start"
	OnStandby  = "standby"
)

// leakOhms is a coupling capacitor that leaks as badly as one still passes
// for working; our own judgment, no source.
const leakOhms = 10e6

// Scenarios lists what an amp is judged under: the owner's mains, the cold
// start, and, apart, one failure at a time that the sheet shows can happen.
// A mains that is zero is left out. ratio is as State.Ratio. Full drive needs
// currents that no sheet of parts states: add it with Driven.
func Scenarios(sheet []amp.Position, low, measured, high unit.Voltage, ratio float64) []Scenario {
	var out []Scenario
	at := func(name string, v unit.Voltage) {
		if v > 0 {
			out = append(out, Scenario{Name: name, Low: v, High: v, Ratio: ratio})
		}
	}
	at(AtTop, high)
	at(AtMeasured, measured)
	at(AtBottom, low)
	if high <= 0 {
		return out
	}
	top := Scenario{Low: high, High: high, Ratio: ratio}
	cold := top
	cold.Name, cold.Cold = FromCold, true
	out = append(out, cold)
	if HasStandby(sheet) {
		s := top
		s.Name, s.Standby = OnStandby, true
		out = append(out, s)
	}
	return append(out, failures(sheet, top)...)
}

// Driven is a scenario with the output tubes' mean currents at full signal
// added.
func Driven(s Scenario, drive []DriveShare) Scenario {
	s.Name, s.Drive = s.Name+", full drive", drive
	return s
}

// HasStandby reports whether a switch of the sheet opens in standby.
func HasStandby(sheet []amp.Position) bool {
	for i := range sheet {
		if opensInStandby(&sheet[i]) {
			return true
		}
	}
	return false
}

// failures lists one failure at a time: the bias lost, a coupler of an output
// tube leaking, a screen resistor open, an output tube pulled.
func failures(sheet []amp.Position, top Scenario) []Scenario {
	j := newJoints(sheet)
	var out []Scenario
	fail := func(name string, faults ...Fault) {
		if len(faults) > 0 {
			s := top
			s.Name, s.Faults, s.Fault = name, faults, true
			out = append(out, s)
		}
	}
	fail("bias lost", j.biasRectifiers()...)
	for i := range sheet {
		p := &sheet[i]
		switch {
		case len(p.Nodes) == 0:
		case p.Role == amp.Coupler && j.drivesOutput(p):
			fail("coupler "+p.Ref+" leaking", Fault{Kind: Leak, Ref: p.Ref, Ohms: leakOhms})
		case p.Role == amp.ScreenResistor:
			fail("screen resistor "+p.Ref+" open", Fault{Kind: Open, Ref: p.Ref})
		case p.Role == amp.OutputTube:
			fail(p.Ref+" pulled", Fault{Kind: Pulled, Ref: p.Ref})
		}
	}
	return out
}

// biasRectifiers are the rectifiers that fill a capacitor below the chassis:
// open, they leave the output tubes without bias.
func (j *joints) biasRectifiers() []Fault {
	var out []Fault
	for _, f := range j.feeds() {
		for _, r := range f.rectifiers {
			if n, ok := j.parts[r].Node("plate"); ok && j.root(n) == f.node {
				out = append(out, Fault{Kind: Open, Ref: j.parts[r].Ref})
			}
		}
	}
	return out
}

// drivesOutput reports a capacitor that reaches the grid of an output tube,
// straight or through resistors.
func (j *joints) drivesOutput(c *amp.Position) bool {
	a, b, ok := j.leads(c)
	return ok && (j.reachesGrid(a) || j.reachesGrid(b))
}

func (j *joints) reachesGrid(node string) bool {
	near := map[string]bool{node: true}
	for _, w := range j.every[node] {
		if w.far != chassisNode {
			near[w.far] = true
		}
	}
	for i := range j.parts {
		p := &j.parts[i]
		if n, has := p.Node("grid"); has && isOutput(p) && near[j.root(n)] {
			return true
		}
	}
	return false
}
