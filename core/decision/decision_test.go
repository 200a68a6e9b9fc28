package decision

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lugworth/core/labor"
	"lugworth/core/money"
	"lugworth/core/quote"
	"lugworth/core/shop"
)

var gbp = money.Currency{Code: "GBP", Exponent: 2}

// A piece of the invented job: the hours of an option, its set-ups, its parts
// in pence and its longest lead.
type work struct {
	low, mode, high string
	setUps          []string
	parts           money.Amount
	lead            int
}

var both = []string{"S1", "S2"}

// 60.00 an hour, fee 60.00, no tax. Parts at their selling price: fuse .52;
// lead kit 7.49; can 20.88 or 2 · 4.33; 1.58 + .86; quartet 74.88;
// 4 · 1.34; jack 3.02.
var works = map[string]work{
	"T1":   {".1", ".1", ".1", []string{"S2"}, 52, 3},
	"T2":   {".2", ".3", ".4", both, 749, 3},
	"T3i":  {".4", ".6", "1.4", both, 2088, 35},
	"T3ii": {".8", "1.0", "1.8", both, 866, 4},
	"T4":   {".2", ".3", ".4", both, 244, 3},
	"T5":   {".2", ".2", ".2", []string{"S2"}, 7488, 3},
	"T6":   {".4", ".6", "1.4", both, 536, 4},
	"T7":   {".3", ".4", ".5", both, 0, 0},
	"T8":   {".5", "1.0", "2.7", both, 0, 0},
	"T9":   {".2", ".3", ".4", both, 302, 3},
}

// price reckons a choice with the packages that reckon the real one.
func price(accept []string) (Price, error) {
	in := quote.Input{Policy: quote.Policy{Currency: gbp, Fee: 6000}}
	var tasks []labor.Task
	for _, id := range accept {
		w, found := works[id]
		if !found {
			return Price{}, fmt.Errorf("no work %s", id)
		}
		three, err := labor.ReadThree(w.low, w.mode, w.high)
		if err != nil {
			return Price{}, err
		}
		tasks = append(tasks, labor.Task{ID: id, Three: three, SetUps: w.setUps})
		if w.parts > 0 {
			in.Parts = append(in.Parts, quote.Part{Option: id, Number: id, Pieces: 1, Selling: w.parts, LeadDays: w.lead})
		}
	}
	var err error
	if in.Labor, err = labor.Sum(tasks, setUps(), labor.Rate{Hour: money.Whole(60), Currency: gbp}); err != nil {
		return Price{}, err
	}
	b, err := quote.Price(in)
	return Price{Total: b.Total, Hours: float64(b.Hours), ReadyDays: b.ReadyDays, NoLead: b.NoLead}, err
}

func setUps() []labor.SetUp {
	s1, _ := labor.ReadThree(".3", ".4", ".5")
	s2, _ := labor.ReadThree(".8", "1.0", "1.8")
	return []labor.SetUp{{ID: "S1", Three: s1}, {ID: "S2", Three: s2}}
}

func one(finding string, pile shop.Pile, value int, ids ...string) Decision {
	d := Decision{Finding: finding, Pile: pile}
	for _, id := range ids {
		d.Options = append(d.Options, Option{ID: id, Value: value})
	}
	return d
}

// job is the touring player's amp: ceiling 450.00, needed in 21 days.
func job() Model {
	return Model{
		Decisions: []Decision{
			one("B1", shop.Must, 0, "T1"), one("B2", shop.Must, 0, "T2"), one("B3", shop.Must, 0, "T3i", "T3ii"),
			one("B4", shop.Must, 0, "T4"), one("B5", shop.Should, 5, "T5"), one("B6", shop.Must, 0, "T6"),
			one("B7", shop.Should, 3, "T7"), one("B8", shop.Could, 1, "T8"), one("B9", shop.Should, 4, "T9"),
		},
		Limits:   Limits{Ceiling: 45000, HasCeiling: true, Days: 21, HasDays: true},
		Currency: gbp, Price: price,
	}
}

func fields(s string) []string { return strings.Fields(s) }

