package circuit

import (
	"fmt"
	"math"

	"lugworth/core/amp"
	"lugworth/core/limit"
	"lugworth/core/unit"
)

// What the ways of reading an idle current are off by besides the meter.
const (
	// Copper's ohms rise by 0.39 % for each kelvin (handbook value, from
	// memory); a winding is read cold and dialed warm.
	copperPerKelvin = 0.0039
	warmerBy        = 15.0 // K, common practice, no source
	// A resistor put in to measure by.
	meteringResistor = 0.01
)

// What is said before somebody reads on a live amp, by the names the catalog
// of cautions has for them.
const (
	LiveReadings = "live-readings"
	WindingDrop  = "winding-drop" // and both leads are at full plate supply
)

// dials adds the meter readings of each way there is on the sheet.
func (c *Calibration) dials(a *Ask, p *amp.Position, w *Window) {
	meter := a.Meter
	meterSays := fmt.Sprintf("meter %s %%", percent(meter))
	if !a.Known {
		meterSays = "meter not stated: " + meterSays + " taken"
	}
	node, _ := p.Node("cathode")
	node = c.joints.root(node)
	if r := c.underCathode(node); r != "" {
		c.dialResistor(w, r, node, meter, meterSays)
	} else {
		c.dialOneOhm(w, p, node, meter, meterSays)
	}
	c.dialWinding(w, p, meter, meterSays)
}

// dialResistor reads the drop over the cathode resistor in place.
func (c *Calibration) dialResistor(w *Window, ref, node string, meter float64, meterSays string) {
	tubes := 0
	for _, x := range c.joints.pull[node] {
		if x.electrode == "cathode" {
			tubes++
		}
	}
	k, ok := c.Net.Knob(ref, Ohms)
	if !ok || tubes == 0 {
		return
	}
	ohms := c.fits[0].values[k]
	d := Dial{
		Method: "cathode resistor", At: "across " + ref, Unit: unit.Volt, Limit: limit.CathodeCurrent, Error: meter + newResistor, Caution: LiveReadings,
		Terms: []string{meterSays, fmt.Sprintf("the %s that is fitted, ±%s %% of its marking: nobody has measured it yet", ref, percent(newResistor)), "the screens' current is in it"},
	}
	// The resistor sets the current and shows it: there is one reading, at the
	// upper end, over the resistor that takes the stage there. That one is yet
	// to be bought: were it below its marking, the drop would show too little.
	d.High = w.together * w.setTo * (1 - newResistor) / (1 + meter)
	d.Low = d.High
	d.Terms = append(d.Terms, fmt.Sprintf("over %s of %s; the one in place shows %s now", ref, unit.Short(threeFigures(w.setTo), unit.Ohm),
		unit.Short(threeFigures(w.Current.Expected*ohms*float64(tubes)), unit.Volt)))
	if tubes > 1 {
		d.Terms = append(d.Terms, fmt.Sprintf("%d tubes stand on it: it shows their sum, and not how they share it", tubes))
	}
	w.Dial = append(w.Dial, d)
}

// dialOneOhm reads over a resistor of an ohm between cathode and chassis.
func (c *Calibration) dialOneOhm(w *Window, p *amp.Position, node string, meter float64, meterSays string) {
	ohms, at, off, how := 1.0, "across a 1 Ω resistor between the cathode of "+p.Ref+" and the chassis", meteringResistor, "1 Ω resistor, ±1 %, to be put in"
	for _, x := range c.joints.ways[node] {
		if r := &c.joints.parts[x.part]; x.far == chassisNode && r.Kind == "resistor" {
			k, ok := c.Net.Knob(r.Ref, Ohms)
			if !ok {
				continue
			}
			ohms, at = c.fits[0].values[k], "across "+r.Ref
			off = c.halves[k].width / ohms
			how = fmt.Sprintf("%s, ±%s %%", r.Ref, percent(off))
		}
	}
	d := Dial{Method: "1-ohm resistor", At: at, Unit: unit.Volt, Limit: limit.CathodeCurrent, Error: meter + off, Caution: LiveReadings,
		Terms: []string{meterSays, how, "the screen's current is in it"}}
	d.Low, d.High = w.Current.Low*ohms, w.Current.High*ohms/(1+d.Error)
	d.Low = min(d.Low, d.High)
	w.Dial = append(w.Dial, d)
}

