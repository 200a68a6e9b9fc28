package finding

import (
	"fmt"

	"lugworth/core/formula"
	"lugworth/core/shop"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// A LeakFigure is what a grid shift says of the capacitor that makes it.
type LeakFigure struct {
	At         string
	Shift      unit.Voltage
	Current    unit.Current
	Resistance unit.Resistance
	Pile       shop.Pile // must on any positive shift, "" where none is shown
	Effect     string    // what it does to the bias
	Node       *why.Node
}

// RuleLeak turns a grid shift into a leak.
var RuleLeak = &why.Rule{
	Name: "leak from grid shift",
	Says: "The leak of a coupling capacitor flows through the grid leak and lifts the grid. " +
		"Any positive shift calls for replacement: it takes away bias, and it grows as the part warms. The meter's own loading is not counted.",
	Formula: "I = shift/Rg, R = (source − bias − shift)/I",
	Source:  "Ohm's law; that any positive shift is a must: common practice, no source",
	Mark:    "memory",
}

// leaks works out every leak of a finding.
func leaks(f Finding, n *notes) []LeakFigure {
	var out []LeakFigure
	for _, l := range f.Leak {
		if v, ok := l.work(n); ok {
			out = append(out, v)
		}
	}
	return out
}

func (l Leak) work(n *notes) (LeakFigure, bool) {
	before := len(n.problems)
	shift := n.amount("leak.shift", l.Shift, unit.Volt, true)
	source := n.amount("leak.source", l.Source, unit.Volt, true)
	grid := n.amount("leak.grid_leak", l.GridLeak, unit.Ohm, true)
	bias := n.amount("leak.bias", l.Bias, unit.Volt, false)
	if len(n.problems) > before {
		return LeakFigure{}, false
	}
	v := LeakFigure{At: l.At, Shift: unit.Voltage(shift)}
	if shift <= 0 {
		v.Effect = fmt.Sprintf("%s: no leak is shown", v.Shift)
		v.Node = why.Found(RuleLeak, "leak at "+l.At, why.Text("none shown"), why.Given("grid shift", v.Shift, l.At))
		return v, true
	}
	i, r, err := formula.LeakFromShift(v.Shift, unit.Resistance(grid), unit.Voltage(source-bias))
	if err != nil {
		n.problem("leak", err.Error(), unit.OutOfRange, "")
		return v, false
	}
	v.Current, v.Resistance, v.Pile = i, r, shop.Must
	v.Effect = effect(v.Shift, unit.Voltage(bias))
	v.Node = why.Found(RuleLeak, "leak of the capacitor at "+l.At, i,
		why.Given("grid shift", v.Shift, l.At), why.Given("grid leak", unit.Resistance(grid), "finding "+n.id),
		why.Given("volts behind the capacitor", unit.Voltage(source), "finding "+n.id), why.Given("bias wanted", unit.Voltage(bias), "finding "+n.id))
	return v, true
}

// effect says what a shift does to the bias: how many volts are gone, and of
// a stated grid bias how large a part.
func effect(shift, bias unit.Voltage) string {
	s := fmt.Sprintf("the grid stands %s too positive: the tube lacks that much bias and draws more than it is set for", shift)
	if bias < 0 {
		s += fmt.Sprintf(" (%s %% of a bias of %s)", figure(float64(shift/-bias)*100), bias)
	}
	return s
}

// amount reads one quantity of a finding; a blank is a problem where needed.
func (n *notes) amount(field string, text Text, u unit.Unit, needed bool) float64 {
	if text == "" {
		if needed {
			n.problem(field, "", unit.Missing, "")
		}
		return 0
	}
	v, err := unit.Read(string(text), u)
	if err != nil {
		n.failed(err, field, string(text))
	}
	return v
}
