// Package tube holds data cards: what the sheets say a tube or rectifier may
// bear, the operating points they print, and the constants of its current
// law. A card file is read, shown and written back unchanged.
//
//	6V6GT,,beam,plate volts,315,V,design center,"General Electric, 6V6GT, March 1955",second-hand
//	  → Card{Type: "6V6GT"}.Limits = plate volts <= 315 V, design center
//	EL84,6BQ5,pentode,heater volts,6.3 ±10%,V,,,user
//	  → heater volts 5.67 V to 6.93 V
//
// The cards shipped with the program and the user's own go into one Set; a
// user's card replaces the shipped one whole, never value by value.
package tube

import (
	"strings"

	"lugworth/core/limit"
	"lugworth/core/unit"
)

// What a card describes.
const (
	Triode    = "triode"
	Pentode   = "pentode"
	Beam      = "beam"
	Rectifier = "rectifier"
	Diode     = "diode"
)

// How a rectifier comes up. Before the output tubes draw current, a direct
// or solid one puts the unloaded peak on every filter capacitor; so may a
// slow one behind a standby switch.
const (
	Direct = "direct" // filament: conducts in a second or two
	Slow   = "slow"   // separate cathode: comes up with the other tubes
	Solid  = "solid"  // semiconductor: conducts at once
)

// A Card is everything known about one type.
type Card struct {
	Type    string
	Aliases []string      // other type numbers with the same ratings
	Kind    string        // Triode, Pentode, Beam, Rectifier or Diode; "" = not stated
	Heating string        // Direct, Slow, Solid; "" = unknown
	Limits  []limit.Limit // in file order; several of one quantity all hold
	GmLow   float64       // least transconductance of one tube, A/V; 0 = not stated
	GmHigh  float64       // greatest, A/V; 0 = not stated
	Values  []Value       // every row that is no limit: points, law constants, heating, words
	Rows    []Row         // every row as written, in file order; the rest is read from these
	File    string        // name of the file, for the page
}

// A Value is a figure or a word of a card that limits nothing.
type Value struct {
	Quantity string // as written: "point 1 plate volts", "law.mu", "note"
	Text     string // the value cell as written
	Amount   float64
	Number   bool      // the cell is a number, in SI base amounts of Unit
	Unit     unit.Unit // None where the unit cell is empty or is not one of the program's units
	UnitText string    // the unit cell as written
	System   limit.System
	Source   string
	Mark     limit.Mark
	Line     int // line of the file, 0 for a card made in the program
}

// A Row is one line of a card file, as written.
type Row struct {
	Type, Aliases, Kind, Quantity, Value, Unit, System, Source, Mark string

	Line int // line on which the row starts, 0 for a row made in the program
}

// LimitsOf returns every limit the card states for q, in file order. Where
// there are several (two rating systems, or two editions that differ) all of
// them hold, so the least favorable decides.
func (c Card) LimitsOf(q limit.Quantity) []limit.Limit {
	var found []limit.Limit
	for _, l := range c.Limits {
		if l.Quantity == q {
			found = append(found, l)
		}
	}
	return found
}

// Value returns the first value with that quantity name.
func (c Card) Value(quantity string) (Value, bool) {
	for _, v := range c.Values {
		if strings.EqualFold(v.Quantity, quantity) {
			return v, true
		}
	}
	return Value{}, false
}

// Law returns the constant "law.NAME" of the type's current law.
func (c Card) Law(name string) (float64, bool) {
	v, ok := c.Value("law." + name)
	return v.Amount, ok && v.Number
}

// Answers reports whether the card is for that type number, under its own
// name or an alias.
func (c Card) Answers(typeNumber string) bool {
	want := Key(typeNumber)
	if want == Key(c.Type) {
		return want != ""
	}
	for _, a := range c.Aliases {
		if want == Key(a) {
			return true
		}
	}
	return false
}

// Key returns the form under which type numbers are compared: capitals, no
// spaces or hyphens, so that "6v6 GT" and "6V6-GT" are one type.
func Key(typeNumber string) string {
	return keyGaps.Replace(strings.ToUpper(typeNumber))
}

// keyGaps takes out what writers put between the figures of a type.
var keyGaps = strings.NewReplacer(" ", "", "-", "", "\u00a0", "", "\t", "")
