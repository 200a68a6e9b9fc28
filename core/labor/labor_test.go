package labor

import (
	"math"
	"slices"
	"strings"
	"testing"

	"lugworth/core/money"
	"lugworth/core/unit"
	"lugworth/core/why"
)

func three(t *testing.T, text string) Three {
	t.Helper()
	f := strings.Fields(text)
	h, err := ReadThree(f[0], f[1], f[2])
	if err != nil {
		t.Fatal(err)
	}
	return h
}

func rate(hour, code string) Rate {
	c, err := money.CurrencyOf(code)
	if err != nil {
		panic(err)
	}
	return Rate{Hour: money.MustDecimal(hour), Currency: c, Where: "shop.csv:3"}
}

// book reads lines of "ID low mode high set-ups...".
func book(t *testing.T, text string) map[string]Task {
	t.Helper()
	tasks := map[string]Task{}
	for _, line := range strings.Split(strings.TrimSpace(text), "\n") {
		f := strings.Fields(line)
		tasks[f[0]] = Task{ID: f[0], Three: three(t, strings.Join(f[1:4], " ")), SetUps: f[4:]}
	}
	return tasks
}

func pick(tasks map[string]Task, ids string) []Task {
	var picked []Task
	for _, id := range strings.Fields(ids) {
		picked = append(picked, tasks[id])
	}
	return picked
}

// An amp of about 1957, two output tubes, 80.00 an hour.
const drover = `
T1 .5 .7 1.5 S1 S2
T2a .6 .8 1.6 S1 S2
T2b .8 1.0 1.8 S1 S2
T2c 1.2 1.8 3.6 S1 S2
T3 .4 .6 1.4 S1 S2
T4 .2 .3 .4 S1 S2
T5 .2 .3 .4 S1 S2
T6 .2 .4 .6 S2
T6r .1 .2 .3 S1 S2
T7a .3 .4 .5
T7b .3 .5 .7
T8 .1 .2 .3 S1 S2
T9 .5 .7 1.5
T10 .2 .3 .4 S1 S2`

// An amp of about 1964, four output tubes, 60.00 an hour.
const tern = `
T1 .1 .1 .1 S2
T2 .2 .3 .4 S1 S2
T3i .4 .6 1.4 S1 S2
T3ii .8 1.0 1.8 S1 S2
T4 .2 .3 .4 S1 S2
T5 .2 .2 .2 S2
T6 .4 .6 1.4 S1 S2
T7 .3 .4 .5 S1 S2
T8 .5 1.0 2.7 S1 S2
T9 .2 .3 .4 S1 S2`

func setUps(t *testing.T, s1, s2 string) []SetUp {
	return []SetUp{{ID: "S1", Say: "chassis out and in", Three: three(t, s1)}, {ID: "S2", Say: "final tests", Three: three(t, s2)}}
}

