package catalog

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A word is one word of a description, cut at blanks and brackets, and all
// that can be said of it without its neighbors. A list repeats its words even
// where no two of its descriptions are alike, so words are what is remembered.
type word struct {
	written     string
	plain       string   // as plain writes it: several words, one, or none
	begins      []placed // phrases of the trade that begin in it
	figure      bool     // has a figure in it
	number      bool     // figures, decimal marks and signs only
	unit        string   // what it adds to a number before it: "µF"
	times       bool     // so many times a number: "2x50"
	sizes       bool     // behind a number it makes that a count or a size: "pcs"
	diode       bool     // the type of a silicon diode
	types, sure []string // tube types in it, and in a row that says it sells a tube
	marks       []mark   // what it adds to the marking
	one         [1]mark
}

// placed is a phrase and where in the plain word it begins.
type placed struct {
	at int
	phrase
}

// A mark is a figure of a description and what it is: v, w, t as in unitEnds,
// c for a value, n for a bare number.
type mark struct {
	class byte
	text  string
}

const (
	longWord = 24   // longer words are not remembered
	longText = 2000 // no description of a part is longer
)

// word returns what is known of w.
func (s *specs) word(w string) *word {
	if len(w) > 3 && digits(w) {
		return s.bareNumber(w)
	}
	near := &s.near[nearness(w)]
	if *near != nil && (*near).written == w {
		return *near
	}
	got, ok := s.words[w]
	if !ok {
		got = newWord(w)
		if len(w) <= longWord {
			keep(s.words, w, got)
		}
	}
	*near = got
	return got
}

const nearWords = 1 << 11

// nearness is a place for a word in a table of the words met lately, which is
// asked before the map: it costs a fifth of that.
func nearness(w string) int {
	n := len(w)
	return (int(w[0])*31 + int(w[n/2])*131 + int(w[n-1])*17 + n*257) & (nearWords - 1)
}

// bareNumber is newWord for figures alone: serial numbers and shelves, which
// no list says twice and nothing is gained by remembering. The word holds
// until the next row is read.
func (s *specs) bareNumber(w string) *word {
	if s.spent == len(s.spare) {
		s.spare = append(s.spare, &word{})
	}
	k := s.spare[s.spent]
	s.spent++
	*k = word{written: w, plain: w, figure: true, number: true}
	if len(w) == 4 && (plainTypes[w] || rectifierTypes[w]) {
		*k = *newWord(w) // no tube is a number of five figures
		return k
	}
	k.one[0] = mark{'n', w}
	k.marks = k.one[:]
	return k
}

// newWord looks at a word for the first time.
func newWord(w string) *word {
	k := &word{written: w, plain: plain(w), figure: strings.ContainsAny(w, "0123456789½¼")}
	for at, rest := 0, k.plain; rest != ""; {
		first, after, _ := strings.Cut(rest, " ")
		for _, p := range phrases[first] {
			k.begins = append(k.begins, placed{at, p})
		}
		at += len(rest) - len(after)
		rest = after
	}
	end := strings.TrimRight(w, ".,")
	if _, ok := unitEnds[strings.ToLower(end)]; ok && end != "m" && end != "h" {
		k.unit = end
	}
	k.sizes = notAfter[k.plain]
	if !k.figure {
		return k
	}
	k.number, k.diode = isNumber(w), semiconductor(k.plain)
	if n, each, ok := timesOf(w); ok {
		k.times = n > 0 && isNumber(each)
	}
	k.types, k.sure = tubeTypes(w, false), tubeTypes(w, true)
	if tubeType(w, false) == "" {
		k.marks = marksOf(w)
	}
	return k
}

// cutWords appends the words of text to out. It cuts at blanks, brackets,
// semicolons and bars; commas and colons at the end of a word go with them: a
// comma between digits may be a decimal one.
func (s *specs) cutWords(out []*word, text string) []*word {
	text = joinFigures(text)
	start := -1
	for i := 0; i < len(text); {
		c, n := text[i], 1
		gap := gaps[c]
		if c >= utf8.RuneSelf {
			var r rune
			r, n = utf8.DecodeRuneInString(text[i:])
			gap = unicode.IsSpace(r)
		}
		switch {
		case !gap && start < 0:
			start = i
		case gap && start >= 0:
			out = s.appendWord(out, text[start:i])
			start = -1
		}
		i += n
	}
	if start >= 0 {
		out = s.appendWord(out, text[start:])
	}
	return out
}

func (s *specs) appendWord(out []*word, w string) []*word {
	for w != "" && (w[len(w)-1] == ',' || w[len(w)-1] == ':') {
		w = w[:len(w)-1]
	}
	if w == "" {
		return out
	}
	return append(out, s.word(w))
}