// TestStand: the sets of the job against both limits.
func TestStand(t *testing.T) {
	tests := []struct {
		name, accept  string
		total, left   money.Amount
		hours         float64 // to 1e-9
		days          int
		ceiling, date bool
	}{
		{"everything", "T1 T2 T3ii T4 T5 T6 T7 T8 T9", 52837, -7837, 6.1, 4, false, true},
		{"without T8", "T1 T2 T3ii T4 T5 T6 T7 T9", 45637, -637, 4.9, 4, false, true},
		{"without T8, new can", "T1 T2 T3i T4 T5 T6 T7 T9", 44459, 541, 4.5, 35, true, false},
		{"musts T5 T9", "T1 T2 T3ii T4 T5 T6 T9", 43237, 1763, 4.5, 4, true, true},
		{"musts T5 T7", "T1 T2 T3ii T4 T5 T6 T7", 43535, 1465, 4.6, 4, true, true},
		{"musts only, any order", "T6 T4 T3ii T2 T1", 32447, 12553, 4.0, 4, true, true},
		{"nothing", "", 6000, 39000, 0, 0, true, true},
	}
	for _, tt := range tests {
		s, err := job().Stand(fields(tt.accept))
		if err != nil {
			t.Fatal(err)
		}
		if s.Total != tt.total || s.Left != tt.left || math.Abs(s.Hours-tt.hours) > 1e-9 || s.ReadyDays != tt.days ||
			s.FitsCeiling != tt.ceiling || s.FitsDate != tt.date {
			t.Errorf("%s: %+v; want total %d, left %d, %.1f h, day %d, fits %v %v", tt.name, s, tt.total, tt.left, tt.hours, tt.days, tt.ceiling, tt.date)
		}
	}
}

// TestBest: 5 + 4 for T5 and T9 beats 5 + 3; 6.37 more, or day 35, adds T7.
func TestBest(t *testing.T) {
	tests := []struct {
		name   string
		change func(m *Model)
		found  bool
		accept string
		total  money.Amount
		value  int
		runner string
		say    string
	}{
		{"ceiling and date", func(*Model) {}, true, "T1 T2 T3ii T4 T5 T6 T9", 43237, 9,
			"T1 T2 T3ii T4 T5 T6 T7", "raise the ceiling by 6.37, or accept day 35, and T7 comes too"},
		{"6.37 more", func(m *Model) { m.Limits.Ceiling = 45637 }, true, "T1 T2 T3ii T4 T5 T6 T7 T9", 45637, 12,
			// Next: + T8 at 456.37 + 72.00 = 528.37.
			"T1 T2 T3ii T4 T5 T6 T9", "raise the ceiling by 72.00 and T8 comes too"},
		{"a penny less", func(m *Model) { m.Limits.Ceiling = 45636 }, true, "T1 T2 T3ii T4 T5 T6 T9", 43237, 9,
			"T1 T2 T3ii T4 T5 T6 T7", "raise the ceiling by 0.01, or accept day 35, and T7 comes too"},
		{"day 35", func(m *Model) { m.Limits.Days = 35 }, true, "T1 T2 T3i T4 T5 T6 T7 T9", 44459, 12,
			// Next by value: T5 and T9; with the new can 420.59 is the lower total.
			"T1 T2 T3i T4 T5 T6 T9", "raise the ceiling by 66.59 and T8 comes too"},
		{"no limits", func(m *Model) { m.Limits = Limits{} }, true, "T1 T2 T3i T4 T5 T6 T7 T8 T9", 51659, 13,
			"T1 T2 T3ii T4 T5 T6 T7 T8 T9", ""},
		// 324.47 + 86.88 = 411.35 for T5 alone; with T7 and T8 507.35.
		{"a no stands", func(m *Model) { m.Decisions[8].Options[0].Answer = No }, true, "T1 T2 T3ii T4 T5 T6 T7", 43535, 8,
			"T1 T2 T3ii T4 T5 T6", "raise the ceiling by 57.35 and T8 comes too"},
		// With T7 said yes to, T5 + T7 = 435.35 is what fits; T9 lacks 6.37.
		{"a yes stands", func(m *Model) { m.Decisions[6].Options[0].Answer = Yes }, true, "T1 T2 T3ii T4 T5 T6 T7", 43535, 8,
			// Of equal value: 324.47 + 24.00 + 72.00 + 21.02 = 441.49.
			"T1 T2 T3ii T4 T6 T7 T8 T9", "raise the ceiling by 6.37, or accept day 35, and T9 comes too"},
		// Both cans declined: 324.47 − 66.00 − 8.66 = 249.81; + T5 86.88, T9 21.02, T7 24.00 = 381.71.
		// T8 needs 453.71; T8 in place of T7 is 429.71, value 10.
		{"a declined must stands", func(m *Model) {
			m.Decisions[2].Options[0].Answer, m.Decisions[2].Options[1].Answer = No, No
		}, true, "T1 T2 T4 T5 T6 T7 T9", 38171, 12, "T1 T2 T4 T5 T6 T8 T9", "raise the ceiling by 3.71 and T8 comes too"},
		{"T9 needs T8", func(m *Model) { m.Decisions[8].Options[0].Needs = []string{"T8"} }, true, "T1 T2 T3ii T4 T5 T6 T7", 43535, 8,
			// T5 T8 T9: 432.37 + 72.00 = 504.37, value 10; T7 goes. T7 T8 T9: 441.49, value 8.
			"T1 T2 T3ii T4 T6 T7 T8 T9", "raise the ceiling by 54.37 and T8 and T9 come in place of T7"},
		// The musts with the new can are 312.69; in time they are 324.47.
		{"ceiling under the musts", func(m *Model) { m.Limits.Ceiling = 30000 }, false, "T1 T2 T3i T4 T6", 31269, 0,
			"", "nothing fits: the least that can be done is 312.69, over the ceiling by 12.69"},
		{"the cheap way is late", func(m *Model) { m.Limits.Ceiling = 32000 }, false, "T1 T2 T3i T4 T6", 31269, 0,
			"", "nothing fits: what is ready in time is 324.47 at least, over the ceiling by 4.47"},
		{"too soon", func(m *Model) { m.Limits.Days = 2 }, false, "T1 T2 T3i T4 T6", 31269, 0,
			"", "nothing fits: the soonest is day 4, the date asked for is day 2"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := job()
			tt.change(&m)
			b, err := m.Best()
			if err != nil {
				t.Fatal(err)
			}
			if b.Found != tt.found || !slices.Equal(b.Accept, fields(tt.accept)) || b.Total != tt.total || b.Value != tt.value {
				t.Errorf("best %v %v, total %d, value %d; want %v %s, %d, %d", b.Found, b.Accept, b.Total, b.Value, tt.found, tt.accept, tt.total, tt.value)
			}
			var runner []string
			if b.RunnerUp != nil {
				runner = b.RunnerUp.Accept
			}
			if !slices.Equal(runner, fields(tt.runner)) {
				t.Errorf("runner-up %v, want %s", runner, tt.runner)
			}
			if b.Say != tt.say {
				t.Errorf("say %q, want %q", b.Say, tt.say)
			}
		})
	}
}

