package unit

import (
	"fmt"
	"strings"
)

// colors in the order of their figures.
//
// Source: IEC 60062, second-hand transcription (the table in a course
// note).
var colors = [...]string{"black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "gray", "white"}

const noColor = -3

// colorFigure returns 0 to 9, -1 for gold, -2 for silver: the figure, and the
// power of ten as a multiplier.
func colorFigure(name string) int {
	switch name {
	case "grey":
		return 8
	case "purple":
		return 7
	case "gold":
		return -1
	case "silver":
		return -2
	}
	for i, c := range colors {
		if c == name {
			return i
		}
	}
	return noColor
}

// bandTolerance returns the tolerance of a color in percent. Gray is left
// out: sources give 0.05 % and 0.01 %.
func bandTolerance(figure int) (Tolerance, bool) {
	percent := map[int]float64{1: 1, 2: 2, 5: 0.5, 6: 0.25, 7: 0.1, -1: 5, -2: 10}[figure]
	return Tolerance{percent / 100, percent / 100, true}, percent > 0
}

// ColorBands reads the color bands of a resistor: three bands (±20 %), four,
// or five with three figures.
//
// Five bands that end in yellow or orange may be two figures, multiplier,
// tolerance and a reliability band, as on some military parts (from memory),
// or three figures and a fine tolerance: that is an Ambiguous.
func ColorBands(text string) (Spec, error) {
	f, err := figuresOf(text)
	if err != nil {
		return Spec{}, err
	}
	switch len(f) {
	case 3:
		return banded(text, f[:2], f[2], Tolerance{0.2, 0.2, true})
	case 4, 5:
		figures, last := f[:len(f)-2], f[len(f)-1]
		if len(f) == 5 && (last == 3 || last == 4) {
			return Spec{}, reliability(text, f)
		}
		tol, ok := bandTolerance(last)
		if !ok {
			return Spec{}, Problem{Cell: text, Code: NotANumber, Hint: "the same bands from the other end"}
		}
		return banded(text, figures, f[len(f)-2], tol)
	}
	return Spec{}, Problem{Cell: text, Code: NotANumber, Hint: "three, four or five bands"}
}

func figuresOf(text string) ([]int, error) {
	words := strings.Fields(strings.ToLower(text))
	if len(words) > 6 {
		return nil, Problem{Cell: text, Code: TooLong}
	}
	out := make([]int, 0, 6)
	for _, w := range words {
		f := colorFigure(w)
		if f == noColor {
			return nil, Problem{Cell: text, Code: UnknownWord, Hint: "the colors black to white, gold and silver"}
		}
		out = append(out, f)
	}
	return out, nil
}

func banded(text string, figures []int, multiplier int, tol Tolerance) (Spec, error) {
	v := 0.0
	for _, f := range figures {
		if f < 0 {
			return Spec{}, Problem{Cell: text, Code: NotANumber, Hint: "the same bands from the other end"}
		}
		v = v*10 + float64(f)
	}
	return Spec{Text: text, Unit: Ohm, Values: []float64{scaled(v, multiplier)}, Tolerance: tol}, nil
}

// reliability offers the two readings of a fifth band that is orange or yellow.
func reliability(text string, f []int) error {
	tol, ok := bandTolerance(f[3])
	four, err := banded(text, f[:2], f[2], tol)
	fine := map[int]float64{3: 0.0005, 4: 0.0002}[f[4]] // tolerance colors added in 2016, from memory
	five, err5 := banded(text, f[:3], f[3], Tolerance{fine, fine, true})
	if !ok || err != nil || err5 != nil {
		return Problem{Cell: text, Code: NotANumber}
	}
	return Ambiguous{text, []Choice{
		{four.Canonical() + " (four bands and a reliability band)", four},
		{five.Canonical() + " (five bands)", five}}}
}

// BodyEndDot reads the pre-war resistor marking: the body is the first
// figure, one end the second, the dot the multiplier; gold or silver on the
// other end is the tolerance, its absence ±20 %.
//
// Source: RMA color code of the 1930s, from memory.
func BodyEndDot(body, end, dot, otherEnd string) (Spec, error) {
	text := strings.TrimSpace(fmt.Sprintf("body %s, end %s, dot %s %s", body, end, dot, otherEnd))
	words := strings.Join([]string{body, end, dot, otherEnd}, " ")
	f, err := figuresOf(words)
	if err != nil || len(f) < 3 {
		return Spec{}, Problem{Cell: text, Code: UnknownWord, Hint: "the colors black to white, gold and silver"}
	}
	tol := Tolerance{0.2, 0.2, true}
	if len(f) > 3 {
		if f[3] >= 0 {
			return Spec{}, Problem{Cell: text, Code: UnknownWord, Hint: "gold or silver on the other end"}
		}
		tol, _ = bandTolerance(f[3])
	}
	s, err := banded(text, f[:2], f[2], tol)
	return s, err
}
