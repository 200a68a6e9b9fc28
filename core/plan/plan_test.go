package plan

import (
	"math"
	"slices"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/catalog"
	"lugworth/core/intake"
	"lugworth/core/limit"
	"lugworth/core/money"
	"lugworth/core/rating"
	"lugworth/core/stress"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// list is an invented price list. The no-load peak of the desk's amp is
// 445.2 V at the top of the range, the wanted rating 467.4 V.
const list = `Number,Description,Value,Volts,Watts,Class,Price
E-450,Axial electrolytic,22uF,450,,,1.00
E-475,Axial electrolytic,22uF,475,,,3.00
E-500,Axial electrolytic,22uF,500,,,4.00
E-500b,Axial electrolytic,22uF,500,,,4.00
E-25,Axial electrolytic,22uF,25,,,0.50
E-none,Axial electrolytic,22uF,,,,0.40
E-free,Axial electrolytic,22uF,500,,,
F-400,Film axial,.022uF,400,,,0.30
F-630,Film axial,.022uF,630,,,0.70
R-half,Carbon film resistor 1/2W,100k,,,,0.10
R-two,Metal oxide resistor 2W,100k,,,,0.30
S-2A,Fuse slow 2A,2A T,,,,0.60
S-5A,Fuse slow 5A,5A T,,,,0.60
T-1,6V6GT matched pair,,,,,54.00
`

func offers(t *testing.T) *catalog.Index {
	t.Helper()
	l, err := catalog.ReadList("L", "L.csv", []byte(list), catalog.Terms{Currency: "USD", Rate: money.Whole(1)}, nil)
	if err != nil || len(l.Offers) != strings.Count(list, "\n")-1 {
		t.Fatalf("%d offers, %v: %v", len(l.Offers), err, l.Aside)
	}
	return catalog.NewIndex([]catalog.List{l})
}

func desk(t *testing.T) (*Desk, *stress.Model) {
	t.Helper()
	node := func(pairs ...string) []amp.Node {
		var out []amp.Node
		for i := 0; i < len(pairs); i += 2 {
			out = append(out, amp.Node{Role: pairs[i], Name: pairs[i+1]})
		}
		return out
	}
	a := &amp.Amp{Bias: stress.CathodeBias, Alike: true, Positions: []amp.Position{
		{Ref: "HT", Role: amp.HighWinding},
		{Ref: "V5", Role: amp.RectifierTube, Type: "5U4GB"},
		{Ref: "C1", Role: amp.Reservoir, Nodes: node("plus", "B1"), Spec: unit.Spec{Unit: unit.Farad, Values: []float64{20e-6}, Volts: 450}},
		{Ref: "C2", Role: amp.Smoothing, Nodes: node("plus", "B2"), Spec: unit.Spec{Volts: 450}},
		{Ref: "C5", Role: amp.Coupler, Nodes: node("a", "P", "b", "G")},
		{Ref: "C10", Role: amp.Bypass, Nodes: node("plus", "K1"), Spec: unit.Spec{Volts: 25}},
		{Ref: "C11", Role: amp.Bypass, Nodes: node("plus", "K2")},
		{Ref: "C20", Role: amp.LineToChassis},
		{Ref: "R5", Role: amp.PlateLoad, Spec: unit.Spec{Unit: unit.Ohm, Values: []float64{100e3}, Watts: 1}},
		{Ref: "R6", Role: amp.PlateLoad, Spec: unit.Spec{Unit: unit.Ohm, Values: []float64{47e3}, Watts: 1}},
		{Ref: "F1", Role: amp.LineFuse, Extra: map[string]string{"label": "T2A"}},
		{Ref: "F2", Role: amp.LineFuse},
	}, Readings: []amp.Reading{{ID: "r1", At: "HT", Quantity: amp.RMSVolts, Amount: 290, Unit: unit.Volt, Mains: 117, State: []string{amp.NoLoad}, Stated: true}}}
	cards := func(name string) (tube.Card, bool) {
		return tube.Card{Type: "5U4GB", Limits: []limit.Limit{{Subject: "5U4GB", Quantity: limit.FirstCapacitor, High: 32e-6, HasHigh: true, Unit: unit.Farad, Mark: limit.User}}}, name == "5U4GB"
	}
	index := offers(t)
	d := &Desk{Amp: a, Mains: intake.Mains{Measured: 124, Low: 114, High: 127}, Cards: cards, Reserve: 0.05, Offer: index.ByNumber,
		Cost: func(o *catalog.Offer) Cost { return Cost{Landed: o.Price} }, Reasons: map[string]string{}}
	d.Shelf = func(w catalog.Want) []Priced {
		var out []Priced
		for _, o := range index.Find(w) {
			out = append(out, Priced{o, d.Cost(o)})
		}
		slices.SortFunc(out, Cheapest)
		return out
	}
	return d, stress.New(stress.Input{Amp: a, Mains: d.Mains, Cards: cards})
}

// option is an option of one part.
func option(t *testing.T, is, number string, at ...string) *Option {
	t.Helper()
	w, err := ReadWant(is)
	if err != nil {
		t.Fatal(err)
	}
	return &Option{ID: "T", Finding: "A", Parts: []Part{{Qty: 1, Is: is, Want: w, For: at, List: "L", Number: number}}}
}

func TestReadWant(t *testing.T) {
	tests := []struct {
		text      string
		kinds     []catalog.Kind
		low, high float64 // SI, to 1e-9 of it
		check     func(catalog.Want) bool
	}{
		// By hand: an electrolytic from 0.8 to 1.5 of 22 µF.
		{"electrolytic 22uF", []catalog.Kind{catalog.Electrolytic}, 17.6e-6, 33e-6, nil},
		{"can 20/20/20uF", []catalog.Kind{catalog.Electrolytic}, 16e-6, 30e-6, func(w catalog.Want) bool { return w.Form == catalog.Can && w.Sections == 3 }},
		{"film or paper .02uF", []catalog.Kind{catalog.Film, catalog.Capacitor, catalog.Paper}, 0.015e-6, 0.025e-6, nil},
		{"axial film 22n", []catalog.Kind{catalog.Film, catalog.Capacitor}, 16.5e-9, 27.5e-9, func(w catalog.Want) bool { return w.Form == catalog.Axial }},
		{"coupler .1uF", catalog.Couplers(), 0.075e-6, 0.125e-6, nil},
		{"resistor 100k", catalog.Resistors(), 98e3, 102e3, nil},
		{"wirewound 300R", []catalog.Kind{catalog.Wirewound}, 294, 306, nil},
		{"tube 6V6GT pair", []catalog.Kind{catalog.Tube, catalog.Rectifier}, 0, 0, func(w catalog.Want) bool { return w.Tube == "6V6GT" && w.Count == 2 }},
		{"tube EL84 quartet", []catalog.Kind{catalog.Tube, catalog.Rectifier}, 0, 0, func(w catalog.Want) bool { return w.Tube == "EL84" && w.Count == 4 }},
		{"fuse 2A T", []catalog.Kind{catalog.Fuse}, 1.998, 2.002, nil},
		{"jack", []catalog.Kind{catalog.Jack}, 0, 0, nil},
		{"electrolytic", []catalog.Kind{catalog.Electrolytic}, 0, 0, nil},
		{"3-core lead kit", []catalog.Kind{catalog.Cord}, 0, 0, nil},
		{"a new handle", nil, 0, 0, nil}, // searches nothing: only a named offer serves
		{"", nil, 0, 0, nil},
	}
	for _, tt := range tests {
		w, err := ReadWant(tt.text)
		if err != nil {
			t.Errorf("%q: %v", tt.text, err)
			continue
		}
		near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(b) }
		if !slices.Equal(w.Kinds, tt.kinds) || !near(w.ValueLow, tt.low) || !near(w.ValueHigh, tt.high) || tt.check != nil && !tt.check(w) {
			t.Errorf("%q: %+v", tt.text, w)
		}
	}
	for _, text := range []string{"electrolytic 22 or so", "resistor 22uF", "film 450V"} {
		if w, err := ReadWant(text); err == nil {
			t.Errorf("%q is read as %+v, want an error", text, w)
		}
	}
}

