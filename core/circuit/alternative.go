package circuit

import "lugworth/core/limit"

// An Alternative is one tube type with one size of what sets its bias, held
// over the owner's mains.
type Alternative struct {
	Type   string
	Ref    string  // what sets the bias: a resistor; "" where nothing is changed
	Ohms   float64 // its size
	Now    bool    // as the amp stands
	Plate  Band    // watts of the worst output tube
	Screen Band
	Amps   Band // cathode current
}

// Alternatives holds every type against every size of the resistor that sets
// the bias of the output tubes, in the given scenario. The tubes in the amp
// are the specimens that were read; any other type is new tubes nobody has
// read, whose figures are as wide as tubes of a type differ.
func (c *Calibration) Alternatives(outputs, types []string, ohms []float64, sc Scenario, laws Laws) []Alternative {
	if len(outputs) == 0 {
		return nil
	}
	p := &c.joints.parts[c.joints.byRef[outputs[0]]]
	ref, now := "", 0.0
	if k, missing := c.setBy(p); missing == "" && c.Net.Knobs[k].Property == Ohms {
		ref, now = c.Net.Knobs[k].Ref, c.fits[0].values[k]
	}
	if ref == "" {
		ohms = []float64{0}
	} else {
		ohms = append([]float64{now}, ohms...)
	}
	var out []Alternative
	for _, typ := range types {
		for i, r := range ohms {
			ch := Choice{Ratio: sc.Ratio}
			if i > 0 {
				ch.Values = map[Figured]Marked{{ref, Ohms}: {Value: r, Tolerance: newResistor}}
			}
			if typ != p.Type {
				ch.Types = map[string]string{}
				for _, o := range outputs {
					ch.Types[o] = typ
				}
			}
			a := Alternative{Type: typ, Ref: ref, Ohms: r, Now: i == 0 && typ == p.Type}
			c.fill(&a, outputs, ch, sc, laws)
			out = append(out, a)
		}
	}
	return out
}

// newResistor is the tolerance of a resistor that would be bought.
const newResistor = 0.05

// fill works out one alternative: of each figure the band of the output tube
// that reaches highest.
func (c *Calibration) fill(a *Alternative, outputs []string, ch Choice, sc Scenario, laws Laws) {
	var fs []Figure
	qs := []limit.Quantity{limit.PlateWatts, limit.ScreenWatts, limit.CathodeCurrent}
	for _, q := range qs {
		for _, o := range outputs {
			fs = append(fs, Figure{o, q})
		}
	}
	bands := c.Bands(ch, []Scenario{sc}, fs, laws, nil)
	for i, into := range []*Band{&a.Plate, &a.Screen, &a.Amps} {
		*into = bands[i*len(outputs)]
		for _, b := range bands[i*len(outputs) : (i+1)*len(outputs)] {
			if into.Missing == "" && (b.Missing != "" || b.High > into.High) {
				*into = b
			}
		}
	}
}
