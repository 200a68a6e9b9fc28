package labor

import (
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
)

// An activity of a textbook: three points and the activities before it, one
// letter each.
type activity struct {
	name            string
	low, mode, high float64
	after           string
}

// reliable is the project of the Reliable Construction Co. in Hillier and
// Lieberman, Introduction to Operations Research, chapter on project
// management; weeks. Activities and expected weeks as in a second-hand
// transcription, predecessors and three points from memory.
var reliable = []activity{
	{"A", 1, 2, 3, ""}, {"B", 2, 3.5, 8, "A"}, {"C", 6, 9, 18, "B"}, {"D", 4, 5.5, 10, "C"}, {"E", 1, 4.5, 5, "C"}, {"F", 4, 4, 10, "E"}, {"G", 5, 6.5, 11, "D"},
	{"H", 5, 8, 17, "EG"}, {"I", 3, 7.5, 9, "C"}, {"J", 3, 9, 9, "FI"}, {"K", 4, 4, 4, "J"}, {"L", 1, 5.5, 7, "J"}, {"M", 1, 2, 3, "H"}, {"N", 5, 5.5, 9, "KL"},
}

// worked is an exercise of a course in operations management, author not
// stated, with its solution printed for A to F; days, second-hand
// transcription.
var worked = []activity{
	{"A", 5, 5, 7, ""}, {"B", 1, 2, 5, ""}, {"C", 5, 5, 5, "A"}, {"D", 4, 8, 13, "A"}, {"E", 1, 10, 17, "BC"}, {"F", 1, 5, 7, "D"}, {"G", 2, 6, 9, "D"},
	{"H", 4, 4, 6, "EF"}, {"I", 2, 7, 10, "GH"}, {"J", 2, 4, 7, "I"}, {"K", 6, 10, 13, "I"}, {"L", 2, 6, 6, "J"}, {"M", 2, 2, 3, "K"}, {"N", 7, 7, 12, "LM"},
}

// network makes steps of a textbook's activities, none at the bench.
func network(t testing.TB, all []activity) (*Network, []Span) {
	t.Helper()
	var steps []Step
	var spans []Span
	for _, a := range all {
		s := Step{Name: a.name}
		for _, b := range a.after {
			s.After = append(s.After, strings.IndexRune("ABCDEFGHIJKLMN", b))
		}
		steps = append(steps, s)
		spans = append(spans, Span{Low: 24 * a.low, Mode: 24 * a.mode, High: 24 * a.high, Seed: a.name}) // one unit a day, in hours
	}
	n, err := NewNetwork(steps, nil)
	if err != nil {
		t.Fatal(err)
	}
	return n, spans
}

// sixths are expected times in sixths of a unit: whole numbers.
func sixths(all []activity) []int {
	out := make([]int, len(all))
	for i, a := range all {
		out[i] = int(a.low + 4*a.mode + a.high)
	}
	return out
}

// The textbook gives 44 weeks, the critical path A B C E F J L N, a variance
// of 9 along it by ((high − low)/6)², and by the normal distribution a chance
// of 0.841 for 47 weeks.
func TestReliableConstruction(t *testing.T) {
	n, spans := network(t, reliable)
	p := n.Pass(sixths(reliable))
	critical, variance := "", 0.0
	for i, a := range reliable {
		if p.Early[i] == p.Late[i] {
			critical += a.name
			variance += (a.high - a.low) * (a.high - a.low) / 36
		}
	}
	if p.Length != 44*6 || critical != "ABCEFJLN" || math.Abs(variance-9) > 1e-9 {
		t.Errorf("%g weeks, critical %s, variance %g; the textbook gives 44, ABCEFJLN, 9", float64(p.Length)/6, critical, variance)
	}
	if chance := (Moments{Mean: 44, Variance: variance}).Chance(47); math.Abs(chance-0.841) > 5e-4 {
		t.Errorf("chance of 47 weeks %.4f, the textbook gives 0.841", chance)
	}
	// Played through, paths that meet make it later than the critical path
	// alone says.
	r := NewSampler("reliable", Fit{}).Play(n, spans)
	within, mean := 0, 0.0
	for _, d := range r.All {
		if d < 47 {
			within++
		}
		mean += (float64(d) + 0.5) / Draws
	}
	if got := float64(within) / Draws; got > 0.835 || got < 0.79 || mean < 44 || mean > 44.8 {
		t.Errorf("played through: %.3f within 47 weeks, mean %.2f; want below 0.841 and above 44", got, mean)
	}
}

