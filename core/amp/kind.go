package amp

import (
	"sort"

	"lugworth/core/unit"
)

// What one kind of position has: the unit of its value and the electrodes or
// leads its nodes name.
type kind struct {
	unit  unit.Unit
	need  []string // each must be there
	may   []string // may be there beside them
	other []string // may stand in place of need
	free  bool     // leads have no fixed names
	role  Role     // what every part of this kind does
}

var (
	twoLeads = kind{need: []string{"a", "b"}}
	farads   = kind{unit: unit.Farad, need: []string{"a", "b"}}
	plates   = kind{need: []string{"plate", "screen", "grid", "cathode"}}
	anyLeads = kind{free: true}
)

// kinds are the kinds of position that rules know. Any other is kept and
// shown, and nothing is judged by it.
var kinds = map[string]kind{
	"resistor":          {unit: unit.Ohm, need: []string{"a", "b"}},
	"pot":               {unit: unit.Ohm, need: []string{"a", "wiper", "b"}},
	"capacitor":         farads,
	"film capacitor":    farads,
	"paper capacitor":   farads,
	"ceramic capacitor": farads,
	"mica capacitor":    farads,
	"electrolytic":      {unit: unit.Farad, need: []string{"plus", "minus"}},
	"choke":             {unit: unit.Henry, need: []string{"a", "b"}},
	"triode":            {need: []string{"plate", "grid", "cathode"}},
	"pentode":           plates,
	"beam":              plates,
	"rectifier":         {need: []string{"plate", "cathode"}, role: RectifierTube},
	"diode":             {need: []string{"plate", "cathode"}, other: []string{"a", "b"}},
	"winding":           {unit: unit.Volt, need: []string{"a", "b"}, may: []string{"ct"}},
	"mains":             {unit: unit.Volt, may: []string{"a", "b"}},
	"fuse":              {unit: unit.Ampere, need: []string{"a", "b"}},
	"lamp":              twoLeads,
	"speaker":           twoLeads,
	"jack":              anyLeads,
	"switch":            anyLeads,
	"cord":              anyLeads,
	"transformer":       anyLeads,
}

// kindWords are the names of kinds, in order.
var kindWords = func() []string {
	words := make([]string, 0, len(kinds))
	for w := range kinds {
		words = append(words, w)
	}
	sort.Strings(words)
	return words
}()

// roleWords are the roles that rules know.
var roleWords = []string{
	string(Reservoir), string(Smoothing), string(Coupler), string(Bypass), string(BiasCapacitor),
	string(CathodeResistor), string(PlateLoad), string(GridLeak), string(ScreenResistor), string(OutputTube),
	string(RectifierTube), string(HighWinding), string(HeaterWinding), string(LineFuse), string(LineToChassis),
}

// leadNames are the words people use for an electrode or lead, and ours.
var leadNames = map[string]string{
	"anode": "plate", "a1": "plate", "p": "plate", "g2": "screen", "g": "grid", "g1": "grid", "k": "cathode",
	"+": "plus", "-": "minus", "pos": "plus", "neg": "minus", "w": "wiper", "tap": "ct", "1": "a", "2": "b",
}

// chassisNames are words for the chassis, whose node is written 0.
var chassisNames = []string{"chassis", "ground", "gnd", "earth"}
