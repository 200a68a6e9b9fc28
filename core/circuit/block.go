package circuit

import (
	"slices"
	"strconv"

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

func partBlank(key, says string, u unit.Unit, start string) Param {
	return Param{Key: key, Says: says, Sort: PartValue, Unit: u, Start: start}
}

func nodeBlank(key, says, start string) Param {
	return Param{Key: key, Says: says, Sort: StageNode, Start: start}
}

func refBlank(key, says, start string) Param {
	return Param{Key: key, Says: says, Sort: PartRef, Start: start}
}

func typeBlank(key, says, start string) Param {
	return Param{Key: key, Says: says, Sort: PartType, Start: start}
}

func choiceBlank(key, says string, of ...string) Param {
	return Param{Key: key, Says: says, Sort: OneWord, Start: of[0], Of: of}
}

// spread is the tolerance of a block's resistors.
func spreadBlank() Param {
	return partBlank("tolerance", "tolerance of its resistors", unit.None, "10%")
}
