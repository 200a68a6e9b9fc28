package circuit

import (
	"fmt"
	"math"

	"lugworth/core/limit"
	"lugworth/core/unit"
)

// A setter turns one knob until a bound is met.
type setter struct {
	c      *Calibration
	ask    *Ask
	ref    string
	law    carrier
	knob   int
	bounds []Bound
}

// carrier is what the rules for carrying over ask of a type.
type carrier struct {
	one      bool // its law rests on one published point
	screened bool // it has a screen
	screen   bool // whose current was not read
}

func (c *Calibration) lawOf(typ string, w *Window) carrier {
	if c.bench.Laws == nil {
		return carrier{}
	}
	l, doubt, _ := c.bench.Laws(typ)
	if w.Doubt == "" {
		w.Doubt = doubt
	}
	return carrier{one: l.Points == 1, screened: l.D > 0, screen: l.D > 0 && !c.read[w.Ref].screen}
}

// unbounded names an electrode's watts that no bound keeps.
func (s *setter) unbounded() (limit.Quantity, bool) {
	has := map[limit.Quantity]bool{}
	for _, b := range s.bounds {
		has[b.Quantity] = true
	}
	switch {
	case !has[limit.PlateWatts] && !has[limit.BothWatts]:
		return limit.PlateWatts, true
	case s.law.screened && !has[limit.ScreenWatts] && !has[limit.BothWatts]:
		return limit.ScreenWatts, true
	}
	return "", false
}

// turned is one setting of the knob in one explanation.
type turned struct {
	current float64 // at the bench mains
	over    float64 // greatest figure over its bound, 1 is met
	by      int     // that bound
	sum     float64 // current of all tubes on its cathode, at the bench mains
}

// solve finds the greatest current of each explanation, and keeps the least.
func (s *setter) solve(w *Window) string {
	w.Current.High = math.Inf(1)
	for i := range s.c.fits {
		f := &s.c.fits[i]
		now, err := s.at(f, f.values[s.knob])
		if err != nil {
			return err.Error()
		}
		w.Current.Expected += now.current / float64(len(s.c.fits))
		t, x, say := s.meet(f, now)
		if say != "" {
			return say
		}
		if t.current < w.Current.High {
			w.Current.High = t.current
			b := s.bounds[t.by]
			w.Most = fmt.Sprintf("%s at %s:%s, %s, %s", b.Quantity, b.Mains, b.Range(), b.System, b.Source)
			if b.Mark == limit.Memory {
				w.Most += " (from memory)"
				w.Doubt = "the limit that decides is from memory"
			}
			w.Ways, w.setTo, w.together = []string{s.way(x)}, x, t.sum
		}
	}
	w.Current.Low, w.Least = 0, "no limit: how cold a stage may idle is a matter of sound"
	if w.Current.Expected < w.Current.High {
		w.Current.Low, w.Least = w.Current.Expected, "what it draws now; a colder idle passes no limit and is a matter of sound"
	} else {
		w.Current.Low = w.Current.High
		w.Least = "it draws more than it may: bring it down; colder passes no limit and is a matter of sound"
	}
	return ""
}

// threeFigures rounds a size for people.
func threeFigures(v float64) float64 {
	if !(v > 0) {
		return v
	}
	unit := math.Pow(10, math.Floor(math.Log10(v))-2)
	return math.Round(v/unit) * unit
}

// way is the setting in words.
func (s *setter) way(x float64) string {
	k := s.c.Net.Knobs[s.knob]
	if k.Property == Turn {
		return fmt.Sprintf("%s to about %.0f %% of its track from end a, then by the meter", k.Ref, 100*x)
	}
	return fmt.Sprintf("%s of about %s in place of %s, then by the meter", k.Ref, unit.Short(threeFigures(x), unit.Ohm), unit.Short(threeFigures(s.c.fits[0].values[s.knob]), unit.Ohm))
}

