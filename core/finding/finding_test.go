package finding

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"lugworth/core/formula"
	"lugworth/core/shop"
	"lugworth/core/unit"
	"lugworth/core/why"
)

func close2(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

func problemTexts(ps []unit.Problem) string {
	var out []string
	for _, p := range ps {
		out = append(out, p.Error())
	}
	return strings.Join(out, "\n")
}

func TestDriftVerdict(t *testing.T) {
	ten := unit.Tolerance{Minus: 0.1, Plus: 0.1, Stated: true}
	tests := []struct {
		name   string
		tol    unit.Tolerance
		read   float64 // of a part marked 100 kΩ
		meter  float64
		known  bool
		want   DriftWord
		points float64 // to 0.01
	}{
		// By hand: 112 · 0.98 = 109.76, under 110; 112 · 0.99 = 110.88, over it by reading 12 − 10 = 2 points.
		{"112 k, meter 2 %", ten, 112e3, 0.02, true, CannotSay, 0},
		{"112 k, meter 1 %", ten, 112e3, 0.01, true, Out, 2},
		// By hand: 31 − 10 = 21; 24 − 10 = 14; 131 · 0.98 = 128.4, 124 · 0.98 = 121.5, both over 110.
		{"131 k, meter 2 %", ten, 131e3, 0.02, true, Out, 21},
		{"131 k, meter 1 %", ten, 131e3, 0.01, true, Out, 21},
		{"124 k, meter 2 %", ten, 124e3, 0.02, true, Out, 14},
		{"124 k, meter 1 %", ten, 124e3, 0.01, true, Out, 14},
		// By hand: 106 · 1.02 = 108.12, under 110.
		{"106 k, meter 2 %", ten, 106e3, 0.02, true, In, 0},
		{"106 k, meter 1 %", ten, 106e3, 0.01, true, In, 0},
		// By hand: 87 · 1.02 = 88.74, under 90: 13 − 10 = 3 points. 89 · 1.02 = 90.78.
		{"low", ten, 87e3, 0.02, true, Out, 3},
		{"low, near the edge", ten, 89e3, 0.02, true, CannotSay, 0},
		{"at the edge is inside", ten, 110e3, 0, true, In, 0},
		{"at the other edge too", ten, 90e3, 0, true, In, 0},
		{"no meter error stated", ten, 131e3, 0, false, CannotSay, 0},
		{"no tolerance marked", unit.Tolerance{}, 131e3, 0.01, true, CannotSay, 0},
		// By hand: −10/+50 %: 140 is inside 150; 155 − 150 = 5 points.
		{"uneven tolerance, inside", unit.Tolerance{Minus: 0.1, Plus: 0.5, Stated: true}, 140e3, 0.01, true, In, 0},
		{"uneven tolerance, outside", unit.Tolerance{Minus: 0.1, Plus: 0.5, Stated: true}, 155e3, 0.01, true, Out, 5},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := Marking{Value: 100e3, Unit: unit.Ohm, Tolerance: tt.tol, Meter: tt.meter, MeterKnown: tt.known}
			got := m.Judge("R1", tt.read)
			if got.Word != tt.want || !close2(got.Points, tt.points, 0.01) {
				t.Errorf("Judge(%v) = %v, %v points (%s), want %v, %v points", tt.read, got.Word, got.Points, got.Reason, tt.want, tt.points)
			}
			if got.Node == nil || got.Reason == "" {
				t.Error("the verdict gives no reason")
			}
		})
	}
}

// A wider meter error never decides more than a narrower one did, and never
// turns a verdict around.
func TestDriftWiderMeter(t *testing.T) {
	for read := 70e3; read < 140e3; read += 500 {
		last := DriftWord("")
		for i, meter := range []float64{0, 0.005, 0.01, 0.02, 0.05} {
			m := Marking{Value: 100e3, Unit: unit.Ohm, Tolerance: unit.Tolerance{Minus: 0.1, Plus: 0.1, Stated: true}, Meter: meter, MeterKnown: true}
			w := m.Judge("", read).Word
			if i > 0 && w != last && w != CannotSay {
				t.Fatalf("%v Ω: %v with a better meter, %v with ±%v", read, last, w, meter)
			}
			last = w
		}
	}
}

const plates = `{"id":"A5","place":"plate resistors","positions":["R1","R2","R3","R4"],"seen":"no noise","basis":"observed","pile":"could","no":"nothing changes","value":"1",
 "drift":{"marked":"100k","tolerance":"10%","meter_percent":"METER","reads":[{"at":"R1","value":"124k"},{"at":"R2","value":"131k"},{"at":"R3","value":"106k"},{"at":"R4","value":"112k"}]}}`

