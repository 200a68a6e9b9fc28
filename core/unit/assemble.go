package unit

// A reading is one way to take the values of a marking.
type reading struct {
	say    string
	values []float64
	volts  float64
}

// assemble gives each number its place: value, rating, tolerance.
func (s *scan) assemble() (Spec, error) {
	if s.count == 0 {
		return Spec{}, s.noValue()
	}
	u, err := s.valueUnit()
	if err != nil {
		return Spec{}, err
	}
	spec := Spec{Text: s.text, Unit: u}
	named := s.names(u)
	var open []reading
	for i := range s.count {
		it := &s.items[i]
		s.splitList(it, u)
		switch {
		case it.unit == u || it.unit == None && !named && len(spec.Values) == 0 && open == nil && it.joined != '@':
			open, err = s.takeValue(&spec, it, u, open)
		default:
			err = s.takeRating(it, u)
		}
		if err != nil {
			return Spec{}, err
		}
	}
	return s.finishSpec(spec, open)
}

func (s *scan) noValue() error {
	if like := LookAlike(s.text); like != "" {
		return s.problem(NotANumber, like)
	}
	return s.problem(NoValue, "")
}

// names reports whether a number carries the unit of the value.
func (s *scan) names(u Unit) bool {
	for i := range s.count {
		if s.items[i].unit == u {
			return true
		}
	}
	return false
}

// valueUnit is the hint, or what the units present say. A bare pair ".1-400",
// "25/25" is a capacitor, since resistors carry a letter or a unit; this is
// common practice, no source.
func (s *scan) valueUnit() (Unit, error) {
	if s.hint != None {
		return s.hint, nil
	}
	volts, watts, bare := false, false, -1
	for i := range s.count {
		switch it := &s.items[i]; it.unit {
		case Farad, Ohm, Ampere, Henry:
			return it.unit, s.codeOrOhms(it)
		case Volt:
			volts = true
		case Watt:
			watts = true
		case None:
			if bare < 0 {
				bare = i
			}
		}
	}
	switch {
	case bare < 0 && volts && watts || bare < 0 && !volts && !watts:
		return None, s.problem(NoValue, "")
	case bare < 0 && volts:
		return s.voltsAlone(), nil
	case bare < 0:
		return s.wattsAlone(), nil
	case watts:
		return Ohm, nil
	case volts || s.items[bare].n > 1 || s.count > 1 || s.items[bare].nums[0] < 0.1:
		return Farad, nil
	}
	return None, s.askUnit(s.items[bare].nums[0])
}

// voltsAlone: "117/234V" are taps, ".1-400V" is a capacitor.
func (s *scan) voltsAlone() Unit {
	it := &s.items[0]
	if it.n > 1 && it.sep != 'x' && (it.nums[0] < 90 || it.nums[it.n-1] > 2.6*it.nums[0]) && it.nums[1] != 0 {
		return Farad
	}
	return Volt
}

func (s *scan) wattsAlone() Unit {
	if it := &s.items[0]; it.n > 1 && !isHalf(it) {
		return Ohm
	}
	return Watt
}

// codeOrOhms asks about "223K" where nothing is known of the part.
func (s *scan) codeOrOhms(it *item) error {
	code := it.first.lone && it.first.figures == 3 && it.n == 1 && it.unit == Ohm && it.factor == 1e3
	if !code || s.b[it.first.start+2] == '0' || s.b[it.first.start+3]|0x20 != 'k' {
		return nil
	}
	if end := s.letters(it.first.start + 3); end != it.first.start+4 {
		return nil
	}
	capacitor := single(s.figureCode(it), Farad)
	capacitor.Tolerance, _ = ToleranceOf('K', 0)
	return s.ask(Choice{"resistor", single(it.value(0), Ohm)}, Choice{"three-figure code of a capacitor", capacitor})
}

func (s *scan) askUnit(v float64) error {
	return s.ask(Choice{"resistor", single(v, Ohm)}, Choice{"capacitor", single(v*1e-6, Farad)},
		Choice{"capacitor", single(v*1e-12, Farad)}, Choice{"volts", single(v, Volt)})
}

