package unit

// The named quantities of function signatures. Each prints as Quantity does.
type (
	Voltage     float64 // volts
	Current     float64 // amperes
	Resistance  float64 // ohms
	Capacitance float64 // farads
	Power       float64 // watts
	Inductance  float64 // henries
	Frequency   float64 // hertz
	Conductance float64 // siemens, amperes per volt
	Hours       float64 // hours of work
)

func (v Voltage) String() string     { return Quantity{float64(v), Volt}.String() }
func (v Current) String() string     { return Quantity{float64(v), Ampere}.String() }
func (v Resistance) String() string  { return Quantity{float64(v), Ohm}.String() }
func (v Capacitance) String() string { return Quantity{float64(v), Farad}.String() }
func (v Power) String() string       { return Quantity{float64(v), Watt}.String() }
func (v Inductance) String() string  { return Quantity{float64(v), Henry}.String() }
func (v Frequency) String() string   { return Quantity{float64(v), Hertz}.String() }
func (v Conductance) String() string { return Quantity{float64(v), Siemens}.String() }
func (v Hours) String() string       { return Quantity{float64(v), Hour}.String() }

// Quantity is an amount in SI base units with its unit.
type Quantity struct {
	Amount float64
	Unit   Unit
}

// String prints the quantity as the trade does: "22 nF", "467.4 V",
// "33.8 mA", "100 kΩ", "0.70 W".
func (q Quantity) String() string { return FormatAmount(q.Amount, q.Unit, -1) }

// FormatAmount prints v, in SI base units, with the usual prefix and that many
// decimals; decimals below zero means the usual number for the unit.
func FormatAmount(v float64, u Unit, decimals int) string { return "" }

// FormatDown prints as FormatAmount does but rounds toward minus infinity:
// for a maximum to dial.
func FormatDown(v float64, u Unit, decimals int) string { return "" }

// FormatUp prints as FormatAmount does but rounds toward plus infinity: for a
// least value.
func FormatUp(v float64, u Unit, decimals int) string { return "" }

// Short prints v with no more figures than it has: "450 V", "0.5 W", "2 A".
func Short(v float64, u Unit) string { return "" }

// Interval is what a figure may be: never below Low, never above High.
type Interval struct{ Low, Expected, High float64 }

// Exactly returns the interval of a figure known without doubt.
func Exactly(v float64) Interval { return Interval{v, v, v} }