func TestDriftOfAFinding(t *testing.T) {
	tests := []struct {
		meter string
		facts Facts
		want  [4]DriftWord
	}{
		{`"meter_percent":"1",`, Facts{}, [4]DriftWord{Out, Out, In, Out}},
		{`"meter_percent":"±2 %",`, Facts{}, [4]DriftWord{Out, Out, In, CannotSay}},
		{"", Facts{Meter: 0.01, MeterKnown: true}, [4]DriftWord{Out, Out, In, Out}},
		{`"meter_percent":"2",`, Facts{Meter: 0.01, MeterKnown: true}, [4]DriftWord{Out, Out, In, CannotSay}}, // what stands with the reading rules
		{"", Facts{}, [4]DriftWord{}},
	}
	for _, tt := range tests {
		var f Finding
		if err := json.Unmarshal([]byte(strings.Replace(plates, `"meter_percent":"METER",`, tt.meter, 1)), &f); err != nil {
			t.Fatal(err)
		}
		r := Work(f, tt.facts)
		if len(r.Problems) > 0 || len(r.Lacks) > 0 || len(r.Drifts) != 4 {
			t.Fatalf("%s: %d drifts, problems %v, lacks %v", tt.meter, len(r.Drifts), r.Problems, r.Lacks)
		}
		for i, d := range r.Drifts {
			if d.Word != tt.want[i] {
				t.Errorf("meter %q %v: %s is %v (%s), want %v", tt.meter, tt.facts, d.At, d.Word, d.Reason, tt.want[i])
			}
		}
	}
}

func TestDriftSentences(t *testing.T) {
	m := Marking{Value: 100e3, Unit: unit.Ohm, Tolerance: unit.Tolerance{Minus: 0.1, Plus: 0.1, Stated: true}, Meter: 0.02, MeterKnown: true}
	for read, want := range map[float64]string{
		131e3: "131 kΩ is 31 % above 100 kΩ: out by 21 points",
		112e3: "112 kΩ is 12 % above 100 kΩ: cannot say: with a meter of ±2 % it may be 109.8 kΩ to 114.2 kΩ",
		94e3:  "94 kΩ is 6 % below 100 kΩ: inside its tolerance",
	} {
		if got := m.Judge("R1", read).Reason; got != want {
			t.Errorf("%v: %q, want %q", read, got, want)
		}
	}
}

func TestLeak(t *testing.T) {
	tests := []struct {
		name    string
		leak    Leak
		current float64 // A, to 0.05 µA
		ohms    float64 // Ω, to half a percent
		pile    shop.Pile
		effect  string
	}{
		// By hand: 3.0/220 k = 13.64 µA; (300 − 3.0)/13.64 µA = 21.78 MΩ.
		{"three volts", Leak{At: "V3:grid", Shift: "+3.0", GridLeak: "220k", Source: "300"}, 13.64e-6, 21.78e6, shop.Must, "3.0 V too positive"},
		// By hand: 0.4/220 k = 1.818 µA; 299.6/1.818 µA = 164.8 MΩ.
		{"a little is a leak too", Leak{At: "V4:grid", Shift: "0.4", GridLeak: "220k", Source: "300 V"}, 1.818e-6, 164.8e6, shop.Must, "0.4 V too positive"},
		// By hand: 285 · 0.22/100.22 = 0.6256 V, the leak of 100 MΩ worked backward; 0.6256/35 = 1.8 %.
		{"under fixed bias", Leak{At: "V3:grid", Shift: "0.6256", GridLeak: "220k", Source: "250", Bias: "-35"}, 2.844e-6, 100e6, shop.Must, "1.8 % of a bias of"},
		{"none shown", Leak{At: "V4:grid", Shift: "0", GridLeak: "220k", Source: "300"}, 0, 0, "", "no leak is shown"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := Work(Finding{ID: "A3", Leak: Leaks{tt.leak}}, Facts{})
			if len(r.Problems) > 0 || len(r.Leaks) != 1 {
				t.Fatalf("%d leaks, problems %v", len(r.Leaks), r.Problems)
			}
			l := r.Leaks[0]
			if !close2(float64(l.Current), tt.current, 0.05e-6) || !close2(float64(l.Resistance), tt.ohms, 0.005*tt.ohms) {
				t.Errorf("leak %v, %v, want %v A, %v Ω", l.Current, l.Resistance, tt.current, tt.ohms)
			}
			if l.Pile != tt.pile || r.Pile() != tt.pile || !strings.Contains(l.Effect, tt.effect) {
				t.Errorf("pile %q, effect %q; want %q, %q", l.Pile, l.Effect, tt.pile, tt.effect)
			}
		})
	}
	l := Work(Finding{ID: "A3", Leak: Leaks{tests[0].leak}}, Facts{}).Leaks[0]
	if l.Current.String() != "13.6 µA" || !strings.HasPrefix(l.Resistance.String(), "21.8") && !strings.HasPrefix(l.Resistance.String(), "21.78") {
		t.Errorf("printed %v, %v", l.Current, l.Resistance)
	}
	if s := why.Print(l.Node); !strings.Contains(s, "3.0 V") || !strings.Contains(s, "220 kΩ") || !strings.Contains(s, "300") {
		t.Errorf("the reason lacks an input:\n%s", s)
	}
}

