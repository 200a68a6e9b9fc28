package unit

// finishSpec adds the ratings, checks the ranges and turns what is left open
// into a question.
func (s *scan) finishSpec(spec Spec, open []reading) (Spec, error) {
	open = s.openBy(spec, open)
	if open == nil {
		if len(spec.Values) == 0 {
			return Spec{}, s.problem(NoValue, "")
		}
		s.rate(&spec)
		return spec, s.check(&spec)
	}
	choices := make([]Choice, 0, len(open))
	for _, r := range open {
		c := spec
		c.Values = r.values
		s.rate(&c)
		if r.volts != 0 {
			c.Volts = r.volts
		}
		if s.check(&c) == nil {
			choices = append(choices, Choice{r.say, c})
		}
	}
	switch len(choices) {
	case 0:
		return Spec{}, s.problem(OutOfRange, "")
	case 1:
		return Spec{}, s.problem(OutOfRange, choices[0].Spec.Canonical())
	}
	return Spec{}, s.ask(choices...)
}

// openBy adds the questions that come from one letter or mark.
func (s *scan) openBy(spec Spec, open []reading) []reading {
	if open != nil || s.uncertain == sure {
		return open
	}
	scale := func(say string, f float64) reading {
		r := reading{say: say, values: make([]float64, len(spec.Values))}
		for i, v := range spec.Values {
			r.values[i] = v * f
		}
		return r
	}
	switch s.uncertain {
	case thousands:
		return []reading{scale("a decimal mark", 1), scale("a thousands mark", 1000)}
	case milliOrMicro:
		return []reading{scale("mF for microfarads, as on old parts", 1), scale("thousandths of a farad", 1000)}
	case thousandOrMeg:
		return []reading{scale("M for megohms", 1), scale("M for thousand, as on some drawings before about 1950", 1e-3)}
	case commaList:
		return s.askCommaList(spec, scale("decimal comma", 1))
	case milliOrMeg:
		return []reading{scale("megohms", 1), scale("thousandths of an ohm", 1e-9)}
	}
	return s.askCodeOrRating(spec, scale("letter in the decimal place", 1))
}

// askCommaList: "16,16" may be two sections of a can.
func (s *scan) askCommaList(spec Spec, decimal reading) []reading {
	it := &s.items[0]
	for i := range s.count {
		if s.items[i].first.doubt == commaList {
			it = &s.items[i]
		}
	}
	if spec.Unit != Farad || it.n > 1 || it.first.doubt != commaList {
		return nil
	}
	mark := it.first.start
	for s.b[mark] != ',' {
		mark++
	}
	end := mark + 1
	for end < s.n && isFigure(s.b[end]) {
		end++
	}
	a, b := s.slowValue(it.first.start, -1, mark, 0), s.slowValue(mark+1, -1, end, 0)
	return []reading{decimal, {"two sections", []float64{a * it.factor, b * it.factor}, 0}}
}

// askCodeOrRating: "10u50" is 10.5 µF by the code, 10 µF 50 V on many lists.
func (s *scan) askCodeOrRating(spec Spec, code reading) []reading {
	for i := range s.count {
		if it := &s.items[i]; it.unit == Farad {
			v := *it
			v.nums[0] = it.first.v
			return []reading{code, {"value and volts", []float64{v.value(0)}, float64(int((it.nums[0]-it.first.v)*100 + 0.5))}}
		}
	}
	return []reading{code, code}
}

func (s *scan) rate(spec *Spec) {
	spec.Volts, spec.Surge, spec.Watts, spec.Tolerance = s.volts, s.surge, s.watts, s.tol
	if spec.Unit != Volt {
		spec.AC = s.ac
	}
	if spec.Unit == Ampere && s.speed != 0 {
		spec.Speed = string(rune(s.speed))
	}
	if s.absolute > 0 && spec.Value() > 0 {
		f := s.absolute / spec.Value()
		spec.Tolerance = Tolerance{f, f, true}
	}
}

// check refuses what no part is.
func (s *scan) check(spec *Spec) error {
	low, high := 0.0, 1e12
	switch spec.Unit {
	case Farad:
		low, high = 1e-14, 2
	case Volt, Watt, Ampere:
		high = 1e6
	case Henry:
		low, high = 1e-9, 1e6
	}
	for _, v := range spec.Values {
		if !(v >= low && v <= high) || v > 0 && v < 1e-14 {
			return s.problem(OutOfRange, "")
		}
	}
	t := spec.Tolerance
	fine := t.Minus >= 0 && t.Minus <= 1 && t.Plus >= 0 && t.Plus <= 10
	if !fine || !(spec.Volts <= 1e6 && spec.Watts <= 1e6 && spec.Surge <= 1e6) || spec.Volts != 0 && spec.Volts < 1e-3 || spec.Watts != 0 && spec.Watts < 1e-6 {
		return s.problem(OutOfRange, "")
	}
	return nil
}
