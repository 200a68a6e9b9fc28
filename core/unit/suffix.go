package unit

// suffix reads the unit after a number. keep is false for a number that is no
// matter here: a temperature, a size, a number of pieces.
func (s *scan) suffix(it *item) (keep bool, err error) {
	mark := s.i
	s.spaces()
	glued := s.i == mark
	if s.at(0) == '-' && glued && isLetter(s.at(1)) { // "5-watt", "3-core"
		s.i++
		if wordOf(s.b[s.i:s.letters(s.i)], s.hint).kind == unknownWord {
			return false, nil
		}
	}
	start, end := s.i, s.letters(s.i)
	if end == start {
		s.i = mark
		return !size(it), nil
	}
	b := s.b[start:end]
	if it.unit != None { // 4k7 has its unit; Ω, F or a tolerance letter may follow
		return true, s.afterInfix(it, b, glued, mark, end)
	}
	if s.letterTolerance(it, b, end, glued) {
		return true, nil
	}
	w, letter := s.wordWithLetter(b, glued)
	if w.kind == unknownWord || !glued && len(b) == 1 && !spacedLetter(b[0]) {
		s.i = mark
		if glued {
			return false, s.unknown()
		}
		return !size(it), nil
	}
	s.i = end
	if w.kind == asideWord || w.unit == Day || w.unit == Hour || w.unit == Piece || w.unit == Hertz {
		return false, nil
	}
	it.unit, it.factor, it.ac, it.surge, it.letter = w.unit, w.factor, w.kind == acWord, w.kind == surgeWord, letter
	s.weighDoubt(it, w)
	return true, s.gluedRating(it)
}

// size reports whether joined numbers are a body size: "16x32".
func size(it *item) bool { return it.sep == 'x' && it.nums[0] > 4 }

// spacedLetter: single letters that are a unit even after a space.
func spacedLetter(c byte) bool {
	switch c {
	case 'V', 'v', 'W', 'w', 'A', 'F', 'R', 'K', 'k', 'M', 'H', 'u', 'n', 'p', '%', '"':
		return true
	}
	return false
}

// weighDoubt decides when M and m after a number are a question. Below 10 a
// plain M is megohms: 1 kΩ to 9 kΩ was not written so. Both rules are common
// practice, no source.
func (s *scan) weighDoubt(it *item, w word) {
	switch w.doubt {
	case thousandOrMeg:
		if it.nums[0] >= 10 {
			s.uncertain = w.doubt
		}
	case milliOrMicro, milliOrMeg:
		s.uncertain = w.doubt
	}
}

// gluedRating allows "220u35V" and "22MFD450V"; after other units a figure
// means that this is no marking: "6V6GT".
func (s *scan) gluedRating(it *item) error {
	if !isFigure(s.at(0)) {
		return nil
	}
	if it.unit != Farad && (it.unit != Ampere || s.speed == 0) {
		return s.problem(UnknownUnit, "")
	}
	s.joined = 'g'
	return nil
}

// wordWithLetter looks a unit up, also with a letter glued on: "nK" is
// nanofarads ±10 %, "AT" is amperes, slow.
func (s *scan) wordWithLetter(b []byte, glued bool) (word, byte) {
	w := wordOf(b, s.hint)
	if w.kind != unknownWord || len(b) < 2 || !glued {
		return w, 0
	}
	last := b[len(b)-1]
	w = wordOf(b[:len(b)-1], s.hint)
	switch {
	case (w.unit == Farad || w.unit == Ohm) && toleranceLetter(last) || taper(w.unit, last):
		return w, withoutTaper(w.unit, last)
	case w.unit == Ampere && (last == 'T' || last == 'F'):
		s.speed = last
		return w, 0
	case w.unit == Ampere && (last == 'L' || last == 'H'): // breaking capacity, IEC 60127 from memory
		return w, 0
	}
	return word{}, 0
}

func toleranceLetter(c byte) bool {
	_, ok := ToleranceOf(c, 0)
	return ok && c != 'T' && c != 'S' && c != 'Q'
}

