package order

import (
	"fmt"
	"runtime"
	"slices"
	"sync"
	"testing"
	"time"
)

// The sizes that speed is told of, with how long half and 95 of 100 may take,
// in milliseconds; in the page four times as long.
var sizes = []struct {
	name string
	adversary
	half, most time.Duration
}{
	{"60x8", adversary{needs: 60, sellers: 8, perNeed: 82, cluster: 1}, 8, 25},
	{"60x8 rising, factors", adversary{needs: 60, sellers: 8, perNeed: 82, cluster: 1, rising: true, factors: true}, 8, 25},
	{"60x8 pairs", adversary{needs: 60, sellers: 8, perNeed: 74, cluster: 2}, 15, 40},
	{"25x5 threes", adversary{needs: 25, sellers: 5, perNeed: 40, cluster: 3}, 8, 25},
	{"60x12", adversary{needs: 60, sellers: 12, perNeed: 84, cluster: 1}, 50, 150},
}

// One order of shop size takes no more room than this: counts are the same on
// every run, clocks are not.
func TestOrderTakesLittleRoom(t *testing.T) {
	for _, z := range sizes[:3] {
		for seed := range uint64(3) {
			m := z.market(seed)
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			s, err := NewSearch(m, Limits{})
			for err == nil && !s.Step() {
			}
			a := s.Answer()
			runtime.ReadMemStats(&after)
			if err != nil || !a.Proven {
				t.Fatalf("%s, seed %d: proven %v, %v", z.name, seed, a.Proven, err)
			}
			if n, size := after.Mallocs-before.Mallocs, after.TotalAlloc-before.TotalAlloc; n > 10_000 || size > 1_500_000 {
				t.Errorf("%s, seed %d: %d allocations, %d bytes; want 10,000 and 1,500,000 at most", z.name, seed, n, size)
			}
		}
	}
}

// figure prints a line for the book of figures.
func figure(name string, v, target time.Duration, note string) {
	where, met := "", "met"
	if runtime.GOOS == "js" {
		where = ", wasm"
	}
	if v > target {
		met = "missed"
	}
	fmt.Printf("figure | %s%s | %.1f ms | target %.0f ms | %s | %s\n", name, where, ms(v), ms(target), met, note)
}

func ms(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }

var tellSpeed sync.Once

// BenchmarkOrder solves orders of shop size to the proof, and tells how long
// 200 of them took.
func BenchmarkOrder(b *testing.B) {
	tellSpeed.Do(func() { speeds(b) })
	m := sizes[0].market(3)
	b.ReportAllocs()
	for b.Loop() {
		solve(b, m, Limits{})
	}
}

func speeds(b *testing.B) {
	for _, z := range sizes {
		const n = 200
		half, most := z.half*time.Millisecond, z.most*time.Millisecond
		if runtime.GOOS == "js" {
			half, most = 4*half, 4*most
		}
		var took []time.Duration
		proven, wide := 0, 0
		for seed := range n {
			d, gap := timed(b, z.market(uint64(seed)))
			took = append(took, d)
			if d <= 100*time.Millisecond {
				proven++
			}
			if gap > 0.01 {
				wide++
			}
		}
		slices.Sort(took)
		note := fmt.Sprintf("200 orders, all proven, %d within 100 ms, %d then further than 1 %% apart, worst %.1f ms", proven, wide, ms(took[n-1]))
		figure("cheapest order "+z.name+", half", took[n/2], half, note)
		figure("cheapest order "+z.name+", 95 of 100", took[n*95/100], most, note)
	}
}

// timed solves one market to the proof and returns the gap after 100 ms.
func timed(b *testing.B, m Market) (took time.Duration, gap float64) {
	start := time.Now()
	s, err := NewSearch(m, Limits{})
	if err != nil {
		b.Fatal(err)
	}
	for looked := false; !s.Step(); {
		if d := time.Since(start); d > 100*time.Millisecond && !looked {
			a := s.Answer()
			gap, looked = 1-float64(a.Lower)/float64(a.Cost), true
		} else if d > 10*time.Second {
			b.Fatalf("not proven in 10 s: %+v", s.Answer())
		}
	}
	return time.Since(start), gap
}

var tellFronts sync.Once

// BenchmarkFront draws the choice between cost, parcels and arrival.
func BenchmarkFront(b *testing.B) {
	tellFronts.Do(func() {
		var parcels, scores []time.Duration
		points, levels := 0, 0
		for seed := range uint64(12) {
			m := sizes[0].market(seed)
			weekly(m)
			start := time.Now()
			f, err := NewParcelFront(m)
			points += len(front(b, f, err))
			parcels = append(parcels, time.Since(start))
			start = time.Now()
			f, err = NewScoreFront(m)
			levels += len(front(b, f, err))
			scores = append(scores, time.Since(start))
		}
		slices.Sort(parcels)
		slices.Sort(scores)
		figure("cost, parcels and arrival 60x8, half", parcels[6], 150*time.Millisecond, fmt.Sprintf("12 orders, %d points in all, worst %.1f ms", points, ms(parcels[11])))
		figure("cost and originality 60x8, half", scores[6], 650*time.Millisecond, fmt.Sprintf("12 orders, %d points in all, worst %.1f ms", levels, ms(scores[11])))
	})
	m := sizes[0].market(3)
	weekly(m)
	b.ReportAllocs()
	for b.Loop() {
		f, err := NewParcelFront(m)
		front(b, f, err)
	}
}

// weekly brings leads to a few levels, as lists state them.
func weekly(m Market) {
	for i := range m.Packs {
		m.Packs[i].Days = []int{2, 3, 5, 7, 14, 21}[m.Packs[i].Days*6/20]
	}
}

// BenchmarkOnly finds what insisting on an offer does to the whole order.
func BenchmarkOnly(b *testing.B) {
	m := sizes[0].market(3)
	s, err := NewSearch(m, Limits{})
	finish(b, s, err)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		fits := m.Wants[i%60].Fits
		only, err := s.Only(i%60, fits[i%len(fits)].Pack)
		finish(b, only, err)
	}
}
