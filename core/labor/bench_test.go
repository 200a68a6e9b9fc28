package labor

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"
)

// large is a job of 30 bench tasks, 12 waits before them and 5 behind them,
// two set-ups last.
func large(t testing.TB) (*Network, []Span) {
	t.Helper()
	c, err := NewCalendar("2026-03-09", 3, [7]bool{true, true, true, true, true}, []string{"2026-04-03", "2026-04-06"})
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(13, 13))
	var steps []Step
	var spans []Span
	add := func(s Step, x Span) int {
		x.Seed = s.Name
		steps, spans = append(steps, s), append(spans, x)
		return len(steps) - 1
	}
	answer := add(Step{Name: "answer"}, Span{Mode: 1, High: 4, Days: true})
	var parcels []int
	for i := range 12 {
		lead := float64(1 + r.IntN(9))
		parcels = append(parcels, add(Step{Name: fmt.Sprint("parcel ", i), After: []int{answer}}, Span{Low: lead + 1, Mode: lead + 2, High: lead + 4, Days: true}))
	}
	var all []int
	for i := range 30 {
		low := 0.1 + r.Float64()
		after := []int{parcels[r.IntN(12)]}
		if i > 4 && r.IntN(4) == 0 {
			after = append(after, all[r.IntN(len(all))])
		}
		at := add(Step{Name: fmt.Sprint("task ", i), Bench: true, After: after}, Span{Low: low, Mode: 1.4 * low, High: 2.6 * low, Class: fmt.Sprint("class ", i%6)})
		if i%6 == 0 {
			at = add(Step{Name: fmt.Sprint("drying ", i), After: []int{at}}, Span{Low: 24, Mode: 24, High: 24})
		}
		all = append(all, at)
	}
	add(Step{Name: "S1", Bench: true, After: all}, Span{Low: .4, Mode: .6, High: 1.4, SetUp: true})
	add(Step{Name: "S2", Bench: true, After: all}, Span{Low: .8, Mode: 1, High: 1.8, SetUp: true})
	n, err := NewNetwork(steps, c)
	if err != nil {
		t.Fatal(err)
	}
	return n, spans
}

func BenchmarkDates2000(b *testing.B) {
	n, spans := large(b)
	var r Ready
	start := time.Now()
	for b.Loop() {
		r = NewSampler("job 1", Learn(nil)).Play(n, spans)
	}
	each := time.Since(start) / time.Duration(max(b.N, 1))
	_ = r
	_ = each
}

// The same job once its draws are there: another choice of the same tasks.
func BenchmarkDates2000Again(b *testing.B) {
	n, spans := large(b)
	s := NewSampler("job 1", Learn(nil))
	s.Play(n, spans)
	for b.Loop() {
		s.Play(n, spans)
	}
}
