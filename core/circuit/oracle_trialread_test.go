//go:build !js

package circuit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// A meter errs by up to its error, and shows four figures up to 3999.
type meter struct {
	r     *rand.Rand
	error float64
}

func (m meter) show(v float64) (shown, step float64) {
	v *= within(m.r, m.error)
	if v == 0 {
		return 0, 0
	}
	step = math.Pow(10, math.Ceil(math.Log10(math.Abs(v)/3.999))-3)
	return math.Round(v/step) * step, step
}

// readings are what a technician notes of the amp: the supply, every tube's
// electrodes, the bias resistors with the power off; the plates' currents of a
// pair with one cathode resistor, by the drop over the output transformer, of
// seven amps in eight; the screens' currents only of every other amp. The
// mains are read by the same meter.
func (a *trialAmp) readings(bench trialTruth) (out []amp.Reading, screens bool) {
	m := meter{rand.New(rand.NewPCG(1997, uint64(a.number))), trialMeter}
	screens, plates := a.number%2 == 0, a.number%8 != 1
	mains, step := m.show(a.bench)
	note := func(at, quantity string, v float64, u unit.Unit, state ...string) {
		shown, s := m.show(v)
		r := amp.Reading{ID: fmt.Sprint("r", len(out)), At: at, Quantity: quantity, Amount: shown, Unit: u, Mains: unit.Voltage(mains), State: state, Meter: trialMeter, Stated: true, Ohms: 10e6, Step: s, MainsStep: unit.Voltage(step)}
		if quantity == amp.Ohms {
			r.Mains, r.MainsStep = 0, 0
		}
		out = append(out, r)
	}
	for _, n := range keysOf(bench.volts) {
		switch {
		case n[0] == 'G' || strings.HasPrefix(n, "IN"): // the meter would load them
		case math.Abs(bench.volts[n]) < 1e-3:
		default:
			note(n, amp.Volts, bench.volts[n], unit.Volt)
		}
	}
	for _, p := range a.real {
		if p.Ref == "R640" || p.Ref == "R302" || p.Ref == "R303" {
			note(p.Ref, amp.Ohms, p.Spec.Value(), unit.Ohm, amp.Off)
		}
	}
	for _, ref := range a.outs {
		if plates && a.stage() == "pair, one cathode resistor" { // else a cathode tells
			note(ref+":plate", amp.Current, bench.plate[ref]/a.voltsTo(bench, ref, "plate"), unit.Ampere)
		}
	}
	if screens {
		for _, ref := range a.outs {
			note(ref+":screen", amp.Current, bench.screen[ref]/a.voltsTo(bench, ref, "screen"), unit.Ampere)
		}
	}
	return out, screens
}

// voltsTo are an electrode's volts to the cathode.
func (a *trialAmp) voltsTo(bench trialTruth, ref, electrode string) float64 {
	for i := range a.sheet {
		if p := &a.sheet[i]; p.Ref == ref {
			s, _ := p.Node(electrode)
			c, _ := p.Node("cathode")
			return bench.volts[s] - bench.volts[c]
		}
	}
	panic("no " + ref)
}
