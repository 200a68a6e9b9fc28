package circuit

import (
	"slices"
	"strconv"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// A Block is a stage that expands into rows of a circuit sheet, so that
// nobody types a whole amp. Blocks join where they name the same node.
type Block struct {
	Name   string
	Says   string // one line for a form
	Params []Param

	lets []blockLet
	rows []blockRow
}

// A Param is one blank of a block's form.
type Param struct {
	Key   string
	Says  string
	Sort  ParamSort
	Unit  unit.Unit // of a Part; None where it is written out of units
	Start string    // the block's own starting value, "" = must be given; # stands for the prefix
	Of    []string  // what a OneWord may be
}

// ParamSort says what a blank holds.
type ParamSort uint8

// What a blank may hold. A Part is a value as marked on it, rating and
// tolerance behind it if known: "22uF 500V". A Stage node is one that other
// blocks name too.
const (
	PartValue ParamSort = iota + 1
	StageNode
	PartRef
	PartType
	OneWord
)

// Own is how a form names the value that stands in for one not given, and
// what the row's note then says.
const Own = "the block's own starting value"

// A Use is one block put into an amp.
type Use struct {
	Block  string
	Prefix string            // goes into references and the block's own nodes: prefix 3 makes R301, P3
	Given  map[string]string // by key of a parameter
}

// blockLet gives a name to a node that depends on a choice.
type blockLet struct{ when, key, text string }

// blockRow is one row of a block: {key} is a parameter or a let, # the
// prefix. The row stands where its condition "key=choice" holds, or always.
type blockRow struct{ when, ref, kind, typ, value, tol, nodes, extra string }

// Blocks lists every block, supplies first.
func Blocks() []Block {
	return slices.Concat(powerBlocks(), biasBlocks(), outputBlocks(), smallBlocks())
}

// BlockNamed returns the block of that name.
func BlockNamed(name string) (Block, bool) {
	for _, b := range Blocks() {
		if b.Name == name {
			return b, true
		}
	}
	return Block{}, false
}

// Expand makes the rows of one block. A parameter that is not given takes
// the block's own starting value, and the rows it goes into say so in their
// note. The rows are what amp.ReadSheet reads of them, so writing and reading
// them again changes nothing. Problems name the parameter as their column.
func (b Block) Expand(prefix string, given map[string]string) ([]amp.Position, []unit.Problem) {
	text, problems := b.settle(prefix, given)
	if len(problems) > 0 {
		return nil, problems
	}
	positions, problems := amp.ReadSheet(b.Name, amp.WriteSheet(b.fill(prefix, given, text)))
	for i := range problems {
		b.locate(&problems[i], given)
	}
	return positions, problems
}

// settle gives every parameter and let its text.
func (b Block) settle(prefix string, given map[string]string) (map[string]string, []unit.Problem) {
	var problems []unit.Problem
	if strings.ContainsAny(prefix, " \t:=#") {
		problems = append(problems, b.problem("prefix", prefix, unit.ExtraText, ""))
	}
	text := map[string]string{}
	for _, p := range b.Params {
		text[p.Key] = strings.TrimSpace(given[p.Key])
		if text[p.Key] == "" {
			text[p.Key] = strings.ReplaceAll(p.Start, "#", prefix)
		}
		if code, hint := p.wrong(text[p.Key]); code != "" {
			problems = append(problems, b.problem(p.Key, text[p.Key], code, hint))
		}
	}
	for _, key := range sortedKeys(given) {
		if _, known := text[key]; !known {
			problems = append(problems, b.problem(key, given[key], unit.UnknownWord, ""))
		}
	}
	for _, l := range b.lets {
		if holds(l.when, text) {
			text[l.key] = put(l.text, prefix, text)
		}
	}
	return text, problems
}

// wrong says what is wrong with a blank as filled in, "" if nothing is.
func (p Param) wrong(text string) (code unit.Code, hint string) {
	switch {
	case text == "":
		return unit.Missing, ""
	case p.Sort == OneWord && !slices.Contains(p.Of, text):
		return unit.UnknownWord, strings.Join(p.Of, " or ")
	case (p.Sort == StageNode || p.Sort == PartRef) && strings.ContainsAny(text, " \t=:{}"):
		return unit.ExtraText, ""
	case strings.ContainsAny(text, "{}\r\n"):
		return unit.ExtraText, ""
	}
	return "", ""
}

func (b Block) problem(key, cell string, code unit.Code, hint string) unit.Problem {
	return unit.Problem{File: b.Name, Column: key, Cell: cell, Code: code, Hint: hint}
}

// fill writes the rows whose condition holds.
func (b Block) fill(prefix string, given, text map[string]string) []amp.Position {
	var out []amp.Position
	for _, r := range b.rows {
		if !holds(r.when, text) {
			continue
		}
		p := amp.Position{
			Ref: put(r.ref, prefix, text), Kind: put(r.kind, prefix, text), Type: put(r.typ, prefix, text),
			Tolerance: put(r.tol, prefix, text),
		}
		mark(&p, put(r.value, prefix, text))
		for _, pair := range strings.Fields(put(r.nodes, prefix, text)) {
			lead, name, _ := strings.Cut(pair, "=")
			p.Nodes = append(p.Nodes, amp.Node{Role: lead, Name: name})
		}
		for _, pair := range strings.Fields(put(r.extra, prefix, text)) {
			key, value, _ := strings.Cut(pair, "=")
			if p.Extra == nil {
				p.Extra = map[string]string{}
			}
			p.Extra[key] = value
		}
		p.Role = amp.Role(strings.ReplaceAll(p.Extra["role"], "-", " "))
		delete(p.Extra, "role")
		if p.Kind == "rectifier" && p.Role == "" {
			p.Role = amp.RectifierTube
		}
		if b.owned(r, given) {
			p.Note = Own
		}
		out = append(out, p)
	}
	return out
}

// mark parts a marking, "22uF 500V 10%", into the columns of a sheet. A
// tolerance that it brings along takes the place of the block's.
func mark(p *amp.Position, marking string) {
	words := strings.Fields(marking)
	for len(words) > 1 {
		last := words[len(words)-1]
		end := last[len(last)-1]
		switch {
		case !strings.ContainsAny(last[:1], "0123456789.±"):
			p.Value = strings.Join(words, " ")
			return
		case end == '%':
			p.Tolerance = last
		case end == 'V' || end == 'W':
			p.Rating = last
		default:
			p.Value = strings.Join(words, " ")
			return
		}
		words = words[:len(words)-1]
	}
	p.Value = strings.Join(words, " ")
}

// owned reports whether a figure of the row is the block's own.
func (b Block) owned(r blockRow, given map[string]string) bool {
	for _, p := range b.Params {
		if p.Sort == PartValue && given[p.Key] == "" && strings.Contains(r.value+r.extra, "{"+p.Key+"}") {
			return true
		}
	}
	return false
}

// locate names the parameter a problem of a row comes from.
func (b Block) locate(p *unit.Problem, given map[string]string) {
	p.Line = 0
	for _, q := range b.Params {
		if v := given[q.Key]; v != "" && strings.Contains(p.Cell, v) {
			p.Column = q.Key
			return
		}
	}
}

// holds reports whether "key=choice" is so; conditions parted by "&" must
// all be.
func holds(when string, text map[string]string) bool {
	if when == "" {
		return true
	}
	for _, c := range strings.Split(when, "&") {
		key, choice, _ := strings.Cut(c, "=")
		if text[key] != choice {
			return false
		}
	}
	return true
}

// put fills a pattern in one pass: a value is never looked into again.
func put(pattern, prefix string, text map[string]string) string {
	var b strings.Builder
	for pattern != "" {
		i := strings.IndexAny(pattern, "{#")
		if i < 0 {
			return b.String() + pattern
		}
		b.WriteString(pattern[:i])
		if pattern[i] == '#' {
			b.WriteString(prefix)
			pattern = pattern[i+1:]
			continue
		}
		key, rest, _ := strings.Cut(pattern[i+1:], "}")
		b.WriteString(text[key])
		pattern = rest
	}
	return b.String()
}

func sortedKeys(m map[string]string) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// Assemble expands blocks into one sheet, in order. Problems of every block
// are returned; a reference that two blocks make is one, with a prefix that
// is free as hint.
func Assemble(uses []Use) ([]amp.Position, []unit.Problem) {
	var sheet []amp.Position
	var problems []unit.Problem
	seen := map[string]bool{}
	for _, u := range uses {
		b, ok := BlockNamed(u.Block)
		if !ok {
			problems = append(problems, unit.Problem{Column: "block", Cell: u.Block, Code: unit.UnknownWord})
			continue
		}
		rows, bad := b.Expand(u.Prefix, u.Given)
		problems = append(problems, bad...)
		for _, p := range rows {
			if seen[p.Ref] {
				problems = append(problems, unit.Problem{File: u.Block, Column: "prefix", Cell: p.Ref, Code: unit.Duplicate, Hint: "prefix " + freePrefix(uses)})
			}
			seen[p.Ref] = true
		}
		sheet = append(sheet, rows...)
	}
	return sheet, problems
}

// freePrefix is the least number that no block uses.
func freePrefix(uses []Use) string {
	for n := 1; ; n++ {
		s := strconv.Itoa(n)
		if !slices.ContainsFunc(uses, func(u Use) bool { return u.Prefix == s }) {
			return s
		}
	}
}

// Shorthand for the tables of blocks.

func part(key, says string, u unit.Unit, start string) Param {
	return Param{Key: key, Says: says, Sort: PartValue, Unit: u, Start: start}
}

func node(key, says, start string) Param {
	return Param{Key: key, Says: says, Sort: StageNode, Start: start}
}

func ref(key, says, start string) Param {
	return Param{Key: key, Says: says, Sort: PartRef, Start: start}
}

func typed(key, says, start string) Param {
	return Param{Key: key, Says: says, Sort: PartType, Start: start}
}

func choice(key, says string, of ...string) Param {
	return Param{Key: key, Says: says, Sort: OneWord, Start: of[0], Of: of}
}

// spread is the tolerance of a block's resistors.
func spread() Param { return part("tolerance", "tolerance of its resistors", unit.None, "10%") }