// TestSum: hours and spreads by hand. te = (o+4m+p)/6, sd = (p−o)/6.
func TestSum(t *testing.T) {
	a, b := book(t, drover), book(t, tern)
	aSet, bSet := setUps(t, ".4 .6 1.4", ".8 1.0 1.8"), setUps(t, ".3 .4 .5", ".8 1.0 1.8")
	usd, gbp := rate("80", "USD"), rate("60", "GBP")
	tests := []struct {
		name   string
		tasks  []Task
		setUps []SetUp
		rate   Rate
		hours  float64 // to 1e-9
		apart  float64 // to 0.005, as printed
		linked float64 // to 0.005
		amount string
	}{
		// S1 .7 + S2 1.1 + T1 .8 + T2b 1.1 + T3 .7 = 4.4 h. Five sd of 1/6:
		// √5/6 = 0.373; 5/6 = 0.833. 56 + 88 + 64 + 88 + 56 = 352.
		{"safety only", pick(a, "T1 T2b T3"), aSet, usd, 4.4, 0.37, 0.83, "352.00"},
		// 4.4 + T4 .3 + T6 .4 + T6r .2 + T7a .4 + T8 .2 + T10 .3 = 6.2 h.
		// More sd: .2 .4 .2 .2 .2 .2 over 6, so linked (5+1.4)/6 = 1.067;
		// apart √(5 + 5·.04 + .16)/6 = √5.36/6 = 0.386. 6.2 · 80 = 496.
		{"player", pick(a, "T1 T2b T3 T4 T6 T6r T7a T8 T10"), aSet, usd, 6.2, 0.39, 1.07, "496.00"},
		// T2c (1.2+7.2+3.6)/6 = 2.0 for T2b 1.1: 5.3; + T4 .3, T6r .2, T7b .5,
		// T8 .2, T9 .8, T10 .3 = 7.6 h. sd·6: 1 1 1 2.4 1 | .2 .2 .4 .2 1 .2 =
		// 8.6 → 1.433; squares 4+5.76 + .04·4+.16+1 = 11.08 → 0.555.
		{"collector", pick(a, "T1 T2c T3 T4 T6r T7b T8 T9 T10"), aSet, usd, 7.6, 0.55, 1.43, "608.00"},
		// S1 .4, S2 1.1, T1 .1, T2 .3, T3ii 1.1, T4 .3, T6 .7 = 4.0 h.
		// sd·6: .2 1 0 .2 1 .2 1 = 3.6 → 0.6; squares 3.12 → 0.294.
		{"musts", pick(b, "T1 T2 T3ii T4 T6"), bSet, gbp, 4.0, 0.29, 0.60, "240.00"},
		// 4.0 + T5 .2 + T9 .3 = 4.5 h; sd·6 adds 0 and .2: 3.8 → 0.633;
		// squares 3.16 → 0.296.
		{"musts T5 T9", pick(b, "T1 T2 T3ii T4 T6 T5 T9"), bSet, gbp, 4.5, 0.30, 0.63, "270.00"},
		// + T7 .4: 4.9 h; T3i .7 for T3ii 1.1: 4.5 h. sd·6 of T3i is 1 as well.
		{"without T8", pick(b, "T1 T2 T3ii T4 T6 T5 T9 T7"), bSet, gbp, 4.9, 0.30, 0.67, "294.00"},
		{"without T8, new can", pick(b, "T1 T2 T3i T4 T6 T5 T9 T7"), bSet, gbp, 4.5, 0.30, 0.67, "270.00"},
		// + T8 (.5+4+2.7)/6 = 1.2: 6.1 h; sd·6 2.2: linked 6.2/6; squares
		// 3.20+4.84 = 8.04 → 0.473.
		{"everything", pick(b, "T1 T2 T3ii T4 T6 T5 T9 T7 T8"), bSet, gbp, 6.1, 0.47, 1.03, "366.00"},
		// Moving the tap alone: .1 + S2 1.1 = 1.2 h, 72.00; S1 is not needed.
		{"one task, one set-up", pick(b, "T1"), bSet, gbp, 1.2, 0.17, 0.17, "72.00"},
		{"no set-up", pick(a, "T9"), aSet, usd, 0.8, 0.17, 0.17, "64.00"},
		{"nothing", nil, aSet, usd, 0, 0, 0, "0.00"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			e, err := Sum(tt.tasks, tt.setUps, tt.rate)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "hours", e.Hours, tt.hours, 1e-9)
			near(t, "independent", e.Independent, tt.apart, 0.005)
			near(t, "linked", e.Linked, tt.linked, 0.005)
			if got := tt.rate.Currency.Format(e.Amount); got != tt.amount {
				t.Errorf("amount %s, want %s", got, tt.amount)
			}
		})
	}
}

func near(t *testing.T, what string, got unit.Hours, want, within float64) {
	t.Helper()
	if math.Abs(float64(got)-want) > within {
		t.Errorf("%s = %.4f h, want %.4f within %g", what, float64(got), want, within)
	}
}

// TestLineRounds: each line is rounded half up on the exact sixth.
func TestLineRounds(t *testing.T) {
	tests := []struct {
		hours, rate, code, want string
	}{
		{"0.5 0.7 1.5", "80", "USD", "64.00"},     // 4.8/6 · 80
		{"0.1 0.1 0.1", "60", "GBP", "6.00"},      // .6/6 · 60
		{"0.1 0.2 0.4", "80", "USD", "17.33"},     // 1.3 · 80/6 = 17.3333
		{"0.1 0.2 0.5", "80", "USD", "18.67"},     // 1.4 · 80/6 = 18.6667
		{"0.03 0.03 0.03", "0.5", "USD", "0.02"},  // .18 · .5/6 = 0.015: a tie, up
		{"0.01 0.01 0.01", "1.49", "USD", "0.01"}, // 0.0149
		{"0.1 0.2 0.4", "9000", "JPY", "1950"},    // 1.3 · 9000/6, no decimals
		{"0.1 0.2 0.4", "8.5", "KWD", "1.842"},    // 1.3 · 8.5/6 = 1.841667
		// An exact tie that a float misses: 1.005 is below the tie in binary.
		{"1.005 1.005 1.005", "1", "USD", "1.01"},
	}
	for _, tt := range tests {
		r := rate(tt.rate, tt.code)
		got, err := three(t, tt.hours).Cost(r)
		if err != nil || r.Currency.Format(got) != tt.want {
			t.Errorf("%s h at %s %s = %s, %v; want %s", tt.hours, tt.rate, tt.code, r.Currency.Format(got), err, tt.want)
		}
	}
}

