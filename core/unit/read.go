package unit

// most bounds what a reading or a marking may be; beyond it the text is a
// slip, not a part.
const most = 1e15

// Read reads one quantity whose unit may be left out: "318", "2,5 mA",
// "100k", "0.0025 A", "1 1/2". The result is in SI base units (percent stays
// percent) and finite; volts, amperes, percent and plain numbers may be
// negative.
//
// It reads what a person or a meter wrote down today, so M is mega. A bare
// number of farads follows the rules of ReadSpec: ".022" is microfarads.
//
// The error is a Problem, or an Ambiguous for "1,234", "22 mF" and the like.
func Read(text string, u Unit) (float64, error) {
	var s scan
	if err := s.open(text, u); err != nil {
		return 0, err
	}
	negative := false
	switch {
	case s.take("-"):
		negative = true
	case s.at(0) == '+' && s.at(1) != '/':
		s.i++
	}
	s.spaces()
	if !s.startsNumber(0) {
		return 0, s.notANumber()
	}
	v, err := s.amount(u)
	if err != nil {
		return 0, err
	}
	if negative && v != 0 {
		v = -v
		if u != None && u != Volt && u != Ampere && u != Percent {
			return 0, s.problem(Negative, "")
		}
	}
	return v, nil
}

// notANumber names the not-finite words apart and offers a look-alike.
func (s *scan) notANumber() error {
	var low [8]byte
	n := 0
	for j := s.i; j < s.n && n < len(low) && isLetter(s.b[j]); j++ {
		low[n] = s.b[j] | 0x20
		n++
	}
	switch string(low[:n]) {
	case "nan", "inf", "infinity":
		return s.problem(NotFinite, "")
	}
	return s.problem(NotANumber, LookAlike(s.text))
}

func (s *scan) amount(u Unit) (float64, error) {
	n := s.numeral(false)
	if n.code != "" {
		return 0, s.problem(n.code, "")
	}
	s.fraction(&n)
	if n.doubt == thousands {
		return 0, s.askThousands(n, u)
	}
	s.spaces()
	start, end := s.i, s.letters(s.i)
	if end == start {
		return s.bare(n, u)
	}
	w := wordOf(s.b[start:end], u)
	s.i = end
	factor, err := s.factor(w, u, s.b[start:end])
	if err != nil {
		return 0, err
	}
	if w.doubt == milliOrMicro && u == Farad {
		return 0, s.askFactors(n.v, Farad, "µF", 1e-6, "mF, thousandths of a farad", 1e-3)
	}
	if w.doubt == milliOrMeg && w.kind == unitWord && u == Ohm {
		return 0, s.askFactors(n.v, Ohm, "MΩ, megohms", 1e6, "mΩ, thousandths of an ohm", 1e-3)
	}
	v := n.v * factor
	if factor < 1 && factor > 0 { // divide, so that 22 pF is the float nearest to 22e-12
		v = n.v / (1 / factor)
	}
	return s.finish(v)
}

// fraction reads the "/2" of "1/2" and the " 1/2" of "1 1/2".
func (s *scan) fraction(n *numeral) {
	whole := 0.0
	top := *n
	mark := s.i
	if n.lone && s.at(0) == ' ' && isFigure(s.at(1)) && s.at(2) == '/' {
		whole = n.v
		s.i++
		top = s.numeral(false)
	}
	if !top.lone || s.at(0) != '/' || !isFigure(s.at(1)) {
		s.i = mark
		return
	}
	s.i++
	bottom := s.numeral(false)
	if !bottom.lone || bottom.v == 0 || bottom.v > 64 {
		s.i = mark
		return
	}
	n.v, n.lone = whole+top.v/bottom.v, false
}

// factor turns a unit word into a factor for a quantity of u.
func (s *scan) factor(w word, u Unit, b []byte) (float64, error) {
	if f := prefixFactor(b); f != 0 && (w.kind == prefixWord || w.kind == unknownWord) {
		return f, nil
	}
	switch {
	case w.kind == unknownWord:
		return 0, s.unknown()
	case w.unit == u && w.kind != asideWord:
		return w.factor, nil
	}
	return 0, s.problem(WrongUnit, "")
}

// prefixFactor reads a prefix that stands alone. M is mega, m milli.
func prefixFactor(b []byte) float64 {
	if len(b) != 1 {
		return 0
	}
	switch b[0] {
	case 'p':
		return 1e-12
	case 'n':
		return 1e-9
	case 'u':
		return 1e-6
	case 'm':
		return 1e-3
	case 'k', 'K':
		return 1e3
	case 'M':
		return 1e6
	}
	return 0
}

func (s *scan) unknown() error {
	if like := LookAlike(s.text); like != "" {
		return s.problem(NotANumber, like)
	}
	return s.problem(UnknownUnit, "")
}

// bare finishes a number without a unit.
func (s *scan) bare(n numeral, u Unit) (float64, error) {
	if u == Farad && n.v != 0 && !n.power {
		spec, err := ReadSpec(s.text, Farad)
		return spec.Value(), err
	}
	return s.finish(n.v)
}

func (s *scan) finish(v float64) (float64, error) {
	s.spaces()
	if s.n-s.i == 1 && s.b[s.i] == '.' {
		s.i++
	}
	if s.i < s.n {
		return 0, s.problem(ExtraText, "")
	}
	if v > most || !finite(v) {
		return 0, s.problem(OutOfRange, "")
	}
	return v, nil
}
