// Package report puts results into the words and pages that an owner reads.
// It does no arithmetic of its own: every figure arrives as text.
//
//	Estimate{...}.HTML()    → one self-contained page that prints
//	Estimate{...}.Article() → the same paper, to stand in another page
package report

// A Line is one printed line of a bill.
type Line struct {
	Say, Count, Each, Amount string
	State                    string // new, used, reconditioned, exchange
}

// A Group is one finding with the work agreed for it.
type Group struct {
	ID, Pile, Seen, Basis string
	Work                  string
	Look, Undo            string
	Disclosure            string
	No                    string
	Sum                   string // of Lines
	Lines                 []Line
	Ratings               []string // "dc volts: inside by 11.0 %"
}

// A Sum is one line of the totals.
type Sum struct {
	Say, Amount string
	Strong      bool
}

// A Contact is who an estimate binds.
type Contact struct{ Name, Address, Phone string }

// An Estimate is a written estimate.
type Estimate struct {
	Shop                 string
	ShopSays             []string // address, registration: as the shop's sheet gives them
	Number, Date, Choice string
	Frozen               string // when it was frozen, "" for one that still moves
	Valid                string // how long it holds
	Owner, Address       string
	Phone, Complaint     string
	Amp, Serial, Mains   string
	Receipt              string

	Most, Currency string // the total, which is a maximum
	Ready, Ceiling string

	Groups    []Group
	Shared    []Line
	SharedSum string
	Sums      []Sum

	OldParts []string // what becomes of each part that comes out
	Declined []string // findings whose work is not part of the estimate
	Standing []string // what the amp bears and does not keep
	Notes    []string // terms
	Cautions []string
	Consents []string // as recorded; empty asks for a signature
	Code     string   // short code of the record chain
}
