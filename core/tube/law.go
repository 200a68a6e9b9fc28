package tube

// A Law gives the currents of one type from its electrode volts. The zero
// Law conducts nothing.
type Law struct {
	Type string
	Kind string // Triode, Pentode or Beam (screen tubes), Rectifier, Diode

	P, Mu, K, Gamma, Phi float64 // space current: A/V^gamma, amplification, knee, exponent, contact volts
	D, A, M              float64 // screen tubes: plate's pull, odds of plate against screen, their slope

	Pv float64 // rectifier: A/V^1.5
	Vf float64 // diode: volts at which it conducts

	// The range of the points the law rests on. Outside it (screen or, for
	// triodes, plate volts past 0.5 to 1.6 times) no verdict may rest on it.
	Least, Most float64
	Points      int  // published points behind it; 0 = stated constants
	FromMemory  bool // all points are from memory
}

// A Specimen says how one tube differs from its type.
type Specimen struct {
	P     float64 // factor on the current
	Shift float64 // volts added to the grid
	Share float64 // factor on the odds of plate against screen
}

// Currents are the electrode currents of a tube, in amps, into plate, screen
// and grid.
type Currents struct{ Plate, Screen, Grid float64 }

// Slopes are derivatives of Currents to plate, screen and grid volts, A/V.
type Slopes struct{ Plate, Screen, Grid [3]float64 }

// At returns the currents and their slopes at volts to the cathode.
func (l *Law) At(plate, screen, grid float64, s Specimen) (Currents, Slopes) { panic("not written") }

// Diode returns a rectifier's current and slope at u volts across it and
// series ohms r, conduct a factor on its current.
func (l *Law) Diode(u, r, conduct float64) (amps, slope float64) { panic("not written") }

// Fitted returns the law fitted to the published points of a shipped card.
func Fitted(typeNumber string) (Law, bool) { panic("not written") }

// LawOf returns the law of a type: the constants its card states, else the
// fit. doubt says why nothing better than not proven may rest on it.
func LawOf(card Card, have bool, typeNumber string) (law Law, doubt string, ok bool) {
	panic("not written")
}
