package view

import (
	"fmt"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/limit"
	"lugworth/wasm/app"
	"lugworth/wasm/port"
)

// fixedAmp is an invented amp of stage blocks: two 6L6GC, a bias pot, a 1-ohm
// resistor under each cathode.
var fixedAmp = []circuit.Use{
	{Block: "mains", Prefix: "1", Given: map[string]string{"volts": "117"}},
	{Block: "full-wave supply", Prefix: "2", Given: map[string]string{"volts": "640", "rectifiers": "tube", "tube": "5AR4", "socket": "V2"}},
	{Block: "dropper", Prefix: "3", Given: map[string]string{"in": "B2", "out": "B3"}},
	{Block: "bias supply", Prefix: "5", Given: map[string]string{"set by": "pot", "volts": "34"}},
	{Block: "push-pull pair, fixed bias", Prefix: "6", Given: map[string]string{"sense": "each"}},
	{Block: "triode stage", Prefix: "7"},
	{Block: "long-tailed pair", Prefix: "8"},
}

// fixedReadings are the chart of that amp, solved, with the second output tube
// four percent above the first.
func fixedReadings(t *testing.T, sheet []amp.Position, laws circuit.Laws) string {
	t.Helper()
	net, err := circuit.Compile(sheet, laws)
	if err != nil {
		t.Fatal(err)
	}
	s, err := net.Solve(net.Sheet(), circuit.State{Mains: 117}, nil)
	if err != nil {
		t.Fatal(err)
	}
	out := "at,quantity,value,unit,mains,state,when,meter_percent,meter_ohms\n"
	for _, n := range []string{"B1", "B2", "BIAS", "Pa6", "Pb6"} {
		v, _ := s.Node(n)
		out += fmt.Sprintf("%s,volts,%.1f,V,117.0,,as found,1,10M\n", n, v)
	}
	for i, ref := range []string{"V61", "V62"} {
		v, _ := s.Figure(circuit.Figure{Ref: ref, Quantity: limit.CathodeCurrent})
		out += fmt.Sprintf("%s:cathode,current,%.1f,mA,117.0,,as found,1,\n", ref, 1000*v*(1+0.04*float64(i)))
	}
	return out
}

// A fixed-bias stage is dialed by its pot and read over one ohm, each tube by
// itself; how far the pair differs stands with its band.
func TestFixedBiasIsDialedTubeByTube(t *testing.T) {
	sheet, bad := circuit.Assemble(fixedAmp)
	if len(bad) > 0 {
		t.Fatal(bad)
	}
	m := press(started(), "job-new", "", "")
	files := []port.File{{Name: "sheet.csv", Bytes: amp.WriteSheet(sheet)}, {Name: "readings.csv", Bytes: []byte(fixedReadings(t, sheet, m.Open.Result.Circuit.Laws))}}
	for i, f := range files {
		at := fresh
		at.NewID = "fixed" + itoa(i)
		m, _ = app.Update(m, port.FileOpened{Fresh: at, Files: []port.File{f}})
	}
	for k, v := range map[string]string{"low": "114", "high": "125", "measured": "120"} {
		at := fresh
		at.NewID = "fixed" + k
		m, _ = app.Update(m, port.Changed{Where: port.Where{Act: "set", K: "mains/" + k}, Fresh: at, Value: v})
	}
	html := draws(t, press(m, "bench-part", app.BenchIdle, ""))
	for _, want := range []string{"V61 6L6GC, at 117 V mains", "V62 6L6GC, at 117 V mains", "Meter across R631 shows", "Meter across R632 shows", ">mV<", ">as it is now<", "VR501 to about", "Bias first", "V61 and V62, as read", " 3.9 %", "with the error of both readings"} {
		if !strings.Contains(html, want) {
			t.Errorf("lacks %q", want)
		}
	}
}
