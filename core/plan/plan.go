// Package plan turns findings into parts: what each place needs, which offers
// of the user's price lists could serve, what the ratings say of each, and
// which one the plan line names.
//
//	A2, option T2b, 3 × electrolytic 22 µF → 500 V axial within, 450 V below reserve
//	A3, option T3/film, 4 × film .022      → 630 V within, 400 V never offered: 445.2 > 400
package plan

import (
	"lugworth/core/catalog"
	"lugworth/core/money"
	"lugworth/core/rating"
	"lugworth/core/shop"
	"lugworth/core/unit"
)

// An Option is one way to do a finding's task.
type Option struct {
	ID, Finding, Task, Say string
	Low, Mode, High        money.Decimal // hours
	SetUps                 []string
	Parts                  []Part
	Tap                    string // mains tap it moves the amp to
	Look                   shop.Look
	Matter                 shop.Matter
	Undo                   shop.Undo
	Disclosure             string // one sentence for the hand-back report
	Consequence            string // what choosing it means, in plain words
	Value                  int    // the technician's weight
	Both                   bool   // may stand beside its siblings
	Needs                  []string
	Other                  []Subcontract
	In                     []string // access states in which it can be done, any of them
	After                  []string // options or tasks that must be done before
	Wait                   int      // minutes of drying or settling behind it
	Chance                 int      // percent that it has to be done; 0 = it is not an "if found" item
	Record                 string
}

// A Subcontract is work sent out.
type Subcontract struct {
	Say             string
	Price, Carriage money.Decimal
	Days            int // −1 not stated
}

// A Part is what an option fits: so many pieces, into those positions.
type Part struct {
	Qty    int
	Is     string       // as written: "electrolytic 22uF"
	Want   catalog.Want // what to look for, from Is
	For    []string     // positions; empty where nothing is rated
	List   string       // the offer the technician named, if any
	Number string
	Made   Made // how several alike make up one place; zero is one piece
	Across int  // balancing resistors: the part they stand across, counted from 1; 0 for others

	body    *Part // the part a balancing resistor stands across, by Join
	balance *Part // the balancing resistors of a part, by Join
}

// A Cost is what one piece costs the shop, and what the owner pays for it.
type Cost struct {
	Landed  money.Decimal
	Selling money.Amount
	Err     error
}

// A Candidate is one offer weighed for one part of one option.
type Candidate struct {
	Offer   *catalog.Offer
	Named   bool // the technician named it
	Cost    Cost
	Kind    rating.Verdict    // least favorable of its own ratings
	Judged  bool              // false where nothing about it is rated
	Refused string            // why it is never offered, besides a verdict
	Rows    []rating.Judgment // one for each position and quantity
	Made    Made              // how several of it stand in one place
	Value   unit.Interval     // of a whole place made of several, by tolerance
	Rest    []rating.Judgment // of Rows: what each other piece then bears; without a figure where there is none
	class   int
}

// Offered reports whether the candidate may be put to the owner at all: a
// part over its own rating never is.
func (c Candidate) Offered() bool {
	return c.Refused == "" && !(c.Judged && c.Kind.Over())
}

// Unrated reports whether the part a line takes bears something and no rating
// of it was judged: its need names no place, or none the amp has. That is too
// little data, never approval. Cords, jacks and tubes bear nothing that is
// printed on them.
func (l Line) Unrated() bool {
	if l.Chosen == nil || l.Chosen.Judged {
		return false
	}
	k := l.Chosen.Offer.Part.Kind
	return k.IsCapacitor() || k.IsResistor() || k == catalog.Fuse
}

// Decides returns the judgment that decides, if anything is rated.
func (c Candidate) Decides() (rating.Judgment, bool) {
	var worst rating.Judgment
	found := false
	for _, r := range c.Rows {
		if !found || rating.Less(r.Kind, worst.Kind) || r.Kind == worst.Kind && tighter(r, worst) {
			worst, found = r, true
		}
	}
	return worst, found
}

func tighter(a, b rating.Judgment) bool {
	ma, oka := a.Margin()
	mb, okb := b.Margin()
	return oka && (!okb || ma < mb)
}

// A Line is the part of one option as planned: the offer it names and what it
// comes to.
type Line struct {
	Option, Finding string
	Part            int // index among the option's parts
	Qty             int
	Chosen          *Candidate // nil where no offer passes
	Problem         string     // why the line cannot be ordered as it stands
	NeedsReason     bool       // below reserve and no reason recorded

	part   *Part
	scales *Scales
}
