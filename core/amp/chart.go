package amp

import (
	"math"
	"strconv"
	"strings"

	"lugworth/core/unit"
)

// Quantities of readings, as written in a chart.
const (
	Volts    = "volts"     // DC, to the chassis
	RMSVolts = "rms volts" // AC; of a center-tapped winding, one side
	Current  = "current"   // DC
	Ohms     = "ohms"      // read with the power off
	Shift    = "shift"     // grid volts that come and go with the coupling capacitor
)

// chartColumns are the headings of a chart, in the order written.
var chartColumns = []string{"at", "quantity", "value", "unit", "mains", "state", "when", "meter_percent", "meter_ohms", "tap"}

// A quantity is what a chart may hold of one kind of reading.
type quantity struct {
	unit   unit.Unit
	signed bool // may be below zero
	asks   bool // the unit must be written: volts are volts, but 2.5 is no current
}

var quantities = map[string]quantity{
	Volts:    {unit: unit.Volt, signed: true},
	RMSVolts: {unit: unit.Volt},
	Current:  {unit: unit.Ampere, asks: true},
	Ohms:     {unit: unit.Ohm},
	Shift:    {unit: unit.Volt, signed: true},
}

var quantityWords = []string{Volts, RMSVolts, Current, Ohms, Shift}

// otherWords are other words people write for a quantity.
var otherWords = map[string]string{
	"v": Volts, "volt": Volts, "dc volts": Volts, "volts dc": Volts, "vdc": Volts,
	"ac volts": RMSVolts, "volts ac": RMSVolts, "vac": RMSVolts, "volts rms": RMSVolts, "rms": RMSVolts,
	"amps": Current, "amperes": Current, "ma": Current, "resistance": Ohms, "ohm": Ohms,
	"grid shift": Shift,
}

// ReadReadings reads a chart: columns at, quantity, value, unit, mains,
// state, when, meter_percent, meter_ohms and, if wished, tap, in any order,
// one row a reading.
//
// A row with a problem is set aside whole and every problem is returned, so
// readings + rows with problems = rows of the file. Two readings of one place
// are kept as two. A powered reading without the mains at that moment is
// refused, with the last row's mains as hint.
func ReadReadings(file string, data []byte) ([]Reading, []unit.Problem) {
	t := readTable(file, data, chartColumns, []string{"at", "quantity", "value", "mains"})
	problems := t.problems
	var readings []Reading
	for _, w := range t.rows {
		r := reading(w, readings)
		if len(w.bad) > 0 {
			problems = append(problems, w.bad...)
			continue
		}
		r.ID = file + ":" + strconv.Itoa(w.line)
		readings = append(readings, r)
	}
	return readings, problems
}

// NewReading makes a reading from named fields: the columns of a chart, and
// "id". previous, oldest first, serves the hint "same as last" only. A
// reading that comes with a problem must not be used.
func NewReading(fields map[string]string, previous []Reading) (Reading, []unit.Problem) {
	w := &row{cells: fields}
	r := reading(w, previous)
	r.ID = w.text("id")
	return r, w.bad
}

func reading(w *row, previous []Reading) Reading {
	r := Reading{At: w.text("at"), When: w.text("when"), Tap: w.text("tap"), State: states(w)}
	if when := folded(r.When); among(apartWords, when) && !r.Has(when) {
		r.State = append(r.State, when)
	}
	if r.At == "" {
		w.problem("at", "", unit.Missing, "")
	} else if strings.ContainsAny(r.At, " \t\r\n") || strings.Count(r.At, ":") > 1 {
		w.problem("at", r.At, unit.ExtraText, "REF:electrode")
	}
	readQuantity(w, &r)
	readMains(w, &r, previous)
	readMeter(w, &r)
	return r
}

// readQuantity reads what was measured and how much of it.
func readQuantity(w *row, r *Reading) {
	name := folded(w.text("quantity"))
	if other := otherWords[name]; other != "" {
		name = other
	}
	q, known := quantities[name]
	if !known {
		hint := nearest(name, quantityWords)
		if hint == "" {
			hint = "one of " + strings.Join(quantityWords, ", ")
		}
		code := unit.UnknownWord
		if name == "" {
			code = unit.Missing
		}
		w.problem("quantity", w.text("quantity"), code, hint)
		return
	}
	r.Quantity, r.Unit = name, q.unit
	r.Amount, r.Step = amount(w, q)
	if name == Ohms && r.Has(Powered) {
		w.problem("state", Powered, unit.UnknownWord, Off)
	}
}

// amount reads value with its unit, which may stand in either cell or both.
func amount(w *row, q quantity) (v, step float64) {
	value, u := w.text("value"), w.text("unit")
	text := value
	switch {
	case value == "":
		w.problem("value", "", unit.Missing, "")
		return 0, 0
	case !bare(value):
		if u != "" && !sameUnit(value, u, q.unit) {
			w.problem("unit", u, unit.WrongUnit, "")
			return 0, 0
		}
	case u != "":
		text = value + " " + u
	case q.asks:
		w.problem("unit", "", unit.Missing, value+" m"+q.unit.String())
		return 0, 0
	}
	v, err := unit.Read(text, q.unit)
	if ohms, ok := asMarked(value); err != nil && q.unit == unit.Ohm && ok {
		v, err = ohms, nil
	}
	if err != nil {
		w.failed(err, "value", text)
		return 0, 0
	}
	if v < 0 && !q.signed {
		w.problem("value", text, unit.Negative, strings.TrimLeft(text, "-−"))
		return 0, 0
	}
	return v, stepOf(value, v)
}

// asMarked reads a resistance written as on a part, "4k7".
func asMarked(text string) (float64, bool) {
	s, err := unit.ReadSpec(text, unit.Ohm)
	return s.Value(), err == nil && s.Unit == unit.Ohm && s.Canonical() == unit.Short(s.Value(), unit.Ohm)
}

// bare reports whether a text is a number without a unit.
func bare(text string) bool { return strings.Trim(text, "0123456789.,+-− '") == "" }

// sameUnit reports whether the unit cell says the same as the unit behind the
// value: "318 V" with "volts", "4k7" with "ohms", but not "2.5 mA" with "A".
func sameUnit(value, cell string, u unit.Unit) bool {
	behind := strings.TrimLeft(value, "0123456789.,+-− '")
	if behind == cell {
		return true
	}
	of, err := unit.Read("1 "+cell, u)
	if err != nil {
		return false
	}
	if own, err := unit.Read("1 "+behind, u); err == nil && strings.HasSuffix(behind, u.String()) {
		return own == of
	}
	return of == 1 // "4k7": the prefix stands in the value, the unit in its cell
}

// stepOf is what one in the last written figure is worth, 0 if the text
// gives no plain figure.
func stepOf(text string, v float64) float64 {
	text = strings.TrimLeft(strings.TrimSpace(text), "+-−")
	end := strings.IndexFunc(text, func(c rune) bool { return !strings.ContainsRune("0123456789.,", c) })
	figure := text
	if end >= 0 {
		figure = text[:end]
		if rest := strings.TrimSpace(text[end:]); strings.ContainsAny(rest, "0123456789") {
			return 0 // "4k7"
		}
	}
	if strings.Count(figure, ".")+strings.Count(figure, ",") > 1 {
		return 0
	}
	figure = strings.Replace(figure, ",", ".", 1)
	n, err := strconv.ParseFloat(figure, 64)
	if err != nil {
		return 0
	}
	_, decimals, _ := strings.Cut(figure, ".")
	step := math.Pow(10, -float64(len(decimals)))
	if n == 0 || v == 0 {
		return step
	}
	return step * math.Abs(v) / n
}
