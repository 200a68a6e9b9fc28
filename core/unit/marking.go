package unit

// An item is one number, or several joined ones, with the unit after them.
type item struct {
	nums   [maxList]float64
	n      int
	sep    byte // what joins the numbers: '+' '/' '-' 'x', 0 for one number
	first  numeral
	unit   Unit // None if no unit follows
	factor float64
	joined byte // what stands before: '@' '/' '-' '+', 'g' if glued to a unit
	letter byte // tolerance letter, 0 if none
	ac     bool
	surge  bool
	paired bool // volts were joined to it: "50/500V"
}

// value returns the i-th number in SI units.
func (it *item) value(i int) float64 {
	if it.factor < 1 && it.factor > 0 {
		return it.nums[i] / (1 / it.factor) // the float nearest to 22e-12
	}
	return it.nums[i] * it.factor
}

// ReadSpec reads a whole marking: value, sections, rated volts or watts,
// tolerance, fuse speed, in the spellings of the last hundred years. hint is
// the unit the column or the kind of part calls for, None if nothing is known.
// Words without figures ("axial") are passed over; they stay in Text.
//
// Where two readings are both in use it returns an Ambiguous with both; all
// else that cannot be used is a Problem. It never guesses.
//
// Source: IEC 60062 for letter codes (second-hand transcription), vintage
// spellings from memory, value-dash-volts seen second-hand in a component
// guide.
func ReadSpec(text string, hint Unit) (Spec, error) {
	switch hint {
	case None, Farad, Ohm, Ampere, Volt, Watt, Henry:
	default:
		v, err := Read(text, hint)
		if err != nil {
			return Spec{}, err
		}
		return Spec{Text: text, Unit: hint, Values: []float64{v}}, nil
	}
	var s scan
	if err := s.open(text, hint); err != nil {
		return Spec{}, err
	}
	for ; s.i < s.n; s.spaces() {
		if err := s.step(); err != nil {
			return Spec{}, err
		}
	}
	return s.assemble()
}

// step reads one thing: a number with its unit, a tolerance, a word or a mark.
func (s *scan) step() error {
	c := s.at(0)
	switch {
	case s.startsNumber(0):
		return s.item()
	case c == '+' || c == '-' || c == '/':
		if s.signedTolerance(false) {
			return nil
		}
		if c == '-' && s.count == 0 && s.startsNumber(1) {
			return s.problem(Negative, "")
		}
		s.joined = c
	case c == '@':
		s.joined = c
	case isLetter(c):
		return s.word()
	default:
		s.joined = 0
	}
	s.i++
	return nil
}

// item reads a number or a list of them and the unit that follows.
func (s *scan) item() error {
	if s.count == maxItems {
		return s.problem(ExtraText, "")
	}
	it := &s.items[s.count]
	it.joined, s.joined = s.joined, 0
	it.first = s.numeral(true)
	if it.first.code != "" {
		return s.problem(it.first.code, "")
	}
	if it.first.doubt != sure {
		s.uncertain = it.first.doubt
	}
	it.nums[0], it.n = it.first.v, 1
	if !s.infix(it) {
		if err := s.list(it); err != nil {
			return err
		}
	}
	keep, err := s.suffix(it)
	if s.aside && it.unit == None {
		keep = false
	}
	s.aside = false
	if err != nil || !keep {
		*it = item{}
		return err
	}
	s.count++
	return nil
}

// list reads further numbers: "20/20/20", "32 + 32", "2x16".
func (s *scan) list(it *item) error {
	for it.n < maxList {
		mark := s.i
		s.spaces()
		sep, spaced := s.at(0), s.i > mark
		if sep == '&' {
			sep = '+'
		}
		if sep|0x20 == 'x' {
			sep = 'x'
		}
		if sep != '+' && sep != '/' && sep != '-' && sep != 'x' {
			s.i = mark
			return nil
		}
		s.i++
		tight := s.at(0) != ' '
		s.spaces()
		if !s.startsNumber(0) || sep == '-' && spaced && tight {
			s.i = mark
			return nil
		}
		n := s.numeral(true)
		if n.code != "" {
			return s.problem(n.code, "")
		}
		if n.doubt != sure {
			s.uncertain = n.doubt
		}
		if it.sep != 0 && it.sep != sep {
			if sep == 'x' || it.sep == 'x' {
				return s.problem(NotANumber, "")
			}
		}
		it.nums[it.n], it.sep = n.v, sep
		it.n++
	}
	return s.problem(ExtraText, "")
}

// infix reads a letter in the decimal place: 4k7, 2n2, 4R7, 1A6.
func (s *scan) infix(it *item) bool {
	c := s.at(0)
	if !it.first.lone || !isLetter(c) || !isFigure(s.at(1)) {
		return false
	}
	unit, factor := s.markLetter(c)
	k := 1
	for isFigure(s.at(k)) {
		k++
	}
	figures, next := k-1, s.at(k)|0x20
	capacitor := unit == Farad && c|0x20 != 'r'
	rating := next == 'v' && figures >= 2 || capacitor && figures >= 3
	if unit == None || rating || figures > 3 || s.at(k) == '.' || s.at(k) == ',' {
		return false
	}
	if capacitor && figures == 2 && it.first.figures >= 2 {
		s.uncertain = codeOrRating
	}
	s.i++
	part := s.numeral(true)
	it.nums[0] = (it.first.v*pow10[figures] + part.v) / pow10[figures]
	it.unit, it.factor, it.first.lone = unit, factor, false
	return true
}

// markLetter says what a letter in the decimal place stands for.
func (s *scan) markLetter(c byte) (Unit, float64) {
	switch {
	case s.hint == Ampere:
		if c == 'A' || c == 'a' {
			return Ampere, 1
		}
		return None, 0
	case c == 'R' || c == 'r':
		if s.hint == Farad {
			return Farad, 1e-12 // 4R7 on a small ceramic, from memory
		}
		return Ohm, 1
	case (c == 'K' || c == 'k') && s.hint != Farad:
		return Ohm, 1e3
	case c == 'M' && s.hint != Farad:
		return Ohm, 1e6
	case c == 'G' && s.hint != Farad:
		return Ohm, 1e9
	}
	if s.hint == None || s.hint == Farad {
		switch c {
		case 'u', 'U':
			return Farad, 1e-6
		case 'n', 'N':
			return Farad, 1e-9
		case 'p', 'P':
			return Farad, 1e-12
		}
	}
	return None, 0
}
