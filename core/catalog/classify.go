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
func (s *said) part(p *Part) (stop, notes []complaint) {
	if s.specs == nil {
		s.specs = newSpecs()
	}
	r := s.specs.read(s.kind, s.value, s.text)
	p.Words, p.Kind = r.words, Kind(r.says(kinds))
	p.tubes(r)
	p.words(r)
	stop, notes = s.spec(p, r)
	if len(stop) == 0 {
		p.infer()
	}
	return stop, notes
}

// tubes sets the type of a tube and how many are in the piece. Goods for a
// tube (sockets, shields) name its type too and are none.
func (p *Part) tubes(r *reading) {
	if p.Kind == Other || p.Kind.IsCapacitor() || p.Kind.IsResistor() || p.Kind == Fuse || p.Kind == Pot || p.Kind == Choke {
		return
	}
	switch {
	case len(r.types) > 0:
		p.Tube, p.TubeAlso = r.types[0], slices.Clone(r.types[1:])
		p.Kind, p.Count = Tube, 1
		if isRectifier(p.Tube) {
			p.Kind = Rectifier
		}
		if r.best[together] >= 0 {
			p.Count = r.says(together)
		}
	case p.Kind == Unknown && r.diode:
		p.Kind, p.Inferred = Rectifier, "the type number is a silicon diode's"
	}
}

// words sets what is said in words: form, dielectric, class, look.
func (p *Part) words(r *reading) {
	if p.Kind.IsCapacitor() || p.Kind == Unknown {
		p.Form = Form(r.says(forms))
	}
	if !p.Kind.IsCapacitor() {
		return
	}
	p.Dielectric, p.Class = dielectricNames[r.says(dielectrics)], r.class
	if r.look && (p.Kind == Paper || p.Kind == Film) {
		// The words before "look" tell what it looks like, not what it is.
		p.Kind, p.Dielectric, p.Look = Capacitor, "", "paper"
	}
}

// spec reads the figures: columns first, the description for what they leave out.
func (s *said) spec(p *Part, r *reading) (stop, notes []complaint) {
	value := s.value
	if p.Tube != "" && value != "" && tubeType(value, true) != "" {
		value = ""
	}
	switch p.Kind {
	case Tube, Jack, Cord, Other:
		return nil, nil // figures here are sizes, poles, lengths
	}
	m := s.specs.marking(r.text)
	hint := hintFor(p.Kind)
	if value != "" {
		stop = s.fromColumn(p, value, hint)
	} else {
		notes = s.fromText(p, m, hint)
	}
	more, also := s.ratings(p, m)
	if len(more) > 0 {
		stop = append(stop, more...)
	}
	if len(also) > 0 {
		notes = append(notes, also...)
	}
	return stop, notes
}

func (s *said) fromColumn(p *Part, value string, hint unit.Unit) []complaint {
	got := s.specs.column(value, s.valueUnit, hint)
	if got.err != nil {
		code, say := codeOf(got.err, value)
		return []complaint{{FieldValue, value, code, say}}
	}
	p.Spec = got.spec
	return nil
}

// fromText reads the marking in a description. A failure is a note only:
// the part can still be ordered by its number.
func (s *said) fromText(p *Part, m *marking, hint unit.Unit) []complaint {
	if len(m.value) == 0 || m.bare && hint == unit.None && len(m.volts) == 0 && p.Form == AnyForm {
		return nil
	}
	got := s.specs.fromMarking(m, hint)
	if got.err == nil {
		p.Spec = got.spec
		return nil
	}
	if p.Kind == Unknown || p.Kind == Rectifier {
		return nil // no sign that a value was meant
	}
	_, say := codeOf(got.err, "")
	return []complaint{{FieldText, m.text(), NotRead, say}}
}

// ratings fills volts, watts and tolerance from their columns, and from the
// description where there is no column or the cell is blank.
func (s *said) ratings(p *Part, m *marking) (stop, notes []complaint) {
	volts, ac := s.specs.first(m.volts, unit.Volt)
	p.Spec.AC = p.Spec.AC || ac
	if s.volts != "" {
		v := s.specs.rating(s.volts, unit.Volt)
		if v.code != "" {
			stop = append(stop, complaint{FieldVolts, s.volts, v.code, v.hint})
		} else if volts > 0 && differ(volts, v.amount) {
			notes = append(notes, complaint{FieldVolts, s.volts, Disagrees, unit.FormatAmount(volts, unit.Volt, -1)})
		}
		p.Spec.Volts, p.Spec.AC = v.amount, p.Spec.AC || v.ac
	} else if p.Spec.Volts == 0 {
		p.Spec.Volts = volts
	}
	if s.watts != "" {
		w := s.specs.rating(s.watts, unit.Watt)
		if w.code != "" {
			stop = append(stop, complaint{FieldWatts, s.watts, w.code, w.hint})
		}
		p.Spec.Watts = w.amount
	} else if p.Spec.Watts == 0 {
		p.Spec.Watts, _ = s.specs.first(m.watts, unit.Watt)
	}
	if s.tolerance != "" {
		t := s.specs.tolerance(s.tolerance)
		if !t.Stated {
			stop = append(stop, complaint{FieldTol, s.tolerance, unit.NotANumber, ""})
		}
		p.Spec.Tolerance = t
	} else if !p.Spec.Tolerance.Stated && len(m.tolerance) > 0 {
		p.Spec.Tolerance = s.specs.tolerance(m.tolerance[0])
	}
	return stop, notes
}

// saysAC reports whether rated volts are marked as AC: "250VAC", "275 V~".
func saysAC(volts string) bool {
	return strings.Contains(strings.ToLower(volts), "ac") || strings.HasSuffix(volts, "~")
}

// differ compares two rated voltages as printed, to a tenth of a percent.
func differ(a, b float64) bool { return a-b > b/1000 || b-a > b/1000 }

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
