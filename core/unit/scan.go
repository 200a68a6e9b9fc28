package unit

import (
	"unicode"
	"unicode/utf8"
)

const (
	maxText   = 250 // bytes of a marking; price lists put whole sentences in one cell
	maxPlain  = 800 // bytes after plain writing; no rune grows more than threefold
	maxNumber = 40  // characters of one number
	maxList   = 12  // numbers joined in one list
	maxItems  = 8   // numbers with their units in one marking
)

// Fractions that are one character are kept as one byte each.
const (
	half byte = 1 + iota
	quarter
	threeQuarters
	eighth
)

var fractionValue = [...]float64{half: 0.5, quarter: 0.25, threeQuarters: 0.75, eighth: 0.125}

// scan walks over a marking written plainly: one byte a character, Greek and
// typographic signs replaced.
type scan struct {
	text  string
	hint  Unit
	n, i  int
	items [maxItems]item
	count int

	tol       Tolerance
	absolute  float64 // a tolerance in farads or ohms, until the value is known
	volts     float64
	surge     float64
	watts     float64
	ac        bool
	speed     byte
	joined    byte // what stands before the next number: '@' '/' '-' '+' or 0
	b         [maxPlain]byte
	uncertain doubt
	aside     bool // the next bare number counts pieces: "per 5"
}

// open writes the text plainly and stands at its first character.
func (s *scan) open(text string, hint Unit) error {
	s.text, s.hint = text, hint
	if len(text) > maxText {
		s.text = text[:40] + "..."
		return s.problem(TooLong, "")
	}
	for _, r := range text {
		if r < utf8.RuneSelf {
			if r < ' ' {
				r = ' '
			}
			s.b[s.n] = byte(r)
			s.n++
			continue
		}
		s.n += copy(s.b[s.n:], plain(r))
	}
	if s.spaces(); s.i == s.n {
		return s.problem(Empty, "")
	}
	return nil
}

// plain writes a rune beyond ASCII with one to three bytes.
func plain(r rune) string {
	switch r {
	case '\u00b5', '\u03bc':
		return "u"
	case '\u03a9', '\u2126':
		return "ohm"
	case '½':
		return string(rune(half))
	case '¼':
		return string(rune(quarter))
	case '¾':
		return string(rune(threeQuarters))
	case '⅛':
		return string(rune(eighth))
	case '−', '–', '—', '‐', '‑':
		return "-"
	case '×':
		return "x"
	case '±':
		return "+/-"
	case '⁄', '∕':
		return "/"
	case 'ä', 'à', 'á':
		return "a"
	case '°', 'º', '\'', '’', '“', '”', '"':
		return "\""
	case '∞':
		return "infinity"
	}
	if unicode.IsLetter(r) || r == utf8.RuneError {
		return "?" // no unit has it, so a number with it is refused
	}
	return " "
}

func (s *scan) problem(c Code, hint string) error { return Problem{Cell: s.text, Code: c, Hint: hint} }

// at returns the byte k places on, 0 beyond the end.
func (s *scan) at(k int) byte {
	if j := s.i + k; j >= 0 && j < s.n {
		return s.b[j]
	}
	return 0
}

func (s *scan) spaces() {
	for s.i < s.n && s.b[s.i] == ' ' {
		s.i++
	}
}

// take moves on over prefix if it stands here.
func (s *scan) take(prefix string) bool {
	if s.n-s.i < len(prefix) || string(s.b[s.i:s.i+len(prefix)]) != prefix {
		return false
	}
	s.i += len(prefix)
	return true
}

func isFigure(c byte) bool { return c >= '0' && c <= '9' }
func isLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' || c == '?' }
func isFraction(c byte) bool {
	return c >= half && c <= eighth
}

// startsNumber reports whether a number without sign starts k places on.
func (s *scan) startsNumber(k int) bool {
	c := s.at(k)
	if c == '.' || c == ',' { // after a letter the mark ends a word: "16uF,450V"
		before := s.at(k - 1)
		return isFigure(s.at(k+1)) && !isLetter(before) && before != '%' && before != ')'
	}
	return isFigure(c) || isFraction(c)
}