func TestLine(t *testing.T) {
	tests := []struct {
		name    string
		is      string
		number  string
		at      []string
		reason  bool
		want    string // number of the chosen offer, "" none
		kind    rating.Verdict
		problem string
	}{
		// 445.17 V to bear; wanted 467.4: 475 is the cheapest that passes.
		{"cheapest that passes", "electrolytic 22uF", "", []string{"C2"}, false, "E-475", rating.Within, ""},
		{"named, dearer", "electrolytic 22uF", "E-500", []string{"C2"}, false, "E-500", rating.Within, ""},
		{"named, below reserve", "electrolytic 22uF", "E-450", []string{"C2"}, false, "E-450", rating.BelowReserve, "needs a recorded reason"},
		{"named, below reserve, with a reason", "electrolytic 22uF", "E-450", []string{"C2"}, true, "E-450", rating.BelowReserve, ""},
		{"named, over its rating", "electrolytic 22uF", "E-25", []string{"C2"}, true, "E-25", rating.OverWorsened, "may not be ordered"},
		{"named, no rating in the row", "electrolytic 22uF", "E-none", []string{"C2"}, false, "E-none", rating.NotEnoughData, ""},
		{"named, no price", "electrolytic 22uF", "E-free", []string{"C2"}, false, "E-free", rating.Within, "no price"},
		{"named, in no list", "electrolytic 22uF", "E-999", []string{"C2"}, false, "", 0, "in no list that is loaded"},
		// 22 × 1.2 = 26.4 of 32 µF.
		{"reservoir", "electrolytic 22uF", "", []string{"C1"}, false, "E-475", rating.Within, ""},
		{"film", "film .022uF", "", []string{"C5"}, false, "F-630", rating.Within, ""},
		{"nothing in the lists", "choke", "", nil, false, "", 0, "no offer in any list for choke"},
		{"nothing that passes", "film .022uF", "", []string{"C5", "C20"}, false, "", 0, "no offer passes"},
		{"from the mains to the chassis, never", "film .022uF", "F-630", []string{"C20"}, true, "F-630", rating.Within, "an ordinary capacitor never goes from the mains to the chassis"},
		{"half a watt where one was", "resistor 100k", "R-half", []string{"R5"}, false, "R-half", rating.OverWorsened, "may not be ordered"},
		{"two watts where one was", "resistor 100k", "R-two", []string{"R5"}, false, "R-two", rating.Within, ""},
		// Another value bears other watts: what the maker chose says nothing of it.
		{"two watts of another value", "resistor 100k", "R-two", []string{"R6"}, false, "R-two", rating.NotProven, ""},
		{"the cheaper resistor does not pass", "resistor 100k", "", []string{"R5"}, false, "R-two", rating.Within, ""},
		// A cathode nobody read: no less volts than the place was made with is not proof.
		{"place made with 25 V", "electrolytic 22uF", "", []string{"C10"}, false, "E-25", rating.NotProven, ""},
		{"place nobody knows", "electrolytic 22uF", "", []string{"C11"}, false, "", 0, "no offer passes"},
		{"place nobody knows, named", "electrolytic 22uF", "E-500", []string{"C11"}, false, "E-500", rating.NotEnoughData, ""},
		{"the fuse on the label", "fuse 2A T", "", []string{"F1"}, false, "S-2A", rating.Within, ""},
		{"a bigger fuse, never", "fuse 5A T", "S-5A", []string{"F1"}, true, "S-5A", rating.OverWorsened, "may not be ordered"},
		{"no label: nobody knows", "fuse 2A T", "S-2A", []string{"F2"}, false, "S-2A", rating.NotEnoughData, ""},
		{"nothing about it is rated", "tube 6V6GT pair", "", nil, false, "T-1", rating.NotEnoughData, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d, m := desk(t)
			if tt.reason {
				d.Reasons["T"] = "seen and weighed"
			}
			l := d.Under(m).Line(option(t, tt.is, tt.number, tt.at...), 0)
			got, kind := "", rating.Verdict(0)
			if l.Chosen != nil {
				got, kind = l.Chosen.Offer.Number, l.Chosen.Kind
			}
			if got != tt.want || kind != tt.kind {
				t.Errorf("chosen %q %s, want %q %s", got, kind, tt.want, tt.kind)
			}
			if (l.Problem == "") != (tt.problem == "") || !strings.Contains(l.Problem, tt.problem) {
				t.Errorf("problem %q, want %q", l.Problem, tt.problem)
			}
			if l.NeedsReason != strings.Contains(tt.problem, "needs a recorded reason") {
				t.Errorf("needs a reason: %v", l.NeedsReason)
			}
		})
	}
}

