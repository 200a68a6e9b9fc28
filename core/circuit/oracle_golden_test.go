//go:build !js

package circuit_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"

	"lugworth/core/circuit"
)

// A run in time takes most of a minute, so what it showed is kept in a file,
// with the fingerprint of its deck: a sheet, a law or the deck writer that
// has changed since asks for a new run.
const regenerate = "make oracle"

// A case is one amp in one state of which a run in time is kept.
type liveCase struct {
	oracleAmp
	file  string
	mains float64
	cold  bool
}

// liveCases are every amp warm at nominal mains, and every amp with nothing
// drawing current at 1.06 of it.
func liveCases(t testing.TB) []liveCase {
	var out []liveCase
	for _, a := range oracleAmps(t) {
		out = append(out, liveCase{a, a.name, a.nominal(), false},
			liveCase{a, a.name + "-cold", 1.06 * a.nominal(), true})
	}
	return out
}

func (c liveCase) path() string { return filepath.Join("../../testdata/oracle", c.file+".txt") }

func (c liveCase) draw() *drawing {
	d := c.drawing(c.mains)
	d.cold = c.cold
	return d
}

func (c liveCase) state() circuit.State { return circuit.State{Mains: c.mains, Cold: c.cold} }

// fingerprint is the hash of the deck without the volts it starts from.
func (c liveCase) fingerprint() string { return hash(liveText(liveDeck(c.draw()), fullSpan)) }

// settled runs the amp in time until the means hold still, longer if they do
// not. Each run starts from our means.
func (c liveCase) settled(t testing.TB) *live {
	t.Helper()
	sol := c.solve(t, c.state())
	l := runLive(t, c.draw(), fullSpan, sol.Node)
	if !l.still() {
		l = runLive(t, c.draw(), longSpan, sol.Node)
	}
	if !l.still() {
		t.Errorf("%s: the run does not settle", c.file)
	}
	return l
}

// still reports that no mean has moved by more than 0.02 % or 4 mV in the
// last half second: a fifth of what the comparison allows.
func (l *live) still() bool {
	for n, d := range l.Drift {
		if math.Abs(d) > max(0.004, 2e-4*math.Abs(l.Mean[n])) {
			return false
		}
	}
	return true
}

// text writes a run as it is kept.
func (l *live) text(c liveCase, version string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s of the whole amp in time, at %.5g V mains, cold %v; not edited: %s writes it\n", version, c.mains, c.cold, regenerate)
	fmt.Fprintf(&b, "deck %s\n", c.fingerprint())
	for _, n := range keysOf(l.Mean) {
		fmt.Fprintf(&b, "node %s %.8g %.3g %.6g\n", n, l.Mean[n], l.Drift[n], l.Ripple[n])
	}
	for _, ref := range keysOf(l.Rms) {
		fmt.Fprintf(&b, "rms %s %.6g\n", ref, l.Rms[ref])
	}
	for _, ref := range keysOf(l.Peak) {
		fmt.Fprintf(&b, "leg %s %.6g %.6g\n", ref, l.Peak[ref], l.Flow[ref])
	}
	return b.String()
}

func keysOf[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// kept reads the run that is kept of a case. One of another deck fails the
// test and says how to write it anew.
func (c liveCase) kept(t testing.TB) *live {
	t.Helper()
	data, err := os.ReadFile(c.path())
	if err != nil {
		t.Fatalf("%v: %s writes it", err, regenerate)
	}
	l := newLive()
	deck := ""
	for line := range strings.Lines(string(data)) {
		f := strings.Fields(line)
		switch {
		case len(f) == 2 && f[0] == "deck":
			deck = f[1]
		case len(f) == 5 && f[0] == "node":
			l.Mean[f[1]], l.Drift[f[1]], l.Ripple[f[1]] = amount(t, f[2]), amount(t, f[3]), amount(t, f[4])
		case len(f) == 3 && f[0] == "rms":
			l.Rms[f[1]] = amount(t, f[2])
		case len(f) == 4 && f[0] == "leg":
			l.Peak[f[1]], l.Flow[f[1]] = amount(t, f[2]), amount(t, f[3])
		case len(f) > 0 && f[0] != "#":
			t.Fatalf("%s: %q is no line of a run", c.path(), line)
		}
	}
	if deck != c.fingerprint() {
		t.Fatalf("%s: kept of another deck: the sheet, a law or the deck writer has changed; %s writes it anew", c.path(), regenerate)
	}
	return l
}

func amount(t testing.TB, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// TestOracleWrite writes the kept runs anew: make oracle. Run otherwise it
// makes sure that nothing lies there that no case reads.
func TestOracleWrite(t *testing.T) {
	write := os.Getenv("LUGWORTH_ORACLE") == "write"
	v := version(t)
	wanted := map[string]bool{}
	for _, c := range liveCases(t) {
		wanted[filepath.Base(c.path())] = true
		if !write || os.Getenv("LUGWORTH_ORACLE_ONLY") != "" && os.Getenv("LUGWORTH_ORACLE_ONLY") != c.file {
			continue
		}
		t.Run(c.file, func(t *testing.T) {
			if err := os.WriteFile(c.path(), []byte(c.settled(t).text(c, v)), 0o644); err != nil {
				t.Fatal(err)
			}
		})
	}
	found, err := filepath.Glob("../../testdata/oracle/*.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range found {
		if !wanted[filepath.Base(f)] {
			t.Errorf("%s: no case reads it", f)
		}
	}
}
