package plan

import (
	"fmt"
	"strconv"
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/unit"
)

// A Way is how pieces stand together in one place.
type Way uint8

const (
	OnePiece Way = iota // one part in the place, as a rule
	Series              // one behind the other
	Parallel            // side by side
)

var wayWords = [...]string{"", "in series", "in parallel"}

// String returns "in series", "in parallel", "" for one piece.
func (w Way) String() string { return wayWords[w] }

// Made says how a value that no single part has is made of several alike.
// The zero Made is one piece.
type Made struct {
	Pieces   int // in each place; 1 where it is the sections of one can
	Way      Way
	Sections bool    // all sections of one can, side by side
	Leak     float64 // amperes no piece leaks more than, 0 not stated
}

// Is reports whether the place holds more than one plain part.
func (m Made) Is() bool { return m.Way != OnePiece }

// most is how many pieces a place may be made of: by reader and by hand. The
// lists are searched for two, and for three of resistors.
const most = 3

// ReadMade reads how pieces stand together:
//
//	"2 in series" · "3 in parallel" · "sections in parallel" · "2 in series, leak 0.3mA"
//
// An empty text is one piece. leak is the direct current that no piece lets
// through at its volts, from a sheet the technician holds.
// Errors: fewer than 2 pieces or more than 3, other words, a leak that is not
// a current above zero; sections of one can in series, for they share their
// negative.
func ReadMade(text string) (Made, error) {
	var m Made
	how, leak, leaks := strings.Cut(strings.TrimSpace(text), ",")
	if strings.TrimSpace(text) == "" {
		return m, nil
	}
	words := strings.Fields(small(how))
	if len(words) != 3 || words[1] != "in" {
		return m, fmt.Errorf("%q is not read: want \"2 in series\", \"2 in parallel\" or \"sections in parallel\"", text)
	}
	switch words[2] {
	case "series":
		m.Way = Series
	case "parallel":
		m.Way = Parallel
	default:
		return Made{}, fmt.Errorf("%q: in %q is not read: want series or parallel", text, words[2])
	}
	if err := m.count(words[0]); err != nil {
		return Made{}, fmt.Errorf("%q: %w", text, err)
	}
	if !leaks {
		return m, nil
	}
	return m, m.leak(leak)
}

func (m *Made) count(word string) error {
	if word == "sections" {
		m.Pieces, m.Sections = 1, true
		if m.Way == Series {
			return fmt.Errorf("the sections of one can share their negative: they never stand in series")
		}
		return nil
	}
	n, err := strconv.Atoi(word)
	if err != nil || n < 2 || n > most {
		return fmt.Errorf("%q pieces: want 2 or %d", word, most)
	}
	m.Pieces = n
	return nil
}

// leak reads "leak 0.3mA".
func (m *Made) leak(text string) error {
	word, amount, _ := strings.Cut(strings.TrimSpace(text), " ")
	if small(word) != "leak" {
		return fmt.Errorf("%q is not read: want \"leak 0.3mA\"", text)
	}
	v, err := unit.Read(amount, unit.Ampere)
	if err != nil {
		return fmt.Errorf("leak %q: %w", amount, err)
	}
	if !(v > 0) {
		return fmt.Errorf("leak %q: want a current above zero", amount)
	}
	m.Leak = v
	return nil
}

// String is the inverse of ReadMade: "2 in series, leak 300 µA".
func (m Made) String() string {
	if !m.Is() {
		return ""
	}
	s := "sections " + m.Way.String()
	if !m.Sections {
		s = strconv.Itoa(m.Pieces) + " " + m.Way.String()
	}
	if m.Leak > 0 {
		s += ", leak " + strconv.FormatFloat(m.Leak*1e6, 'g', 15, 64) + " uA"
	}
	return s
}

// A Joint is a whole making as a technician writes it: the piece, how many
// stand how, and what balances them.
type Joint struct {
	Piece   string // "electrolytic 68uF 300V"
	Made    Made
	Balance string // "220k 2W 5%", "" where none
}