// The plan takes what would stand first were all candidates weighed and
// sorted; the quick way stops earlier and must come to the same.
func TestLineTakesTheFirstCandidate(t *testing.T) {
	d, m := desk(t)
	for _, is := range []string{"electrolytic 22uF", "film .022uF", "resistor 100k", "fuse 2A T", "fuse 5A T", "tube 6V6GT pair"} {
		for _, at := range [][]string{nil, {"C1"}, {"C2"}, {"C5"}, {"C10"}, {"C11"}, {"C20"}, {"R5"}, {"R6"}, {"F1"}, {"F2"}, {"C1", "C2"}, {"C2", "C10"}, {"C5", "C20"}} {
			l := d.Under(m).Line(option(t, is, "", at...), 0)
			cs := l.Candidates()
			want := ""
			if len(cs) > 0 && cs[0].class <= passes {
				want = cs[0].Offer.Number
			}
			got := ""
			if l.Chosen != nil {
				got = l.Chosen.Offer.Number
			}
			if got != want {
				t.Errorf("%s at %v: takes %q, first candidate is %q", is, at, got, want)
			}
		}
	}
}

func TestCandidates(t *testing.T) {
	d, m := desk(t)
	trial := &catalog.Offer{List: "trial", Number: "x", Text: "axial 22uF 475V", Part: catalog.Part{Kind: catalog.Electrolytic, Spec: unit.Spec{Unit: unit.Farad, Values: []float64{22e-6}, Volts: 600}}}
	d.Trials = map[string][]*catalog.Offer{TrialKey("T", "0"): {trial}}
	l := d.Under(m).Line(option(t, "electrolytic 22uF", "", "C2"), 0)
	var got []string
	for _, c := range l.Candidates() {
		got = append(got, c.Offer.Number)
	}
	// Within by price, the unpriced last; then no rating; below reserve; over.
	want := []string{"E-475", "E-500", "E-500b", "E-free", "x", "E-none", "E-450", "E-25"}
	if !slices.Equal(got, want) {
		t.Errorf("candidates %v, want %v", got, want)
	}
	// A part asked about without a list is weighed and never taken by itself.
	d.Shelf = func(catalog.Want) []Priced { return nil }
	if l := d.Under(m).Line(option(t, "electrolytic 22uF", "", "C2"), 0); l.Chosen != nil || len(l.Candidates()) != 1 {
		t.Errorf("a trial is taken: %+v", l.Chosen)
	}
}

