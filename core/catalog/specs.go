package catalog

import (
	"strings"

	"lugworth/core/money"
	"lugworth/core/unit"
)

// specs remembers what was already read, in bounded room: a list repeats its
// words, markings and ratings. It also holds what reading one row needs and
// the next can use again.
type specs struct {
	words    map[string]*word
	near     [nearWords]*word // words met lately, by nearness
	pairs    map[pair]*word
	markings [unit.Piece + 1]map[string]*specRead // by the unit hinted at
	columns  [unit.Piece + 1]map[string]*specRead
	ratings  [unit.Piece + 1]map[string]rating
	tols     map[string]unit.Tolerance
	stocks   map[string]amountRead
	leads    map[string]amountRead

	mark money.Mark // decimal mark of the list

	cut, valued []*word
	spare       []*word
	spent       int // of spare, in this row
	line        []byte
	begin       []begun
	types       []string
	reading     reading
	marked      marking
}

func newSpecs() *specs {
	s := &specs{words: map[string]*word{}, pairs: map[pair]*word{}, tols: map[string]unit.Tolerance{}, stocks: map[string]amountRead{}, leads: map[string]amountRead{}}
	for u := range s.ratings {
		s.markings[u], s.columns[u], s.ratings[u] = map[string]*specRead{}, map[string]*specRead{}, map[string]rating{}
	}
	return s
}

const specsKept = 1 << 13 // bounds the memory a hostile list can take

// keep remembers v under k, and forgets all else when there is too much.
func keep[K comparable, V any](m map[K]V, k K, v V) V {
	if len(m) >= specsKept {
		clear(m)
	}
	m[k] = v
	return v
}

type specRead struct {
	spec unit.Spec
	err  error
}

// ohms writes the unit the way unit reads it in every case: "1 MOhm".
var ohms = strings.NewReplacer("kOhm", "kohm", "KOhm", "kohm", "KOHM", "kohm", "MOhm", "Mohm", "MOHM", "Mohm")

func readSpec(text string, hint unit.Unit) *specRead {
	spec, err := unit.ReadSpec(ohms.Replace(text), hint)
	return &specRead{spec, err}
}

// fromMarking reads a marking put together from a description.
func (s *specs) fromMarking(m *marking, hint unit.Unit) *specRead {
	s.line = m.appendTo(s.line[:0])
	if got, ok := s.markings[hint][string(s.line)]; ok {
		return got
	}
	text := string(s.line)
	return keep(s.markings[hint], text, readSpec(text, hint))
}

// column reads a cell of the value column; in is the unit its heading names,
// for cells that are bare numbers.
func (s *specs) column(cell, in string, hint unit.Unit) *specRead {
	if got, ok := s.columns[hint][cell]; ok {
		return got
	}
	v := strings.TrimSpace(unguard(cell))
	if in != "" && isNumber(v) {
		v += in
	}
	return keep(s.columns[hint], cell, readSpec(v, hint))
}

// A rating is a cell of volts or watts as read. code is "" where it is well;
// a cell that says nothing is 0.
type rating struct {
	amount float64
	ac     bool
	code   unit.Code
	hint   string
}

// rating reads a cell of rated volts or watts.
func (s *specs) rating(cell string, u unit.Unit) rating {
	if got, ok := s.ratings[u][cell]; ok {
		return got
	}
	return keep(s.ratings[u], cell, readRating(cell, u, s.mark))
}

func readRating(cell string, u unit.Unit, mark money.Mark) rating {
	t := strings.TrimSpace(unguard(cell))
	if strings.Trim(t, "-–— ") == "" || plain(t) == "n a" || plain(t) == "na" {
		return rating{}
	}
	t, asks := thousandMark(t, mark)
	if asks != "" {
		return rating{code: unit.AmbiguousText, hint: asks}
	}
	v, err := readQuantity(t, u)
	switch {
	case err != nil:
		code, hint := codeOf(err, cell)
		if hint == "" {
			hint = lettersAsDigits(cell)
		}
		return rating{code: code, hint: hint}
	case v < 0:
		return rating{code: unit.Negative}
	}
	return rating{amount: v, ac: u == unit.Volt && saysAC(cell)}
}

