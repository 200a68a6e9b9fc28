// Package proof writes certificates of verdicts and checks them with code of
// its own.
//
// A certificate states, for every verdict of a job, the figure that decides,
// the limit with its source and mark, the margin and the kind, and the chain
// that leads there: readings, the sheet and the cards first, each rule of
// arithmetic after them. Check believes nothing of it but the facts at the
// leaves. It works every step again, in interval arithmetic rounded outward,
// and refuses the file where a stated figure is not the one it gets.
//
//	{"certificate":{"verdicts":[{"kind":"not-proven","subject":"V3","quantity":"plate watts",
//	   "low":"11.89332955","high":"12.39117191","limit":{"high":"12","mark":"user",...},
//	   "bears":{"rule":"dissipation with the mains","from":[
//	      {"rule":"plate dissipation","value":"10.09406489","from":[...]},
//	      {"rule":"mains ratio","value":"1.085470085","from":[{"value":"127"},{"value":"117"}]}]}}]},
//	 "sha256":"..."}
//
// # Form
//
// UTF-8 JSON in one spelling: keys sorted by their bytes, no spaces, no
// escapes but those JSON needs, a line feed at the end. The hash is SHA-256
// over the certificate member as spelled in the file. Figures are decimal
// texts in SI base units. A fact at a leaf is the number as it was typed; a
// figure that was worked out has ten figures, a percentage seven decimals,
// and is held to half of one in its last place.
//
// # Steps
//
// A leaf is a fact: value, what it is, where it stands, and the relative
// error of the meter where that counts. A step names its rule and holds the
// facts and steps it was made from. A rule makes a figure (a value with a
// relative error e), the ends of a factor, or a band:
//
//	mains ratio                 r = (V2 ÷ tap2) ÷ (V1 ÷ tap1)
//	to the cathode              a − b                   e = (|a|·ea + |b|·eb) ÷ |a − b|
//	cathode current             Vk ÷ Rk ÷ tubes         e = (ea + eb) ÷ (1 − eb)
//	plate dissipation           V · (Ik − Ig2)          e = ea + eb + ea·eb
//	screen dissipation          V · Ig2                 likewise
//	resistor dissipation        V · (V ÷ R)             likewise
//	current factor              (1 + g·R0) ÷ (1 + g·R1) at both ends of g
//	volts follow the mains      V · r · (1 ∓ e)
//	no-load peak                √2 · V · times · r · (1 ∓ e)
//	highest switch-on reading   V · r · (1 ∓ e)
//	coupler volts               band + |bias| · r · (1 ∓ e)
//	current with the mains      I · r … I · r^1.5, lower · (1 − e), upper · (1 + e)
//	dissipation with the mains  P · r² … P · r^2.5, likewise
//	resistor with the mains     P · r² … P · r³, likewise
//	after the change            lower · least f, upper · greatest f; cathode volts times
//	                            R1 ÷ R0 as well, a resistor's watts with f² · R1 ÷ R0
//	supply recovers             upper + (1 − least f) · (peak − loaded volts · r), if that rises
//	plate and screen together   sum of two bands
//	greatest value              C · (1 + plus)
//	side by side                upper · pieces
//	corner                      the figure in one solved state of a circuit (see below)
//	lower end, upper end        c · factor ∓ rest, and outward by a part of itself: what carries
//	                            a bench reading over, what the corner leaves out, the spread
//	solved corners              a lower and an upper end; the band stated may be wider, never narrower
//
// # Circuits
//
// Where the amp's own circuit decides, a certificate also holds its elements
// and the states its bands rest on: for each the value of every knob with the
// range claimed for it, the volts of every node, the currents the supply
// feeds in. Check works the law of every part at these volts, sums the
// currents at every node, and refuses a state where a sum passes the stated
// bound, a knob lies outside its range, or the figure of a node or part is
// not the one stated.
//
// # What a certificate shows, and what it does not
//
// It shows that the verdict follows from the stated facts by the stated
// rules, and that nobody changed a number since. It does not show that the
// facts are true: that a reading was taken with care, that a sheet was copied
// well, that a card's limit is the maker's. Doubts that no arithmetic finds
// (an average over tubes, another tube fitted, two readings that do not
// agree) stand as the writer found them.
//
// A solved corner is a true state of the stated circuit. That no other state
// within the ranges is worse is a theorem only for parts whose current is
// proportional to their volts: every conductance enters the equations of the
// nodes by a term of rank one, so a node's volts are (a + b·g) ÷ (c + d·g) in
// each single conductance and monotone in it, and the extreme over a box lies
// at a corner. For tubes and rectifiers it is not proven. There the corner is
// found by the signs of the sensitivities, the band is made wider than it,
// and random specimens police both in the tests. The currents of the supply
// are taken as stated; the power they bring is held against what the winding
// could give.
//
// The hash finds any change of the file. Whoever makes a new hash for a
// changed file still meets the arithmetic, except in free text: names of
// choices, options, parts, positions and records, sources, reasons and
// doubts. Those are words a verdict carries along, and no number follows from
// them.
package proof

// Format is the format of certificates that this package writes and checks.
const Format = 1