func TestNoRangeProvesNothing(t *testing.T) {
	d, m := desk(t)
	d.Mains = intake.Mains{}
	l := d.Under(m).Line(option(t, "electrolytic 22uF", "E-500", "C11"), 0)
	if l.Chosen.Kind != rating.NotEnoughData {
		t.Errorf("without a range: %s", l.Chosen.Kind)
	}
	// Nor does what the place was made with: that held for a supply.
	if l := d.Under(m).Line(option(t, "resistor 100k", "R-two", "R5"), 0); l.Chosen.Kind != rating.NotEnoughData {
		t.Errorf("two watts in a one-watt place, without a range: %s", l.Chosen.Kind)
	}
	for _, j := range d.Standing(m, true) {
		if j.Kind == rating.Within && j.Scenario != "greatest value" || j.Kind == rating.BelowReserve {
			t.Errorf("without a range %s %s is %s", j.Subject, j.Quantity, j.Kind)
		}
	}
}

// A part nothing judged is not approved: a filter capacitor whose need names
// no place has too little data. A pair of tubes bears nothing printed on it.
func TestUnrated(t *testing.T) {
	d, m := desk(t)
	for _, tt := range []struct {
		is, number, at string
		want           bool
	}{{"electrolytic 22uF", "E-500", "", true}, {"electrolytic 22uF", "E-500", "C2", false}, {"resistor 100k", "R-two", "", true},
		{"fuse 2A T", "S-2A", "", true}, {"tube 6V6GT pair", "T-1", "", false}} {
		var at []string
		if tt.at != "" {
			at = []string{tt.at}
		}
		if got := d.Under(m).Line(option(t, tt.is, tt.number, at...), 0).Unrated(); got != tt.want {
			t.Errorf("%s into %q: unrated %v, want %v", tt.is, tt.at, got, tt.want)
		}
	}
}

