package catalog

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// Sureness says in one word how a column came to its field.
type Sureness string

const (
	Said     Sureness = "as you said" // a saved mapping, or a person at this list
	Sure     Sureness = "sure"        // the heading is a known word of the trade
	Likely   Sureness = "likely"      // the heading and the cells together say so
	Guess    Sureness = "a guess"     // the cells alone look like it
	Ask      Sureness = "please say"  // two readings are both in use
	LeftOver Sureness = "not read"    // nothing says what it holds; kept with the row
)

// A Proposed is how one column is read, how surely, and why.
type Proposed struct {
	Column
	Sure  Sureness
	Why   string   // one sentence
	Could []Field  // other fields that would fit as well; the page offers them first
	Cells []string // its first cells that hold anything, at most three
}

// A proposer finds the field of each column and keeps the reason for each.
type proposer struct {
	m      Mapping
	sample [][]string
	out    []Proposed
	score  []int
}

// Propose is ProposeMapping with the reason for each column.
func Propose(headings []string, sample [][]string) (Mapping, []Proposed) {
	p := proposer{sample: sample, out: make([]Proposed, len(headings)), score: make([]int, len(headings)),
		m: Mapping{Fingerprint: Fingerprint(headings), PriceFor: 1, Columns: make([]Column, len(headings))}}
	p.byHeadings(headings)
	p.bareNumbers(headings)
	p.settle()
	p.ask()
	if i := p.m.column(FieldPrice); i >= 0 {
		p.m.PriceFor = priceFor(headings[i])
	}
	p.m.Decimal = decimalMark(columnCells(sample, p.m.column(FieldPrice)))
	for i := range p.out {
		p.out[i].Column = p.m.Columns[i]
		cells := columnCells(sample, i)
		p.out[i].Cells = cells[:min(3, len(cells))]
	}
	return p.m, p.out
}

// byHeadings gives each column the field its heading names. Of two columns
// that name the same field the better word, then the first, has it.
func (p *proposer) byHeadings(headings []string) {
	owner := map[Field]int{}
	for i, h := range headings {
		p.m.Columns[i].Heading = h
		p.leave(i, "the heading is on no list of ours")
		n := breakFrom(h)
		if n > 1 {
			p.m.Columns[i].Field, p.m.Columns[i].From = FieldBreak, n
			p.say(i, Sure, fmt.Sprintf("the heading names a price from %d pieces on", n))
			continue
		}
		f, score := headingField(h)
		if n == 1 {
			f, score = FieldPrice, 2 // the price of the first piece
		}
		if score == 0 {
			continue
		}
		first, taken := owner[f]
		switch {
		case !taken:
			p.take(i, f, score)
			owner[f] = i
		case score > p.score[first]:
			p.beaten(first, i, f)
			p.take(i, f, score)
			owner[f] = i
		default:
			p.beaten(i, first, f)
		}
	}
}

func (p *proposer) take(i int, f Field, score int) {
	p.m.Columns[i].Field, p.score[i] = f, score
	switch score {
	case 3:
		p.say(i, Sure, fmt.Sprintf("%q is a word for the %s", p.m.Columns[i].Heading, f.Says()))
	case 2:
		p.say(i, Sure, fmt.Sprintf("%q names the %s and says more about it", p.m.Columns[i].Heading, f.Says()))
	default:
		p.say(i, Likely, fmt.Sprintf("one word of %q is a word for the %s", p.m.Columns[i].Heading, f.Says()))
	}
}

// beaten leaves column i unread because column by has its field; where both
// name it as well, the page asks.
func (p *proposer) beaten(i, by int, f Field) {
	p.m.Columns[i].Field = Ignored
	p.leave(i, fmt.Sprintf("%q is read as the %s already", p.m.Columns[by].Heading, f.Says()))
	p.out[i].Could = []Field{f}
}

func (p *proposer) leave(i int, why string) { p.say(i, LeftOver, why) }

func (p *proposer) say(i int, s Sureness, why string) { p.out[i].Sure, p.out[i].Why = s, why }

// bareNumbers reads headings that are numbers alone, rising over cells that
// are prices: "1", "10", "100". One such number could be anything; two are
// prices by number of pieces.
func (p *proposer) bareNumbers(headings []string) {
	var at []int
	last := 0
	for i, h := range headings {
		n, ok := pieces(strings.TrimSpace(h))
		if !ok || n <= last || p.m.Columns[i].Field != Ignored || !numeric(columnCells(p.sample, i)) {
			continue
		}
		at, last = append(at, i), n
	}
	if len(at) < 2 {
		return
	}
	for _, i := range at {
		n, _ := pieces(strings.TrimSpace(headings[i]))
		switch {
		case n > 1:
			p.m.Columns[i].Field, p.m.Columns[i].From = FieldBreak, n
		case !p.m.Has(FieldPrice):
			p.m.Columns[i].Field = FieldPrice
		default:
			continue
		}
		p.say(i, Likely, "the headings beside it rise in pieces, and the cells are prices")
	}
}

// numeric: figures with decimal marks, currency signs around them allowed.
func numeric(cells []string) bool {
	return share(cells, func(s string) bool {
		return strings.ContainsAny(s, "0123456789") && strings.Trim(s, "0123456789.,' \u00a0€$£¥") == ""
	})
}