// TestDeltas: from musts + T5 + T9 at 432.37.
func TestDeltas(t *testing.T) {
	present := fields("T1 T2 T3ii T4 T5 T6 T9")
	deltas, err := job().Deltas(present)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]struct {
		accepted bool
		swaps    string
		total    money.Amount
		hours    float64 // to 1e-9
		days     int
	}{
		"T1":   {true, "", -652, -.1, 0},        // 6.00 + .52; the set-up stays
		"T2":   {true, "", -2549, -.3, 0},       // 18.00 + 7.49
		"T3i":  {false, "T3ii", -1178, -.4, 31}, // + 12.22 − 24.00; day 35 for day 4
		"T3ii": {true, "", -7466, -1.1, 0},      // 66.00 + 8.66; T6 also takes 4 days
		"T4":   {true, "", -2044, -.3, 0},       // 18.00 + 2.44
		"T5":   {true, "", -8688, -.2, 0},       // 12.00 + 74.88
		"T6":   {true, "", -4736, -.7, 0},       // 42.00 + 5.36
		"T7":   {false, "", 2400, .4, 0},        // 24.00
		"T8":   {false, "", 7200, 1.2, 0},       // 72.00
		"T9":   {true, "", -2102, -.3, 0},       // 18.00 + 3.02
	}
	if len(deltas) != len(want) {
		t.Fatalf("%d deltas, want %d", len(deltas), len(want))
	}
	for _, d := range deltas {
		w := want[d.Option]
		if d.Accepted != w.accepted || strings.Join(d.Swaps, " ") != w.swaps || d.Total != w.total ||
			math.Abs(d.Hours-w.hours) > 1e-9 || d.Days != w.days || d.After.Total != 43237+w.total {
			t.Errorf("%s: %+v; want %+v", d.Option, d, w)
		}
	}
	// A shared set-up: from T2 alone, T4 costs 20.44; from nothing it brings
	// both set-ups, 1.5 h · 60 = 90.00, with it.
	alone, err := job().Turn(nil, "T4")
	if err != nil || alone.Total != 2044+9000 {
		t.Errorf("T4 from nothing: %d, %v; want 11044", alone.Total, err)
	}
	beside, err := job().Turn([]string{"T2"}, "T4")
	if err != nil || beside.Total != 2044 {
		t.Errorf("T4 beside T2: %d, %v; want 2044", beside.Total, err)
	}
	if _, err := job().Turn(nil, "T99"); err == nil || !strings.Contains(err.Error(), `no option "T99"`) {
		t.Errorf("an unknown option: %v", err)
	}
}