// ReadJoint reads a value made of pieces, as a technician asks about it:
//
//	"2 x electrolytic 68uF 300V ±20% in series + 2 x 220k 2W 5%"
//	"2 x film .01uF 630V in parallel"
//	"can 20/20/20uF 450V, sections in parallel"
//	"2 x electrolytic 68uF 300V in series, leak 0.3mA + 2 x 220k 1W"
//
// ok is false where the text speaks of one piece: it is then an ordinary part.
// Errors: as ReadMade; balancing resistors beside pieces in parallel, or not
// one for each piece.
func ReadJoint(text string) (j Joint, ok bool, err error) {
	body, balance, balanced := strings.Cut(text, "+ ")
	low := small(body)
	at := max(strings.LastIndex(low, " in series"), strings.LastIndex(low, " in parallel"))
	if at < 0 {
		return Joint{}, false, nil
	}
	head, tail := strings.TrimSpace(body[:at]), strings.TrimSpace(body[at:])
	n := "sections"
	if cut, found := strings.CutSuffix(small(head), "sections"); found {
		head = strings.TrimRight(head[:len(cut)], " ,")
	} else {
		n, head = counted(head)
	}
	if j.Made, err = ReadMade(n + " " + tail); err != nil {
		return Joint{}, true, err
	}
	j.Piece = head
	if head == "" {
		return Joint{}, true, fmt.Errorf("%q: the piece is not named", text)
	}
	if !balanced {
		return j, true, nil
	}
	count, say := counted(strings.TrimSpace(balance))
	switch {
	case j.Made.Way != Series:
		err = fmt.Errorf("%q: only pieces in series are balanced", text)
	case count != strconv.Itoa(j.Made.Pieces) || say == "":
		err = fmt.Errorf("%q: want one balancing resistor across each piece, \"+ %d x 220k 2W\"", text, j.Made.Pieces)
	}
	j.Balance = say
	return j, true, err
}

// small writes the letters of English small and leaves every other byte where
// it stands.
func small(text string) string {
	b := []byte(text)
	for i, c := range b {
		if 'A' <= c && c <= 'Z' {
			b[i] = c + 'a' - 'A'
		}
	}
	return string(b)
}

// counted parts "2 x 220k 1W" into its count and the rest; without a count
// the count is "".
func counted(text string) (n, rest string) {
	words := strings.Fields(text)
	if len(words) > 2 && (words[1] == "x" || words[1] == "×") {
		return words[0], strings.Join(words[2:], " ")
	}
	return "", text
}

// Spec reads the marking of a need: "resistor 220k 2W 5%" gives 220 kΩ 2 W
// ±5 %. ok is false where it has none.
func (p *Part) spec(u unit.Unit) (unit.Spec, bool) {
	var rest []string
	for _, f := range strings.Fields(p.Is) {
		word := strings.ToLower(strings.Trim(f, ",;"))
		if _, known := searches[word]; !known && word != "or" && forms[word] == catalog.AnyForm {
			rest = append(rest, f)
		}
	}
	s, err := unit.ReadSpec(strings.Join(rest, " "), u)
	return s, err == nil && s.Unit == u && len(s.Values) == 1
}

// together reports whether a part was weighed with others of its place.
func (p *Part) together() bool { return p.Made.Is() || p.Across != 0 }

// PerPlace is how many pieces a place takes.
func (p *Part) PerPlace() int { return max(1, p.Made.Pieces) }

// Spare is how many pieces there are beyond what the places take.
func (p *Part) Spare() int { return p.Qty - p.PerPlace()*len(p.For) }

// Whole is the value a place gets from pieces of value v: two 68 µF in series
// are 34 µF, three 33 kΩ in series 99 kΩ. Sections are counted by the caller.
func (p *Part) Whole(v float64, u unit.Unit) float64 {
	return p.Made.whole([]float64{v}, u)
}

// whole is the nominal value of the pieces, or of all sections, together.
func (m Made) whole(values []float64, u unit.Unit) float64 {
	if len(values) == 0 {
		return 0
	}
	switch {
	case !m.Is():
		return values[0]
	case m.Sections:
		sum := 0.0
		for _, v := range values {
			sum += v
		}
		return sum
	case adds(m.Way, u):
		return values[0] * float64(m.Pieces)
	}
	return values[0] / float64(m.Pieces)
}

// adds reports whether values add up: ohms in series, farads side by side.
func adds(w Way, u unit.Unit) bool { return (w == Series) == (u == unit.Ohm) }

// piece is what each piece must be for the whole to be what is wanted.
func (m Made) piece(w catalog.Want, u unit.Unit) catalog.Want {
	n := float64(max(1, m.Pieces))
	switch {
	case !m.Is():
		return w
	case m.Sections: // their sum is looked at one by one
		w.ValueLow, w.Sections, w.Form = w.ValueLow/100, 0, catalog.AnyForm
	case adds(m.Way, u):
		w.ValueLow, w.ValueHigh = w.ValueLow/n, w.ValueHigh/n
	default:
		w.ValueLow, w.ValueHigh = w.ValueLow*n, w.ValueHigh*n
	}
	return w
}
