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