// TestBoth: an option marked Both stands beside its fellow, the others do not.
func TestBoth(t *testing.T) {
	m := job()
	m.Decisions[4] = Decision{Finding: "B5", Pile: shop.Should, Options: []Option{{ID: "T5"}, {ID: "T7"}, {ID: "T8", Both: true}}}
	m.Decisions = slices.Delete(m.Decisions, 6, 8)
	if got, err := m.Order(fields("T8 T5")); err != nil || !slices.Equal(got, fields("T5 T8")) {
		t.Errorf("Order(T8 T5) = %v, %v; want T5 T8", got, err)
	}
	if _, err := m.Order(fields("T5 T7")); err == nil || !strings.Contains(err.Error(), "options T5 and T7 exclude each other") {
		t.Errorf("Order(T5 T7): %v", err)
	}
	d, err := m.Turn(fields("T5 T8"), "T7")
	if err != nil || !slices.Equal(d.Swaps, fields("T5")) || !slices.Equal(d.After.Accept, fields("T7 T8")) {
		t.Errorf("turning T7 on: %+v, %v; want T5 to go and T8 to stay", d, err)
	}
	// None, T5, T7, each with and without T8.
	if got := len(ways(m.Decisions[4])); got != 6 {
		t.Errorf("%d ways, want 6", got)
	}
}

// TestNoLead: a part of unstated lead cannot be promised for a date.
func TestNoLead(t *testing.T) {
	m := job()
	m.Price = func(accept []string) (Price, error) {
		p, err := price(accept)
		if slices.Contains(accept, "T5") {
			p.NoLead = []string{"U-120"}
		}
		return p, err
	}
	s, err := m.Stand(fields("T1 T5"))
	if err != nil || s.FitsDate || !s.FitsCeiling {
		t.Errorf("%+v, %v; want the date not kept", s, err)
	}
	b, err := m.Best()
	if err != nil || slices.Contains(b.Accept, "T5") || strings.Contains(b.Say, "T5") {
		t.Errorf("best %v, say %q, %v; want no promise of T5", b.Accept, b.Say, err)
	}
	m.Limits.HasDays = false
	if s, err = m.Stand(fields("T1 T5")); err != nil || !s.Fits() {
		t.Errorf("without a date: %+v, %v; want it to fit", s, err)
	}
}

// TestBestIsExhaustive: 60 random jobs against a plain search over every
// subset of options, written apart.
func TestBestIsExhaustive(t *testing.T) {
	random := rand.New(rand.NewPCG(43, 1))
	for round := range 60 {
		m := randomJob(random)
		b, err := m.Best()
		if err != nil {
			t.Fatal(err)
		}
		value, total, found := searched(t, m)
		if b.Found != found || (found && (b.Value != value || b.Total != total)) {
			t.Fatalf("round %d: best %v value %d total %d; a plain search finds %v %d %d", round, b.Found, b.Value, b.Total, found, value, total)
		}
	}
}

func randomJob(random *rand.Rand) Model {
	cost, days := map[string]money.Amount{}, map[string]int{}
	m := Model{Currency: gbp, Limits: Limits{Ceiling: money.Amount(random.IntN(400)), HasCeiling: true, Days: random.IntN(9), HasDays: true}}
	piles := []shop.Pile{shop.Must, shop.Should, shop.Could}
	for f := range 4 {
		d := Decision{Finding: fmt.Sprint("F", f), Pile: piles[random.IntN(3)]}
		for o := range 1 + random.IntN(3) {
			id := fmt.Sprint("T", f, o)
			cost[id], days[id] = money.Amount(random.IntN(120)), random.IntN(12)
			d.Options = append(d.Options, Option{ID: id, Value: random.IntN(6), Both: random.IntN(3) == 0})
		}
		m.Decisions = append(m.Decisions, d)
	}
	m.Price = func(accept []string) (p Price, err error) {
		for _, id := range accept {
			p.Total += cost[id]
			p.ReadyDays = max(p.ReadyDays, days[id])
		}
		p.Total += money.Amount(min(len(accept), 1) * 40) // shared set-up
		return p, nil
	}
	return m
}

