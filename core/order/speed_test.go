package order

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"testing"
	"time"
)

// The sizes that speed is told of.
var sizes = []struct {
	name string
	adversary
}{
	{"60x8", adversary{needs: 60, sellers: 8, perNeed: 82, cluster: 1}},
	{"60x8 rising, factors", adversary{needs: 60, sellers: 8, perNeed: 82, cluster: 1, rising: true, factors: true}},
	{"60x8 pairs", adversary{needs: 60, sellers: 8, perNeed: 74, cluster: 2}},
	{"25x5 threes", adversary{needs: 25, sellers: 5, perNeed: 40, cluster: 3}},
	{"60x12", adversary{needs: 60, sellers: 12, perNeed: 84, cluster: 1}},
}

func TestTmpSpeed(t *testing.T) {
	n, _ := strconv.Atoi(os.Getenv("SEEDS"))
	if n == 0 {
		n = 30
	}
	for _, z := range sizes {
		if only := os.Getenv("ONLY"); only != "" && only != z.name {
			continue
		}
		var ts []time.Duration
		open, late := 0, 0
		worst, worstSeed := time.Duration(0), 0
		for seed := range n {
			m := z.market(uint64(seed))
			start := time.Now()
			s, err := NewSearch(m, Limits{})
			if err != nil {
				t.Fatal(err)
			}
			for !s.Step() && time.Since(start) < 10*time.Second {
			}
			d := time.Since(start)
			a := s.Answer()
			if !a.Proven {
				open++
			}
			if d > 100*time.Millisecond {
				late++
			}
			if d > worst {
				worst, worstSeed = d, seed
			}
			ts = append(ts, d)
		}
		slices.Sort(ts)
		fmt.Printf("%s: median %v p90 %v p95 %v worst %v (seed %d), late %d open %d of %d\n", z.name, ts[n/2], ts[n*9/10], ts[n*95/100], worst, worstSeed, late, open, n)
	}
}
