package catalog

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/core/money"
	"lugworth/core/sorted"
	"lugworth/core/unit"
)

// Aspect is one thing about an offer that can change between two lists.
type Aspect uint16

const (
	PriceUp    Aspect = 1 << iota // the first price
	PriceDown                     //
	PriceGone                     // it had a price
	PriceCame                     // it had none
	BreaksMove                    // any further price, or from where it holds
	PackMove                      // pieces sold together, or the fewest packs
	StockMove                     // another count, or another word
	StockOut                      // none are left
	StockBack                     // there are some again
	LeadMove                      // days to arrival
	PartMove                      // the row reads as another part: kind, value, volts, watts, tolerance, tube
	TextMove                      // other words for the same part
	Recurrency                    // another currency: its prices are not compared
)

// A Change is one part number in two lists of one supplier.
type Change struct {
	Number string
	Was    *Offer // nil: the old list did not have it
	Is     *Offer // nil: the new list does not have it
	What   Aspect
	By     money.Decimal // price now less price before, a piece, in the list's currency; zero if either has none
	Aside  int           // line on which the other list has the number in a row set aside; 0 if none
}

// A Twice is a part number that stands in more than one row of a list. The
// first row is the one compared, as it is the one ordered from.
type Twice struct {
	Number   string
	Was, Are int // rows of the old and of the new list
}

// A ListChange is what a new list of a supplier changes.
// Same + len(Changed) + len(Added) = different numbers in the new list, and
// Same + len(Changed) + len(Gone) = different numbers in the old.
type ListChange struct {
	List                 string
	WasFile, IsFile      string
	Changed, Added, Gone []Change // each by part number
	Same                 int
	Twice                []Twice
	Unnumbered           [2]int // rows without a part number, old and new: not compared
	WasRows, AreRows     int    // rows read
}

// Count is how many part numbers changed in any of these aspects.
func (c ListChange) Count(a Aspect) int {
	n := 0
	for i := range c.Changed {
		if c.Changed[i].What&a != 0 {
			n++
		}
	}
	return n
}

// Empty reports that the lists say the same.
func (c ListChange) Empty() bool { return len(c.Changed)+len(c.Added)+len(c.Gone) == 0 }

// Diff compares two lists of one supplier by part number, letter for letter.
// Price for price means the price a piece, so a list that now prices per 100
// is compared rightly. Rows set aside in the other list are told from rows
// that are not there. The offers pointed to are those of was and is.
func Diff(was, is List) ListChange {
	d := StartDiff(was, is)
	for d.Step(1 << 20) {
	}
	return d.Change()
}

// A Differ is Diff in pieces, so that the caller can do other things between
// them.
type Differ struct {
	was, is           List
	change            ListChange
	before, after     numbered
	asideWas, asideIs map[string]int
	stage, at         int
	sorts             [3]sorting[Change]
}

// StartDiff begins a Diff.
func StartDiff(was, is List) *Differ {
	return &Differ{was: was, is: is, before: newNumbered(&was), after: newNumbered(&is), asideWas: was.asideNumbers(), asideIs: is.asideNumbers(),
		change: ListChange{List: is.Name, WasFile: was.File, IsFile: is.File, WasRows: len(was.Offers), AreRows: len(is.Offers)}}
}

// Step takes about so many rows further; false when the lists are compared.
func (d *Differ) Step(rows int) bool {
	last := len(d.stages()) - 1
	if d.stage > last {
		return false
	}
	if !d.stages()[d.stage](rows) {
		d.stage, d.at = d.stage+1, 0
	}
	return d.stage <= last
}

// Change is what changed, once Step says that the lists are compared.
func (d *Differ) Change() ListChange { return d.change }

// stages are what is done one after the other; each tells whether it has more
// to do.
func (d *Differ) stages() [5]func(int) bool {
	return [5]func(int) bool{
		func(n int) bool { return d.before.add(d.was.Offers, n) },
		func(n int) bool { return d.after.add(d.is.Offers, n) },
		d.compare, d.added, d.sort,
	}
}

func (d *Differ) compare(rows int) bool {
	c := &d.change
	end := min(d.at+rows, len(d.before.order))
	for ; d.at < end; d.at++ {
		n := d.before.order[d.at]
		o := d.before.first[n]
		if now, ok := d.after.first[n]; !ok {
			c.Gone = append(c.Gone, Change{Number: n, Was: o, Aside: d.asideIs[n]})
		} else if two := compareTwo(o, now); two.What != 0 {
			c.Changed = append(c.Changed, two)
		} else {
			c.Same++
		}
		c.twice(n, d.before.rows[n], d.after.rows[n])
	}
	return end < len(d.before.order)
}

