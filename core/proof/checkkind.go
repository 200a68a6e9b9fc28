package proof

import (
	"errors"
	"fmt"
	"strings"
)

// touch is the slack of one comparison: what floats lose, no more.
const touch = 1e-9

// beyond reports whether a is more than b.
func beyond(a, b span) bool { return a.lo > b.hi+touch*b.abs().hi }

// sides are the ends of a limit; has says which are stated.
type sides struct {
	low, high       span
	hasLow, hasHigh bool
}

func (v *Verdict) sides() (s sides, err error) {
	if v.Limit == nil {
		return s, nil
	}
	var low, high error
	if s.hasLow = v.Limit.Low != ""; s.hasLow {
		s.low, _, low = number(v.Limit.Low)
	}
	if s.hasHigh = v.Limit.High != ""; s.hasHigh {
		s.high, _, high = number(v.Limit.High)
	}
	return s, errors.Join(low, high)
}

// kindOf decides a verdict anew. h is nil where there is no figure.
func (v *Verdict) kindOf(h *held, s sides) string {
	switch {
	case h == nil && v.Ended != "":
		return "not-proven"
	case h == nil || !s.hasLow && !s.hasHigh:
		return "not-enough-data"
	case s.hasHigh && beyond(h.low, s.high) || s.hasLow && beyond(s.low, h.high):
		if v.Fitted || h.high.lo > h.was.hi*(1+1e-12) {
			return "over-worsened"
		}
		return "over-inherited"
	case s.hasHigh && beyond(h.high, s.high) || s.hasLow && beyond(s.low, h.low):
		return "not-proven"
	case v.Doubt != "" || h.blind || v.unproven():
		return "not-proven"
	case v.Reserve != "" && beyond(v.wanted(h), s.nearer(h)):
		return "below-reserve"
	}
	return "within"
}

// unproven reports whether nothing better may rest on the limit or the place:
// a limit from memory, or volts that only stand as the maker chose them.
func (v *Verdict) unproven() bool {
	mark := v.Limit.Mark
	return mark != "seen" && mark != "second-hand" && mark != "user" || v.Scenario == AsMade && v.Unit != "W"
}

func (v *Verdict) wanted(h *held) span {
	r, _, _ := number(v.Reserve)
	return h.high.times(exact(1).plus(r.over(exact(100))))
}

// nearer is the side of a limit a band comes closer to, in parts of it.
func (s sides) nearer(h *held) span {
	if s.hasLow && (!s.hasHigh || s.inLow(h).mid() < s.inHigh(h).mid()) {
		return s.low
	}
	return s.high
}

func (s sides) inHigh(h *held) span { return s.high.minus(h.high).over(s.high) }
func (s sides) inLow(h *held) span  { return h.low.minus(s.low).over(s.low) }

// margins holds the stated margins against those got.
func (v *Verdict) margins(h *held, s sides) error {
	for _, m := range []struct {
		text, what string
		has        bool
		got        func(*held) span
	}{{v.MarginHigh, "margin_high", s.hasHigh, s.inHigh}, {v.MarginLow, "margin_low", s.hasLow, s.inLow}} {
		has := m.has && h != nil
		if has != (m.text != "") {
			return fmt.Errorf("%s: read %q where the facts say otherwise", m.what, m.text)
		}
		if has {
			if err := states(m.text, exact(100).times(m.got(h))); err != nil {
				return fmt.Errorf("%s: %w", m.what, err)
			}
		}
	}
	return nil
}

// place holds the mains of a verdict against the scenario it names, and the
// scenario against the rating system: a design-center limit is judged at
// nominal mains where the allowance it holds is not used up, any other at the
// ends of the declared range.
func (v *Verdict) place(c *Certificate) error {
	want, ok := map[string]string{AtTop: c.Mains.High, AtCold: c.Mains.High, AtStandby: c.Mains.High, AtBottom: c.Mains.Low, AtMeasured: c.Mains.Measured, AtBench: c.Chart}[v.Scenario]
	if v.Scenario == AtNominal {
		want, ok = v.nominal(c), true
	}
	switch {
	case !ok && v.Mains != "":
		return fmt.Errorf("mains: read %s in a scenario without one", v.Mains)
	case ok && v.Mains != want && v.Mains != "":
		return fmt.Errorf("mains: read %s, got %s for %q", v.Mains, want, v.Scenario)
	case ok && v.Mains == "" && v.Bears != nil:
		return errors.New("mains: none is stated")
	}
	center := v.Limit != nil && v.Limit.System == "design center"
	if v.Limit == nil || v.Quantity == "heater volts" || v.Scenario != AtTop && v.Scenario != AtNominal {
		return nil
	}
	if nominal := center && v.nominal(c) != ""; nominal != (v.Scenario == AtNominal) {
		return fmt.Errorf("scenario: read %q, where a limit with system %q is judged elsewhere", v.Scenario, v.Limit.System)
	}
	return nil
}

// nominal is the mains a design-center limit is judged at: the marked supply
// or what was measured, the higher; "" where either is not known or the range
// passes the marked supply by more than a tenth.
func (v *Verdict) nominal(c *Certificate) string {
	marked := v.Tap
	if _, _, err := number(marked); err != nil {
		marked = c.Mains.Marked
	}
	m, _, err1 := number(marked)
	r, _, err2 := number(c.Mains.Measured)
	high, _, err3 := number(c.Mains.High)
	if errors.Join(err1, err2, err3) != nil || beyond(high, m.times(exact(1.1))) {
		return ""
	}
	if r.mid() > m.mid() {
		return c.Mains.Measured
	}
	return marked
}

// said names a verdict for a refusal.
func (v *Verdict) said() string {
	return strings.Join(strings.Fields(strings.Join([]string{v.Set, v.Option, v.Part, v.Subject, v.Quantity + ",", v.Scenario}, " ")), " ")
}