// at solves one setting: the current at the bench mains, and how far the
// figures are toward their bounds at the mains those are judged at.
func (s *setter) at(f *fit, x float64) (turned, error) {
	v := append(Values(nil), f.values...)
	v[s.knob] = x
	bench, err := s.c.Net.Solve(v, State{Mains: float64(s.ask.Mains), Ratio: s.ask.Ratio}, f.sol)
	if err != nil {
		return turned{}, err
	}
	was, _ := bench.Tube(s.ref)
	t := turned{current: was.Total, sum: s.c.drawnWith(s.ref, bench)}
	at := map[unit.Voltage]*Solution{s.ask.Mains: bench}
	for i, b := range s.bounds {
		sol := at[b.Mains]
		if sol == nil {
			if sol, err = s.c.Net.Solve(v, State{Mains: float64(b.Mains), Ratio: s.ask.Ratio}, bench); err != nil {
				return t, err
			}
			at[b.Mains] = sol
		}
		q, ok := sol.Figure(Figure{s.ref, b.Quantity})
		is, _ := sol.Tube(s.ref)
		if !ok || !(was.Total > 0) {
			return t, &Unsolved{Say: "the circuit gives no " + string(b.Quantity), Refs: []string{s.ref}}
		}
		if over := q * s.read(f, b.Quantity) * (1 + s.carry(b.Quantity, was, is)) / b.High; over > t.over {
			t.over, t.by = over, i
		}
	}
	return t, nil
}

// read is by how much the volts that go into a figure were read above what the
// circuit gives: the current is dialed, the volts stay what they are.
func (s *setter) read(f *fit, q limit.Quantity) float64 {
	volts, ok := voltsOf[q]
	if !ok {
		return 1
	}
	if an := s.c.tubeAnchor(f, Figure{s.ref, volts}); an.ok {
		return max(1, an.factor)
	}
	return 1
}

// carry is the room for carrying the dialed current to the bound's mains: the
// rules of anchor.go, with the meter counted once for the current and once
// for the volts.
func (s *setter) carry(q limit.Quantity, was, is Point) float64 {
	base, slope := carryPower, carryCurrent
	if s.law.one {
		base, slope = carryPowerOne, carryCurrentOne
	}
	w := base + 2*s.ask.Meter + slope*change(was.Total, is.Total) + carryChange*change(was.Plate, is.Plate)
	switch {
	case q == limit.ScreenWatts && s.law.screen:
		w += screenByType
	case q == limit.ScreenWatts:
		w += screenCarry
	case q == limit.PlateWatts && s.law.screen:
		w += screenUnread
	}
	return w
}

// rounds of the search: the setting is then good to a thousandth.
const settings = 18

// meet turns the knob until the first bound is met, by halving between a
// setting within and one beyond.
func (s *setter) meet(f *fit, now turned) (turned, float64, string) {
	x := f.values[s.knob]
	in, out, found := now, x, false
	inX, outX := x, x
	for _, step := range s.steps(x) {
		t, err := s.at(f, step)
		if err != nil {
			continue // a setting the circuit has no answer for is no setting
		}
		switch {
		case now.over <= 1 && t.over > 1 && (!found || math.Abs(step-x) < math.Abs(outX-x)):
			outX, found = step, true
		case now.over > 1 && t.over <= 1 && (!found || math.Abs(step-x) < math.Abs(inX-x)):
			in, inX, found = t, step, true
		}
	}
	if !found {
		if now.over <= 1 {
			return turned{}, out, "no setting of " + s.c.Net.Knobs[s.knob].Ref + " takes this tube to a limit"
		}
		return turned{}, out, "no setting of " + s.c.Net.Knobs[s.knob].Ref + " brings this tube inside its limits: the bias supply does not reach"
	}
	for range settings {
		mid := (inX + outX) / 2
		t, err := s.at(f, mid)
		if err != nil || t.over > 1 {
			outX = mid
			continue
		}
		in, inX = t, mid
		if t.over > 0.9995 {
			break
		}
	}
	return in, inX, ""
}

// steps are the settings tried around the one in use.
func (s *setter) steps(x float64) []float64 {
	if s.c.Net.Knobs[s.knob].Property == Turn {
		return []float64{0.02, 0.15, 0.3, 0.45, 0.6, 0.75, 0.9, 0.98}
	}
	return []float64{x / 4, x / 2.5, x / 1.7, x / 1.3, x * 1.3, x * 1.7, x * 2.5, x * 4}
}
