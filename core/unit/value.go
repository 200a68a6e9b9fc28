package unit

// takeValue takes an item as the value, or as one more section of it.
func (s *scan) takeValue(spec *Spec, it *item, u Unit, open []reading) ([]reading, error) {
	if len(spec.Values) > 0 || open != nil {
		section := u == Farad && it.unit == u && (it.joined == '+' || it.joined == '/') && open == nil
		if !section || s.volts != 0 {
			if section {
				return nil, s.problem(SeveralRatings, "")
			}
			return nil, s.problem(ExtraText, "")
		}
	}
	switch {
	case it.n == 2 && isHalf(it) && u != Farad && u != Volt:
		it.nums[0], it.n, it.sep = it.nums[0]/it.nums[1], 1, 0
	case it.n == 2 && it.sep == 'x':
		times := int(it.nums[0])
		if u != Farad || float64(times) != it.nums[0] || times < 2 || times > 6 {
			return nil, s.problem(ExtraText, "")
		}
		for i := range times {
			it.nums[i] = it.nums[1]
		}
		it.n, it.sep = times, '+'
	}
	if it.unit == u {
		return s.unitValue(spec, it, u)
	}
	switch u {
	case Farad:
		return s.bareFarads(spec, it)
	case Ohm:
		return s.bareOhms(spec, it)
	}
	it.unit, it.factor = u, 1
	return s.unitValue(spec, it, u)
}

// unitValue stores numbers that carry their unit.
func (s *scan) unitValue(spec *Spec, it *item, u Unit) ([]reading, error) {
	winding := u == Volt && it.n == 3 && it.nums[1] == 0
	switch {
	case it.sep == '-' && it.n > 1 && u != Farad && !winding, it.sep == '/' && it.n > 1 && u != Farad && u != Volt, it.sep == '+' && u == Volt, it.sep == 'x':
		return nil, s.problem(ExtraText, "")
	case u == Volt && it.surge:
		return nil, s.problem(NoValue, "")
	}
	if u == Farad && isHalf(it) && it.nums[0] == 1 {
		return []reading{{"fraction", []float64{it.value(0) / it.nums[1]}, 0}, {"two sections", it.values(), 0}}, nil
	}
	if spec.Values == nil {
		spec.Values = it.values()
	} else {
		spec.Values = append(spec.Values, it.values()...)
	}
	spec.AC = spec.AC || u == Volt && it.ac
	s.letter(spec.Values[0], it, u)
	return nil, nil
}

func (it *item) values() []float64 {
	out := make([]float64, it.n)
	for i := range out {
		out[i] = it.value(i)
	}
	return out
}

// letter turns a tolerance letter into a tolerance.
func (s *scan) letter(v float64, it *item, u Unit) {
	if it.letter == 0 || s.tol.Stated {
		return
	}
	small := Capacitance(0)
	if u == Farad {
		small = Capacitance(v)
	}
	s.tol, _ = ToleranceOf(it.letter, small)
}

// bareOhms: a number alone is ohms, a pair is ohms and watts. "103" on a
// small pot is also a code, so figures that make one are a question.
func (s *scan) bareOhms(spec *Spec, it *item) ([]reading, error) {
	if it.n == 2 && it.sep != '+' && s.watts == 0 && it.nums[1] <= 50 {
		s.watts = it.nums[1]
		it.n, it.sep = 1, 0
	}
	v := it.nums[0]
	if it.n == 1 && it.first.lone && it.first.figures == 3 && v >= 100 {
		zeros := int(v) % 10
		if code := float64(int(v) / 10); zeros > 0 && zeros < 7 && E24.Has(code) && !E24.Has(v) {
			return []reading{{"ohms", []float64{v}, 0}, {"three-figure code", []float64{code * pow10[zeros]}, 0}}, nil
		}
	}
	it.factor = 1
	return s.unitValue(spec, it, Ohm)
}

