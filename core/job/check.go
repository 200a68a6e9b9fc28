package job

import (
	"strings"

	"lugworth/core/amp"
	"lugworth/core/limit"
	"lugworth/core/stress"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// A Check holds a prediction from the as-found chart against a reading taken
// at another mains. A check reading never starts a prediction.
type Check struct {
	Subject  string
	Quantity limit.Quantity
	Mains    unit.Voltage
	unit.Interval
	Measured float64
	Unit     unit.Unit
	Agrees   bool
	Node     *why.Node
}

// checks predicts what the check readings of the output stage should have
// been, and says whether they were. The amp with only its check readings is
// taken as another chart of the same amp.
func checks(m *stress.Model, a *amp.Amp) []Check {
	checked := checkChart(a)
	if len(checked.Readings) == 0 {
		return nil
	}
	second := m.Of(checked)
	var out []Check
	for _, t := range a.WithRole(amp.OutputTube) {
		for _, q := range []limit.Quantity{limit.PlateVolts, limit.ScreenVolts, limit.PlateWatts, limit.ScreenWatts} {
			out = append(out, check(m, second, t, q)...)
		}
	}
	for _, h := range a.WithRole(amp.HeaterWinding) {
		mains := second.Chart()
		p, r := m.Heater(h, mains, stress.Measured), second.Heater(h, mains, stress.Measured)
		out = append(out, held(p, r)...)
	}
	return out
}

func check(m, second *stress.Model, t *amp.Position, q limit.Quantity) []Check {
	mains := second.Chart()
	return held(m.Tube(t, q, mains, stress.Measured), second.Tube(t, q, mains, stress.Measured))
}

// slack is how far apart two figures of volts may lie and still agree where
// the prediction is a single value: 2 %, our own judgment.
const slack = 0.02

func held(predicted, read stress.Stress) []Check {
	if predicted.Missing != "" || read.Missing != "" {
		return nil
	}
	c := Check{Subject: predicted.Subject, Quantity: predicted.Quantity, Mains: predicted.Mains, Interval: predicted.Interval,
		Measured: read.Expected, Unit: predicted.Unit, Node: predicted.Node}
	low, high := c.Low, c.High
	if strings.HasSuffix(string(c.Quantity), "volts") {
		low, high = low*(1-slack), high*(1+slack)
	}
	c.Agrees = c.Measured >= low && c.Measured <= high
	return []Check{c}
}

// checkChart is the amp with its check readings as its chart. Power-off
// readings stay: a resistance is the same at any mains.
func checkChart(a *amp.Amp) *amp.Amp {
	c := *a
	c.Readings = nil
	found := false
	for _, r := range a.Readings {
		switch {
		case r.Has(amp.Check):
			r.State = without(r.State, amp.Check)
			c.Readings = append(c.Readings, r)
			found = true
		case r.Mains == 0:
			c.Readings = append(c.Readings, r)
		}
	}
	if !found {
		c.Readings = nil
	}
	return &c
}

// tested returns the model of the amp as found, with a doubt on every figure
// of a position whose check readings do not agree with it: a rule that failed
// its own test proves nothing.
func tested(in stress.Input) *stress.Model {
	m := stress.New(in)
	for _, c := range checks(m, in.Amp) {
		if c.Agrees {
			continue
		}
		if in.Against == nil {
			in.Against = map[string]string{}
		}
		in.Against[c.Subject] = "the check reading of " + string(c.Quantity) + " at " + c.Mains.String() + " does not agree with it: read both again"
	}
	if in.Against == nil {
		return m
	}
	return stress.New(in)
}