// searched tries every subset of all options and keeps the rules by itself.
func searched(t *testing.T, m Model) (value int, total money.Amount, found bool) {
	var options []Option
	var of []int
	for i, d := range m.Decisions {
		for _, o := range d.Options {
			options, of = append(options, o), append(of, i)
		}
	}
	for mask := range 1 << len(options) {
		alone, taken := make([]int, len(m.Decisions)), make([]int, len(m.Decisions))
		var accept []string
		sum := 0
		for i, o := range options {
			if mask>>i&1 == 0 {
				continue
			}
			accept, sum = append(accept, o.ID), sum+o.Value
			taken[of[i]]++
			if !o.Both {
				alone[of[i]]++
			}
		}
		allowed := slices.Max(alone) <= 1
		for i, d := range m.Decisions {
			allowed = allowed && (d.Pile != shop.Must || taken[i] > 0)
		}
		p, err := m.Price(accept)
		if err != nil {
			t.Fatal(err)
		}
		if !allowed || p.Total > m.Limits.Ceiling || p.ReadyDays > m.Limits.Days {
			continue
		}
		if !found || sum > value || (sum == value && p.Total < total) {
			value, total, found = sum, p.Total, true
		}
	}
	return value, total, found
}

func TestBestRefuses(t *testing.T) {
	many := Model{Price: price, Currency: gbp}
	for i := range 17 {
		many.Decisions = append(many.Decisions, one(fmt.Sprint("F", i), shop.Could, 1, fmt.Sprint("T", i)))
	}
	settled := many
	settled.Decisions = slices.Clone(many.Decisions)
	settled.Price = func([]string) (Price, error) { return Price{}, nil }
	settled.Decisions[0].Options = []Option{{ID: "T0", Value: 1, Answer: Yes}}
	if b, err := settled.Best(); err != nil || b.Value != 17 {
		t.Errorf("16 undecided: value %d, %v; want 17", b.Value, err)
	}
	crowd := Decision{Finding: "F0", Pile: shop.Could}
	for i := range mostBeside + 1 {
		crowd.Options = append(crowd.Options, Option{ID: fmt.Sprint("T", i), Both: true})
	}
	change := func(f func(m *Model)) Model {
		m := job()
		f(&m)
		return m
	}
	tests := []struct {
		name  string
		model Model
		want  string
	}{
		{"17 of one finding", Model{Price: price, Currency: gbp, Decisions: []Decision{crowd}}, "17 options that may stand beside each other are undecided, want at most 16"},
		{"no pile", change(func(m *Model) { m.Decisions[0].Pile = "" }), `decision B1: pile ""`},
		{"no options", change(func(m *Model) { m.Decisions[0].Options = nil }), "decision B1: no options"},
		{"no ID", change(func(m *Model) { m.Decisions[0].Options[0].ID = "" }), "decision B1: an option without an ID"},
		{"an ID twice", change(func(m *Model) { m.Decisions[1].Options[0].ID = "T1" }), "option T1 stands in B1 as well"},
		{"an unknown need", change(func(m *Model) { m.Decisions[1].Options[0].Needs = []string{"T77"} }), `option T2 needs "T77"`},
		{"no price", change(func(m *Model) { m.Price = nil }), "no pricing function"},
		{"answers that exclude each other", change(func(m *Model) {
			m.Decisions[2].Options[0].Answer, m.Decisions[2].Options[1].Answer = Yes, Yes
		}), "decision B3: the answers given exclude each other"},
		{"needs that cannot be met", change(func(m *Model) {
			m.Decisions[0].Options[0].Needs = []string{"T8"}
			m.Decisions[7].Options[0].Answer = No
		}), "every choice left lacks work"},
		{"no price at all", change(func(m *Model) { m.Decisions[0].Options[0].ID = "T88" }), "none can be priced: no work T88"},
	}
	for _, tt := range tests {
		if _, err := tt.model.Best(); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %q", tt.name, err, tt.want)
		}
	}
}