// A File is a certificate with its hash.
type File struct {
	Certificate Certificate `json:"certificate"`
	Hash        string      `json:"sha256"`
}

// A Certificate states every verdict of one job. The fields of all types here
// stand in the order of their names in the file.
type Certificate struct {
	Amp      string    `json:"amp"`
	Chart    string    `json:"chart"` // mains of the as-found chart, "" none
	Circuits []Circuit `json:"circuits,omitempty"`
	Format   int       `json:"format"`
	Job      string    `json:"job"`
	Mains    Mains     `json:"mains"`
	Reserve  string    `json:"reserve"` // of the shop on rated volts, percent; "" not stated
	Rules    int       `json:"rules"`   // version of the rules of reckoning
	Tap      string    `json:"tap"`     // mains tap as found
	Verdicts []Verdict `json:"verdicts"`
}

// Mains is the owner's supply; "" is not known.
type Mains struct {
	High     string `json:"high"`
	Low      string `json:"low"`
	Marked   string `json:"marked"` // on the label, where the amp has no taps
	Measured string `json:"measured"`
}

// A Verdict is one judgment. Numbers that are not there are "".
type Verdict struct {
	Bears      *Step  `json:"bears"`       // the chain to the figure; null without one
	Cause      string `json:"cause"`       // the option that moved the figure
	Doubt      string `json:"doubt"`       // why it may not be better than not proven
	Ended      string `json:"ended"`       // why there is no figure, though the facts are there
	Fitted     bool   `json:"fitted"`      // a part that would be chosen: over is the choice's doing
	High       string `json:"high"`        // upper end of the band
	Kind       string `json:"kind"`        // one of the six
	Limit      *Limit `json:"limit"`       // null without one
	Low        string `json:"low"`         // lower end of the band
	Mains      string `json:"mains"`       // volts it is judged at
	MarginHigh string `json:"margin_high"` // 100 · (limit − upper end) ÷ limit
	MarginLow  string `json:"margin_low"`  // 100 · (lower end − limit) ÷ limit
	Missing    string `json:"missing"`     // which fact there is not
	Option     string `json:"option"`      // weighed
	Part       string `json:"part"`        // weighed
	Quantity   string `json:"quantity"`    // as the limit names it
	Reserve    string `json:"reserve"`     // the shop's, percent, where it applies
	Scenario   string `json:"scenario"`    // that decides
	Set        string `json:"set"`         // choice, "" as found
	Subject    string `json:"subject"`     // position
	Tap        string `json:"tap"`         // mains tap in use
	Tier       int    `json:"tier"`        // 0 readings carried over, 1 the amp's circuit
	Unit       string `json:"unit"`        // of the figure, SI base
	Wanted     string `json:"wanted"`      // rating with the reserve on top
	Without    string `json:"without"`     // upper end without the choice that moved it
}

// A Limit is what a part may bear.
type Limit struct {
	High   string `json:"high"`
	Low    string `json:"low"`
	Mark   string `json:"mark"`
	Of     string `json:"of"` // type or part
	Source string `json:"source"`
	System string `json:"system"`
}

// A Step is a fact, or a figure made from others by a rule.
type Step struct {
	Error string `json:"error,omitempty"` // fact: relative error of the meter
	From  []Step `json:"from,omitempty"`
	High  string `json:"high,omitempty"`
	Low   string `json:"low,omitempty"`
	Rule  string `json:"rule,omitempty"`  // "" for a fact
	State string `json:"state,omitempty"` // of a corner
	Unit  string `json:"unit,omitempty"`
	Value string `json:"value,omitempty"`
	What  string `json:"what"`
	Where string `json:"where,omitempty"` // fact: reading, sheet, card, list
}

// The rules a step may name.
const (
	Ratio           = "mains ratio"
	ToCathode       = "to the cathode"
	CathodeCurrent  = "cathode current"
	PlateWatts      = "plate dissipation"
	ScreenWatts     = "screen dissipation"
	ResistorWatts   = "resistor dissipation"
	Factor          = "current factor"
	VoltsFollow     = "volts follow the mains"
	Peak            = "no-load peak"
	SwitchOn        = "highest switch-on reading"
	CouplerVolts    = "coupler volts"
	CurrentFollows  = "current with the mains"
	WattsFollow     = "dissipation with the mains"
	ResistorFollows = "resistor with the mains"
	TubeChanged     = "after the change"
	VoltsChanged    = "cathode volts after the change"
	ResistorChanged = "resistor after the change"
	Recovers        = "supply recovers"
	Both            = "plate and screen together"
	Greatest        = "greatest value"
	SideBySide      = "side by side"
	Corner          = "corner"
	LowerEnd        = "lower end"
	UpperEnd        = "upper end"
	Corners         = "solved corners"
)

// Scenarios and quantities a check has rules of its own for.
const (
	AtTop      = "top of the range"
	AtStandby  = "standby, top of the range"
	AtCold     = "no load, top of the range"
	AtBottom   = "bottom of the range"
	AtMeasured = "measured at the owner's"
	AtNominal  = "nominal mains"
	AtBench    = "at the reading"
	AsMade     = "as the place was made"
)
