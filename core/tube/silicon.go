package tube

import "slices"

// siliconTypes are plain silicon rectifiers, by type number and by the word
// for any of them. Selenium is none: its drop is many times larger.
var siliconTypes = []string{
	"SILICON", "1N4001", "1N4002", "1N4003", "1N4004", "1N4005", "1N4006", "1N4007",
	"1N5404", "1N5406", "1N5407", "1N5408", "UF4004", "UF4005", "UF4006", "UF4007", "BY127",
}

// siliconDrop is the volts a silicon junction needs before it conducts. Our
// own constant: between 0.6 V at a milliampere and 1.1 V at an ampere, which
// moves a supply of 300 V by a thousandth at most.
const siliconDrop = 0.75

// silicon returns the law of a silicon rectifier.
func silicon(typeNumber string) (Law, bool) {
	if !slices.Contains(siliconTypes, Key(typeNumber)) {
		return Law{}, false
	}
	return Law{Type: typeNumber, Kind: Diode, Vf: siliconDrop}, true
}
