package unit

// Tolerance is how far a part may stray from its marked value, as fractions:
// ±10 % is {0.1, 0.1, true}. Minus is the size of the fall, never negative.
type Tolerance struct {
	Minus, Plus float64
	Stated      bool
}

// Spec is a marking as read: what a part says of itself.
type Spec struct {
	Text      string    // the marking as written
	Unit      Unit      // unit of Values
	Values    []float64 // SI; several are sections of a can or taps
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

// Canonical prints the marking in one form: "20+20+20 µF 450 V",
// "220 kΩ 0.5 W ±5 %", "2 A T". Reading it back gives the same Spec.
func (s Spec) Canonical() string { return "" }

// ReadSpec reads a whole marking. hint is the unit the column or the kind of
// part calls for, None if nothing is known. The error is a Problem or, where
// two readings are both in use, an Ambiguous; it never guesses.
func ReadSpec(text string, hint Unit) (Spec, error) {
	return Spec{}, Problem{Cell: text, Code: NotANumber}
}

// Read reads one quantity whose unit may be left out: "318", "2,5 mA",
// "100k". The result is in SI base units and finite.
func Read(text string, u Unit) (float64, error) { return 0, Problem{Cell: text, Code: NotANumber} }

// Ambiguous is the error for a text with more than one reading in use.
type Ambiguous struct {
	Text    string
	Choices []Choice
}

// Choice is one reading a person may pick.
type Choice struct {
	Say  string // "100 kΩ (M for thousand, as before about 1950)"
	Spec Spec
}

// Error lists the choices.
func (a Ambiguous) Error() string { return a.Text }
