package unit

// Spec is a marking as read: what a part says of itself.
type Spec struct {
	Text      string    // the marking as written
	Unit      Unit      // unit of Values
	Values    []float64 // SI; several are the sections of a can, or taps
	Tolerance Tolerance
	Volts     float64 // rated working volts, 0 = not stated
	AC        bool    // the volts are stated as AC
	Surge     float64 // surge volts, 0 = not stated; never a rating
	Watts     float64 // rated watts, 0 = not stated
	Speed     string  // fuse: "T" slow, "F" fast, "" not stated
}

// Value returns the first value, 0 if there is none.
func (s Spec) Value() float64 {
	if len(s.Values) == 0 {
		return 0
	}
	return s.Values[0]
}

// Within returns the interval the first value may lie in by the stated
// tolerance; the value itself where none is stated.
func (s Spec) Within() Interval { return s.Tolerance.Within(s.Value()) }

// Canonical prints the marking in one form: "20+20+20 µF 450 V",
// "220 kΩ 0.5 W ±5 %", "2 A T". Reading it back gives the same Spec but for
// the Text.
func (s Spec) Canonical() string {
	out := s.canonicalValues()
	if s.Speed != "" {
		out += " " + s.Speed
	}
	if s.Volts > 0 {
		out += " " + Short(s.Volts, Volt)
		if s.AC {
			out += " AC"
		}
	}
	if s.Surge > 0 {
		out += " " + Short(s.Surge, Volt) + " surge"
	}
	if s.Watts > 0 {
		out += " " + Short(s.Watts, Watt)
	}
	if s.Tolerance.Stated {
		out += " " + s.Tolerance.String()
	}
	return out
}

// canonicalValues prints all values with the prefix of the largest.
func (s Spec) canonicalValues() string {
	if len(s.Values) == 0 {
		return ""
	}
	largest := s.Values[0]
	for _, v := range s.Values {
		largest = max(largest, v)
	}
	p := prefixFor(largest, s.Unit, few-1, 6)
	out := ""
	for i, v := range s.Values {
		if i > 0 {
			out += s.separator()
		}
		out += p.number(v, few-1, 6, nearest)
	}
	return join(out, p.symbol)
}

// separator: sections add up, taps are alternatives, and 290-0-290 is a
// winding with a center tap.
func (s Spec) separator() string {
	switch {
	case s.Unit == Volt && len(s.Values) == 3 && s.Values[1] == 0:
		return "-"
	case s.Unit == Volt:
		return "/"
	}
	return "+"
}
