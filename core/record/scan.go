package record

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
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
