//go:build !js

package circuit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"lugworth/core/amp"
)

// A trialAmp is one random amp: its sheet as marked, and what it really is.
// What it really is comes from another tube law, other part values, its own
// tubes; our solver has no part in it.
type trialAmp struct {
	number int
	tube   string // of the output stage
	fixed  bool   // bias of its own supply
	outs   []string
	sheet  []amp.Position // as marked
	real   []amp.Position // as it is
	is     map[string]korenSpecimen
	rect   reckonLeg // what the rectifier is: vacuum constant or forward volts
	heat   float64   // grid volts of every tube that come with 10 % more heater volts
	bench  float64   // mains at the bench
	change circuitChange
}

// A korenSpecimen is one tube: factor on its current, volts on its grid,
// factor on its screen current.
type korenSpecimen struct{ f, shift, share float64 }

// A circuitChange is a resistor that makes the bias, changed: as marked, and
// what the new one really is.
type circuitChange struct {
	ref       string
	marked    float64
	tolerance float64
	real      float64
}

// A plan is what the maker of an amp decided.
type plan struct {
	tube       string
	outs       int
	fixed      bool
	rectifier  string
	mains, hz  float64
	b          float64 // volts of the reservoir meant
	part       float64 // of the plate limit at idle meant
	copper     float64 // of one half of the output transformer
	choke      bool
	screenOhms float64
}

// plateLimits are the published plate watts of the output tubes.
var plateLimits = map[string]float64{"6V6GT": 12, "EL84": 12, "6L6GC": 30, "EL34": 25}

// screenLimits are the published screen watts of the output tubes.
var screenLimits = map[string]float64{"6V6GT": 2, "EL84": 2, "6L6GC": 5, "EL34": 8}

func pick[T any](r *rand.Rand, of ...T) T { return of[r.IntN(len(of))] }

// within returns a factor up to a fraction either way.
func within(r *rand.Rand, fraction float64) float64 { return 1 + fraction*(2*r.Float64()-1) }

func newPlan(r *rand.Rand) plan {
	p := plan{tube: pick(r, "6V6GT", "6L6GC", "EL34", "EL84"), outs: pick(r, 1, 2, 2), choke: r.IntN(2) == 0}
	p.fixed = p.outs == 2 && p.tube != "EL84" && r.IntN(2) == 0
	p.rectifier = pick(r, "5AR4", "5U4GB", "1N4007")
	if p.tube == "6V6GT" && p.outs == 1 {
		p.rectifier = "5Y3GT"
	}
	p.mains, p.hz = 120, 60
	if r.IntN(3) == 0 {
		p.mains, p.hz = 230, 50
	}
	switch {
	case p.fixed:
		p.b = map[string]float64{"6V6GT": 370, "6L6GC": 430, "EL34": 415}[p.tube]
		p.part = 0.6 * within(r, 0.15)
	case p.outs == 2:
		p.b = map[string]float64{"6V6GT": 330, "6L6GC": 370, "EL34": 355, "EL84": 305}[p.tube]
		p.part = 0.78 * within(r, 0.15)
	default:
		p.b = map[string]float64{"6V6GT": 310, "6L6GC": 345, "EL34": 300, "EL84": 285}[p.tube]
		p.part = 0.85 * within(r, 0.12)
	}
	p.b *= within(r, 0.06)
	p.copper = pick(r, 90., 130, 180, 260)
	p.screenOhms = pick(r, 100., 470, 1000)
	return p
}

// idle returns grid volts, plate and screen amps that the plan asks for, by
// the other law's ordinary tube.
func (p plan) idle(k koren) (grid, plate, screen float64) {
	va, vs := p.b*0.95, p.b*0.91
	low, high := -80.0, -1.0
	for range 60 {
		grid = (low + high) / 2
		v, s := va, vs
		if !p.fixed {
			v, s = va+grid, vs+grid
		}
		plate, screen = k.at(v, s, grid)
		if plate*v > p.part*plateLimits[p.tube] {
			high = grid
		} else {
			low = grid
		}
	}
	return grid, plate, screen
}

// rows writes the sheet of a plan, as marked.
func (p plan) rows(k koren) string {
	var b strings.Builder
	row := func(ref, kind, typ, value, tolerance, nodes, extra string) {
		fmt.Fprintf(&b, "%s,%s,%s,%s,,%s,%s,,,%s\n", ref, kind, typ, value, tolerance, nodes, extra)
	}
	b.WriteString("ref,kind,type,value,rating,tolerance,nodes,place,note,extra\n")
	grid, plate, screen := p.idle(k)
	total := float64(p.outs)*(plate+screen) + 0.004
	p.power(row, total)
	if p.fixed {
		p.biasSupply(row, grid)
	}
	stages := 2 * p.outs
	for i := range stages {
		p.stage(row, i)
	}
	for i := range p.outs {
		p.output(row, i, fmt.Sprintf("OUT%d", stages-p.outs+i))
	}
	if !p.fixed {
		ohms := nearE24(-grid / (float64(p.outs) * (plate + screen)))
		row("R640", "resistor", "", fmt.Sprintf("%g", ohms), "5%", "a=K6 b=0", "role=cathode-resistor")
		row("C640", "electrolytic", "", "50uF", "20%", "plus=K6 minus=0", "role=cathode-bypass")
	}
	return b.String()
}

type rowWriter func(ref, kind, typ, value, tolerance, nodes, extra string)

// drops are published drops of rectifiers: volts at amps, one plate.
var drops = map[string][2]float64{"5Y3GT": {60, 0.125}, "5U4GB": {50, 0.275}, "5AR4": {17, 0.25}}

