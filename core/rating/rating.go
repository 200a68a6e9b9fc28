// Package rating judges what a position must bear against what its part may
// bear, and says which number decides.
//
//	445.2 V against a 500 V capacitor, wanted 467.4 → within
//	445.2 V against a 450 V capacitor, wanted 467.4 → below reserve
//	445.2 V against a 400 V capacitor               → over (made worse), never offered
//	11.9 … 12.4 W against 12 W                      → not proven
package rating

import (
	"lugworth/core/limit"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// A Verdict is the outcome of one comparison. The zero value is the least
// useful one, so that a forgotten branch never reads as good news.
type Verdict uint8

const (
	// NotEnoughData: a reading, a limit or the mains range is missing.
	// Example: screen volts were read, the card has no screen limit.
	NotEnoughData Verdict = iota
	// NotProven: the figures exist but do not settle it.
	// Example: 11.9 to 12.4 W against 12 W.
	NotProven
	// OverWorsened: over because of this choice, or further over by it.
	// Example: a 400 V capacitor where 445.2 V must be borne.
	OverWorsened
	// OverInherited: over as made or as found.
	// Example: plate volts 324.6 V on a card of 315 V, nothing changed.
	OverInherited
	// BelowReserve: inside the rating but inside the shop's own margin; needs
	// the technician's recorded reason.
	BelowReserve
	// Within: inside the rating and the reserve.
	Within
)

var slugs = [...]string{"not-enough-data", "not-proven", "over-worsened", "over-inherited", "below-reserve", "within"}

var words = [...]string{"not enough data", "not proven", "over, made worse by this choice", "over, inherited", "within, below reserve", "within"}

// Slug returns the word used in files.
func (v Verdict) Slug() string { return slugs[v] }

// String returns the words shown to people.
func (v Verdict) String() string { return words[v] }

// Over reports whether the verdict is one of the two kinds of over.
func (v Verdict) Over() bool { return v == OverWorsened || v == OverInherited }

// rank orders verdicts from the least to the most favorable.
var rank = [...]int{NotEnoughData: 2, NotProven: 3, OverWorsened: 0, OverInherited: 1, BelowReserve: 4, Within: 5}

// Less reports whether a is less favorable than b.
func Less(a, b Verdict) bool { return rank[a] < rank[b] }

// Because says in one word which rule decided.
type Because uint8

const (
	Inside Because = iota
	NoFigure
	NoLimit
	NoRange
	FromMemory
	Doubtful
	Straddles
	Beyond
	Further
	InsideReserve
	LikeForLike
)

// A Judgment is one verdict with everything it rests on.
type Judgment struct {
	Subject  string
	Quantity limit.Quantity
	Scenario string
	Mains    unit.Voltage
	unit.Interval
	Worst     float64 // the end nearer to the limit
	Unit      unit.Unit
	HasFigure bool
	Limit     limit.Limit
	HasLimit  bool
	Bound     float64 // the side of the limit that decides
	Wanted    float64 // rating wanted by the shop's reserve, 0 where none applies
	Reserve   float64
	Inherited float64 // what would stand without the choice
	Cause     string  // option that moved the quantity
	Kind      Verdict
	Because   Because
	Detail    string
	Tier      int
	Bears     *why.Node // the reason for the figure; Why adds the limit

	Other    *Tier  // the other tier's verdict on the same figure, nil where one tier answers
	Differ   bool   // the tiers judge differently; the less favorable is shown
	Against  string // how the tiers contradict each other, "" if they do not
	ToSettle string // what to measure where they differ or leave it open
	Unsolved string // why the amp's own circuit does not answer
	Assumed  bool   // rests on spreads nobody measured: see the spread table
	Fresh    bool   // rests on tubes nobody has read: read the stage again once they are in
	Movers   string // the options that change the circuit, as stress.Stress has them
	Doubted  string // why the figure counts for no more than not proven
}

// Margin returns how far the worst value lies inside the limit, as a
// fraction of the limit, negative when over: (limit − worst) ÷ limit, on the
// nearer end. ok is false without a limit or a figure.
func (j Judgment) Margin() (m float64, ok bool) {
	if !j.HasLimit || !j.HasFigure || j.Bound == 0 {
		return 0, false
	}
	if j.low() {
		return (j.Worst - j.Bound) / j.Bound, true
	}
	return (j.Bound - j.Worst) / j.Bound, true
}

// low reports whether the lower side of a two-sided limit decides.
func (j Judgment) low() bool { return j.Limit.HasLow && j.Bound == j.Limit.Low }
