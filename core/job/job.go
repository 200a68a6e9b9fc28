// Package job is a whole job: its records folded into facts, and the one
// chain that turns facts and the shop's books into verdicts, parts, labor,
// money, dates and the order.
//
//	job.json + shop.csv + cards.csv + terms.csv + lists → Derive → Result
//	the same facts twice                                → the same Result, to the byte
package job

import (
	"lugworth/core/amp"
	"lugworth/core/bench"
	"lugworth/core/catalog"
	"lugworth/core/decision"
	"lugworth/core/finding"
	"lugworth/core/intake"
	"lugworth/core/labor"
	"lugworth/core/order"
	"lugworth/core/plan"
	"lugworth/core/record"
	"lugworth/core/unit"
)

// RuleVersion names the rules of reckoning. It is raised, with a line in the
// change log, whenever a number may come out different.
const RuleVersion = 3

// Kinds of records a job holds.
const (
	KindJob      = "job"
	KindOwner    = "owner"
	KindReceipt  = "receipt"
	KindBounds   = "bounds"
	KindMains    = "mains"
	KindAmp      = "amp"
	KindPosition = "position"
	KindReading  = "reading"
	KindFinding  = "finding"
	KindOption   = "option"
	KindSetUp    = "setup"
	KindSet      = "set"
	KindPick     = "pick"
	KindTrial    = "trial"
	KindOffer    = "offer"
	KindBook     = "book"
	KindReason   = "reason"
	KindBuy      = "buy"
	KindDone     = "done"
	KindPhoto    = "photo"
	KindCheck    = "check"
	KindPark     = "park"
	KindFinal    = "final"
	KindPlaced   = "placed"
	KindArrived  = "arrived"
	KindOldPart  = "oldpart"
	KindConsent  = record.Consent
	KindFrozen   = record.Frozen
	KindHandBack = record.HandBack
)

// Kinds lists every kind this version gives a meaning to, sets apart.
var Kinds = []string{KindJob, KindOwner, KindReceipt, KindBounds, KindMains, KindAmp, KindPosition, KindReading,
	KindFinding, KindOption, KindSetUp, KindPick, KindTrial, KindOffer, KindBook, KindReason, KindBuy, KindDone, KindPhoto, KindCheck, KindPark, KindFinal, KindOldPart, KindPlaced, KindArrived, KindConsent,
	KindFrozen, KindHandBack, record.Undo}

// FoldKinds is Kinds as the fold takes them: a set is known by its name.
var FoldKinds = append([]string{KindSet + ":name"}, Kinds...)

// A Job is the facts of one job, folded from its records.
type Job struct {
	Number, Title string
	Owner         intake.Owner
	Receipt       intake.Receipt
	Bounds        intake.Bounds
	Mains         intake.Mains
	Amp           amp.Amp
	Findings      []finding.Finding
	Options       []plan.Option
	SetUps        []labor.SetUp
	Sets          []Set
	Pick          string // name of the set in force
	Trials        []Trial
	Copies        []Copy
	Books         []Book
	Reasons       map[string]string // the technician's reasons, by option
	Buying        BuyBody           // how the order differs from the plan
	Frozen        []FrozenRecord
	Done          []Done // what finished options took
	Photos        []finding.Photo
	Triage        []bench.Answer // checks before the first power
	Park          bench.Park     // how the work was put down
	Consents      []decision.Consent
	Placed        []order.Placed  // orders sent
	Arrivals      []order.Arrival // what came of them
	Finals        []bench.Answer  // tests before the amp leaves
	OldParts      []bench.OldPart // where the old parts went
	Agreed        [][]string      // what the owner agreed to, by consent
	Problems      []unit.Problem
	Unclear       map[string]string // by option or set-up, as unclearKey: why it cannot be priced
	State         record.State
	Chain         bool // false for a hand-written file
	Broken        bool // its chain does not hold

	spares  []int // packs, of Buying.Spares
	facts   *facts
	settled int              // how many of Problems are of the facts, before the choices
	said    [][]unit.Problem // of each of readings
}

// A Set is a named choice of options.
type Set struct {
	Name   string   `json:"name"`
	Accept []string `json:"accept"`
}

// A Trial is a part the technician asks about without a list: "would a 450 V
// one do?"
type Trial struct {
	ID     string `json:"id"`
	Option string `json:"option"`
	Part   string `json:"part"` // index among the option's parts, "0" first
	Text   string `json:"text"`
	Offer  *catalog.Offer
	For    []string `json:"-"`
}

// A Copy is one row of a price list that a plan line uses, kept with the job
// so that it opens without its lists.
type Copy struct {
	ID      string   `json:"id"`
	List    string   `json:"list"`
	File    string   `json:"file"`
	Line    string   `json:"line"`
	Columns []string `json:"columns"`
	Cells   []string `json:"cells"`
	Mapping string   `json:"mapping"`
}

// A Book is one of the shop's files as it was when the job used it.
type Book struct {
	ID   string `json:"id"` // shop.csv, cards.csv, terms.csv, tasks.csv
	Text string `json:"text"`
}

// A Done is what an option took at the bench.
type Done struct {
	ID    string `json:"id"` // the option
	Hours string `json:"hours"`
	Scope string `json:"scope"` // same, or changed: then it teaches nothing of the estimate
}

// ScopeChanged says that the work became another than was estimated.
const ScopeChanged = "changed"

// A FrozenRecord is an estimate as it was agreed, never derived again.
type FrozenRecord struct {
	ID       string `json:"id"`
	Set      string `json:"set"`
	At       string `json:"at"`
	Estimate string `json:"estimate"` // quote.Frozen as JSON text
	// Asked is what a page made of it asks the owner; none of one frozen by an
	// older version.
	Asked []Asked `json:"asked,omitempty"`
}
