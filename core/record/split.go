package record

import (
	"bytes"
	"encoding/json"
	"errors"
)

var errBody = errors.New("the body is not an object")

type field struct {
	key  string
	json json.RawMessage
}

// split returns the top-level fields of a body without reading the values:
// the fold does this for every record, and bodies were read strictly before.
func split(body []byte) ([]field, error) {
	s := splitter{body, 0}
	if s.space() != '{' {
		return nil, errBody
	}
	s.pos++
	out := make([]field, 0, 8)
	for s.space() != '}' {
		if len(out) > 0 {
			if s.space() != ',' {
				return nil, errBody
			}
			s.pos++
		}
		f, ok := s.field()
		if !ok {
			return nil, errBody
		}
		out = append(out, f)
	}
	return out, nil
}

type splitter struct {
	data []byte
	pos  int
}

// space skips space and returns the byte after it, 0 at the end.
func (s *splitter) space() byte {
	for ; s.pos < len(s.data); s.pos++ {
		if c := s.data[s.pos]; c != ' ' && c != '\n' && c != '\t' && c != '\r' {
			return c
		}
	}
	return 0
}

func (s *splitter) field() (f field, ok bool) {
	if s.space() != '"' {
		return f, false
	}
	from := s.pos
	s.text()
	if f.key, ok = plainText(s.data[from:s.pos]); !ok || s.space() != ':' {
		return f, false
	}
	s.pos++
	s.space()
	from = s.pos
	s.value()
	f.json = s.data[from:s.pos:s.pos]
	if n := len(f.json); n > 0 && f.json[n-1] <= ' ' {
		f.json = bytes.TrimRight(f.json, " \n\t\r")
	}
	return f, len(f.json) > 0
}

// plainText returns what a JSON string says.
func plainText(quoted []byte) (string, bool) {
	if n := len(quoted); n >= 2 && quoted[0] == '"' && quoted[n-1] == '"' && bytes.IndexByte(quoted, '\\') < 0 {
		return string(quoted[1 : n-1]), true
	}
	var text *string
	err := json.Unmarshal(quoted, &text)
	if err != nil || text == nil {
		return "", false
	}
	return *text, true
}

// text skips a string.
func (s *splitter) text() {
	for s.pos++; s.pos < len(s.data); s.pos++ {
		switch s.data[s.pos] {
		case '\\':
			s.pos++
		case '"':
			s.pos++
			return
		}
	}
	s.pos = len(s.data)
}

// value skips a value, up to the comma or the brace that ends it.
func (s *splitter) value() {
	depth := 0
	for s.pos < len(s.data) {
		switch s.data[s.pos] {
		case '"':
			s.text()
			continue
		case '{', '[':
			depth++
		case '}', ']':
			if depth == 0 {
				return
			}
			depth--
		case ',':
			if depth == 0 {
				return
			}
		}
		s.pos++
	}
}
