package record

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

const (
	deepest  = 100
	greatest = 1<<53 - 1
)

// A node is one value of a JSON text with the place where it stands.
type node struct {
	kind    byte   // { [ s(tring) 0(number) t f n
	text    string // a string's content, a number's digits
	at      int    // byte offset of its first byte
	end     int    // byte offset after its last byte
	members []member
	items   []node
}

type member struct {
	key   string
	at    int
	value node
}

// get returns the member with that key, or nil.
func (n *node) get(key string) *node {
	for i := range n.members {
		if n.members[i].key == key {
			return &n.members[i].value
		}
	}
	return nil
}

// say names the sort of value for an error message.
func (n *node) say() string {
	switch n.kind {
	case '{':
		return "an object"
	case '[':
		return "a list"
	case 's':
		return "the text " + quoted(n.text)
	case '0':
		return "the number " + n.text
	case 'n':
		return "null"
	}
	return "true or false"
}

// quoted shortens and quotes what was read.
func quoted(s string) string {
	if len(s) > 40 {
		s = strings.ToValidUTF8(s[:40], "") + "..."
	}
	return strconv.Quote(s)
}

// A scanner reads JSON more strictly than encoding/json: it keeps places, and
// it says what has no one spelling. What cannot be read on from is thrown as
// errStop; everything else is noted and read on.
type scanner struct {
	data     []byte
	pos      int
	depth    int
	path     []string
	problems Problems
}

type errStop struct{}

// scan reads one whole JSON text. The node is usable for what was read when
// only problems of content were found; whole says whether the text ended well.
func scan(data []byte) (n node, whole bool, ps Problems) {
	s := &scanner{data: data, pos: start(data)}
	defer func() {
		if r := recover(); r != nil {
			if _, ok := r.(errStop); !ok {
				panic(r)
			}
			whole, ps = false, s.problems
		}
	}()
	n = s.value()
	s.space()
	if s.pos < len(s.data) {
		s.stop("the text goes on after its end with " + s.next())
	}
	return n, true, s.problems
}

// start skips the byte order mark some editors put before a text.
func start(data []byte) int {
	if bytes.HasPrefix(data, []byte("\xef\xbb\xbf")) {
		return 3
	}
	return 0
}

func (s *scanner) note(at int, code Code, say, hint string) {
	line, column := place(s.data, at)
	s.problems = append(s.problems, Problem{line, column, strings.Join(s.path, ""), code, say, hint})
}

func (s *scanner) stop(say string) {
	s.note(s.pos, NotJSON, say, "")
	panic(errStop{})
}

// place turns a byte offset into line and column, both from 1.
func place(data []byte, at int) (line, column int) {
	at = min(at, len(data))
	before := data[:at]
	return bytes.Count(before, []byte("\n")) + 1, at - bytes.LastIndexByte(before, '\n')
}

// next quotes what stands at the present place.
func (s *scanner) next() string {
	if s.pos >= len(s.data) {
		return "the end of the text"
	}
	r, n := utf8.DecodeRune(s.data[s.pos:])
	if r == utf8.RuneError && n == 1 {
		return fmt.Sprintf("the byte %#02x", s.data[s.pos])
	}
	return strconv.QuoteRune(r)
}

func (s *scanner) space() {
	for s.pos < len(s.data) {
		switch s.data[s.pos] {
		case ' ', '\t', '\n', '\r':
			s.pos++
		default:
			return
		}
	}
}

func (s *scanner) peek() byte {
	s.space()
	if s.pos >= len(s.data) {
		s.stop("the text breaks off here")
	}
	return s.data[s.pos]
}

func (s *scanner) value() node {
	c := s.peek()
	n := node{at: s.pos}
	switch {
	case c == '{' || c == '[':
		n.kind = c
		s.nested(&n)
	case c == '"':
		n.kind, n.text = 's', s.text()
	case c == '-' || c >= '0' && c <= '9':
		n.kind, n.text = '0', s.number()
	default:
		n.kind = s.word()
	}
	n.end = s.pos
	return n
}

func (s *scanner) nested(n *node) {
	if s.depth++; s.depth > deepest {
		s.note(s.pos, TooDeep, fmt.Sprintf("objects and lists stand more than %d deep", deepest), "")
		panic(errStop{})
	}
	s.pos++
	if n.kind == '{' {
		s.object(n)
	} else {
		s.list(n)
	}
	s.depth--
}

func (s *scanner) object(n *node) {
	if s.peek() == '}' {
		s.pos++
		return
	}
	var keys map[string]bool
	for {
		if s.peek() != '"' {
			s.stop("a key in quotes was expected, not " + s.next())
		}
		m := member{at: s.pos}
		m.key = s.text()
		s.push(m.key)
		if keys = listKeys(keys, n); keys[m.key] || keys == nil && n.get(m.key) != nil {
			s.note(m.at, Twice, quoted(m.key)+" stands twice in one object", "")
		}
		if s.peek() != ':' {
			s.stop("':' was expected, not " + s.next())
		}
		s.pos++
		m.value = s.value()
		s.pop()
		n.members = append(n.members, m)
		if !s.more('}') {
			return
		}
	}
}

// listKeys keeps a map of an object's keys once they are too many to look
// through one by one.
func listKeys(keys map[string]bool, n *node) map[string]bool {
	switch {
	case len(n.members) < 24:
		return nil
	case keys == nil:
		keys = map[string]bool{}
		for i := range n.members {
			keys[n.members[i].key] = true
		}
	}
	keys[n.members[len(n.members)-1].key] = true
	return keys
}

func (s *scanner) list(n *node) {
	if s.peek() == ']' {
		s.pos++
		return
	}
	for {
		s.path = append(s.path, "["+strconv.Itoa(len(n.items))+"]")
		n.items = append(n.items, s.value())
		s.pop()
		if !s.more(']') {
			return
		}
	}
}

func (s *scanner) push(key string) {
	if len(s.path) > 0 {
		key = "." + key
	}
	s.path = append(s.path, key)
}

func (s *scanner) pop() { s.path = s.path[:len(s.path)-1] }

// more reads a comma or the closing mark.
func (s *scanner) more(closing byte) bool {
	c := s.peek()
	if c != ',' && c != closing {
		s.stop(fmt.Sprintf("',' or '%c' was expected, not %s", closing, s.next()))
	}
	s.pos++
	return c == ','
}

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
