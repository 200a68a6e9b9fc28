//go:build !js

package order

import (
	"fmt"
	"sync"
	"testing"
	"time"
)

var tellSolvers sync.Once

// BenchmarkSolvers gives the same orders to this search and to solvers of
// mixed-integer programs, and tells how long each took. The solvers' times
// hold their start and the reading of the program.
func BenchmarkSolvers(b *testing.B) {
	tellSolvers.Do(func() {
		beside(b, "10x4", "GLPK", 10, adversary{needs: 10, sellers: 4, perNeed: 8, cluster: 2}, byGLPK(b))
		beside(b, "24x6", "HiGHS", 3, adversary{needs: 24, sellers: 6, perNeed: 15, cluster: 1}, byHiGHS(b))
		beside(b, "60x8", "HiGHS", 1, sizes[0].adversary, byHiGHS(b))
	})
	for b.Loop() {
		program(adversary{needs: 10, sellers: 4, perNeed: 8, cluster: 2}.market(1), Limits{})
	}
}

func beside(b *testing.B, size, solver string, count int, z adversary, by func(string) (int64, string)) {
	var ours, theirs time.Duration
	late := 0
	for seed := range count {
		m := z.market(uint64(seed))
		start := time.Now()
		a := solve(b, m, Limits{})
		ours += time.Since(start)
		p := program(m, Limits{})
		start = time.Now()
		want, state := by(p)
		theirs += time.Since(start)
		if state == "late" {
			late++
		} else if state != "optimal" || want != a.Cost {
			b.Errorf("%s, seed %d: %d, the solver says %d, %s", size, seed, a.Cost, want, state)
		}
	}
	fmt.Printf("figure | order %s, ours | %.2f ms | beside %s %.0f ms | %.0f times as fast | %d orders, same cost, %d not finished by it\n",
		size, ms(ours)/float64(count), solver, ms(theirs)/float64(count), float64(theirs)/float64(ours), count, late)
}
