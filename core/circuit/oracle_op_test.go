//go:build !js

package circuit_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lugworth/catalogs"
	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/tube"
)

// An oracleAmp is one amp held against the simulator.
type oracleAmp struct {
	name  string
	sheet []amp.Position
	laws  circuit.Laws
	net   *circuit.Net
}

// oracleAmps are the whole invented amps of testdata with the shipped laws,
// and one small amp whose laws come from a card file handed in.
func oracleAmps(t testing.TB) []oracleAmp {
	t.Helper()
	paths, err := filepath.Glob("../../testdata/amps/*.csv")
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(paths)
	shipped := shippedLaws(t)
	var out []oracleAmp
	for _, p := range paths {
		name := strings.TrimSuffix(filepath.Base(p), ".csv")
		sheet := turnedDown(readSheet(t, p))
		if name == "ivermoss" { // its tremolo swings, as it should: the foot switch stops it
			sheet = append(sheet, amp.Position{Ref: "S4", Kind: "switch", Nodes: []amp.Node{{Role: "a", Name: "X4"}, {Role: "b", Name: "0"}}})
		}
		out = append(out, compiled(t, name, sheet, shipped))
	}
	if len(out) < 8 {
		t.Fatalf("only %d whole amps in testdata/amps, want 8", len(out))
	}
	return append(out, compiled(t, "single", readSheet(t, "../../testdata/oracle/single.csv"), filedLaws(t)))
}

// turnedDown turns the volume down, as at any bench: every pot whose wiper
// feeds a grid. Wide open, the loop over the common supply of one amp swings
// by itself in time, about the very point that is compared.
func turnedDown(sheet []amp.Position) []amp.Position {
	grids := map[string]bool{}
	for _, p := range sheet {
		if g, ok := p.Node("grid"); ok {
			grids[g] = true
		}
	}
	for i := range sheet {
		if w, ok := sheet[i].Node("wiper"); ok && grids[w] {
			sheet[i].Extra["turn"] = "0.98"
		}
	}
	return sheet
}

func compiled(t testing.TB, name string, sheet []amp.Position, laws circuit.Laws) oracleAmp {
	t.Helper()
	net, err := circuit.Compile(sheet, laws)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return oracleAmp{name, sheet, laws, net}
}

func shippedLaws(t testing.TB) circuit.Laws { return lawsOf(t, catalogs.Cards) }

// filedLaws are the laws of a card file in place of the shipped ones.
func filedLaws(t testing.TB) circuit.Laws {
	t.Helper()
	data, err := os.ReadFile("../../testdata/oracle/cards.csv")
	if err != nil {
		t.Fatal(err)
	}
	return lawsOf(t, data)
}

func lawsOf(t testing.TB, cards []byte) circuit.Laws {
	t.Helper()
	read, problems := tube.ReadCards("cards.csv", cards)
	for _, p := range problems {
		t.Fatalf("%v", p)
	}
	set := tube.NewSet(read)
	return func(typeNumber string) (tube.Law, string, bool) {
		card, have := set.Find(typeNumber)
		return tube.LawOf(card, have, typeNumber)
	}
}

// drawing returns the amp as the deck writer draws it, at some mains volts.
func (a oracleAmp) drawing(mains float64) *drawing {
	return drawn(a.name, a.sheet, func(typeNumber string) (tube.Law, bool) {
		l, _, ok := a.laws(typeNumber)
		return l, ok
	}, mains)
}

func (a oracleAmp) nominal() float64 { return a.drawing(0).mainsRow().Spec.Value() }

func (a oracleAmp) solve(t testing.TB, s circuit.State) *circuit.Solution {
	t.Helper()
	sol, err := a.net.Solve(a.net.Sheet(), s, nil)
	if err != nil {
		t.Fatalf("%s: %v", a.name, err)
	}
	return sol
}

// means hands out our mean volts for a deck.
func means(t testing.TB, sol *circuit.Solution) func(string) float64 {
	return func(node string) float64 {
		v, ok := sol.Node(node)
		if !ok {
			t.Fatalf("no volts of reservoir node %s", node)
		}
		return v
	}
}

// Every node of every amp against the simulator's operating point, reservoirs
// held at our means: 2e-5 of the node's volts, of 10 mV for smaller ones.
// The simulator's own tolerances are set to a thousandth of that.
func TestOracleOperatingPoint(t *testing.T) {
	for _, a := range oracleAmps(t) {
		for _, cold := range []bool{false, true} {
			t.Run(fmt.Sprintf("%s/cold=%v", a.name, cold), func(t *testing.T) { holdOp(t, a, cold) })
		}
	}
}

// The same of forty random amps as they really are: parts off their marking,
// any of the output tubes and rectifiers, mains off the nominal.
func TestOracleOperatingPointRandom(t *testing.T) {
	laws := shippedLaws(t)
	for _, r := range makeTrial(t, 5000)[:40] {
		a := compiled(t, fmt.Sprint("random ", r.number), r.real, laws)
		off := opErrors(t, a, r.bench, false)
		for _, node := range keysOf(off) {
			if !(off[node] <= 2e-5) {
				t.Errorf("%s: node %s is off by %.2g of its volts", a.name, node, off[node])
			}
		}
	}
}

func holdOp(t *testing.T, a oracleAmp, cold bool) {
	worst, at := 0.0, ""
	off := opErrors(t, a, a.nominal(), cold)
	for _, node := range keysOf(off) {
		if e := off[node]; e > worst || math.IsNaN(e) {
			worst, at = e, node
		}
	}
	if !(worst <= 2e-5) {
		t.Errorf("node %s is off by %.2g of its volts", at, worst)
	}
	t.Logf("%d nodes, worst %s %.1e", len(off), at, worst)
}

// opErrors returns, by node, the difference from the simulator as a part of
// the node's volts.
func opErrors(t *testing.T, a oracleAmp, mains float64, cold bool) map[string]float64 {
	t.Helper()
	sol := a.solve(t, circuit.State{Mains: mains, Cold: cold})
	d := a.drawing(mains)
	d.cold = cold
	theirs := opVolts(t, opDeck(d, means(t, sol)))
	out := map[string]float64{}
	swing := supplyOf(d).swing
	for _, node := range d.nodes() {
		if swing[node] {
			continue // on the mains side of a rectifier: no part of an op deck
		}
		ours, have := sol.Node(node)
		volts, there := theirs[node]
		if !have || !there {
			t.Errorf("%s: node %s is known to us %v, to the simulator %v", a.name, node, have, there)
			continue
		}
		out[node] = math.Abs(ours-volts) / max(math.Abs(volts), 0.01)
	}
	if len(out) < 5 {
		t.Fatalf("%s: only %d nodes compared", a.name, len(out))
	}
	return out
}

// The comparison bites: a cathode resistor a thousandth off in the deck alone
// is seen.
func TestOracleBites(t *testing.T) {
	a := compiled(t, "single", readSheet(t, "../../testdata/oracle/single.csv"), filedLaws(t))
	sol := a.solve(t, circuit.State{Mains: 120})
	d := a.drawing(120)
	r := mustFind(t, d, "R3")
	r.Spec.Values = []float64{1.001 * r.Spec.Value()}
	theirs := opVolts(t, opDeck(d, means(t, sol)))
	ours, _ := sol.Node("k3")
	if off := relative(ours, theirs["k3"]); !(off > 2e-5) || off > 2e-3 {
		t.Errorf("cathode is off by %.2g of its volts after 0.1 %% more of its resistor", off)
	}
}