// splitList parts ".1-400V" and "250-5W" into value and rating: the unit
// belongs to the last number only.
func (s *scan) splitList(it *item, u Unit) {
	rating := it.unit == Volt || it.unit == Watt || it.unit == Percent
	if !rating || it.unit == u || it.n < 2 || it.sep == 'x' || it.unit == Watt && isHalf(it) || s.names(u) {
		return
	}
	last := *it
	last.nums[0], last.n, last.sep, last.joined = it.nums[it.n-1], 1, 0, '-'
	last.first.lone = false
	switch {
	case it.unit == Percent:
		s.tol = Tolerance{last.nums[0] / 100, last.nums[0] / 100, true}
	case s.takeRating(&last, u) != nil:
		return
	}
	it.n--
	it.unit, it.factor, it.ac, it.surge = None, 0, false, false
	if it.n == 1 {
		it.sep, it.paired = 0, u == Farad && last.unit == Volt
	}
}

// takeRating stores volts, watts or a tolerance.
func (s *scan) takeRating(it *item, u Unit) error {
	v := it.value(0)
	switch {
	case u == Volt && it.unit != Percent: // volts have no rating of their own
		return s.problem(ExtraText, "")
	case it.unit == None && it.sep == 'x' && s.names(u):
		return nil // a body size: 4x7
	case it.unit == None:
		return s.bareRating(it, u)
	case u == Henry && (it.unit == Ampere || it.unit == Ohm):
		return nil // a choke's current and resistance have no place in a Spec; they stay in Text
	case it.unit == Percent && it.n == 1 && !s.tol.Stated:
		s.tol = Tolerance{v / 100, v / 100, true}
		return nil
	case it.unit == Volt && it.n == 2 && it.sep == '/' && it.nums[1] > it.nums[0] && it.nums[1] <= 1.35*it.nums[0]:
		s.surge = it.value(1) // "450/525 V": working, surge
		return s.setVolts(v, it.ac)
	case it.unit == Volt && it.n == 1 && it.surge:
		s.surge = v
		return nil
	case it.unit == Volt && it.n == 1:
		return s.setVolts(v, it.ac)
	case it.unit == Watt && (it.n == 1 || isHalf(it)) && s.watts == 0:
		if it.n == 2 {
			v /= it.nums[1]
		}
		s.watts = v
		return nil
	case it.unit == Volt || it.unit == Watt || it.unit == Percent:
		return s.problem(ExtraText, "")
	}
	return s.problem(WrongUnit, "")
}

func (s *scan) setVolts(v float64, ac bool) error {
	switch {
	case s.volts != 0:
		return s.problem(SeveralRatings, "")
	case v <= 0:
		return s.problem(OutOfRange, "")
	}
	s.volts, s.ac = v, ac
	return nil
}

// bareRating reads a second number without a unit: volts of a capacitor,
// watts of a resistor. A number after a mere space must be a customary rating.
func (s *scan) bareRating(it *item, u Unit) error {
	marked := it.joined == '@' || it.joined == '/' || it.joined == '-'
	switch {
	case it.joined == '@' && it.n == 1:
		return s.setVolts(it.nums[0], false)
	case u == Farad && it.n == 1 && (marked || customaryVolts(it.nums[0])):
		return s.setVolts(it.nums[0], false)
	case u == Ohm && s.watts == 0 && (isHalf(it) || it.n == 1 && (marked || !it.first.lone) && it.nums[0] <= 50):
		s.watts = it.nums[0]
		if it.n == 2 {
			s.watts /= it.nums[1]
		}
		return nil
	}
	return s.problem(ExtraText, "")
}

// isHalf reports whether two joined numbers are a fraction: 1/2, 3/4, 1/8.
func isHalf(it *item) bool {
	b := it.nums[1]
	return it.n == 2 && it.sep == '/' && it.nums[0] < b && it.nums[0] >= 1 && (b == 2 || b == 4 || b == 8)
}

// customaryVolts: working voltages printed on capacitors, common practice, no
// source.
func customaryVolts(v float64) bool {
	switch v {
	case 3, 6, 6.3, 10, 12, 15, 16, 25, 35, 50, 63, 75, 80, 100, 125, 150, 160, 200, 250, 275, 300, 315, 330, 350, 375,
		385, 400, 415, 420, 425, 440, 450, 475, 500, 525, 550, 600, 630, 700, 750, 800, 1000, 1200, 1250, 1500, 1600, 2000,
		2500, 3000, 4000, 5000, 6000:
		return true
	}
	return false
}

// sectionSize: values of sections of cans, in microfarads; common practice,
// no source.
func sectionSize(v float64) bool {
	switch v {
	case 4, 8, 10, 12, 15, 16, 20, 24, 30, 32, 40, 47, 50, 60, 64, 80, 100, 150, 200:
		return true
	}
	return false
}