// The solution gives starts and finishes of A to F, to a hundredth.
func TestWorkedNetwork(t *testing.T) {
	n, _ := network(t, worked)
	took := sixths(worked)
	p := n.Pass(took)
	for i, want := range [][4]float64{{0, 5.33, 0, 5.33}, {0, 2.33, 8, 10.33}, {5.33, 10.33, 5.33, 10.33}, {5.33, 13.5, 7.17, 15.33}, {10.33, 20, 10.33, 20}, {13.5, 18.17, 15.33, 20}} {
		got := [4]float64{float64(p.Early[i]) / 6, float64(p.Early[i]+took[i]) / 6, float64(p.Late[i]) / 6, float64(p.Late[i]+took[i]) / 6}
		for k := range got {
			if math.Abs(got[k]-want[k]) > 0.005+1e-9 {
				t.Errorf("%s: %.3f, want %.2f", worked[i].name, got, want)
				break
			}
		}
	}
}

func TestNetworkRefuses(t *testing.T) {
	for want, steps := range map[string][]Step{
		"wait for each other: a, b": {{Name: "a", After: []int{1}}, {Name: "b", After: []int{0}}, {Name: "c"}},
		"a step there is not":       {{Name: "a", After: []int{3}}},
	} {
		if _, err := NewNetwork(steps, nil); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// randomJob is a job of n steps, some four in ten of them waits, durations in
// minutes.
func randomJob(r *rand.Rand, n int) (*Network, []int) {
	steps, took := make([]Step, n), make([]int, n)
	for i := range steps {
		steps[i] = Step{Name: string(rune('A' + i)), Bench: r.IntN(10) < 6}
		took[i] = 15 * (1 + r.IntN(12))
		if !steps[i].Bench {
			took[i] = 60 * (1 + r.IntN(12))
		}
		for k := range i {
			if r.IntN(n) < 2 {
				steps[i].After = append(steps[i].After, k)
			}
		}
	}
	net, err := NewNetwork(steps, nil)
	if err != nil {
		panic(err)
	}
	return net, took
}

// makespan is when the rule of the longest tail ends a job.
func makespan(n *Network, took []int) int {
	p := n.plan(n.tails(took))
	if end := p.run(took); end != nothing {
		return p.finish[end]
	}
	return 0
}

// The rule against the shortest schedule there is, by branch and bound. It
// can be beaten: the figures say how often and by how much.
func TestLongestTailIsNearTheBest(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 96))
	count := 25
	if os.Getenv("LUGWORTH_LONG") == "oracle" {
		count = 100
	}
	for _, size := range []int{12, 20, 30} {
		best, open, gap, worst := 0, 0, 0.0, 0.0
		for range count {
			n, took := randomJob(r, size)
			got := makespan(n, took)
			want, proven := shortest(n, took)
			if !proven {
				open++
				continue
			}
			if got < want {
				t.Fatalf("%d steps: the rule ends at %d, before the shortest schedule, %d", size, got, want)
			}
			off := float64(got)/float64(want) - 1
			gap, worst = gap+off/float64(count), max(worst, off)
			if got == want {
				best++
			}
		}
		t.Logf("figure longest tail, %d steps: best in %d of %d, %.2f %% longer on average, worst %.1f %%; %d not searched to the end", size, best, count, 100*gap, 100*worst, open)
		if best < count*7/10 || gap > 0.01 || worst > 0.15 || open > count/20 {
			t.Errorf("%d steps: best in %d of %d, %.2f %% on average, worst %.1f %%, %d open", size, best, count, 100*gap, 100*worst, open)
		}
	}
}
