package tube

import (
	"strings"

	"lugworth/core/limit"
	"lugworth/core/unit"
)

// ReadCards reads a card file: columns type, aliases, kind, quantity, value,
// unit, system, source, mark, parted by commas or semicolons; one row a
// value. aliases and kind may stand in any row of a type and need stand in
// one only. name stands in the problems.
//
// A row with a problem is set aside whole and every problem is returned, so
// rows in the cards + rows with problems = rows in the file. A quantity the
// program does not judge by is kept in Values.
func ReadCards(name string, data []byte) ([]Card, []unit.Problem) {
	rows, problems := split(name, data)
	cards, more := FromRows(name, rows)
	return cards, append(problems, more...)
}

// FromRows makes cards of rows, as ReadCards does; the page uses it for rows
// typed there. Cards come in the order their types are first met.
func FromRows(name string, rows []Row) ([]Card, []unit.Problem) {
	b := builder{file: name, at: map[string]int{}, owner: map[string]string{}, facts: map[string]Row{}}
	for _, r := range rows {
		b.add(r)
	}
	return b.cards, b.problems
}

// builder gathers cards row by row.
type builder struct {
	file     string
	cards    []Card
	at       map[string]int    // type key -> place in cards
	owner    map[string]string // type or alias key -> type that has it
	facts    map[string]Row    // type key + fact -> row that stated it first
	problems []unit.Problem
}

// cell is one row being read, with its problems so far.
type cell struct {
	row      Row
	file     string
	problems []unit.Problem
}

func (c *cell) bad(column, text string, code unit.Code, hint string) {
	c.problems = append(c.problems, unit.Problem{File: c.file, Line: c.row.Line, Column: column, Cell: text, Code: code, Hint: hint})
}

// add reads a row into its card, or sets it aside with its problems.
func (b *builder) add(r Row) {
	c := &cell{row: r, file: b.file}
	v := c.value()
	aliases := names(r.Aliases)
	b.checkNames(c, aliases)
	b.checkFacts(c)
	into := c.place(v)
	if len(c.problems) > 0 {
		b.problems = append(b.problems, c.problems...)
		return
	}
	card := b.card(r)
	b.note(card, r, aliases)
	into(card)
	card.Rows = append(card.Rows, r)
}

// value reads the cells every row has.
func (c *cell) value() Value {
	r := c.row
	for _, must := range []struct{ column, text string }{{"type", r.Type}, {"quantity", r.Quantity}, {"value", r.Value}} {
		if must.text == "" {
			c.bad(must.column, "", unit.Missing, "")
		}
	}
	system, err := limit.ParseSystem(r.System)
	if err != nil {
		c.bad("system", r.System, unit.UnknownWord, "design center, design maximum, absolute maximum, marked or nothing")
	}
	mark, err := limit.ParseMark(r.Mark)
	if err != nil {
		c.bad("mark", r.Mark, unit.UnknownWord, "seen, second-hand, user, memory or nothing")
	}
	if mark != limit.Memory && r.Source == "" {
		c.bad("source", "", unit.Missing, "name the sheet the value stands in")
	}
	return Value{Quantity: r.Quantity, Text: r.Value, UnitText: r.Unit, System: system, Source: r.Source, Mark: mark, Line: r.Line}
}

// checkNames tells of an alias another type already has.
func (b *builder) checkNames(c *cell, aliases []string) {
	if has, ok := b.owner[Key(c.row.Type)]; ok && Key(has) != Key(c.row.Type) {
		c.bad("type", c.row.Type, unit.Duplicate, "already another name of "+has)
	}
	for _, a := range aliases {
		if has, ok := b.owner[Key(a)]; ok && Key(has) != Key(c.row.Type) {
			c.bad("aliases", a, unit.Duplicate, "already a name of "+has)
		}
	}
}

// checkFacts tells of a kind or an alias list that differs from an earlier
// row's of the same type, and of a kind that is none.
func (b *builder) checkFacts(c *cell) {
	r := c.row
	if r.Kind != "" && !oneOf(r.Kind, Triode, Pentode, Beam, Rectifier, Diode) {
		c.bad("kind", r.Kind, unit.UnknownWord, "triode, pentode, beam, rectifier or diode")
	}
	for _, f := range []struct{ column, text string }{{"kind", r.Kind}, {"aliases", r.Aliases}} {
		first, stated := b.facts[Key(r.Type)+"\x00"+f.column]
		if before := first.fact(f.column); stated && f.text != "" && !strings.EqualFold(before, f.text) {
			c.bad(f.column, f.text, unit.Duplicate, before)
		}
	}
}

func (r Row) fact(column string) string {
	if column == "kind" {
		return r.Kind
	}
	return r.Aliases
}

// card returns the card a row belongs to, made if it is the first.
func (b *builder) card(r Row) *Card {
	key := Key(r.Type)
	i, ok := b.at[key]
	if !ok {
		i = len(b.cards)
		b.at[key] = i
		b.owner[key] = r.Type
		b.cards = append(b.cards, Card{Type: r.Type, File: b.file})
	}
	return &b.cards[i]
}

// note keeps what a row says of the type itself.
func (b *builder) note(card *Card, r Row, aliases []string) {
	key := Key(r.Type)
	if r.Kind != "" && card.Kind == "" {
		card.Kind = strings.ToLower(r.Kind)
		b.facts[key+"\x00kind"] = r
	}
	if len(aliases) > 0 && len(card.Aliases) == 0 {
		card.Aliases = aliases
		b.facts[key+"\x00aliases"] = r
		for _, a := range aliases {
			b.owner[Key(a)] = card.Type
		}
	}
}

// names splits an alias cell: "ECC83 7025", "ECC83/7025".
func names(cell string) []string {
	return strings.FieldsFunc(cell, func(r rune) bool { return strings.ContainsRune(" \t,;/|", r) })
}

func oneOf(text string, words ...string) bool {
	for _, w := range words {
		if strings.EqualFold(text, w) {
			return true
		}
	}
	return false
}
