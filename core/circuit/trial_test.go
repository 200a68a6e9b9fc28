package circuit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/limit"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// A specimen amp for the trial: parts up to 8 % off, tubes 15 % of current
// (one standard deviation), amplification 5 %, exponent 0.04 and contact
// volts off their type, screens 25 %, windings 20 %, rectifiers 20 %; read
// with a meter up to half a percent off.
type specimenAmp struct {
	benchAmp
	r     *rand.Rand
	real  *Net
	is    Values
	mains float64
	truth *Solution
}

const trialMeterError = 0.005

// specimen draws until the output stage idles as one that a technician would
// leave so: every tube above 15 mA.
func (a benchAmp) specimen(t testing.TB, seed uint64) *specimenAmp {
	t.Helper()
	r := rand.New(rand.NewPCG(7, seed))
	for range 50 {
		if s := a.drawn(t, r); s.idles() {
			return s
		}
	}
	t.Fatalf("%s: no specimen idles", a.name)
	return nil
}

func (s *specimenAmp) idles() bool {
	for ref := range s.outputs() {
		if pt, ok := s.truth.Tube(ref); !ok || pt.Total < 0.015 {
			return false
		}
	}
	return true
}

func (a benchAmp) drawn(t testing.TB, r *rand.Rand) *specimenAmp {
	t.Helper()
	s := &specimenAmp{benchAmp: a, r: r}
	net, err := Compile(a.sheet, s.otherLaws())
	if err != nil {
		t.Fatal(err)
	}
	s.real, s.is, s.mains = net, net.Sheet(), nominalMains(a.sheet)
	for i, k := range net.Knobs {
		s.is[i] = s.draw(k, s.is[i])
	}
	s.likeTwins()
	s.truth, err = net.Solve(s.is, State{Mains: s.mains}, nil)
	if err != nil {
		t.Fatalf("%s: %v", a.name, err)
	}
	return s
}

// likeTwins makes tubes on one cathode resistor alike: their bench says so.
func (s *specimenAmp) likeTwins() {
	first := map[string]string{}
	for i := range s.sheet {
		p := &s.sheet[i]
		n, _ := p.Node("cathode")
		if !isOutput(p) || n == "0" {
			continue
		}
		if first[n] == "" {
			first[n] = p.Ref
			continue
		}
		for _, q := range []Property{Perveance, Shift, Share} {
			from, _ := s.net.Knob(first[n], q)
			to, _ := s.net.Knob(p.Ref, q)
			s.is[to] = s.is[from]
		}
	}
}

// otherLaws are the types' laws with other exponents.
func (s *specimenAmp) otherLaws() Laws {
	mu, gamma := map[string]float64{}, map[string]float64{}
	return func(typ string) (tube.Law, string, bool) {
		l, d, ok := fittedLaws(typ)
		if l.Kind == tube.Rectifier || l.Kind == tube.Diode {
			return l, d, ok
		}
		if _, seen := mu[typ]; !seen {
			mu[typ], gamma[typ] = s.within(0.05), 0.04*(2*s.r.Float64()-1)
		}
		// The same current at the middle of the type's range, so that only
		// the shape differs.
		l.Mu *= mu[typ]
		l.P *= math.Pow(15, -gamma[typ])
		l.Gamma += gamma[typ]
		return l, d, ok
	}
}

func (s *specimenAmp) within(part float64) float64 { return 1 + part*(2*s.r.Float64()-1) }

func (s *specimenAmp) draw(k Knob, v float64) float64 {
	switch k.Property {
	case Perveance:
		return v * math.Exp(0.15*max(-2, min(2, s.r.NormFloat64())))
	case Shift:
		return v + 0.2*(2*s.r.Float64()-1)
	case Share:
		return v * s.within(0.25)
	case Volts, Conduct, Copper, HeaterLoad:
		return v * s.within(0.20)
	case Turn:
		return v
	}
	return v * s.within(0.08)
}

// chart reads the amp: every reservoir and electrode, output stage's cathode
// resistors with the power off, and, if asked for, screen currents.
func (s *specimenAmp) chart(screens bool) []amp.Reading {
	var rs []amp.Reading
	note := func(at, quantity string, v float64, u unit.Unit) {
		r := amp.Reading{ID: fmt.Sprint(len(rs) + 1), At: at, Quantity: quantity, Amount: v * s.within(trialMeterError), Unit: u,
			Mains: unit.Voltage(s.mains), Meter: trialMeterError, Stated: true}
		if quantity == amp.Ohms {
			r.Mains, r.State = 0, []string{amp.Off}
		}
		rs = append(rs, r)
	}
	for i := range s.sheet {
		p := &s.sheet[i]
		switch {
		case isOutput(p) || p.Role == amp.OutputTube:
			s.tube(p, note, screens)
		case p.Kind == "electrolytic" && (p.Role == amp.Reservoir || p.Role == amp.Smoothing || p.Role == amp.BiasCapacitor):
			n, _ := p.Node("plus")
			if n == "0" {
				n, _ = p.Node("minus")
			}
			if v, ok := s.truth.Node(n); ok {
				note(n, amp.Volts, v, unit.Volt)
			}
		}
	}
	return rs
}