// row is one standing of a place, for Compare.
func row(subject string, k rating.Verdict) rating.Judgment {
	volts := map[rating.Verdict]float64{rating.Within: 290, rating.NotProven: 305, rating.OverInherited: 310, rating.OverWorsened: 320}
	return rating.Judgment{Subject: subject, Quantity: limit.PlateVolts, Scenario: stress.Top, Kind: k,
		Limit: limit.Limit{High: 300, HasHigh: true}, HasLimit: true, HasFigure: true, Bound: 300, Worst: volts[k]}
}

func TestCompare(t *testing.T) {
	within, worse, inherited, open := rating.Within, rating.OverWorsened, rating.OverInherited, rating.NotProven
	tests := []struct {
		name          string
		before, after []rating.Verdict
		cures         int
		worsens       int
		breaks        int
		offered, asks bool
	}{
		{"nothing changes", []rating.Verdict{within, inherited}, []rating.Verdict{within, inherited}, 0, 0, 0, true, false},
		{"cures", []rating.Verdict{open}, []rating.Verdict{within}, 1, 0, 0, true, false},
		{"takes a limit over it was inside", []rating.Verdict{within}, []rating.Verdict{worse}, 0, 0, 1, false, false},
		{"takes one over that was not proven", []rating.Verdict{open}, []rating.Verdict{worse}, 0, 0, 1, false, false},
		{"further over and cures nothing", []rating.Verdict{inherited}, []rating.Verdict{worse}, 0, 1, 0, false, true},
		{"cures one, another further over", []rating.Verdict{open, inherited}, []rating.Verdict{within, worse}, 1, 1, 0, true, true},
		{"cures one, breaks another", []rating.Verdict{open, within}, []rating.Verdict{within, worse}, 1, 0, 1, false, false},
		{"over, less so: no cure, no harm", []rating.Verdict{inherited}, []rating.Verdict{inherited}, 0, 0, 0, true, false},
		{"brings down what another choice raised", []rating.Verdict{worse}, []rating.Verdict{inherited}, 0, 0, 0, true, false},
		{"leaves alone what another choice raised", []rating.Verdict{worse}, []rating.Verdict{worse}, 0, 0, 0, true, false},
		{"leaves unproven what was within", []rating.Verdict{within}, []rating.Verdict{open}, 0, 0, 0, true, true},
		{"over before is better now", []rating.Verdict{inherited}, []rating.Verdict{open}, 0, 0, 0, true, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var b, a []rating.Judgment
			for i := range tt.before {
				b = append(b, row(string(rune('A'+i)), tt.before[i]))
				a = append(a, row(string(rune('A'+i)), tt.after[i]))
			}
			e := Compare(b, a)
			if len(e.Cures) != tt.cures || len(e.Worsens) != tt.worsens || len(e.Breaks) != tt.breaks || e.Offered() != tt.offered || e.NeedsReason() != tt.asks {
				t.Errorf("%+v, offered %v, asks for a reason %v", e, e.Offered(), e.NeedsReason())
			}
		})
	}
	// A row that is only shown forbids nothing; figures that end with the tubes
	// are read again.
	shown, ended := row("A", worse), row("A", open)
	shown.Scenario, ended.HasFigure = stress.Measured, false
	was := row("A", within)
	was.Scenario = stress.Measured
	if e := Compare([]rating.Judgment{was}, []rating.Judgment{shown}); !e.Offered() || e.NeedsReason() {
		t.Errorf("a row only shown: %+v", e)
	}
	if e := Compare([]rating.Judgment{row("A", within)}, []rating.Judgment{ended}); e.NeedsReason() {
		t.Errorf("a figure that ended: %+v", e)
	}
	// Rows that stand on one side only say nothing.
	if e := Compare(nil, []rating.Judgment{row("A", worse)}); !e.Offered() || e.NeedsReason() {
		t.Errorf("a row with nothing to compare: %+v", e)
	}
}
