package labor

import (
	"fmt"
	"math/rand/v2"
	"runtime"
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
	for b.Loop() {
		NewSampler("job 1", Learn(nil)).Play(n, spans)
	}
	figure(b, "dates, 2,000 draws of a large job", 80*time.Millisecond)
}

// The same job once its draws are there: another choice of the same tasks.
func BenchmarkDates2000Again(b *testing.B) {
	n, spans := large(b)
	s := NewSampler("job 1", Learn(nil))
	s.Play(n, spans)
	for b.Loop() {
		s.Play(n, spans)
	}
	figure(b, "dates, another choice", 80*time.Millisecond)
}

func BenchmarkHoursQuantile(b *testing.B) {
	f := Learn(nil)
	var work []Work
	for i := range 30 {
		work = append(work, Work{Class: fmt.Sprint("c", i%6), Moments: beta([3]float64{.4, .6, 1.4})})
	}
	for b.Loop() {
		f.Hours(Moments{}, work).Quantile(0.8)
	}
	figure(b, "hours of 30 tasks, one quantile", 20*time.Microsecond)
}

func BenchmarkRoute40x7(b *testing.B) {
	r := rand.New(rand.NewPCG(8, 8))
	states := []Access{{Name: "closed"}}
	for i := 1; i < 7; i++ {
		states = append(states, Access{From: r.IntN(i), Open: 0.1 + r.Float64(), Close: 0.1 + r.Float64()})
	}
	var visits []Visit
	for i := range 40 {
		v := Visit{In: []int{r.IntN(7)}}
		for k := range i {
			if r.IntN(25) == 0 {
				v.After = append(v.After, k)
			}
		}
		visits = append(visits, v)
	}
	for b.Loop() {
		if _, _, err := Route(states, visits); err != nil {
			b.Fatal(err)
		}
	}
	figure(b, "set-up hours of 40 tasks in 7 states", 10*time.Millisecond)
}

// figure prints what a benchmark saw against its target, which is one for the
// page's own machine: the program under Node.
func figure(b *testing.B, what string, target time.Duration) {
	took, where, verdict := b.Elapsed()/time.Duration(max(b.N, 1)), "native", "met"
	if runtime.GOOS == "js" {
		where = "under Node"
	}
	if took > target {
		verdict = "missed"
	}
	fmt.Printf("figure | %s, %s | %.3f ms | target %.3f ms | %s\n", what, where, took.Seconds()*1e3, target.Seconds()*1e3, verdict)
}
