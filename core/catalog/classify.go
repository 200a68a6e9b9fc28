package catalog

import (
	"slices"
	"strings"

	"lugworth/core/unit"
)

// A said is what a row says of its part, column by column.
type said struct {
	text, kind, value, volts, watts, tolerance string
	valueUnit                                  string // unit in the value column's heading, "uF"
	specs                                      *specs
}

// A complaint is a Problem of one column before its place is known.
type complaint struct {
	field Field
	cell  string
	code  unit.Code
	hint  string
}

// part makes the Part a row describes. stop says why the row must be set
// aside (a column that cannot be read); notes are for rows that are kept.
func (s said) part() (p Part, stop, notes []complaint) {
	p.Words, p.Kind = s.describe()
	s.tubes(&p)
	s.words(&p)
	stop, notes = s.spec(&p)
	if len(stop) == 0 {
		p.infer()
	}
	return p, stop, notes
}

// tubes sets the type of a tube and how many are in the piece. Goods for a
// tube (sockets, shields) name its type too and are none.
func (s said) tubes(p *Part) {
	if p.Kind == Other || p.Kind.IsCapacitor() || p.Kind.IsResistor() || p.Kind == Fuse || p.Kind == Pot || p.Kind == Choke {
		return
	}
	sure := p.Kind == Tube || p.Kind == Rectifier
	types := tubeTypes(s.value+" "+s.text, sure)
	switch {
	case len(types) > 0:
		p.Tube, p.TubeAlso = types[0], types[1:]
		p.Kind, p.Count = Tube, 1
		if isRectifier(p.Tube) {
			p.Kind = Rectifier
		}
	case p.Kind == Unknown && semiconductor(p.Words):
		p.Kind, p.Inferred = Rectifier, "the type number is a silicon diode's"
	}
	if p.Tube == "" {
		return
	}
	for _, c := range countWords {
		if anyWord(p.Words, c.words) {
			p.Count = c.count
			break
		}
	}
}

// words sets what is said in words: form, dielectric, class, look.
func (s said) words(p *Part) {
	if p.Kind.IsCapacitor() || p.Kind == Unknown {
		for _, f := range formWords {
			if anyWord(p.Words, f.words) {
				p.Form = f.form
				break
			}
		}
	}
	if !p.Kind.IsCapacitor() {
		return
	}
	for _, d := range dielectricWords {
		if anyWord(p.Words, d.words) {
			p.Dielectric = d.says
			break
		}
	}
	for _, w := range strings.Fields(p.Words) {
		if lookWords[w] && (p.Kind == Paper || p.Kind == Film) {
			// The words before "look" tell what it looks like, not what it is.
			p.Kind, p.Dielectric, p.Look = Capacitor, "", "paper"
		}
		if w == "x1" || w == "x2" || w == "y1" || w == "y2" {
			p.Class = strings.ToUpper(w)
		}
	}
}

// spec reads the figures: columns first, the description for what they leave out.
func (s said) spec(p *Part) (stop, notes []complaint) {
	if p.Tube != "" && s.value != "" && tubeType(s.value, true) != "" {
		s.value = ""
	}
	switch p.Kind {
	case Tube, Jack, Cord, Other:
		return nil, nil // figures here are sizes, poles, lengths
	}
	m := s.marking()
	hint := hintFor(p.Kind)
	if s.value != "" {
		stop = append(stop, s.fromColumn(p, hint)...)
	} else {
		notes = append(notes, s.fromText(p, m, hint)...)
	}
	more, also := s.ratings(p, m)
	return append(stop, more...), append(notes, also...)
}

func (s said) fromColumn(p *Part, hint unit.Unit) []complaint {
	v := strings.TrimSpace(unguard(s.value))
	if s.valueUnit != "" && isNumber(v) {
		v += s.valueUnit
	}
	spec, err := s.readSpec(v, hint)
	if err != nil {
		code, say := codeOf(err, s.value)
		return []complaint{{FieldValue, s.value, code, say}}
	}
	p.Spec = spec
	return nil
}

// fromText reads the marking in a description. A failure is a note only:
// the part can still be ordered by its number.
func (s said) fromText(p *Part, m marking, hint unit.Unit) []complaint {
	if len(m.value) == 0 || m.bare && hint == unit.None && len(m.volts) == 0 && p.Form == AnyForm {
		return nil
	}
	spec, err := s.readSpec(m.text(), hint)
	if err == nil {
		p.Spec = spec
		return nil
	}
	if p.Kind == Unknown || p.Kind == Rectifier {
		return nil // no sign that a value was meant
	}
	_, say := codeOf(err, "")
	return []complaint{{FieldText, m.text(), NotRead, say}}
}

