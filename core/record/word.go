package record

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

func (s *scanner) word() byte {
	for _, w := range []string{"true", "false", "null"} {
		if bytes.HasPrefix(s.data[s.pos:], []byte(w)) {
			s.pos += len(w)
			return w[0]
		}
	}
	s.stop("a value was expected, not " + s.next())
	return 0
}

// number reads any JSON number and notes those without one spelling.
func (s *scanner) number() string {
	from := s.pos
	for s.pos < len(s.data) && strings.IndexByte("+-.0123456789eE", s.data[s.pos]) >= 0 {
		s.pos++
	}
	text := string(s.data[from:s.pos])
	if !wholeNumber(text) {
		s.note(from, NotWhole, text+" is not a whole number below 2^53", "write it as text: "+strconv.Quote(text))
	}
	return text
}

func wholeNumber(text string) bool {
	v, err := strconv.ParseInt(text, 10, 64)
	return err == nil && v <= greatest && v >= -greatest && strconv.FormatInt(v, 10) == text
}

// text reads a string and returns what it says.
func (s *scanner) text() string {
	from := s.pos
	s.pos++
	run := s.pos
	var out []byte
	for {
		if s.pos >= len(s.data) {
			s.stop("the text breaks off inside quotes")
		}
		switch c := s.data[s.pos]; {
		case c == '"':
			out = append(out, s.data[run:s.pos]...)
			s.pos++
			if !utf8.Valid(out) {
				s.note(from, NotText, quoted(string(out))+" is not UTF-8", "")
			}
			return string(out)
		case c == '\\':
			out = append(out, s.data[run:s.pos]...)
			out = s.escape(out)
			run = s.pos
		case c < ' ':
			s.stop("a control character stands inside quotes: " + s.next())
		default:
			s.pos++
		}
	}
}

// escape reads one escape and appends what it stands for.
func (s *scanner) escape(out []byte) []byte {
	from := s.pos
	s.pos++
	if s.pos >= len(s.data) {
		s.stop("the text breaks off inside quotes")
	}
	c := s.data[s.pos]
	s.pos++
	if i := strings.IndexByte(`"\/bfnrt`, c); i >= 0 {
		return append(out, "\"\\/\b\f\n\r\t"[i])
	}
	if c != 'u' {
		s.pos = from
		s.stop("no such escape: \\" + string(rune(c)))
	}
	r := s.hex4()
	if utf16.IsSurrogate(r) {
		if bytes.HasPrefix(s.data[s.pos:], []byte(`\u`)) {
			back := s.pos
			s.pos += 2
			if both := utf16.DecodeRune(r, s.hex4()); both != utf8.RuneError {
				return utf8.AppendRune(out, both)
			}
			s.pos = back
		}
		s.note(from, NotText, "half of a surrogate pair stands alone", "")
	}
	return utf8.AppendRune(out, r)
}

func (s *scanner) hex4() rune {
	if s.pos+4 > len(s.data) {
		s.stop("the text breaks off inside an escape")
	}
	v, err := strconv.ParseUint(string(s.data[s.pos:s.pos+4]), 16, 32)
	if err != nil {
		s.stop("four hex digits were expected after \\u")
	}
	s.pos += 4
	return rune(v)
}