// TestSetUpOnce: lines, who needs them, and their going with the last user.
func TestSetUpOnce(t *testing.T) {
	a := book(t, drover)
	sets := setUps(t, ".4 .6 1.4", ".8 1.0 1.8")
	e, err := Sum(pick(a, "T1 T6 T3 T3 T9"), sets, rate("80", "USD"))
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, l := range e.Lines {
		ids = append(ids, l.ID)
	}
	if want := []string{"S1", "S2", "T1", "T6", "T3", "T9"}; !slices.Equal(ids, want) {
		t.Errorf("lines %v, want %v (T3 shared by two options stands once)", ids, want)
	}
	if got := e.Lines[0].For; !slices.Equal(got, []string{"T1", "T3"}) {
		t.Errorf("S1 is for %v, want T1 T3", got)
	}
	if got := e.Lines[1].For; !slices.Equal(got, []string{"T1", "T6", "T3"}) {
		t.Errorf("S2 is for %v, want T1 T6 T3", got)
	}
	without, err := Sum(pick(a, "T6 T9"), sets, rate("80", "USD"))
	if err != nil || len(without.Lines) != 3 || without.Lines[0].ID != "S2" {
		t.Errorf("without T1 and T3: %d lines, first %v, %v; want S2 T6 T9", len(without.Lines), without.Lines, err)
	}
}

// TestAddingNeverLowers: over every prefix of random orders, adding a task
// never lowers hours, money or either spread, and the lines add up.
func TestAddingNeverLowers(t *testing.T) {
	a := book(t, drover)
	sets := setUps(t, ".4 .6 1.4", ".8 1.0 1.8")
	ids := strings.Fields("T1 T2a T2b T2c T3 T4 T5 T6 T6r T7a T7b T8 T9 T10")
	for mask := 0; mask < 1<<len(ids); mask += 37 {
		var subset []Task
		for i, id := range ids {
			if mask>>i&1 == 1 {
				subset = append(subset, a[id])
			}
		}
		base := mustSum(t, subset, sets)
		more := mustSum(t, append(subset, a[ids[mask%len(ids)]]), sets)
		const slack = 1e-12 // hours; floats are summed in another order
		if more.Amount < base.Amount || more.Hours < base.Hours-slack || more.Linked < base.Linked-slack || more.Independent < base.Independent-slack {
			t.Fatalf("mask %b: adding %s lowered %v to %v", mask, ids[mask%len(ids)], base, more)
		}
	}
}

func mustSum(t *testing.T, tasks []Task, sets []SetUp) Estimate {
	t.Helper()
	e, err := Sum(tasks, sets, rate("77.77", "USD"))
	if err != nil {
		t.Fatal(err)
	}
	var sum money.Amount
	for _, l := range e.Lines {
		sum += l.Amount
	}
	if sum != e.Amount {
		t.Fatalf("lines come to %d, total is %d", sum, e.Amount)
	}
	return e
}

func TestSumRefuses(t *testing.T) {
	a := book(t, "T1 .5 .7 1.5 S1\nT2 .1 .2 .3 S9")
	twice := a["T1"]
	twice.Three = three(t, "1 1 1")
	falling := Task{ID: "T3", Three: Three{money.Whole(2), money.Whole(1), money.Whole(3)}}
	sets := setUps(t, ".4 .6 1.4", ".8 1.0 1.8")
	tests := []struct {
		name   string
		tasks  []Task
		setUps []SetUp
		rate   string
		want   []string
	}{
		{"unknown set-up", pick(a, "T2"), sets, "80", []string{`task T2 needs set-up "S9", which is not defined`}},
		{"two tasks of one ID", []Task{a["T1"], twice}, sets, "80", []string{"task T1 is given twice with different hours or set-ups"}},
		{"falling hours", []Task{falling}, sets, "80", []string{"task T3: hours 2 / 1 / 3: want low ≤ most likely ≤ high"}},
		{"negative rate", pick(a, "T1"), sets, "-1", []string{"labor: the rate is -1 an hour"}},
		{"set-up twice", nil, append(sets, sets[0]), "80", []string{"set-up S1 is defined twice"}},
		{"all at once", []Task{a["T2"], falling}, sets, "-1", []string{"S9", "T3", "rate"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Sum(tt.tasks, tt.setUps, rate(tt.rate, "USD"))
			for _, want := range tt.want {
				if err == nil || !strings.Contains(err.Error(), want) {
					t.Errorf("error %v, want it to hold %q", err, want)
				}
			}
		})
	}
	if _, err := ReadThree("-1", "0", "1"); err == nil {
		t.Error("ReadThree(-1, 0, 1): no error")
	}
	if _, err := ReadThree("1", "one", "1"); err == nil || !strings.Contains(err.Error(), "most likely") {
		t.Errorf("ReadThree(1, one, 1): %v, want the most likely hours named", err)
	}
}

// TestWhy: the total walks home to the hours and the rate.
func TestWhy(t *testing.T) {
	task := Task{ID: "T1", Say: "ground lead", Three: three(t, ".5 .7 1.5"), Where: "tasks.csv:4"}
	e, err := Sum([]Task{task}, nil, rate("80", "USD"))
	if err != nil {
		t.Fatal(err)
	}
	if got := why.Sources(e.Why); !slices.Equal(got, []string{"tasks.csv:4", "shop.csv:3"}) {
		t.Errorf("sources %v", got)
	}
	if text := why.Print(e.Why); !strings.Contains(text, "64.00 USD, T1 ground lead") || !strings.Contains(text, "0.5 / 0.7 / 1.5 h") {
		t.Errorf("reason is\n%s", text)
	}
}