// ratings fills volts, watts and tolerance from their columns, and from the
// description where there is no column or the cell is blank.
func (s said) ratings(p *Part, m marking) (stop, notes []complaint) {
	volts := quantityFrom(m.volts, unit.Volt)
	if s.volts != "" {
		v, c := readRating(FieldVolts, s.volts, unit.Volt)
		stop = append(stop, c...)
		if volts > 0 && len(c) == 0 && differ(volts, v) {
			notes = append(notes, complaint{FieldVolts, s.volts, Disagrees, unit.FormatAmount(volts, unit.Volt, -1)})
		}
		p.Spec.Volts = v
	} else if p.Spec.Volts == 0 {
		p.Spec.Volts = volts
	}
	p.Spec.AC = p.Spec.AC || saysAC(s.volts) || slices.ContainsFunc(m.volts, saysAC)
	if s.watts != "" {
		w, c := readRating(FieldWatts, s.watts, unit.Watt)
		stop = append(stop, c...)
		p.Spec.Watts = w
	} else if p.Spec.Watts == 0 {
		p.Spec.Watts = quantityFrom(m.watts, unit.Watt)
	}
	if s.tolerance != "" {
		t, ok := readTolerance(s.tolerance)
		if !ok {
			stop = append(stop, complaint{FieldTol, s.tolerance, unit.NotANumber, ""})
		}
		p.Spec.Tolerance = t
	} else if !p.Spec.Tolerance.Stated && len(m.tolerance) > 0 {
		p.Spec.Tolerance, _ = readTolerance(m.tolerance[0])
	}
	return stop, notes
}

// saysAC reports whether rated volts are marked as AC: "250VAC", "275 V~".
func saysAC(volts string) bool {
	return strings.Contains(strings.ToLower(volts), "ac") || strings.HasSuffix(volts, "~")
}

// differ compares two rated voltages as printed, to a tenth of a percent.
func differ(a, b float64) bool { return a-b > b/1000 || b-a > b/1000 }

func readRating(f Field, cell string, u unit.Unit) (float64, []complaint) {
	t := strings.TrimSpace(unguard(cell))
	if strings.Trim(t, "-–— ") == "" || plain(t) == "n a" || plain(t) == "na" {
		return 0, nil
	}
	v, err := readQuantity(t, u)
	switch {
	case err != nil:
		code, hint := codeOf(err, cell)
		if hint == "" {
			hint = lettersAsDigits(cell)
		}
		return 0, []complaint{{f, cell, code, hint}}
	case v < 0:
		return 0, []complaint{{f, cell, unit.Negative, ""}}
	}
	return v, nil
}

// quantityFrom reads the first of the words that is a quantity, 0 if none is.
func quantityFrom(words []string, u unit.Unit) float64 {
	for _, w := range words {
		if v, err := readQuantity(w, u); err == nil && v > 0 {
			return v
		}
	}
	return 0
}

// readQuantity is unit.Read with the trade's endings for working volts.
func readQuantity(t string, u unit.Unit) (float64, error) {
	if u == unit.Volt {
		for _, end := range []string{"wvdc", "vdcw", "vdc", "dcv", "wv", "v dc", "v="} {
			if rest, ok := cutSuffixFold(t, end); ok && rest != "" {
				t = strings.TrimSpace(rest)
				break
			}
		}
	}
	return unit.Read(t, u)
}

// infer concludes the kind where no word names it, and says from what.
func (p *Part) infer() {
	v := p.Spec.Value()
	if p.Kind == Unknown && v > 0 {
		switch p.Spec.Unit {
		case unit.Farad:
			p.Kind, p.Inferred = Capacitor, "the value is a capacitance"
		case unit.Ohm:
			p.Kind, p.Inferred = Resistor, "the value is a resistance"
		case unit.Henry:
			p.Kind, p.Inferred = Choke, "the value is an inductance"
		case unit.Ampere:
			p.Kind, p.Inferred = Fuse, "the value is a current"
		}
	}
	if p.Kind != Capacitor || v == 0 || p.Look != "" {
		return
	}
	micro := v * 1e6
	switch {
	case len(p.Spec.Values) > 1 && micro >= 1:
		p.Kind, p.Inferred = Electrolytic, "several sections of a microfarad or more"
	case micro >= 1 && p.Form == Axial && p.Spec.Volts > 0:
		p.Kind, p.Inferred = Electrolytic, "a microfarad or more, axial, with volts"
	case micro >= 1 && p.Form == Can:
		p.Kind, p.Inferred = Electrolytic, "a microfarad or more in a can"
	case micro >= 10:
		p.Kind, p.Inferred = Electrolytic, "ten microfarads or more"
	case v < 1e-9 && p.Form == Disc:
		p.Kind, p.Inferred = Ceramic, "a disc of less than a nanofarad"
	}
}
