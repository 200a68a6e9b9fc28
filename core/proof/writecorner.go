package proof

import (
	"math"
	"strconv"

	"lugworth/core/unit"
)

// An End is one end of a band as a solved corner shows it: the figure in a
// state of a circuit, what carries a bench reading over, what moves less than
// its slope, and the part of itself it is spread by.
type End struct {
	State                      string
	Model, Factor, Rest, Carry float64
}

// SolvedBand is the chain of a figure whose band rests on two solved corners.
// without is the upper end without what the choice named by cause changed; nil
// where nothing was.
func SolvedBand(subject, quantity string, u unit.Unit, low, high float64, ends [2]End, without *float64, cause string) *Step {
	of := subject + " " + quantity
	s := &Step{Rule: Corners, What: of, Unit: u.String(), Low: Figure(low), High: Figure(high),
		From: []Step{end(LowerEnd, of, u, ends[0], -1), end(UpperEnd, of, u, ends[1], 1)}}
	if without != nil {
		s.From = append(s.From, Step{Value: Figure(*without), Unit: u.String(), What: of + " without " + cause + ", upper end", Where: "the circuit before it, beside " + ends[1].State})
	}
	return s
}

// end states one end with its numbers as they are written.
func end(rule, of string, u unit.Unit, e End, sign float64) Step {
	texts := [4]string{decimals(e.Model, Digits), decimals(e.Factor, Digits), "", strconv.FormatFloat(e.Carry, 'f', Digits, 64)}
	d := figures - 1 - int(math.Floor(math.Log10(max(math.Abs(e.Model*e.Factor), 1e-9))))
	texts[2] = places(e.Rest, d)
	var v [4]float64
	v[0] = e.Model
	for i := 1; i < len(v); i++ {
		v[i], _ = strconv.ParseFloat(texts[i], 64)
	}
	at := v[0]*v[1] + sign*v[2]
	at += sign * math.Abs(at) * v[3]
	where := rule + ", " + e.State
	return Step{Rule: rule, What: of, Unit: u.String(), Value: Figure(at), From: []Step{
		{Rule: Corner, State: e.State, Value: texts[0], Unit: u.String(), What: of},
		{Value: texts[1], What: of + ", bench reading over bench model", Where: where},
		{Value: texts[2], Unit: u.String(), What: of + ", what the corner leaves out", Where: where},
		{Value: texts[3], What: of + ", part of itself it is spread by", Where: where},
	}}
}
