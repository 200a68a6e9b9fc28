// Package quote adds up what one choice costs the owner.
//
//	labor 352.00, parts 36.64, fee 80.00, 8 % on parts -> tax 2.93, total 471.57
//	the same with 10 % of labor for finds              -> 506.77, shown apart
//
// Every line is rounded once and totals add rounded lines, so the printed
// lines always come to the printed total. Tax is taken once, on the sum it
// falls on. There are two totals: the estimate as the place's rule defines it
// (tax inside or outside) and the amount payable.
package quote

import (
	"lugworth/core/labor"
	"lugworth/core/money"
	"lugworth/core/why"
)

// Class sorts the lines of a bill; tax rules speak of classes.
type Class string

const (
	Labor Class = "labor"
	Parts Class = "parts"
	Other Class = "other" // subcontracts and their carriage
	Fee   Class = "fee"
	Tax   Class = "tax"
)

// A Part is one plan line's pieces of one part.
type Part struct {
	Option, Finding string
	Say             string
	List, Number    string
	State           string // new, used, reconditioned, exchange; "" is printed as not stated
	Pieces          int
	Selling         money.Amount // a piece, already rounded once
	LeadDays        int          // −1 not stated; from the shelf 0
	Why             *why.Node    // of Selling
}

// A Subcontract is work sent out. The mark-up falls on Price alone; carriage
// passes at cost.
type Subcontract struct {
	Option, Finding string
	Say             string
	Price           money.Decimal
	Carriage        money.Decimal
	LeadDays        int // −1 not stated
	Why             *why.Node
}

// A TaxRule says what is taxed, with where the rule was found. It is not tax
// advice: whatever prints it adds "check with your local tax authority".
type TaxRule struct {
	Percent money.Decimal // 8 for 8 %
	On      []Class       // the classes it falls on; empty = no tax
	// ShareOver, where HasShare is set: parts are taxed only if they are more
	// than this many percent of the whole charge before tax.
	ShareOver money.Decimal
	HasShare  bool
	// Outside: tax is not part of the estimate as the rule there defines it.
	Outside            bool
	Source, Date, Mark string
}

// A Policy is what the shop charges, all from its sheet.
type Policy struct {
	Currency    money.Currency
	Rate        money.Decimal // an hour
	Fee         money.Amount  // bench fee, always due
	FeeCredited bool          // taken off again when work goes ahead, up to the work's worth
	SubMarkup   money.Decimal // percent on a subcontractor's price
	Allowance   money.Decimal // percent of labor set apart for finds; 0 = none
	Tax         TaxRule
	Rounding    money.Rounding
}

// Input is one choice, ready to be priced.
type Input struct {
	Policy       Policy
	Labor        labor.Estimate
	Parts        []Part
	Subcontracts []Subcontract
}

// A Line is one printed line of a bill.
type Line struct {
	Class   Class
	ID      string // task, set-up, part number
	Option  string
	Finding string
	Say     string
	Pieces  int          // parts
	Each    money.Amount // parts: a piece
	Hours   float64      // labor
	Amount  money.Amount
	Taxed   bool
	Why     *why.Node
}

// A Bill is one choice priced.
type Bill struct {
	Currency money.Currency
	Lines    []Line // tax last; Amounts add up to Total

	Labor, Parts, Other, Fee, Tax money.Amount
	Total                         money.Amount // labor + parts + other + fee + tax
	Allowance                     money.Amount // outside Total, untaxed
	WithAllowance                 money.Amount // Total + Allowance
	Estimate                      money.Amount // as the rule there defines it
	Payable                       money.Amount // what is to be paid

	Hours, Independent, Linked float64
	ReadyDays                  int      // longest stated lead of parts and subcontracts
	NoLead                     []string // those whose lead nobody stated

	Notes []string // tax treatment, rounding; printed with the bill
	Why   *why.Node
}
