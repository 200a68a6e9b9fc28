package unit

// word reads a token that starts with a letter: R47, µ1, T2A, a fuse speed, a
// tolerance letter. All other words are passed over.
func (s *scan) word() error {
	start := s.i
	if s.leadingMark() || s.fuseMark() || s.taperMark() {
		return s.item()
	}
	end := s.tokenEnd(start)
	b := s.b[start:end]
	if s.i = end; end-start <= 2 && s.partNumber() {
		return nil
	}
	if len(b) == 1 {
		s.loneLetter(b[0])
		return nil
	}
	if n := len(b); n < 3 || n > 12 {
		s.shortWord(b)
		return nil
	}
	return s.longWord(b)
}

// tokenEnd returns the end of a word with its inner dashes and figures.
func (s *scan) tokenEnd(j int) int {
	for j < s.n {
		c := s.b[j]
		if !isLetter(c) && !isFigure(c) && c != '.' && !(c == '-' && j+1 < s.n && isLetter(s.b[j+1])) {
			break
		}
		j++
	}
	return j
}

// partNumber steps over the figures of "K-1002".
func (s *scan) partNumber() bool {
	k := 1
	for s.at(0) == '-' && isFigure(s.at(k)) {
		k++
	}
	if k == 1 || isLetter(s.at(k)) || s.at(k) == '.' {
		return false
	}
	s.i += k
	return true
}

// leadingMark turns R47 into 0R47: it steps over nothing, but tells item to
// read a zero first. Only marks that are not also reference numbers count
// where nothing is known of the part.
func (s *scan) leadingMark() bool {
	c := s.at(0)
	if !isFigure(s.at(1)) || s.count > 0 && s.items[s.count-1].unit != None {
		return false
	}
	unit, factor := s.markLetter(c)
	k := 1
	for isFigure(s.at(k)) {
		k++
	}
	bare := c == 'R' || c == 'u' || c == 'n' || c == 'p'
	if unit == None || unit == Ampere || k > 4 || s.hint == None && !bare || s.hint != None && unit != s.hint || s.count == maxItems {
		return false
	}
	if next := s.at(k); isLetter(next) && isLetter(s.at(k+1)) || next == '-' {
		return false
	}
	s.i++
	it := &s.items[s.count]
	it.unit, it.factor = unit, factor/pow10[k-1]
	return true
}

// fuseMark steps over the T or F of T2A, F500mA.
func (s *scan) fuseMark() bool {
	c := s.at(0)
	if c != 'T' && c != 'F' || !isFigure(s.at(1)) && s.at(1) != '.' {
		return false
	}
	k := 1
	for isFigure(s.at(k)) || s.at(k) == '.' || s.at(k) == ',' {
		k++
	}
	amps := s.at(k)|0x20 == 'a' || s.at(k)|0x20 == 'm' && s.at(k+1)|0x20 == 'a'
	if !amps && s.hint != Ampere {
		return false
	}
	s.speed = c
	s.i++
	return true
}

// loneLetter reads a tolerance letter or a fuse speed that stands alone.
// The speed counts only if the value turns out to be amperes.
func (s *scan) loneLetter(c byte) {
	switch c {
	case 'T', 'F':
		s.speed = c
	case 'J', 'K', 'M', 'Z':
		for i := range s.count {
			if it := &s.items[i]; it.unit == Farad || it.unit == Ohm {
				it.letter = c
				return
			}
		}
	}
}

// taperMark steps over the taper letter of a pot, "B500K". It stays in Text.
func (s *scan) taperMark() bool {
	c := s.at(0)
	if s.hint != Ohm || c < 'A' || c > 'C' || !isFigure(s.at(1)) || s.count > 0 {
		return false
	}
	s.i++
	return true
}

func (s *scan) shortWord(b []byte) {
	if len(b) == 2 && b[0]|0x20 == 'o' && b[1]|0x20 == 'f' {
		s.aside = true // "pack of 5"
	}
	if s.count == 0 || len(b) != 2 {
		return
	}
	if it := &s.items[s.count-1]; it.unit == Volt && b[0]|0x20 == 'a' && b[1]|0x20 == 'c' {
		it.ac = true
	}
}

func (s *scan) longWord(b []byte) error {
	var low [12]byte
	for i, c := range b {
		if c >= 'A' && c <= 'Z' {
			c |= 0x20
		}
		low[i] = c
	}
	speed := byte(0)
	switch string(low[:len(b)]) {
	case "slow", "slow-blow", "slowblow", "time-lag", "timelag", "time-delay", "delay", "delayed", "lag",
		"anti-surge", "antisurge", "trage", "traag", "slow-acting":
		speed = 'T'
	case "fast", "quick", "fast-acting", "fast-blow", "quick-blow", "quick-acting", "flink", "snel":
		speed = 'F'
	case "per", "pack", "bag", "box":
		s.aside = true
	case "surge":
		if s.count > 0 && s.items[s.count-1].unit == Volt {
			s.items[s.count-1].surge = true
		}
	case "nan", "inf", "infinity":
		if s.count == 0 {
			return s.problem(NotFinite, "")
		}
	}
	if speed != 0 {
		if s.speed != 0 && s.speed != speed {
			return s.problem(ExtraText, "")
		}
		s.speed = speed
	}
	return nil
}
