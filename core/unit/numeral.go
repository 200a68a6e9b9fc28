package unit

import (
	"math"
	"strconv"
)

// doubt says why a number or unit cannot be taken at its word.
type doubt uint8

const (
	sure          doubt = iota
	thousands           // 1,234 or 22.000
	milliOrMicro        // mF
	thousandOrMeg       // 100M on a resistor
	milliOrMeg          // 4.7m on a resistor
	codeOrRating        // 10u50
	commaList           // 16,16
)

// A numeral is one number as written.
type numeral struct {
	v       float64
	lone    bool // written with figures only: "223"
	figures int  // how many figures
	start   int
	power   bool // written with an exponent
	doubt   doubt
	code    Code // why it is no number, "" if it is
}

// numeral reads the number that starts here.
func (s *scan) numeral(strict bool) numeral {
	n := numeral{start: s.i, lone: true}
	if isFraction(s.at(0)) {
		n.v, n.lone = fractionValue[s.at(0)], false
		s.i++
		return n
	}
	dot, comma, dots, commas := -1, -1, 0, 0
	for ; isFigure(s.at(0)) || (s.at(0) == '.' || s.at(0) == ',') && isFigure(s.at(1)); s.i++ {
		switch s.at(0) {
		case '.':
			dot, dots, n.lone = s.i, dots+1, false
		case ',':
			comma, commas, n.lone = s.i, commas+1, false
		default:
			n.figures++
		}
	}
	end := s.i
	if s.at(0) == '.' && !isLetter(s.at(1)) {
		s.i++ // "25." is 25
	}
	mark := s.decimalMark(&n, dot, comma, dots, commas, end, strict)
	if n.code != "" {
		return n
	}
	if n.lone && n.figures <= 3 && n.figures > 0 && s.spacedGroups(strict) {
		end = s.i
		n.lone = false
	}
	exponent := s.exponent(&n, strict)
	s.value(&n, mark, end, exponent)
	if isFraction(s.at(0)) && n.lone {
		n.v, n.lone = n.v+fractionValue[s.at(0)], false
		s.i++
	}
	return n
}

// decimalMark finds the decimal mark, -1 if there is none, and checks that
// all other marks part groups of three.
func (s *scan) decimalMark(n *numeral, dot, comma, dots, commas, end int, strict bool) int {
	last := max(dot, comma)
	switch {
	case last < 0:
		return -1
	case dots+commas == 1:
		if end-last == 4 && last > n.start && last-n.start <= 3 && s.b[n.start] != '0' {
			if comma >= 0 || strict && s.b[end-1] == '0' {
				n.doubt = thousands
			}
		}
		if comma >= 0 && strict && s.sections(n.start, last, end) {
			n.doubt = commaList
		}
		return last
	case dots > 0 && commas > 0 && (last == dot && dots == 1 || last == comma && commas == 1):
		if s.groupsOfThree(n.start, last) {
			return last
		}
	case (dots == 0 || commas == 0) && s.groupsOfThree(n.start, end):
		return -1
	}
	n.code = NotANumber
	return -1
}

// sections reports whether a decimal comma may part two sections: "16,16" is
// no preferred value, but two customary ones.
func (s *scan) sections(start, mark, end int) bool {
	if mark-start > 3 || end-mark > 4 {
		return false
	}
	a, b := s.slowValue(start, -1, mark, 0), s.slowValue(mark+1, -1, end, 0)
	return sectionSize(a) && sectionSize(b) && !E24.Has(s.slowValue(start, mark, end, 0))
}

func (s *scan) groupsOfThree(start, end int) bool {
	size, first := 0, true
	for j := start; j < end; j++ {
		if isFigure(s.b[j]) {
			size++
			continue
		}
		if size == 0 || size > 3 || !first && size != 3 {
			return false
		}
		size, first = 0, false
	}
	return !first && size == 3
}

// spacedGroups moves on over " 000" groups: "22 000 pF". In a marking a group
// counts only if it ends in two zeros and no rating follows, because
// "20 450V" is two numbers.
func (s *scan) spacedGroups(strict bool) bool {
	j := s.i
	for j+3 < s.n && s.b[j] == ' ' && isFigure(s.b[j+1]) && isFigure(s.b[j+2]) && isFigure(s.b[j+3]) && (j+4 >= s.n || !isFigure(s.b[j+4])) {
		j += 4
	}
	if j == s.i {
		return false
	}
	if strict {
		k := j
		for k < s.n && s.b[k] == ' ' {
			k++
		}
		if s.b[j-1] != '0' || s.b[j-2] != '0' {
			return false
		}
		if k < s.n {
			c := s.b[k] | 0x20
			if !isLetter(s.b[k]) || (c == 'v' || c == 'w' || s.b[k] == '%') && s.hint != Volt && s.hint != Watt {
				return false
			}
		}
	}
	s.i = j
	return true
}

// exponent reads "e-9"; in a marking the sign must be there, since E may
// stand for ohms.
func (s *scan) exponent(n *numeral, strict bool) int {
	if s.at(0)|0x20 != 'e' || n.figures == 0 {
		return 0
	}
	k, negative := 1, false
	if c := s.at(1); c == '+' || c == '-' {
		k, negative = 2, c == '-'
	} else if strict {
		return 0
	}
	if !isFigure(s.at(k)) {
		return 0
	}
	e := 0
	for ; isFigure(s.at(k)); k++ {
		e = min(e*10+int(s.at(k)-'0'), 9999)
	}
	s.i += k
	n.power, n.lone = true, false
	if negative {
		return -e
	}
	return e
}

// value works the figures between n.start and end out, correctly rounded.
func (s *scan) value(n *numeral, mark, end, exponent int) {
	if end-n.start > maxNumber {
		n.code = OutOfRange
		return
	}
	var m uint64
	places, exact := 0, true
	for j := n.start; j < end; j++ {
		if isFigure(s.b[j]) {
			m = m*10 + uint64(s.b[j]-'0')
			exact = exact && m < 1<<53
			if mark >= 0 && j > mark {
				places++
			}
		}
	}
	power := exponent - places
	switch {
	case exact && power <= 0 && power >= -22:
		n.v = float64(m) / pow10[-power]
	case exact && power > 0 && power <= 22:
		n.v = float64(m) * pow10[power]
	default:
		n.v = s.slowValue(n.start, mark, end, exponent)
	}
	if math.IsInf(n.v, 0) || exponent > 308 {
		n.code = NotFinite
	}
}

var pow10 = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

func (s *scan) slowValue(start, mark, end, exponent int) float64 {
	plain := make([]byte, 0, maxNumber+8)
	for j := start; j < end; j++ {
		if j == mark {
			plain = append(plain, '.')
		} else if isFigure(s.b[j]) {
			plain = append(plain, s.b[j])
		}
	}
	plain = append(plain, 'e')
	v, _ := strconv.ParseFloat(string(strconv.AppendInt(plain, int64(exponent), 10)), 64)
	return v
}