// ask marks the columns whose heading is used for several things, unless
// their cells settle it.
func (p *proposer) ask() {
	for i := range p.m.Columns {
		c := &p.m.Columns[i]
		could := asked[plain(c.Heading)]
		if could == nil || p.out[i].Sure == Said {
			continue
		}
		if f, why := settledBy(could, columnCells(p.sample, i)); why != "" {
			if f != c.Field && f != Ignored && p.m.Has(f) {
				p.leave(i, why+"; another column is read as the "+f.Says()+" already")
				p.out[i].Could = []Field{f}
				continue
			}
			c.Field = f
			p.say(i, Likely, why)
			continue
		}
		p.out[i].Could = could
		p.say(i, Ask, fmt.Sprintf("%q is used for more than one thing: say which", c.Heading))
	}
}

// settledBy looks at the cells of a column whose heading leaves it open.
func settledBy(could []Field, cells []string) (f Field, why string) {
	switch {
	case len(cells) == 0:
		return could[0], ""
	case could[0] == FieldStock && share(cells, saysStock):
		return FieldStock, "its cells say whether there is any"
	case could[0] == FieldStock && share(cells, func(s string) bool { return s == "0" }):
		return FieldStock, "its cells are zero"
	case could[0] == FieldStock && slices.Contains(cells, "0"):
		return FieldStock, "a pack or a minimum is never zero, and some of its cells are"
	case could[0] == FieldPack && share(cells, saysPack):
		return FieldPack, "its cells are counts of pieces"
	case could[0] == FieldPack && share(cells, func(s string) bool { return pieceWords[plain(s)] || plain(s) == "m" }):
		return Ignored, "its cells are names of units"
	case could[0] == FieldLead && share(cells, func(s string) bool { _, ok := readLead(s); return ok && !strings.ContainsAny(s, ".,€$£") }):
		return FieldLead, "its cells are days or weeks"
	case could[0] == FieldLead && priced(cells):
		return Ignored, "its cells are amounts: a charge for carriage"
	case could[0] == FieldVolts && share(cells, func(s string) bool { return strings.HasSuffix(strings.ToLower(s), "w") }):
		return FieldWatts, "its cells are watts"
	case could[0] == FieldVolts && share(cells, func(s string) bool { return strings.HasSuffix(strings.ToLower(s), "v") }):
		return FieldVolts, "its cells are volts"
	case could[0] == FieldNumber && share(cells, func(s string) bool { return tubeType(s, true) != "" }):
		return FieldValue, "its cells are types of tubes"
	case could[0] == FieldNumber && coded(cells):
		return FieldNumber, "its cells are codes, no two alike"
	case could[0] == FieldNumber && worded(cells):
		return FieldText, "its cells are words"
	}
	return could[0], ""
}

func saysStock(s string) bool {
	p := plain(s)
	return inStock[p] || outStock[p] || strings.HasPrefix(s, ">") || strings.HasSuffix(s, "+")
}

// saysPack: a count with a word for the pack around it, "pack of 10".
func saysPack(s string) bool {
	_, ok := readCount(s)
	return ok && strings.ContainsAny(s, "0123456789") && strings.ContainsFunc(s, unicode.IsLetter)
}

// settle uses the sample cells where headings left a question.
func (p *proposer) settle() {
	if len(p.sample) == 0 {
		return
	}
	number, text := p.m.column(FieldNumber), p.m.column(FieldText)
	switch {
	case text >= 0 && number < 0 && coded(columnCells(p.sample, text)):
		// "Artikel" over codes.
		p.turn(text, FieldNumber, "its cells are codes, no two alike")
	case number >= 0 && text < 0 && worded(columnCells(p.sample, number)):
		// "Artikel" over descriptions.
		p.turn(number, FieldText, "its cells are words")
	}
	for _, c := range []struct {
		f    Field
		fits func([]string) bool
		why  string
	}{
		{FieldPrice, priced, "its cells look like prices, and no heading names one"},
		{FieldText, worded, "its cells are words, and no heading names a description"},
		{FieldNumber, coded, "its cells are codes, no two alike, and no heading names a part number"},
	} {
		if !p.m.Has(c.f) {
			p.claim(c.f, c.fits, c.why)
		}
	}
}

func (p *proposer) turn(i int, f Field, why string) {
	p.out[i].Could = append(p.out[i].Could, p.m.Columns[i].Field)
	p.m.Columns[i].Field = f
	p.say(i, Likely, why)
}

// claim gives f to the only unread column whose cells fit; with two such
// columns it stays open, and each says so.
func (p *proposer) claim(f Field, fits func([]string) bool, why string) {
	var found []int
	for i, c := range p.m.Columns {
		if c.Field == Ignored && fits(columnCells(p.sample, i)) {
			found = append(found, i)
		}
	}
	if len(found) == 1 {
		p.m.Columns[found[0]].Field = f
		p.say(found[0], Guess, why)
		return
	}
	for _, i := range found {
		p.say(i, Ask, fmt.Sprintf("this and another column could be the %s", f.Says()))
		p.out[i].Could = append(p.out[i].Could, f)
	}
}

// Says names a field as a page does.
func (f Field) Says() string {
	switch f {
	case FieldNumber:
		return "part number"
	case FieldBreak:
		return "price from a number of pieces on"
	case FieldBreaks:
		return "prices by number of pieces, in text"
	case FieldPer:
		return "number of pieces the price is for"
	case FieldMinimum:
		return "fewest pieces"
	case FieldLead:
		return "days to arrival"
	case FieldPack:
		return "pieces in a pack"
	case FieldDate:
		return "date of the price"
	case Ignored:
		return "column that is not read"
	}
	return strings.TrimSpace(string(f))
}
