//go:build !js

package circuit_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// turn reckons every supply at the loads known, and then asks the simulator
// for every operating point in one run.
func turn(t testing.TB, all []*truth) {
	t.Helper()
	dir := t.TempDir()
	var control strings.Builder
	control.WriteString("* many operating points\n.control\nset numdgt=10\n")
	decks := make([]*deck, len(all))
	for i, u := range all {
		r := u.reckoning()
		last := u.held
		u.held = r.means(t, last)
		u.off = 0
		for j := range last {
			u.off = max(u.off, math.Abs(u.held[j]/last[j]-1))
		}
		text, k := u.text()
		decks[i] = k
		file := filepath.Join(dir, fmt.Sprintf("d%d.cir", i))
		if err := os.WriteFile(file, []byte(text+".end\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&control, "source %s\nop\necho @deck %d\nprint all\necho @end\ndestroy all\nremcirc\n", filepath.Base(file), i)
	}
	control.WriteString("quit\n.endc\n.end\n")
	script := filepath.Join(dir, "all.cir")
	if err := os.WriteFile(script, []byte(control.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	out := execute(t, script)
	for i, u := range all {
		u.take(t, decks[i], between(out, fmt.Sprintf("@deck %d\n", i), "@end"))
	}
}

func between(text, from, to string) string {
	_, text, _ = strings.Cut(text, from)
	text, _, _ = strings.Cut(text, to)
	return text
}

// take reads the node volts and what each reservoir is asked for.
func (u *truth) take(t testing.TB, k *deck, printed string) {
	t.Helper()
	got := values(printed)
	u.volts = map[string]float64{}
	for node, name := range k.name {
		if v, ok := got[name]; ok {
			u.volts[node] = v
		}
	}
	for i, n := range u.amp.reservoirs() {
		amps, ok := got["vh"+k.node(n)+"#branch"]
		if !ok || len(u.volts) < 5 {
			t.Fatalf("%s: no operating point:\n%s", k.d.name, tail(printed, 30))
		}
		u.load[i] += 0.65 * (-amps - u.load[i]) // a fixed-bias stage on a soft supply swings if taken whole
	}
}

// settleTruth takes turns until no reservoir moves by more than 1e-5.
func settleTruth(t testing.TB, all []*truth) {
	t.Helper()
	for range 60 {
		turn(t, all)
		moving := all[:0:0]
		for _, u := range all {
			if u.off > 1e-5 {
				moving = append(moving, u)
			}
		}
		if all = moving; len(all) == 0 {
			return
		}
	}
	t.Fatalf("supply and circuit of %d amps do not come to agree", len(all))
}