// bareFarads reads numbers without a unit on a capacitor: ".022", "223",
// "20+20", ".1-400", "25/25".
func (s *scan) bareFarads(spec *Spec, it *item) ([]reading, error) {
	if it.letter != 0 && it.first.lone {
		v := s.figureCode(it)
		spec.Values = []float64{v}
		s.letter(v, it, Farad)
		return nil, nil
	}
	rated := s.volts != 0 || s.ratedLater()
	if it.n > 1 {
		return s.bareList(spec, it, rated)
	}
	return s.bareFarad(spec, it)
}

// ratedLater reports whether volts are given by another number.
func (s *scan) ratedLater() bool {
	for i := range s.count {
		if it := &s.items[i]; it.unit == Volt || it.joined == '@' || i > 0 && it.unit == None && it.joined != 0 {
			return true
		}
	}
	return false
}

// bareList decides between sections and value with volts.
func (s *scan) bareList(spec *Spec, it *item, rated bool) ([]reading, error) {
	it.factor = 1e-6
	last := it.nums[it.n-1]
	sections := rated || it.sep == '+' || !customaryVolts(last)
	if !sections {
		volts := []reading{{"", it.values()[:it.n-1], last}}
		same := it.n == 2 || last >= 150
		plain := it.nums[it.n-2] < 1 || !sectionSize(last) || !sectionSize(it.nums[it.n-2])
		if small := it.nums[0] >= 100 && last >= 300 && it.n == 2; small && plain {
			return append(volts, reading{"", []float64{it.nums[0] * 1e-12}, last}), nil
		}
		if same && !plain {
			return append(volts, reading{"sections", it.values(), 0}), nil
		}
		if same {
			spec.Values = volts[0].values
			return nil, s.setVolts(last, false)
		}
	}
	spec.Values = it.values()
	return nil, nil
}

// bareFarad reads one number. A decimal below 1 is microfarads, three figures
// are a code; all else may be micro- or picofarads.
func (s *scan) bareFarad(spec *Spec, it *item) ([]reading, error) {
	v := it.nums[0]
	marked := false
	for i := range s.count {
		marked = marked || s.items[i].joined == '@' || i > 0 && s.items[i].unit == None && s.items[i].joined == '/'
	}
	code := it.first.lone && it.first.figures == 3 && v >= 100
	marked = marked || it.paired && !(v >= 100 && s.volts >= 300)
	switch {
	case v == 0:
		return nil, s.problem(OutOfRange, "")
	case it.first.power:
		it.factor = 1
	case v < 1 && v >= 1e-4, marked && !code:
		it.factor = 1e-6
	case v < 1:
		return []reading{{"microfarads", []float64{v * 1e-6}, 0}, {"farads", []float64{v}, 0}}, nil
	case code && int(v)%10 != 0 && !marked:
		spec.Values = []float64{s.figureCode(it)}
		return nil, nil
	case code && !marked:
		return []reading{{"three-figure code", []float64{s.figureCode(it)}, 0}, {"picofarads", []float64{v / 1e12}, 0},
			{"microfarads", []float64{v / 1e6}, 0}}, nil
	case code:
		it.factor = 1e-6
	default:
		return []reading{{"microfarads", []float64{v / 1e6}, 0}, {"picofarads", []float64{v / 1e12}, 0}}, nil
	}
	spec.Values = it.values()
	s.letter(spec.Values[0], it, Farad)
	return nil, nil
}

// figureCode reads three figures as two figures and a number of zeros, in
// picofarads: 223 is 22 nF. A last 8 or 9 is 0.01 or 0.1.
//
// Source: IEC 60062, second-hand transcription (a component guide); 8 and 9
// from memory.
func (s *scan) figureCode(it *item) float64 {
	v := int(it.first.v)
	figures, zeros := float64(v/10), v%10
	switch zeros {
	case 9:
		return figures / 1e13
	case 8:
		return figures / 1e14
	}
	return figures / pow10[12-zeros]
}