func (p plan) power(row rowWriter, total float64) {
	rs := 2.2 * p.mains * p.mains / 14400
	heater := 14 + 9*float64(p.outs)
	row("MAINS", "mains", "", fmt.Sprintf("%g", p.mains), "", "", fmt.Sprintf("rs=%.3g hz=%g heater=%g", rs, p.hz, heater))
	copper := 190.0
	drop := 1.0
	if d, vacuum := drops[p.rectifier]; vacuum {
		drop = d[0] * math.Pow(3.2*total/d[1], 2./3)
	}
	n := p.b / p.mains
	peak := p.b + drop + 3.2*total*(copper/2+rs*n*n)
	volts := 10 * math.Round(2*peak/math.Sqrt2*1.03/10)
	row("T1", "winding", "", fmt.Sprintf("%g", volts), "5%", "a=HTa ct=0 b=HTb", fmt.Sprintf("role=high-winding dcr=%g", copper))
	kind, lead := "rectifier", "V9"
	if p.rectifier == "1N4007" {
		kind, lead = "diode", "D9"
	}
	row(lead+"a", kind, p.rectifier, "", "", "plate=HTa cathode=B1", "")
	row(lead+"b", kind, p.rectifier, "", "", "plate=HTb cathode=B1", "")
	row("C101", "electrolytic", "", "32uF", "20%", "plus=B1 minus=0", "role=reservoir")
	if p.choke {
		row("L109", "choke", "", "8H", "", "a=B1 b=B2", "dcr=160")
	} else {
		row("R109", "resistor", "", fmt.Sprintf("%g", nearE24(0.05*p.b/(0.12*total+0.004))), "10%", "a=B1 b=B2", "")
	}
	row("C109", "electrolytic", "", "32uF", "20%", "plus=B2 minus=0", "role=smoothing")
	row("R201", "resistor", "", "10k", "10%", "a=B2 b=B3", "")
	row("C201", "electrolytic", "", "16uF", "20%", "plus=B3 minus=0", "role=smoothing")
}

// biasSupply makes grid volts of a half-wave supply and a divider.
func (p plan) biasSupply(row rowWriter, grid float64) {
	rms := 5 * math.Round((-grid*1.25+12)/5)
	row("T3", "winding", "", fmt.Sprintf("%g", rms), "5%", "a=BW b=0", "dcr=22")
	row("R301", "resistor", "", "220", "10%", "a=BW b=BD", "")
	row("D301", "diode", "1N4007", "", "", "plate=NEG cathode=BD", "")
	row("C301", "electrolytic", "", "47uF", "20%", "plus=0 minus=NEG", "role=bias-capacitor")
	neg := rms*math.Sqrt2*0.95 - 2
	row("R302", "resistor", "", fmt.Sprintf("%g", nearE24(22e3*(neg+grid)/-grid)), "5%", "a=NEG b=BIAS", "")
	row("R303", "resistor", "", "22k", "5%", "a=BIAS b=0", "")
	row("C302", "electrolytic", "", "47uF", "20%", "plus=0 minus=BIAS", "role=bias-capacitor")
}

func (p plan) stage(row rowWriter, i int) {
	name := func(s string) string { return fmt.Sprintf("%s%d", s, i) }
	row(fmt.Sprintf("V%d%c", 1+i/2, 'a'+i%2), "triode", "12AX7", "", "", fmt.Sprintf("plate=OUT%d grid=IN%d cathode=C%d", i, i, i), "")
	row(name("R40"), "resistor", "", "1M", "10%", name("a=IN")+" b=0", "role=grid-leak")
	row(name("R41"), "resistor", "", "100k", "10%", "a=B3 "+name("b=OUT"), "role=plate-load")
	row(name("R42"), "resistor", "", "1.5k", "10%", name("a=C")+" b=0", "")
	row(name("C42"), "electrolytic", "", "25uF", "20%", name("plus=C")+" minus=0", "role=cathode-bypass")
}

func (p plan) output(row rowWriter, i int, from string) {
	name := func(s string) string { return fmt.Sprintf("%s%d", s, i) }
	kind := "beam"
	if p.tube[0] == 'E' {
		kind = "pentode"
	}
	cathode, return_ := "K6", "0"
	if p.fixed {
		cathode, return_ = name("K6"), "BIAS"
		row(name("R63"), "resistor", "", "1", "1%", "a="+cathode+" b=0", "")
	}
	row(fmt.Sprintf("V%d", 5+i), kind, p.tube, "", "", fmt.Sprintf("plate=P%d screen=S%d grid=G%d cathode=%s", i, i, i, cathode), "role=output-tube")
	row(name("C60"), "film capacitor", "", "0.1uF", "10%", "a="+from+name(" b=G"), "role=coupler")
	row(name("R60"), "resistor", "", "220k", "10%", name("a=G")+" b="+return_, "role=grid-leak")
	row(name("R62"), "resistor", "", fmt.Sprintf("%g", p.screenOhms), "10%", "a=B2"+name(" b=S"), "role=screen-resistor")
	row(name("T60"), "choke", "", "12H", "", "a=B1"+name(" b=P"), fmt.Sprintf("dcr=%g", p.copper))
}

// nearE24 is the nearest value of the series E24 (IEC 60063).
func nearE24(v float64) float64 {
	series := []float64{10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91, 100}
	scale := math.Pow(10, math.Floor(math.Log10(v))-1)
	best := series[0]
	for _, s := range series {
		if math.Abs(s*scale-v) < math.Abs(best*scale-v) {
			best = s
		}
	}
	return best * scale
}