// thousandMark takes the mark out of "1.000 V" in a list with decimal commas.
// Where the list does not say which mark is which, asks names both readings:
// a part for a thousand volts is not to pass for one of one volt.
func thousandMark(t string, mark money.Mark) (plain, asks string) {
	i := strings.IndexAny(t, ".,")
	if i < 1 || i > 3 || len(t) < i+4 || !digits(t[:i]) || t[0] == '0' || !digits(t[i+1:i+4]) || len(t) > i+4 && t[i+4] >= '0' && t[i+4] <= '9' {
		return t, ""
	}
	switch whole := t[:i] + t[i+1:]; {
	case mark == money.Either:
		return t, whole[:i+3] + " or " + t[:i+4]
	case (t[i] == '.') == (mark == money.Comma):
		return whole, ""
	}
	return t, ""
}

// first is the first of the words that is a quantity above zero, 0 if none
// is, and whether any of them says AC.
func (s *specs) first(words []string, u unit.Unit) (amount float64, ac bool) {
	for _, w := range words {
		r := s.rating(w, u)
		if amount == 0 && r.code == "" {
			amount = r.amount
		}
		ac = ac || r.ac || r.code != "" && saysAC(w)
	}
	return amount, ac
}

// tolerance reads a tolerance; Stated is false where it cannot be read.
func (s *specs) tolerance(cell string) unit.Tolerance {
	if got, ok := s.tols[cell]; ok {
		return got
	}
	t, ok := readTolerance(cell)
	if !ok {
		t = unit.Tolerance{}
	}
	return keep(s.tols, cell, t)
}

type amountRead struct {
	n     int
	known bool
}

// small reads a cell that is nothing but up to four figures.
func small(cell string) (n int, ok bool) {
	if cell == "" || len(cell) > 4 {
		return 0, false
	}
	for i := 0; i < len(cell); i++ {
		if cell[i] < '0' || cell[i] > '9' {
			return 0, false
		}
		n = 10*n + int(cell[i]-'0')
	}
	return n, true
}

// stock is readStock with a memory.
func (s *specs) stock(cell string) (pieces int, known bool) {
	if n, ok := small(cell); ok {
		return n, true
	}
	got, ok := s.stocks[cell]
	if !ok {
		got.n, got.known = readStock(cell)
		keep(s.stocks, cell, got)
	}
	return got.n, got.known
}

// lead is readLead with a memory.
func (s *specs) lead(cell string) (days int, known bool) {
	if cell == "" {
		return -1, true
	}
	if n, ok := small(cell); ok {
		return n, true
	}
	got, ok := s.leads[cell]
	if !ok {
		got.n, got.known = readLead(cell)
		keep(s.leads, cell, got)
	}
	return got.n, got.known
}

// plainPrice reads a price of figures and at most one mark with one or two
// figures behind it, which is no thousands mark to anybody. ok is false for
// all else, a price of zero and a mark that is not the list's included.
func plainPrice(t string, mark money.Mark) (money.Decimal, bool) {
	if len(t) == 0 || len(t) > 12 {
		return money.Decimal{}, false
	}
	coef, at := int64(0), -1
	for i := 0; i < len(t); i++ {
		switch c := t[i]; {
		case c >= '0' && c <= '9':
			coef = 10*coef + int64(c-'0')
		case at < 0 && i > 0 && (c == '.' && mark != money.Comma || c == ',' && mark != money.Point):
			at = i
		default:
			return money.Decimal{}, false
		}
	}
	scale := 0
	if at >= 0 {
		scale = len(t) - at - 1
	}
	if coef == 0 || at >= 0 && (scale < 1 || scale > 2) {
		return money.Decimal{}, false
	}
	d, err := money.NewDecimal(coef, scale)
	return d, err == nil
}
