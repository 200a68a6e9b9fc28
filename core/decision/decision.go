// Package decision answers the owner's questions on the telephone: what each
// yes or no costs, whether the present choice keeps the ceiling and the date,
// and which choice is worth most inside both.
//
//	musts + T5 + T9 of 450.00, 21 days -> 432.37, 17.63 left, fits both
//	and then                           -> "raise the ceiling by 6.37, or accept day 35, and T7 comes too"
//
// The package prices nothing itself. Totals are not additive (one chassis
// removal, one pack of ten), so every choice is priced whole by the caller's
// function, and a delta holds only from the choice it was asked of: deltas
// must never be added up.
package decision

import (
	"lugworth/core/money"
	"lugworth/core/shop"
)

// Answer is what the owner said to one option.
type Answer uint8

const (
	Undecided Answer = iota
	Yes
	No
)

// An Option is one way to do a finding's work.
type Option struct {
	ID          string
	Say         string
	Value       int      // the technician's weight for having it done; musts need none
	Both        bool     // may stand beside another option of the same finding
	Needs       []string // options that must be accepted with it
	Answer      Answer   // Undecided options are the ones Best may choose among
	Consequence string   // in plain words, what choosing this one means; data, never made here
	Touch       Touch    // how much of the amp it touches
}

// A Touch is how much of the amp as it was made is touched: what becomes of
// its parts, how it looks, how far it can be undone. Less is better, and the
// touches of several options add up. Who fills it in says what the numbers
// stand for.
type Touch struct{ Matter, Look, Undo int }

// plus adds up.
func (t Touch) plus(o Touch) Touch {
	return Touch{t.Matter + o.Matter, t.Look + o.Look, t.Undo + o.Undo}
}

// A Decision is one finding put to the owner. Its options exclude each other,
// except those marked Both.
type Decision struct {
	Finding     string
	Say         string
	Pile        shop.Pile // "" is refused: a finding nobody sorted is not declinable
	Options     []Option
	Consequence string // in plain words, what a no means; data, never made here
}

// A Price is what one choice comes to.
type Price struct {
	Total money.Amount
	Hours float64 // te of the accepted work, set-ups counted once
	// ReadyDays is the longest stated lead, days from the order. Where NoLead
	// names a part, the true date may be later.
	ReadyDays int
	NoLead    []string // parts whose lead nobody stated
}

// Pricer prices one choice, given the accepted option IDs in the order of the
// model. It must be a pure function of that list, and neither change nor keep
// it.
type Pricer func(accept []string) (Price, error)

// Limits are what the owner set. A limit that is not set holds nothing back.
type Limits struct {
	Ceiling    money.Amount
	HasCeiling bool
	Days       int
	HasDays    bool
}

// A Model is everything open on one job.
type Model struct {
	Decisions []Decision
	Limits    Limits
	Currency  money.Currency
	Price     Pricer

	// Floor, where set, gives prices that no choice falls below, so that a
	// search need not price every one. known says that of the options that
	// change what others cost exactly those of moving are taken; otherwise the
	// floor holds whichever are.
	Floor func(moving []string, known bool) *Floor
	// Ready, where set, judges the date of a whole choice in place of the
	// longest lead; ok is false where a lead it needs is not stated, and the
	// longest lead stands. A choice is never ready before one of its options
	// would be alone. It is dear, and asked last.
	Ready func(accept []string) (days int, ok bool)
	// Refused, where set, says why a choice may not be put to the owner, "" if
	// it may. It is asked of whole choices that are good otherwise, and, whole
	// being false, of the options that change what others cost: a reason given
	// then holds whatever else is taken.
	Refused func(accept []string, whole bool) string
	// Ahead, where set, does a piece of what Refused will need and reports
	// whether it did any, so that a search in steps is never long at it.
	Ahead func(accept []string) bool
}

// A Floor is what the least a choice can come to is made of: its own sum for
// each option taken, the shared charges once, and Base. The sum less Slack is
// never more than Price says. Sums are in thousandths of the minor unit, of
// which tax is a fraction.
type Floor struct {
	Base   int64
	Slack  int64   // what rounding may take off the whole, once
	Shared []int64 // by bit: set-ups, and tasks that several options name
	Shares []Share // by option, in the order of the model
}

// A Share is what one option brings to a floor.
type Share struct {
	Cost   int64
	Shared uint64 // bits of Floor.Shared
	Days   int    // a lead it has at least
	NoLead bool   // it surely holds a part of which nobody stated the lead
	Steady bool   // what it waits for is the same whatever else is taken
	Barred bool   // a part of it may not be ordered there
	Moves  bool   // it changes what other options cost or bring
}