func TestLeakProblems(t *testing.T) {
	tests := []struct{ name, leak, want string }{
		{"no grid leak", `{"at":"V3:grid","shift":"3","source":"300"}`, `finding A3: column "leak.grid_leak": "" is missing`},
		{"shift as great as the source", `{"at":"V3:grid","shift":"300","grid_leak":"220k","source":"300"}`, "is out of range"},
		{"letter for a figure", `[{"at":"V3:grid","shift":"3O","grid_leak":"220k","source":"300"}]`, `finding A3: column "leak.shift": "3O" is not a number; did you mean 30?`},
	}
	for _, tt := range tests {
		f, problems := New("A3", map[string]json.RawMessage{"leak": json.RawMessage(tt.leak)})
		r := Work(f, Facts{})
		if len(problems) > 0 || len(r.Leaks) != 0 || !strings.Contains(problemTexts(r.Problems), tt.want) {
			t.Errorf("%s: leaks %v, problems %v %s, want %q", tt.name, r.Leaks, problems, problemTexts(r.Problems), tt.want)
		}
	}
}

func TestMatch(t *testing.T) {
	pair := func(a, b string) *Pair {
		return &Pair{Reads: []Read{{"V3", Text(a)}, {"V4", Text(b)}}}
	}
	tests := []struct {
		a, b   string
		spread float64 // to 0.0005
		want   formula.Match
	}{
		// By hand: 1/35.5 = 2.8 %; 3/37.5 = 8 %; 20/50 = 40 %.
		{"36 mA", "35 mA", 0.0282, formula.Close},
		{"39 mA", "36 mA", 0.08, formula.ApartButUsable},
		{"60 mA", "40 mA", 0.4, formula.Unmatched},
	}
	for _, tt := range tests {
		r := Work(Finding{ID: "A6", Match: pair(tt.a, tt.b)}, Facts{})
		if r.Match == nil || !close2(r.Match.Spread, tt.spread, 0.0005) || r.Match.Match != tt.want {
			t.Errorf("%s and %s: %+v %v, want %v, %v", tt.a, tt.b, r.Match, r.Problems, tt.spread, tt.want)
		}
	}
	r := Work(Finding{ID: "A6", Match: pair("36", "")}, Facts{})
	if r.Match != nil || len(r.Problems) == 0 {
		t.Errorf("a missing current: %+v, %v", r.Match, r.Problems)
	}
}

func TestNew(t *testing.T) {
	f, problems := New("A1", map[string]json.RawMessage{
		"seen": json.RawMessage(`"cord cracked"`), "positions": json.RawMessage(`"CORD"`), "earlier": json.RawMessage(`true`),
		"pile": json.RawMessage(`"must"`), "basis": json.RawMessage(`"observed"`), "drift": json.RawMessage(`"far"`), "photos": json.RawMessage(`["a","b"]`),
		"task": json.RawMessage(`{"id":"T1"}`), "value": json.RawMessage(`"5"`), "hazard": json.RawMessage(`null`),
	})
	if f.ID != "A1" || f.Seen != "cord cracked" || len(f.Positions) != 1 || f.Earlier != "yes" || f.Pile != shop.Must || len(f.Photos) != 2 || f.Drift != nil {
		t.Errorf("New = %+v", f)
	}
	if w, err := f.Worth(); w != 5 || err != nil {
		t.Errorf("Worth = %v, %v", w, err)
	}
	if got, want := problemTexts(problems), `finding A1: column "drift": "\"far\"" is not a word we know here`; got != want {
		t.Errorf("problems %q, want %q", got, want)
	}
}

func TestWordsOfAFinding(t *testing.T) {
	r := Work(Finding{ID: "X", Basis: "guessed", Pile: "perhaps", Weight: "a lot", Code: "999-5761"}, Facts{})
	got := problemTexts(r.Problems)
	for _, want := range []string{`"guessed" is not a word`, `"perhaps" is not a word`, `"a lot" is not a number`, `"999-5761" is out of range`} {
		if !strings.Contains(got, want) {
			t.Errorf("problems\n%s\nlack %q", got, want)
		}
	}
	if rough := Work(Finding{ID: "X", Seen: "smell"}, Facts{}); len(rough.Lacks) != 4 || len(rough.Problems) != 0 {
		t.Errorf("a rough finding lacks %v, problems %v; want four things wanted, no problem", rough.Lacks, rough.Problems)
	}
}
