//go:build !js

package circuit_test

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// A trialTruth is what one amp does in one state.
type trialTruth struct {
	volts         map[string]float64 // bench only
	plate, screen map[string]float64 // watts by tube
}

// trialFingerprint is the hash of every deck of the trial, as first asked.
func trialFingerprint(amps []*trialAmp) string {
	var b strings.Builder
	for _, a := range amps {
		for _, s := range truthStates {
			u := newTruth(a, s)
			text, _ := u.text()
			fmt.Fprintf(&b, "%s%+v\n", text, *u.reckoning())
		}
	}
	return hash(b.String())
}

// makeTrial makes the amps from one number on.
func makeTrial(t testing.TB, from int) []*trialAmp {
	t.Helper()
	var out []*trialAmp
	for n := range trialAmps {
		out = append(out, newTrialAmp(t, from+n, korens))
	}
	return out
}

// runTrial asks the simulator for the truth of every amp in every state.
func runTrial(t testing.TB, amps []*trialAmp) map[int]map[string]trialTruth {
	t.Helper()
	var all []*truth
	for _, a := range amps {
		for _, s := range truthStates {
			all = append(all, newTruth(a, s))
		}
	}
	settleTruth(t, all)
	out := map[int]map[string]trialTruth{}
	for _, u := range all {
		w := trialTruth{plate: map[string]float64{}, screen: map[string]float64{}}
		for _, ref := range u.amp.outs {
			w.plate[ref], w.screen[ref] = u.watts(ref)
		}
		if u.state.name == "bench" {
			w.volts = u.volts
			out[u.amp.number] = map[string]trialTruth{}
		}
		out[u.amp.number][u.state.name] = w
	}
	for _, a := range amps {
		if !plausible(a, out[a.number]["bench"]) {
			delete(out, a.number)
		}
	}
	return out
}

// plausible reports an amp whose output tubes all idle between 0.3 and 1.4 of
// their plate limit: any other would be put right before it is judged.
func plausible(a *trialAmp, bench trialTruth) bool {
	for _, w := range bench.plate {
		if part := w / plateLimits[a.tube]; part < 0.3 || part > 1.4 {
			return false
		}
	}
	return true
}

// TestOracleWriteTrial writes the truth of the trial anew: make oracle.
func TestOracleWriteTrial(t *testing.T) {
	if os.Getenv("LUGWORTH_ORACLE") != "write" {
		if _, err := os.Stat(trialFile); err != nil {
			t.Errorf("%v: %s writes it", err, regenerate)
		}
		return
	}
	amps := makeTrial(t, 0)
	all := runTrial(t, amps)
	var b strings.Builder
	fmt.Fprintf(&b, "# %s operating points of %d random amps; not edited: %s writes it\ndecks,%s\n", version(t), len(all), regenerate, trialFingerprint(amps))
	for _, a := range amps {
		states, kept := all[a.number]
		if !kept {
			continue
		}
		fmt.Fprintf(&b, "bench,%d", a.number)
		for _, n := range keysOf(states["bench"].volts) {
			fmt.Fprintf(&b, ",%s=%.7g", n, states["bench"].volts[n])
		}
		b.WriteString("\n")
		for _, s := range truthStates {
			for _, ref := range a.outs {
				fmt.Fprintf(&b, "watts,%d,%s,%s,%.6g,%.6g\n", a.number, s.name, ref, states[s.name].plate[ref], states[s.name].screen[ref])
			}
		}
	}
	if err := os.WriteFile(trialFile, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// keptTrial reads the truth that is kept.
func keptTrial(t testing.TB, amps []*trialAmp) map[int]map[string]trialTruth {
	t.Helper()
	data, err := os.ReadFile(trialFile)
	if err != nil {
		t.Fatalf("%v: %s writes it", err, regenerate)
	}
	out := map[int]map[string]trialTruth{}
	for line := range strings.Lines(string(data)) {
		f := strings.Split(strings.TrimSpace(line), ",")
		switch f[0] {
		case "decks":
			if f[1] != trialFingerprint(amps) {
				t.Fatalf("%s: kept of other decks; %s writes it anew", trialFile, regenerate)
			}
		case "bench":
			n := int(amount(t, f[1]))
			volts := map[string]float64{}
			for _, pair := range f[2:] {
				node, v, _ := strings.Cut(pair, "=")
				volts[node] = amount(t, v)
			}
			out[n] = map[string]trialTruth{"bench": {volts: volts}}
		case "watts":
			n, state := int(amount(t, f[1])), f[2]
			w := out[n][state]
			if w.plate == nil {
				w.plate, w.screen = map[string]float64{}, map[string]float64{}
			}
			w.plate[f[3]], w.screen[f[3]] = amount(t, f[4]), amount(t, f[5])
			out[n][state] = w
		}
	}
	return out
}
