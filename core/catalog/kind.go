package catalog

// Kind is what a part is to the trade.
type Kind uint8

const (
	Unknown      Kind = iota // the row does not tell
	Electrolytic             //
	Film                     // plastic film of any sort
	Paper                    // paper, oil or wax dielectric
	Ceramic                  //
	Mica                     //
	Capacitor                // a capacitor, dielectric not stated
	CarbonComp               //
	CarbonFilm               //
	MetalFilm                //
	MetalOxide               //
	Wirewound                //
	Resistor                 // a resistor, make not stated
	Tube                     // any tube but a rectifier
	Rectifier                // rectifier tube (Part.Tube set) or silicon diode
	Fuse                     //
	Cord                     // mains cord or lead kit
	Jack                     //
	Pot                      //
	Choke                    //
	Other                    // a known sort of goods that none of the above covers
)

var kindNames = [...]string{"unknown", "electrolytic", "film", "paper", "ceramic", "mica", "capacitor",
	"carbon composition", "carbon film", "metal film", "metal oxide", "wirewound", "resistor",
	"tube", "rectifier", "fuse", "cord", "jack", "pot", "choke", "other"}

func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return kindNames[Unknown]
}

// IsCapacitor reports whether k is a capacitor of any dielectric.
func (k Kind) IsCapacitor() bool { return k >= Electrolytic && k <= Capacitor }

// IsResistor reports whether k is a fixed resistor of any make.
func (k Kind) IsResistor() bool { return k >= CarbonComp && k <= Resistor }

// Couplers returns the kinds that may serve where a signal or timing
// capacitor is wanted; Capacitor stands for rows that state no dielectric.
func Couplers() []Kind { return []Kind{Film, Paper, Ceramic, Mica, Capacitor} }

// Resistors returns every kind of fixed resistor.
func Resistors() []Kind {
	return []Kind{CarbonComp, CarbonFilm, MetalFilm, MetalOxide, Wirewound, Resistor}
}

// Form is how a part is built to be mounted.
type Form uint8

const (
	AnyForm Form = iota // not stated
	Axial
	Radial
	Can    // metal can through the chassis, several sections as a rule
	SnapIn // board-mounted can
	Disc
	ChassisMount
)

var formNames = [...]string{"", "axial", "radial", "can", "snap-in", "disc", "chassis mount"}

func (f Form) String() string {
	if int(f) < len(formNames) {
		return formNames[f]
	}
	return ""
}