// joinFigures closes the gaps around a sign between two figures: "16 + 16 µF",
// "32 / 32", "2 x 50 µF", and around any @.
func joinFigures(text string) string {
	if len(text) > longText {
		return text // every gap closed writes the text anew
	}
	for i := 0; i+4 < len(text); i++ {
		gap := strings.IndexByte(text[i+1:], ' ')
		if gap < 0 {
			break
		}
		if i += gap; i+4 >= len(text) || strings.IndexByte("@/+xX\xC3", text[i+2]) < 0 {
			continue
		}
		sign, after, ok := signBetween(text[i+2:])
		if !ok || after == "" {
			continue
		}
		left, right := text[i], after[0]
		figures := left >= '0' && left <= '9' && right >= '0' && right <= '9'
		times := sign == "x" && left >= '2' && left <= '5' && (i == 0 || text[i-1] == ' ' || text[i-1] == '(')
		if sign == "@" || figures && (sign != "x" || times) {
			text = text[:i+1] + sign + after
		}
	}
	return text
}

// signBetween reads a sign and the blank behind it; a × becomes an x.
func signBetween(s string) (sign, after string, ok bool) {
	for _, c := range [...]struct{ write, sign string }{{"@ ", "@"}, {"/ ", "/"}, {"+ ", "+"}, {"x ", "x"}, {"X ", "x"}, {"× ", "x"}} {
		if after, ok = strings.CutPrefix(s, c.write); ok {
			return c.sign, after, true
		}
	}
	return "", "", false
}

var gaps = func() (g [256]bool) {
	for _, c := range " \t\n\v\f\r();[]|" {
		g[c] = true
	}
	return g
}()

// A reading is what a row's words say together.
type reading struct {
	words string
	text  []*word // those of the description
	types []string
	diode bool
	best  [groups]int // place in its list of the phrase that decides, -1 for none
	value [groups]int
	packs []begun // that may say how many pieces are sold together
	look  bool
	class string
}

// read reads the words of a row: its category, its value and its description.
// The reading holds until the next one.
func (s *specs) read(kind, value, text string) *reading {
	r := &s.reading
	s.spent = 0
	s.cut = s.cutWords(s.cut[:0], kind)
	before := len(s.cut)
	s.cut = s.cutWords(s.cut, text)
	*r = reading{text: s.cut[before:], packs: r.packs[:0]}
	for g := range r.best {
		r.best[g] = -1
	}
	s.line, s.begin = s.line[:0], s.begin[:0]
	for _, w := range s.cut {
		if w.plain == "" {
			continue
		}
		if len(s.line) > 0 {
			s.line = append(s.line, ' ')
		}
		for i := range w.begins {
			s.begin = append(s.begin, begun{len(s.line) + w.begins[i].at, &w.begins[i].phrase})
		}
		s.line = append(s.line, w.plain...)
		r.diode = r.diode || w.diode
	}
	r.words = string(s.line)
	for _, b := range s.begin {
		if rest := r.words[b.at:]; strings.HasPrefix(rest, b.words) && (len(rest) == len(b.words) || rest[len(b.words)] == ' ') {
			r.note(b)
		}
	}
	s.tubes(r, value)
	return r
}

// begun is a phrase that may stand at a place of the row's words.
type begun struct {
	at int
	*phrase
}

func (r *reading) note(p begun) {
	switch p.group {
	case packing:
		r.packs = append(r.packs, p)
	case looks:
		r.look = true
	case classes:
		r.class = strings.ToUpper(p.words)
	default:
		if r.best[p.group] < 0 || p.order < r.best[p.group] {
			r.best[p.group], r.value[p.group] = p.order, p.value
		}
	}
}

// says returns what the words say of a group, 0 for nothing.
func (r *reading) says(g group) int { return r.value[g] }

// tubes collects the types the row names, those of its value first. Goods for
// a tube name its type too: the caller knows.
func (s *specs) tubes(r *reading, value string) {
	kind := Kind(r.says(kinds))
	sure := kind == Tube || kind == Rectifier
	s.types = s.types[:0]
	add := func(w *word) {
		types := w.types
		if sure {
			types = w.sure
		}
		for _, t := range types {
			if len(s.types) == 0 || s.types[0] != t {
				s.types = append(s.types, t)
			}
		}
	}
	if value != "" {
		s.valued = s.cutWords(s.valued[:0], value)
		for _, w := range s.valued {
			add(w)
		}
	}
	for _, w := range r.text {
		if w.figure {
			add(w)
		}
	}
	r.types = s.types
}
