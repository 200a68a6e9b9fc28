// Package unit holds the quantities of the trade: their units, the way they
// are printed, and a reader for the way they are spelled on parts, drawings
// and price lists.
//
//	ReadSpec("20+20+20@450", Farad)     -> 20+20+20 µF 450 V
//	ReadSpec("220K 1/2w 5%", None)      -> 220 kΩ 0.5 W ±5 %
//	ReadSpec("100M", Ohm)               -> Ambiguous: 100 MΩ or 100 kΩ
//	Read("2,5 mA", Ampere)              -> 0.0025
//
// Amounts are float64 in SI base units. Nothing is rounded before it is
// printed.
package unit

// Unit names what an amount counts. The zero value is a plain number.
type Unit uint8

const (
	None    Unit = iota // a plain number
	Volt                // volts
	Ampere              // amperes
	Ohm                 // ohms
	Farad               // farads
	Watt                // watts
	Henry               // henries
	Hertz               // hertz
	Hour                // hours of work
	Day                 // calendar days
	Percent             // hundredths: the amount 5 is five percent
	Siemens             // amperes per volt
	Piece               // pieces counted
)

var symbols = [...]string{"", "V", "A", "Ω", "F", "W", "H", "Hz", "h", "days", "%", "S", "pieces"}

var names = [...]string{"number", "volts", "amperes", "ohms", "farads", "watts", "henries",
	"hertz", "hours", "days", "percent", "siemens", "pieces"}

// String returns the symbol as printed after an amount: "V", "Ω", "".
func (u Unit) String() string {
	if int(u) < len(symbols) {
		return symbols[u]
	}
	return "?"
}

// Name returns the unit in words: "volts", "number".
func (u Unit) Name() string {
	if int(u) < len(names) {
		return names[u]
	}
	return "unknown unit"
}
