//go:build !js

package circuit_test

import (
	"strings"
	"testing"
	"time"

	"lugworth/core/circuit"
)

// Our solution side by side with the simulator, in one run on one machine:
// ours from the volts of another mains (warm) and from nothing, supply and
// ripple included, and with the supply's ripple held (direct); the
// simulator's operating point (direct volts alone, reservoirs given) repeated
// inside one process, over our direct time; its run in time, 600 steps a
// cycle, as long as the live test needs, over our whole warm solution.
func BenchmarkOracle(b *testing.B) {
	for _, a := range oracleAmps(b) {
		b.Run(a.name, func(b *testing.B) {
			near := a.solve(b, circuit.State{Mains: 1.05 * a.nominal()})
			state := circuit.State{Mains: a.nominal()}
			values := a.net.Sheet()
			cold := time.Now()
			sol := a.solve(b, state)
			scratch := time.Since(cold)
			for b.Loop() {
				if _, err := a.net.Solve(values, state, near); err != nil {
					b.Fatal(err)
				}
			}
			ours := b.Elapsed() / time.Duration(b.N)
			direct := nearTime(b, a, state, sol)
			op := opTime(b, opDeck(a.drawing(a.nominal()), means(b, sol)))
			b.ReportMetric(float64(scratch.Microseconds()), "µs-from-nothing")
			b.ReportMetric(float64(direct.Nanoseconds())/1000, "µs-direct")
			b.ReportMetric(float64(op.Nanoseconds())/float64(direct.Nanoseconds()), "simulator-op/direct")
			if a.name == "single" {
				start := time.Now()
				runLive(b, a.drawing(a.nominal()), quickSpan, sol.Node)
				b.ReportMetric(float64(time.Since(start).Nanoseconds())/float64(ours.Nanoseconds()), "simulator-in-time/ours")
			}
		})
	}
}

// nearTime is the time of one of our solutions with the ripple held, from the
// volts at other mains.
func nearTime(b *testing.B, a oracleAmp, s circuit.State, near *circuit.Solution) time.Duration {
	const runs = 200
	values := a.net.Sheet()
	other := s
	other.Mains *= 1.05
	start := time.Now()
	for range runs {
		if _, err := a.net.SolveNear(values, other, near); err != nil {
			b.Fatal(err)
		}
	}
	return time.Since(start) / runs
}

// opTime is the time of one operating point inside the simulator: 201 in one
// process less 1.
func opTime(b *testing.B, k *deck) time.Duration {
	text := k.String()
	timed := func(control string) time.Duration {
		start := time.Now()
		if out := simulate(b, text, control); strings.Contains(out, "aborted") {
			b.Fatalf("%s: no operating point", k.d.name)
		}
		return time.Since(start)
	}
	once := timed("op\n")
	return max(timed("repeat 201\nop\ndestroy all\nend\n")-once, 0) / 200
}