// taper: A, B and C after ohms name the taper of a pot, which has no place in
// a Spec; it stays in Text. Common practice, no source.
func taper(u Unit, c byte) bool { return u == Ohm && c >= 'A' && c <= 'C' }

func withoutTaper(u Unit, c byte) byte {
	if taper(u, c) {
		return 0
	}
	return c
}

// letterTolerance reads "223K", ".1K", "100 J": with capacitors a lone letter
// after figures is a tolerance, since K and M are not prefixes there.
func (s *scan) letterTolerance(it *item, b []byte, end int, glued bool) bool {
	code := it.first.lone && it.first.figures == 3
	if s.hint != Farad || len(b) != 1 || !toleranceLetter(b[0]) || it.n > 1 || !glued && !code {
		return false
	}
	small := it.first.v < 1 && it.first.v > 0
	if last := s.b[max(it.first.start, end-2)]; b[0] >= 'B' && b[0] <= 'D' && last > '1' && last < '9' {
		return false // "105C" is a temperature; B, C, D belong to a few picofarads
	}
	if !code && !small {
		return false
	}
	it.letter, s.i = b[0], end
	if isFigure(s.at(0)) {
		s.joined = 'g'
	}
	return true
}

// afterInfix reads what may follow 4k7: its unit, a tolerance letter, or both.
func (s *scan) afterInfix(it *item, b []byte, glued bool, mark, end int) error {
	w := wordOf(b, s.hint)
	switch {
	case len(b) == 1 && glued && (toleranceLetter(b[0]) && !(b[0] == 'F' && it.unit == Farad) || taper(it.unit, b[0])):
		it.letter, s.i = withoutTaper(it.unit, b[0]), end
	case w.unit == it.unit && w.factor == 1 && w.kind == unitWord:
		s.i = end
	case glued:
		return s.unknown()
	default:
		s.i = mark
	}
	if isFigure(s.at(0)) && it.unit == Farad {
		s.joined = 'g'
	}
	return nil
}

// signedTolerance reads "+/-10%", "+-5 %", "-20/+80 %". Where loose, the
// percent sign may be missing. It moves on only if all of it is there.
func (s *scan) signedTolerance(loose bool) bool {
	mark := s.i
	if s.take("+/-") || s.take("+-") || s.take("-/+") {
		if v, _, ok := s.toleranceFigure(); ok {
			s.setTolerance(v, v)
			return true
		}
		s.i, s.absolute = mark, 0
		return false
	}
	first := s.at(0)
	s.i++
	a, percentA, ok := s.toleranceFigure()
	s.spaces()
	if s.at(0) == '/' || s.at(0) == ',' {
		s.i++
		s.spaces()
	}
	second := s.at(0)
	s.i++
	b, percentB, okB := s.toleranceFigure()
	if !ok || !okB || first+second != '+'+'-' || first == second || !(percentA || percentB || loose) {
		s.i, s.absolute = mark, 0
		return false
	}
	if first == '+' {
		a, b = b, a
	}
	s.setTolerance(a, b)
	return true
}

func (s *scan) toleranceFigure() (v float64, percent, ok bool) {
	s.spaces()
	if !s.startsNumber(0) {
		return 0, false, false
	}
	n := s.numeral(true)
	mark := s.i
	s.spaces()
	end := s.letters(s.i)
	w := wordOf(s.b[s.i:end], s.hint)
	switch {
	case w.unit == Percent:
		s.i, percent = end, true
	case w.kind == unitWord && (w.unit == Farad || w.unit == Ohm):
		s.i, s.absolute = end, w.factor
	default:
		s.i = mark
	}
	return n.v, percent, n.code == "" && n.doubt == sure
}

func (s *scan) setTolerance(minus, plus float64) {
	if s.absolute > 0 {
		s.absolute *= plus
		return
	}
	s.tol = Tolerance{minus / 100, plus / 100, true}
}
