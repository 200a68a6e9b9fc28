// Package amp is the amp as found: its positions, its taps, and what was read
// on it, each reading with the mains at that moment.
//
//	at "V3:plate", 318 V, mains 117.0 → one reading of the node that V3's plate stands on
//	a second one of 337 V at 124.0    → kept beside it, never averaged
package amp

import (
	"strings"

	"lugworth/core/unit"
)

// Role is what a position does, as far as ratings ask for it.
type Role string

// Roles that the first-order rules know. A position with another role, or
// none, is kept and shown, and judged only by what its own text says.
const (
	Reservoir       Role = "reservoir"        // first filter capacitor, at the rectifier
	Smoothing       Role = "smoothing"        // later filter capacitors
	Coupler         Role = "coupler"          // from a plate to a grid
	Bypass          Role = "cathode bypass"   // across a cathode resistor
	BiasCapacitor   Role = "bias capacitor"   // in the negative supply
	CathodeResistor Role = "cathode resistor" // of the output stage, where it makes the bias
	PlateLoad       Role = "plate load"
	GridLeak        Role = "grid leak"
	ScreenResistor  Role = "screen resistor"
	OutputTube      Role = "output tube"
	RectifierTube   Role = "rectifier"
	HighWinding     Role = "high winding"   // the winding that feeds the rectifier
	HeaterWinding   Role = "heater winding" // feeds tube heaters
	LineFuse        Role = "line fuse"
	LineToChassis   Role = "line to chassis" // a capacitor from a mains leg to the chassis
)

// Node is one connection of a position: the electrode or lead, and the node's name.
type Node struct{ Role, Name string }

// A Position is one place in the circuit and what stands in it as found.
type Position struct {
	Ref       string
	Kind      string // resistor, capacitor, electrolytic, tube kinds, winding, fuse, ...
	Type      string // tube type, or style of part
	Value     string // as written
	Rating    string // as written
	Tolerance string
	Nodes     []Node
	Place     string // where it is, for people
	Note      string
	Extra     map[string]string
	Role      Role
	Spec      unit.Spec // Value, Rating and Tolerance as read; zero if they could not be
	Remarks   []string  // what was kept though no rule knows it; not written back
	Record    string
}

// Node returns the name of the node the given electrode or lead stands on.
func (p *Position) Node(role string) (string, bool) {
	for _, n := range p.Nodes {
		if n.Role == role {
			return n.Name, true
		}
	}
	return "", false
}

// A Reading is one measurement. Mains is never zero in an accepted reading of
// a powered amp: the figure means nothing without it.
type Reading struct {
	ID       string
	At       string // node name, or ref:electrode, or ref
	Quantity string // volts, rms volts, current, ohms, shift
	Amount   float64
	Unit     unit.Unit
	Mains    unit.Voltage
	Tap      string // tap in use at the reading; empty = as found
	State    []string
	When     string
	Meter    float64 // stated error as a fraction
	Stated   bool    // whether Meter was stated with the reading
	Ohms     float64 // the meter's input resistance, 0 if not stated

	// One in the last figure as written: 1 V for "318", 0.1 V for "117.0".
	// 0 if not known.
	Step      float64
	MainsStep unit.Voltage
}

// Has reports whether the reading was taken in the given state.
func (r Reading) Has(state string) bool {
	for _, s := range r.State {
		if s == state {
			return true
		}
	}
	return false
}

// States a reading may name.
const (
	NoLoad   = "no-load"   // nothing draws current
	Check    = "check"     // taken to test a prediction, never to start one
	Highest  = "switch-on" // highest seen from cold
	Lifted   = "couplers-lifted"
	TubesOut = "tubes-out"
	Powered  = "powered"
	Off      = "off"
)

// An Amp is the amp as found.
type Amp struct {
	Maker, Model, Serial, About string
	Label                       string // what the rating label says
	Tap                         string // mains tap in use as found; "" where there are none
	Taps                        []string
	Standby                     bool
	Bias                        string // "cathode", "fixed from the same transformer", other words = other
	Alike                       bool   // the output tubes are stated to draw alike
	Grounded                    bool
	DateCodes                   []DateCode
	Positions                   []Position
	Readings                    []Reading
	Record                      string
}

// A DateCode is a code stamped on a part, and the part it stands on.
type DateCode struct {
	On   string `json:"on"`
	Code string `json:"code"`
	Year string `json:"year,omitempty"` // the year a person settled on where the code leaves it open
}

// Find returns the position with the given reference.
func (a *Amp) Find(ref string) (*Position, bool) {
	for i := range a.Positions {
		if a.Positions[i].Ref == ref {
			return &a.Positions[i], true
		}
	}
	return nil, false
}

// WithRole returns the positions of one role, in the order of the sheet.
func (a *Amp) WithRole(r Role) []*Position {
	var out []*Position
	for i := range a.Positions {
		if a.Positions[i].Role == r {
			out = append(out, &a.Positions[i])
		}
	}
	return out
}

// Base returns the reference without a section letter: "V1a" and "V1b" are
// sections of "V1".
func Base(ref string) string {
	return strings.TrimRight(ref, "abcdef")
}
