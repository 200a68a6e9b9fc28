package unit

import (
	"strconv"
	"strings"
)

// Ambiguous is the error for a text with more than one reading in use. The
// page shows the choices; nothing picks one by itself.
type Ambiguous struct {
	Text    string
	Choices []Choice
}

// Choice is one reading a person may pick.
type Choice struct {
	Say  string // "100 kΩ (M for thousand, as on some drawings before about 1950)"
	Spec Spec
}

// Error prints `"100M" can be read in more than one way: 100 MΩ or 100 kΩ`.
func (a Ambiguous) Error() string {
	return strconv.Quote(a.Text) + " " + AmbiguousText.Says() + ": " + a.list()
}

func (a Ambiguous) list() string {
	says := make([]string, len(a.Choices))
	for i, c := range a.Choices {
		says[i] = c.Say
	}
	return strings.Join(says, " or ")
}

// ask builds an Ambiguous from specs and the reason of each.
func (s *scan) ask(choices ...Choice) error {
	for i := range choices {
		c := &choices[i]
		c.Spec.Text = s.text
		if c.Say == "" {
			c.Say = c.Spec.Canonical()
		} else {
			c.Say = c.Spec.Canonical() + " (" + c.Say + ")"
		}
	}
	return Ambiguous{s.text, choices}
}

func single(v float64, u Unit) Spec { return Spec{Unit: u, Values: []float64{v}} }

func (s *scan) askFactors(v float64, u Unit, sayA string, a float64, sayB string, b float64) error {
	return s.ask(Choice{sayA, single(v*a, u)}, Choice{sayB, single(v*b, u)})
}

// askThousands offers 1.234 and 1234, in the unit that follows if it is known.
func (s *scan) askThousands(n numeral, u Unit) error {
	factor := 1.0
	s.spaces()
	if w := wordOf(s.b[s.i:s.letters(s.i)], u); w.kind != unknownWord && w.unit != None {
		factor = w.factor
		if u == None {
			u = w.unit
		}
	}
	return s.askFactors(n.v*factor, u, "a decimal mark", 1, "a thousands mark", 1000)
}
