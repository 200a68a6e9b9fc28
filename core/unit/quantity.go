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