// dialWinding reads the drop over the tube's half of the output winding.
func (c *Calibration) dialWinding(w *Window, p *amp.Position, meter float64, meterSays string) {
	plate, _ := p.Node("plate")
	plate = c.joints.root(plate)
	for _, x := range c.joints.ways[plate] {
		r := &c.joints.parts[x.part]
		k, ok := c.Net.Knob(r.Ref, Copper)
		if r.Kind != "choke" || !ok || c.sharesPlate(plate, p.Ref) {
			continue
		}
		ohms := c.fits[0].values[k]
		off := c.halves[k].width / ohms
		warm := copperPerKelvin * warmerBy
		now, _ := c.fits[0].sol.Tube(p.Ref)
		share := now.PlateAmps / math.Max(now.Total, 1e-12)
		d := Dial{Method: "winding drop", At: "across " + r.Ref, Unit: unit.Volt, Limit: limit.PlateWatts, Error: meter + off + warm, Caution: WindingDrop,
			Terms: []string{meterSays, fmt.Sprintf("copper of %s, ±%s %%", r.Ref, percent(off)),
				fmt.Sprintf("copper warms by %s %% over %.0f K (0.39 %% for each, from memory)", percent(warm), warmerBy), "the screen's current is not in it"}}
		d.Low, d.High = w.Current.Low*share*ohms, w.Current.High*share*ohms/(1+d.Error)
		d.Low = min(d.Low, d.High)
		w.Dial = append(w.Dial, d)
		return
	}
}

// sharesPlate reports whether another tube draws through the same winding.
func (c *Calibration) sharesPlate(node, ref string) bool {
	for _, x := range c.joints.pull[node] {
		if x.electrode == "plate" && c.joints.parts[x.part].Ref != ref {
			return true
		}
	}
	return false
}

func percent(v float64) string { return unit.FormatAmount(100*v, unit.None, 2) }

// A Mismatch is how far the tubes of a stage draw apart.
type Mismatch struct {
	A, B string
	Amps float64       // difference of the cathode currents as matched
	Part unit.Interval // of their mean, with the band
	Read bool          // each current was read by itself; if not, there is no band and nothing is known of the pair
}

// Mismatches compares the output tubes two by two, at the bench.
//
//	part = |Ik1 − Ik2| ÷ mean; its half width is the sum of both readings' errors
func (c *Calibration) Mismatches(outputs []string) []Mismatch {
	var out []Mismatch
	for i, a := range outputs {
		for _, b := range outputs[i+1:] {
			if c.joints.byRef[a] == c.joints.byRef[b] {
				continue
			}
			if m, ok := c.mismatch(a, b); ok {
				out = append(out, m)
			}
		}
	}
	return out
}

func (c *Calibration) mismatch(a, b string) (Mismatch, bool) {
	m := Mismatch{A: a, B: b}
	pa, oka := c.fits[0].sol.Tube(a)
	pb, okb := c.fits[0].sol.Tube(b)
	if !oka || !okb || !(pa.Total+pb.Total > 0) {
		return m, false
	}
	ra, rb := c.read[a], c.read[b]
	if m.Read = ra.err > 0 && rb.err > 0 && !ra.together && !rb.together; !m.Read {
		return m, true
	}
	m.Amps = math.Abs(pa.Total - pb.Total)
	part, room := m.Amps/((pa.Total+pb.Total)/2), ra.err+rb.err
	m.Part = unit.Interval{Low: max(0, part-room), Expected: part, High: part + room}
	return m, true
}
