package unit

import "math"

// Tolerance is how far a part may stray from its marked value, as fractions:
// ±10 % is {0.1, 0.1, true}. Minus is the size of the fall, never negative.
type Tolerance struct {
	Minus, Plus float64
	Stated      bool
}

// Within returns the interval of a part marked v.
func (t Tolerance) Within(v float64) Interval {
	a, b := v*(1-t.Minus), v*(1+t.Plus)
	return Interval{math.Min(a, b), v, math.Max(a, b)}
}

// String prints "±10 %" or "-10/+50 %"; "" where none is stated.
func (t Tolerance) String() string {
	if !t.Stated {
		return ""
	}
	minus, plus := Short(t.Minus*100, None), Short(t.Plus*100, None)
	if minus == plus {
		return "±" + plus + " %"
	}
	return "-" + minus + "/+" + plus + " %"
}

// ToleranceOf reads a tolerance letter of IEC 60062. value is the capacitance
// for a capacitor below 10 pF, where B, C, D, F and G are picofarads; 0 for
// all else.
//
// Source: IEC 60062, letters F to M and Z second-hand transcription (a
// component guide naming the letters); B, C, D on resistors and Q, S, T from
// memory.
func ToleranceOf(letter byte, value Capacitance) (Tolerance, bool) {
	if value > 0 && value < 10e-12*(1-slack) {
		if pf := picofarads(letter); pf > 0 {
			f := pf * 1e-12 / float64(value)
			return Tolerance{f, f, true}, true
		}
	}
	if f := percentLetter(letter); f > 0 {
		return Tolerance{f / 100, f / 100, true}, true
	}
	switch letter {
	case 'Z':
		return Tolerance{0.2, 0.8, true}, true
	case 'Q':
		return Tolerance{0.1, 0.3, true}, true
	case 'S':
		return Tolerance{0.2, 0.5, true}, true
	case 'T':
		return Tolerance{0.1, 0.5, true}, true
	}
	return Tolerance{}, false
}

func percentLetter(letter byte) float64 {
	switch letter {
	case 'B':
		return 0.1
	case 'C':
		return 0.25
	case 'D':
		return 0.5
	case 'F':
		return 1
	case 'G':
		return 2
	case 'H':
		return 3
	case 'J':
		return 5
	case 'K':
		return 10
	case 'M':
		return 20
	}
	return 0
}

func picofarads(letter byte) float64 {
	switch letter {
	case 'B', 'C', 'D', 'F', 'G':
		return percentLetter(letter) // the same figures, in picofarads
	}
	return 0
}

// ReadTolerance reads a tolerance column: "10%", "±5 %", "-20/+80 %", "K",
// "10". A bare number is percent.
func ReadTolerance(text string) (Tolerance, error) {
	var s scan
	if err := s.open(text, Percent); err != nil {
		return Tolerance{}, err
	}
	s.spaces()
	if s.n-s.i == 1 {
		if t, ok := ToleranceOf(s.at(0)&^0x20, 0); ok && isLetter(s.at(0)) {
			return t, nil
		}
	}
	if isFigure(s.at(0)) || s.at(0) == '.' {
		v, err := Read(text, Percent)
		if err == nil && v > 100 {
			err = s.problem(OutOfRange, "")
		}
		return Tolerance{v / 100, v / 100, err == nil}, err
	}
	ok := s.signedTolerance(true)
	if s.spaces(); !ok || s.i < s.n {
		return Tolerance{}, s.problem(NotANumber, "")
	}
	if !s.tol.Stated || s.tol.Minus > 1 || s.tol.Plus > 10 {
		return Tolerance{}, s.problem(OutOfRange, "")
	}
	return s.tol, nil
}
