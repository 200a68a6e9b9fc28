// Package quote adds up what one choice costs the owner.
//
//	labor 352.00, parts 36.64, fee 80.00, 8 % on parts -> tax 2.93, total 471.57
//	the same with 10 % of labor kept for finds         -> 506.77, shown apart
//	everything declined                                -> the fee and nothing else
//
// Every line is rounded once and totals add rounded lines, so the printed
// lines always come to the printed total. Tax is taken once, on the sum it
// falls on. There are two totals: the estimate as the place's rule defines it
// (tax inside or outside) and the amount payable.
package quote

import (
	"lugworth/core/labor"
	"lugworth/core/money"
	"lugworth/core/unit"
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
	State           string // new, used, reconditioned, exchange; "" prints as not stated
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
	Price, Carriage money.Decimal // home currency, major units
	LeadDays        int           // −1 not stated
	Where           string
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
	Fee         money.Amount  // bench fee, always due
	FeeCredited bool          // taken off again when work goes ahead, up to the work's worth
	SubMarkup   money.Decimal // percent on a subcontractor's price
	Allowance   money.Decimal // percent of labor kept for finds; 0 = none
	Deposit     money.Decimal // percent of the total asked in advance; 0 = none
	Tax         TaxRule
	Rounding    money.Rounding
	Where       string // "shop.csv"
}

// Input is one choice, ready to be priced. The labor must have been reckoned
// in the policy's currency.
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
	List    string // parts: the supplier
	Option  string
	Finding string
	Say     string
	State   string
	For     []string     // a set-up: the tasks that need it
	Pieces  int          // parts
	Each    money.Amount // parts: a piece
	Hours   unit.Hours   // labor
	Amount  money.Amount
	Taxed   bool
	Why     *why.Node
}

// Totals are the sums of a bill, each the sum of the lines of its class.
type Totals struct {
	Labor, Parts, Other, Fee, Tax money.Amount
	Total                         money.Amount // labor + parts + other + fee + tax
	Allowance                     money.Amount // share of labor, set-ups included; untaxed, outside Total
	WithAllowance                 money.Amount // Total + Allowance
	Estimate                      money.Amount // as the rule there defines it
	Payable                       money.Amount // what is to be paid: Total
	Deposit, Balance              money.Amount // Deposit + Balance = Payable
}

// A Bill is one choice priced.
type Bill struct {
	Currency money.Currency
	Rounding money.Rounding
	Lines    []Line // labor, parts, other, fee, tax; Amounts add up to Total
	Totals

	Hours, Independent, Linked unit.Hours
	ReadyDays                  int      // longest stated lead of parts and subcontracts, days from the order
	NoLead                     []string // those whose lead nobody stated: the date may be later

	Notes []string // rounding, tax treatment; printed with the bill
	Why   *why.Node
}
