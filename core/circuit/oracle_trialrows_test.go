//go:build !js

package circuit_test

import (
	"fmt"
	"math"
)

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