func (d *Differ) added(rows int) bool {
	c := &d.change
	end := min(d.at+rows, len(d.after.order))
	for ; d.at < end; d.at++ {
		if n := d.after.order[d.at]; d.before.first[n] == nil {
			c.Added = append(c.Added, Change{Number: n, Is: d.after.first[n], Aside: d.asideWas[n]})
			c.twice(n, 0, d.after.rows[n])
		}
	}
	return end < len(d.after.order)
}

// sort puts all by part number.
func (d *Differ) sort(rows int) bool {
	c := &d.change
	for i, all := range []*[]Change{&c.Changed, &c.Added, &c.Gone} {
		s := &d.sorts[i]
		if s.over {
			continue
		}
		s.start(*all, func(a, b Change) int { return strings.Compare(a.Number, b.Number) })
		if !s.step(rows) {
			*all = s.entries
		}
		return true
	}
	sorted.By(c.Twice, func(a, b Twice) int { return strings.Compare(a.Number, b.Number) })
	c.Unnumbered = [2]int{d.before.without, d.after.without}
	return false
}

func (c *ListChange) twice(number string, was, are int) {
	if max(was, 1)+max(are, 1) > 2 {
		c.Twice = append(c.Twice, Twice{number, max(was, 1), max(are, 1)})
	}
}

// numbered is a list by part number.
type numbered struct {
	first   map[string]*Offer
	rows    map[string]int // of numbers that stand twice
	order   []string
	without int
	at      int
}

func newNumbered(l *List) numbered {
	return numbered{first: make(map[string]*Offer, len(l.Offers)), rows: map[string]int{}, order: make([]string, 0, len(l.Offers))}
}

// add takes in so many more offers; false when all are in.
func (n *numbered) add(offers []Offer, rows int) bool {
	end := min(n.at+rows, len(offers))
	for ; n.at < end; n.at++ {
		o := &offers[n.at]
		switch {
		case o.Number == "":
			n.without++
		case n.first[o.Number] == nil:
			n.first[o.Number] = o
			n.order = append(n.order, o.Number)
		default:
			n.rows[o.Number] = max(n.rows[o.Number], 1) + 1
		}
	}
	return end < len(offers)
}

// asideNumbers are the lines of the rows set aside, by their part number.
func (l List) asideNumbers() map[string]int {
	m := map[string]int{}
	at := l.Mapping.column(FieldNumber)
	for _, r := range l.AsideRows {
		if at >= 0 && at < len(r.Cells) {
			if n := clean(r.Cells[at].Text); n != "" && m[n] == 0 {
				m[n] = r.Line
			}
		}
	}
	return m
}

func compareTwo(was, is *Offer) Change {
	c := Change{Number: is.Number, Was: was, Is: is}
	c.price()
	if was.Pack != is.Pack || was.MinPacks != is.MinPacks {
		c.What |= PackMove
	}
	c.stock()
	if was.LeadDays != is.LeadDays {
		c.What |= LeadMove
	}
	if !samePart(&was.Part, &is.Part) {
		c.What |= PartMove
	} else if was.Text != is.Text {
		c.What |= TextMove
	}
	return c
}

func (c *Change) price() {
	was, is := c.Was, c.Is
	if was.Currency != is.Currency {
		c.What |= Recurrency
		return
	}
	switch {
	case was.Priced && !is.Priced:
		c.What |= PriceGone
	case !was.Priced && is.Priced:
		c.What |= PriceCame
	case was.Priced && is.Price.Cmp(was.Price) > 0:
		c.What |= PriceUp
	case was.Priced && is.Price.Cmp(was.Price) < 0:
		c.What |= PriceDown
	}
	if c.What&(PriceUp|PriceDown) != 0 {
		c.By, _ = is.Price.Sub(was.Price) // prices of one list: far from overflow; zero if not
	}
	if !slices.EqualFunc(was.Breaks, is.Breaks, func(a, b Break) bool { return a.Pieces == b.Pieces && a.Price.Cmp(b.Price) == 0 }) {
		c.What |= BreaksMove
	}
}

func (c *Change) stock() {
	was, is := c.Was.StockPacks*c.Was.Pack, c.Is.StockPacks*c.Is.Pack
	if c.Was.StockPacks < 0 {
		was = -1
	}
	if c.Is.StockPacks < 0 {
		is = -1
	}
	switch {
	case was == is && (was >= 0 || plain(c.Was.StockSays) == plain(c.Is.StockSays)):
	case is == 0:
		c.What |= StockMove | StockOut
	case was == 0:
		c.What |= StockMove | StockBack
	default:
		c.What |= StockMove
	}
}