func (s *specimenAmp) tube(p *amp.Position, note func(string, string, float64, unit.Unit), screens bool) {
	pt, _ := s.truth.Tube(p.Ref)
	for _, lead := range []string{"plate", "screen", "cathode"} {
		n, _ := p.Node(lead)
		if v, ok := s.truth.Node(n); ok && n != "0" {
			note(p.Ref+":"+lead, amp.Volts, v, unit.Volt)
		}
	}
	if screens {
		note(p.Ref+":screen", amp.Current, pt.ScreenAmps, unit.Ampere)
	}
	n, _ := p.Node("cathode")
	for i := range s.sheet {
		r := &s.sheet[i]
		if a, b, ok := newJoints(nil).leads(r); ok && r.Kind == "resistor" && (a == n || b == n) && n != "0" {
			k, _ := s.real.Knob(r.Ref, Ohms)
			note(r.Ref, amp.Ohms, s.is[k], unit.Ohm)
			return
		}
	}
	note(p.Ref+":cathode", amp.Current, pt.Total, unit.Ampere)
}

// A tally counts how often a band held the truth, and its half widths.
type tally struct {
	held, all int
	widths    []float64
	worst     float64 // furthest outside, in half widths
	say       string
}

func (c *tally) add(b Band, truth float64, what string) {
	c.all++
	half := (b.High - b.Low) / 2
	c.widths = append(c.widths, half/math.Abs(b.Expected))
	if b.Low <= truth && truth <= b.High {
		c.held++
		return
	}
	if out := max(b.Low-truth, truth-b.High) / half; out > c.worst {
		c.worst, c.say = out, fmt.Sprintf("%s: %.4g, band %.4g to %.4g", what, truth, b.Low, b.High)
	}
}

func (c *tally) median() float64 {
	slices.Sort(c.widths)
	return c.widths[len(c.widths)/2]
}

// The band after a change of mains holds what a random specimen then does in
// 98 of 100 cases, and with the screens' currents read its half width for 5 %
// more mains is in the middle case at most 9 %. The specimens share the form
// of the law; another law is for the trial against the simulator.
func TestCalibrationTrialLong(t *testing.T) {
	count := often(2, 6, 150)
	for _, screens := range []bool{true, false} {
		t.Run(fmt.Sprintf("screens read %v", screens), func(t *testing.T) { trialOf(t, count, screens) })
	}
}

var trialQuantities = []limit.Quantity{limit.PlateWatts, limit.PlateVolts, limit.ScreenWatts, limit.CathodeCurrent}

func trialOf(t *testing.T, count int, screens bool) {
	all, five := map[limit.Quantity]*tally{}, map[limit.Quantity]*tally{}
	for _, q := range trialQuantities {
		all[q], five[q] = &tally{}, &tally{}
	}
	for _, a := range benchAmps(t) {
		for i := range count {
			oneTrial(t, a.specimen(t, uint64(i)), screens, all, five)
		}
	}
	for _, q := range trialQuantities {
		held := float64(all[q].held) / float64(all[q].all)
		t.Logf("%s: %.2f %% of %d held; half width for 5 %%: %.1f %%; furthest out %.2f half widths: %s", q, 100*held, all[q].all, 100*five[q].median(), all[q].worst, all[q].say)
		if held < 0.98 {
			t.Errorf("%s: %.2f %% held, want 98", q, 100*held)
		}
		if q == limit.PlateWatts && screens && five[q].median() > 0.09 {
			t.Errorf("half width %.1f %%, want 9", 100*five[q].median())
		}
	}
}

func oneTrial(t *testing.T, s *specimenAmp, screens bool, all, five map[limit.Quantity]*tally) {
	cal, err := Calibrate(s.net, Bench{Sheet: s.sheet, Readings: s.chart(screens), Laws: fittedLaws, Alike: true, Known: true})
	if err != nil {
		t.Errorf("%s: %v", s.name, err)
		return
	}
	var fs []Figure
	for i := range s.sheet {
		if p := &s.sheet[i]; isOutput(p) {
			for _, q := range trialQuantities {
				fs = append(fs, Figure{p.Ref, q})
			}
		}
	}
	for _, ratio := range []float64{0.94, 1.05, 1.10} {
		v := unit.Voltage(s.mains * ratio)
		truth, err := s.real.Solve(s.is, State{Mains: float64(v)}, s.truth)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range cal.Bands(Choice{}, []Scenario{{Name: fmt.Sprint(ratio), Low: v, High: v}}, fs, fittedLaws, nil) {
			is, _ := truth.Figure(b.Figure)
			if b.Missing != "" {
				t.Errorf("%s %v: %s", s.name, b.Figure, b.Missing)
				continue
			}
			all[b.Quantity].add(b, is, fmt.Sprintf("%s %s at %s", s.name, b.Ref, b.Scenario))
			if ratio == 1.05 {
				five[b.Quantity].add(b, is, "")
			}
		}
	}
}
