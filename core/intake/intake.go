// Package intake holds what is known when an amp comes in: whose it is, what
// they say of it, the supply it will live on, and what was agreed.
//
//	{"measured":"124","low":"114","high":"127"} → Mains{124, 114, 127}: every worst case is taken at 127 V
//	{"ceiling":"450.00","days":"21"}            → nothing may be agreed that costs more or takes longer
package intake

import "lugworth/core/unit"

// Owner is the person who decides, in their own words.
type Owner struct {
	Name      string `json:"name,omitempty"`
	Address   string `json:"address,omitempty"`
	Phone     string `json:"phone,omitempty"`
	Complaint string `json:"complaint,omitempty"` // the owner's words, never edited by findings
	Aim       string `json:"aim,omitempty"`       // play, sell, keep, family piece
	Agreed    string `json:"agreed,omitempty"`    // where the agreement is made: at the shop, by phone
}

// Receipt is what was handed over, when, and to whom.
type Receipt struct {
	Number      string `json:"number,omitempty"`
	Date        string `json:"date,omitempty"`
	Received    string `json:"received,omitempty"` // who took it in
	Accessories string `json:"accessories,omitempty"`
}

// Bounds is what the owner will spend and how long they will wait.
// Empty fields set no bound.
type Bounds struct {
	Ceiling string `json:"ceiling,omitempty"` // money, in the shop's currency
	Days    string `json:"days,omitempty"`    // whole days from the order
	Date    string `json:"date,omitempty"`
}

// Mains is the supply the amp will live on.
//
// Measured is what was read at the owner's outlet, 0 if nobody has. Low and
// High are the declared range; every worst case is judged at one of them.
// A zero means "not known" and is never replaced by a default.
type Mains struct {
	Measured  unit.Voltage
	Low, High unit.Voltage
	Marked    unit.Voltage // the marked supply of the amp, where the label gives one and it has no taps
	How       string       // how and when it was measured
	Record    string       // the record that declared it
}

// Declared reports whether there is a range to judge at. One that no public
// supply has, or that leaves out what was measured, is a slip of the pen: a
// worst case taken from it would be too mild.
func (m Mains) Declared() bool {
	return m.Low >= least && m.High >= m.Low && m.High <= greatest &&
		(m.Measured == 0 || m.Low <= m.Measured && m.Measured <= m.High)
}

// No outlet an amp is made for lies outside these. Common practice, no source.
const least, greatest unit.Voltage = 80, 500