func samePart(a, b *Part) bool {
	return a.Kind == b.Kind && a.Tube == b.Tube && a.Count == b.Count && a.Form == b.Form && a.Class == b.Class &&
		a.Dielectric == b.Dielectric && a.Spec.Canonical() == b.Spec.Canonical()
}

// Says lists what changed, a phrase each, as a page prints it.
func (c Change) Says() []string {
	switch {
	case c.Was == nil && c.Aside > 0:
		return []string{fmt.Sprintf("new; line %d of the old list has it in a row set aside", c.Aside)}
	case c.Was == nil:
		return []string{"new"}
	case c.Is == nil && c.Aside > 0:
		return []string{fmt.Sprintf("set aside: see line %d", c.Aside)}
	case c.Is == nil:
		return []string{"no longer in the list"}
	}
	var out []string
	for _, s := range []struct {
		a   Aspect
		say func() string
	}{
		{Recurrency, func() string {
			return "priced in " + c.Is.Currency + ", before in " + c.Was.Currency + ": not compared"
		}},
		{PriceUp | PriceDown, c.saysPrice},
		{PriceGone, func() string { return "no price any more, before " + c.Was.Price.String() }},
		{PriceCame, func() string { return "priced now: " + c.Is.Price.String() }},
		{BreaksMove, func() string { return "prices from a number on: " + breaksSay(c.Was) + " → " + breaksSay(c.Is) }},
		{PackMove, c.saysPack},
		{StockOut, func() string { return "out of stock" }},
		{StockBack, func() string { return "in stock again: " + stockSay(c.Is) }},
		{StockMove, func() string { return "stock " + stockSay(c.Was) + " → " + stockSay(c.Is) }},
		{LeadMove, func() string { return "days to arrival " + daysSay(c.Was.LeadDays) + " → " + daysSay(c.Is.LeadDays) }},
		{PartMove, func() string { return "reads as another part: " + partSay(&c.Was.Part) + " → " + partSay(&c.Is.Part) }},
		{TextMove, func() string { return "described otherwise: " + c.Was.Text + " → " + c.Is.Text }},
	} {
		if c.What&s.a != 0 && !(s.a == StockMove && c.What&(StockOut|StockBack) != 0) {
			out = append(out, s.say())
		}
	}
	return out
}

func (c Change) saysPrice() string {
	sign := ""
	if c.By.Sign() > 0 {
		sign = "+"
	}
	return fmt.Sprintf("price %s → %s (%s%s, %+.1f %%)", c.Was.Price, c.Is.Price, sign, c.By, 100*c.By.Float()/c.Was.Price.Float())
}

func (c Change) saysPack() string {
	say := func(o *Offer) string {
		s := fmt.Sprintf("%d in a pack", o.Pack)
		if o.MinPacks > 1 {
			s += fmt.Sprintf(", at least %d packs", o.MinPacks)
		}
		return s
	}
	return say(c.Was) + " → " + say(c.Is)
}

func breaksSay(o *Offer) string {
	if len(o.Breaks) == 0 {
		return "none"
	}
	s := make([]string, len(o.Breaks))
	for i, b := range o.Breaks {
		s[i] = fmt.Sprintf("%s from %d", b.Price, b.Pieces)
	}
	return strings.Join(s, ", ")
}

func stockSay(o *Offer) string {
	switch {
	case o.StockPacks >= 0:
		return fmt.Sprint(o.StockPacks * o.Pack)
	case o.StockSays != "":
		return o.StockSays
	}
	return "not stated"
}

func daysSay(n int) string {
	if n < 0 {
		return "not stated"
	}
	return fmt.Sprint(n)
}

func partSay(p *Part) string {
	s := p.Kind.String()
	if p.Tube != "" {
		s += " " + p.Tube
		if p.Count > 1 {
			s += fmt.Sprintf(" × %d", p.Count)
		}
	}
	for _, more := range []string{p.Spec.Canonical(), p.Form.String(), p.Dielectric, p.Class} {
		if more != "" {
			s += " " + more
		}
	}
	return s
}

// Problems are what a reader of the change should know of the comparison
// itself: numbers that stand twice, rows without one.
func (c ListChange) Problems() []unit.Problem {
	var out []unit.Problem
	for _, t := range c.Twice {
		out = append(out, unit.Problem{File: c.IsFile, Cell: t.Number, Code: unit.Duplicate,
			Say: fmt.Sprintf("%q stands in %d rows of the old list and %d of the new: the first of each are compared", t.Number, t.Was, t.Are)})
	}
	if n := c.Unnumbered; n != [2]int{} {
		out = append(out, unit.Problem{File: c.IsFile, Code: unit.Missing,
			Say: fmt.Sprintf("%d rows of the old list and %d of the new have no part number and are not compared", n[0], n[1])})
	}
	return out
}
