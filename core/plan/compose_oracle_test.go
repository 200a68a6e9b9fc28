//go:build !js

package plan

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"testing"

	"lugworth/core/unit"
)

// simulated solves a chain of two at its worst corner with a circuit
// simulator: volts over the lower piece at the moment 480 V have come on, and
// in the long run.
func simulated(t *testing.T, c1, c2, r1, r2, leak float64) (charge, run float64) {
	t.Helper()
	deck := fmt.Sprintf(`two in series
V1 1 0 DC 480 PWL(0 0 1n 480)
C1 1 2 %g
C2 2 0 %g
R1 1 2 %g
R2 2 0 %g
I1 1 2 DC %g PWL(0 0 1 0)
.control
op
print v(2)
tran 0.1n 2n uic
meas tran late find v(2) at=1.5n
quit
.endc
.end
`, c1, c2, r1, r2, leak)
	cmd := exec.Command("ngspice", "-b")
	cmd.Stdin = bytes.NewReader([]byte(deck))
	said, err := cmd.CombinedOutput()
	read := func(pattern string) float64 {
		m := regexp.MustCompile(pattern).FindSubmatch(said)
		if m == nil {
			t.Fatalf("the simulator says no %s (%v; make deps installs it):\n%s", pattern, err, said)
		}
		v, err := strconv.ParseFloat(string(m[1]), 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	return read(`late\s*=\s*(\S+)`), read(`v\(2\) = (\S+)`)
}

// The worst shares are what a circuit simulator gives at that corner: the
// lower capacitor at its least and the upper at its greatest, the lower
// resistor at its greatest and the upper at its least, the upper one leaking.
func TestChainOracle(t *testing.T) {
	n := 3
	if os.Getenv("LUGWORTH_LONG") == "oracle" {
		n = 60
	}
	r := rand.New(rand.NewPCG(3, 27))
	for k := range n {
		c, r0 := (1+99*r.Float64())*1e-6, (50+400*r.Float64())*1e3
		tc, tr, leak := 0.3*r.Float64(), 0.1*r.Float64(), 0.4e-3*r.Float64()
		if k == 0 {
			c, r0, tc, tr, leak = 68e-6, 220e3, 0.2, 0.05, 0.1e-3
		}
		farads := unit.Interval{Low: c * (1 - tc), Expected: c, High: c * (1 + tc)}
		ohms := unit.Interval{Low: r0 * (1 - tr), Expected: r0, High: r0 * (1 + tr)}
		charge, run := simulated(t, farads.High, farads.Low, ohms.Low, ohms.High, leak)
		if got := 480 * chargeShare(alike(2, farads), 0); math.Abs(got-charge) > 1e-3*charge { // the simulator's own step
			t.Errorf("%d, while charging: %v, the simulator %v", k, got, charge)
		}
		if got := settledVolts(alike(2, ohms), leak, 480, 0); math.Abs(got-math.Min(run, 480)) > 1e-5*got {
			t.Errorf("%d, in the long run: %v, the simulator %v", k, got, run)
		}
	}
}
