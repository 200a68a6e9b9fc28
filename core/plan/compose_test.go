package plan

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/catalog"
	"lugworth/core/limit"
	"lugworth/core/money"
	"lugworth/core/rating"
	"lugworth/core/stress"
	"lugworth/core/unit"
)

// pieces is an invented list of parts that several together serve.
const piecesList = `Number,Description,Value,Volts,Watts,Tolerance,Price
E-68,Axial electrolytic,68uF,300,,20%,2.00
E-68s,Axial electrolytic,68uF,350,,20%,3.00
E-68w,Axial electrolytic,68uF,250,,20%,1.00
E-68n,Axial electrolytic,68uF,350,,,0.90
E-10,Axial electrolytic,10uF,600,,20%,2.50
E-can,Can electrolytic,10/20uF,600,,20%,6.00
F-47,Film axial,.047uF,400,,10%,0.50
F-10,Film axial,.01uF,630,,10%,0.40
R-100k,Metal oxide resistor,100k,,2,5%,0.20
R-220k,Metal oxide resistor,220k,,1,5%,0.20
R-270k,Metal oxide resistor,270k,,1,5%,0.20
R-470k,Metal oxide resistor,470k,,0.25,5%,0.10
R-50k,Wirewound resistor,50k,,1,5%,0.60
R-33k,Metal oxide resistor,33k,,1,5%,0.30
`

// chainDesk is a desk whose filter places bear 480 V: 339.41 V · √2 at a
// range that is one mains.
func chainDesk(t testing.TB, reserve float64) (*Desk, *stress.Model) {
	t.Helper()
	l, err := catalog.ReadList("P", "P.csv", []byte(piecesList), catalog.Terms{Currency: "USD", Rate: money.Whole(1)}, nil)
	if err != nil || len(l.Offers) != strings.Count(piecesList, "\n")-1 {
		t.Fatalf("%d offers, %v: %v", len(l.Offers), err, l.Aside)
	}
	index := catalog.NewIndex([]catalog.List{l})
	a := &amp.Amp{Bias: stress.CathodeBias, Alike: true, Positions: []amp.Position{
		{Ref: "HT", Role: amp.HighWinding},
		{Ref: "V5", Role: amp.RectifierTube, Type: "5U4GB"},
		{Ref: "C1", Role: amp.Reservoir, Spec: unit.Spec{Unit: unit.Farad, Values: []float64{30e-6}, Volts: 475}, Nodes: []amp.Node{{Role: "plus", Name: "B1"}}},
		{Ref: "C2", Role: amp.Smoothing, Spec: unit.Spec{Unit: unit.Farad, Values: []float64{30e-6}}, Nodes: []amp.Node{{Role: "plus", Name: "B2"}}},
		{Ref: "C5", Role: amp.Coupler},
		{Ref: "C20", Role: amp.LineToChassis},
		{Ref: "R5", Role: amp.PlateLoad, Spec: unit.Spec{Unit: unit.Ohm, Values: []float64{100e3}, Watts: 1}},
	}, Readings: []amp.Reading{{ID: "r1", At: "HT", Quantity: amp.RMSVolts, Amount: 480 / math.Sqrt2, Unit: unit.Volt, Mains: 117, State: []string{amp.NoLoad}, Stated: true}}}
	d, _ := desk(t.(*testing.T))
	d.Amp, d.Reserve, d.Offer = a, reserve, index.ByNumber
	d.Mains.Low, d.Mains.High, d.Mains.Measured = 117, 117, 117
	d.Shelf = func(w catalog.Want) []Priced {
		var out []Priced
		for _, o := range index.Find(w) {
			out = append(out, Priced{o, d.Cost(o)})
		}
		slices.SortFunc(out, Cheapest)
		return out
	}
	return d, stress.New(stress.Input{Amp: a, Mains: d.Mains, Cards: d.Cards})
}

// chain is an option whose part is made of several, balanced by an offer or
// not at all.
func chain(t testing.TB, is, number, made, balance string, at ...string) *Option {
	t.Helper()
	o := option(t.(*testing.T), is, number, at...)
	m, err := ReadMade(made)
	if err != nil {
		t.Fatal(err)
	}
	p := &o.Parts[0]
	p.List, p.Made = "P", m
	p.Qty = p.PerPlace() * len(at)
	if balance != "" {
		w, _ := ReadWant("resistor 220k")
		o.Parts = append(o.Parts, Part{Qty: p.Qty, Is: "resistor 220k", Want: w, List: "P", Number: balance, Across: 1})
	}
	for _, err := range Join(o.Parts) {
		t.Fatal(err)
	}
	return o
}

func rowOf(c *Candidate, q limit.Quantity, scenario string) (rating.Judgment, bool) {
	for _, r := range c.Rows {
		if r.Quantity == q && strings.Contains(r.Scenario+r.Detail, scenario) {
			return r, true
		}
	}
	return rating.Judgment{}, false
}

// Two 68 µF 300 V ±20 % in series across 480 V. By hand: 54.4 µF to 81.6 µF a
// piece, so 27.2 to 40.8 µF together; the worst share is 480 · 81.6 ÷ (54.4 +
// 81.6) = 288 V, and the other then bears 192 V. A balancing resistor of
// 220 kΩ ±5 % at that share: 288² ÷ 209,000 = 0.39686 W.
func TestTwoInSeries(t *testing.T) {
	d, m := chainDesk(t, 0)
	o := chain(t, "electrolytic 33uF", "E-68", "2 in series, leak 0.1mA", "R-220k", "C2")
	body := d.Under(m).Line(o, 0)
	if body.Chosen == nil || body.Qty != 2 || body.Problem != "" {
		t.Fatalf("%+v", body)
	}
	c := body.Chosen
	near := func(what string, got, want float64) {
		t.Helper()
		if !(math.Abs(got/want-1) < 1e-9) { // float noise only
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	near("least value", c.Value.Low, 27.2e-6)
	near("greatest value", c.Value.High, 40.8e-6)
	r, ok := rowOf(c, limit.DCVolts, "while charging")
	if !ok || r.Kind != rating.Within {
		t.Fatalf("while charging: %v %+v", ok, r)
	}
	near("worst share", r.Worst, 288)
	near("the other piece", c.Rest[0].Worst, 192)
	// In the long run: R1 = 231 kΩ, R2 = 209 kΩ, the other leaks 0.1 mA:
	// 231/440 · (480 + 209,000 · 0.0001) = 0.525 · 500.9 = 262.9725 V.
	r, ok = rowOf(c, limit.DCVolts, "in the long run")
	if !ok || r.Kind != rating.Within {
		t.Fatalf("in the long run: %v %+v", ok, r)
	}
	near("long run", r.Worst, 262.9725)
	across := d.Under(m).Line(o, 1)
	if across.Chosen == nil || across.Qty != 2 {
		t.Fatalf("%+v", across)
	}
	r, ok = rowOf(across.Chosen, limit.Watts, "balancing resistor")
	if !ok || r.Kind != rating.Within {
		t.Fatalf("balancing: %v %+v", ok, r)
	}
	near("watts at that share", r.Worst, 288*288/209e3)
	if len(r.Why().From) == 0 || len(c.Rows[0].Why().From) == 0 {
		t.Error("a figure gives no reason")
	}
}

func TestChainsAreJudged(t *testing.T) {
	tests := []struct {
		name, is, number, made, balance string
		at                              []string
		reserve                         float64
		want                            rating.Verdict
		says                            string
	}{
		// 288 of 300 V leaves 4 %; with 5 % reserve 302.4 V are wanted.
		{"below reserve", "electrolytic 33uF", "E-68", "2 in series, leak 0.1mA", "R-220k", []string{"C2"}, 0.05, rating.BelowReserve, "wanted 302.4 V"},
		{"stronger pieces", "electrolytic 33uF", "E-68s", "2 in series, leak 0.1mA", "R-220k", []string{"C2"}, 0.05, rating.Within, ""},
		// Half of 480 V is under 250 V and the worst share is not.
		{"half is not enough", "electrolytic 33uF", "E-68w", "2 in series, leak 0.1mA", "R-220k", []string{"C2"}, 0, rating.OverWorsened, "288.0 V > 250"},
		{"no balancing resistors", "electrolytic 33uF", "E-68s", "2 in series", "", []string{"C2"}, 0, rating.NotEnoughData, "rests on their leakage"},
		{"leakage not stated", "electrolytic 33uF", "E-68s", "2 in series", "R-220k", []string{"C2"}, 0, rating.NotProven, "common practice, no source"},
		{"tolerance not stated", "electrolytic 33uF", "E-68n", "2 in series, leak 0.1mA", "R-220k", []string{"C2"}, 0, rating.NotProven, "±20 %"},
		// 1 mA of leakage: 0.525 · (480 + 209) = 361.7 V > 350 V.
		{"leakage decides", "electrolytic 33uF", "E-68s", "2 in series, leak 1mA", "R-220k", []string{"C2"}, 0, rating.OverWorsened, "361.7 V"},
		{"side by side each bears it all", "electrolytic 22uF", "E-10", "2 in parallel", "", []string{"C2"}, 0.05, rating.Within, ""},
		{"side by side, too weak", "electrolytic 130uF", "E-68s", "2 in parallel", "", []string{"C2"}, 0, rating.OverWorsened, "480.0 V > 350"},
		// At the rectifier: 2 · 10 µF · 1.2 = 24 of 32 µF; 2 · 68 ÷ 2 · 1.2 = 40.8.
		{"first capacitor, side by side", "electrolytic 22uF", "E-10", "2 in parallel", "", []string{"C1"}, 0, rating.Within, ""},
		{"first capacitor, too large", "electrolytic 33uF", "E-68s", "2 in series, leak 0.1mA", "R-220k", []string{"C1"}, 0, rating.OverWorsened, "40.8 µF"},
		{"sections of a can", "electrolytic 30uF", "E-can", "sections in parallel", "", []string{"C2"}, 0.05, rating.Within, ""},
		// (10 + 20) · 1.2 = 36 of 32 µF.
		{"sections at the rectifier", "electrolytic 30uF", "E-can", "sections in parallel", "", []string{"C1"}, 0, rating.OverWorsened, "36 µF > 32 µF"},
		// Film at the coupler: 10 % of two in series leave it to leakage.
		{"two films in series", "film .022uF", "F-47", "2 in series", "", []string{"C5"}, 0, rating.NotEnoughData, "leakage"},
		{"two films side by side", "film .022uF", "F-10", "2 in parallel", "", []string{"C5"}, 0, rating.Within, ""},
		// The place was made with 1 W; each of two 50 kΩ ±5 % takes 0.5263 W.
		{"two resistors for one", "resistor 100k", "R-50k", "2 in series", "", []string{"R5"}, 0, rating.Within, "no less than the place was made with"},
		{"three resistors for one", "resistor 100k", "R-33k", "3 in series", "", []string{"R5"}, 0, rating.Within, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d, m := chainDesk(t, tt.reserve)
			l := d.Under(m).Line(chain(t, tt.is, tt.number, tt.made, tt.balance, tt.at...), 0)
			if l.Chosen == nil {
				t.Fatal(l.Problem)
			}
			j, _ := l.Chosen.Decides()
			if l.Chosen.Kind != tt.want || !strings.Contains(j.Reason(), tt.says) {
				t.Errorf("%s: %s, want %s with %q", l.Chosen.Kind, j.Reason(), tt.want, tt.says)
			}
		})
	}
}

// Never offered, whatever their rating.
func TestChainsThatAreRefused(t *testing.T) {
	tests := []struct{ name, is, number, made, balance, at, says string }{
		{"a path round a coupler", "film .022uF", "F-47", "2 in series, leak 1uA", "R-220k", "C5", "direct current from the plate to the grid"},
		{"from the mains to the chassis", "film .022uF", "F-10", "2 in parallel", "", "C20", "nothing made of several pieces"},
		{"a can as one of two", "electrolytic 22uF", "E-can", "2 in parallel", "", "C2", "share their negative"},
		{"no sections", "electrolytic 10uF", "E-10", "sections in parallel", "", "C2", "no sections"},
		{"a capacitor for a resistor", "resistor 100k", "E-10", "2 in series", "", "R5", "not a resistor"},
	}
	for _, tt := range tests {
		d, m := chainDesk(t, 0)
		l := d.Under(m).Line(chain(t, tt.is, tt.number, tt.made, tt.balance, tt.at), 0)
		if l.Chosen == nil || l.Chosen.Offered() || !strings.Contains(l.Problem, tt.says) {
			t.Errorf("%s: %q, want %q", tt.name, l.Problem, tt.says)
		}
	}
}

// By hand, beside each row.
func TestShares(t *testing.T) {
	pct := func(v, t float64) unit.Interval {
		return unit.Interval{Low: v * (1 - t), Expected: v, High: v * (1 + t)}
	}
	for _, tt := range []struct {
		name      string
		got, want float64
	}{
		{"equal, exact", chargeShare(alike(2, pct(10, 0)), 0), 0.5},
		{"47 against 68, exact: 68 ÷ 115", chargeShare([]unit.Interval{pct(47, 0), pct(68, 0)}, 0), 68.0 / 115},
		{"three of 10 ±10 %: (1/9) ÷ (1/9 + 2/11)", chargeShare(alike(3, pct(10, 0.1)), 0), (1.0 / 9) / (1.0/9 + 2.0/11)},
		{"no leakage: 105 ÷ 200", settledVolts(alike(2, pct(100, 0.05)), 0, 400, 0), 210},
		{"leakage beyond all volts", settledVolts(alike(2, pct(100e3, 0)), 1, 400, 0), 400},
		{"two resistors, exact: half", wattShare(alike(2, pct(50, 0)), 100, 0), 0.5},
		{"two of 50 ±5 % for 100: 0.25 ÷ 0.475", wattShare(alike(2, pct(50, 0.05)), 100, 0), 0.25 / 0.475},
		{"33 and 68 exact for 101", wattShare([]unit.Interval{pct(33, 0), pct(68, 0)}, 101, 1), 68.0 / 101},
		{"volts of two of 50 ±5 %: 52.5 ÷ 100", voltShare(alike(2, pct(50, 0.05)), 100, 0), 0.525},
	} {
		if !(math.Abs(tt.got-tt.want) <= 1e-9*tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, tt.got, tt.want)
		}
	}
}

// No specimen inside its tolerance goes beyond the worst that is stated, and
// some come within a hundredth of it. Each is solved by itself: capacitors by
// their charge, chains with leakage and resistors fed through any source by
// Kirchhoff's laws.
func TestNoSpecimenGoesBeyond(t *testing.T) {
	r := rand.New(rand.NewPCG(27, 1))
	in := func(iv unit.Interval) float64 { // the ends often: there the worst lies
		switch r.IntN(4) {
		case 0:
			return iv.Low
		case 1:
			return iv.High
		}
		return iv.Low + r.Float64()*(iv.High-iv.Low)
	}
	for n := range 300 {
		bodies := make([]unit.Interval, 2+r.IntN(2))
		made := 0.0
		for i := range bodies {
			v, tol := 1+9*r.Float64(), 0.01+0.3*r.Float64()
			bodies[i] = unit.Interval{Low: v * (1 - tol), Expected: v, High: v * (1 + tol)}
			made += v
		}
		v, leak := 480.0, r.Float64()*r.Float64()*40
		charge, settle, watts, volts := chargeShare(bodies, 0)*v, settledVolts(bodies, leak, v, 0), wattShare(bodies, made, 0), voltShare(bodies, made, 0)
		wholeSum, wholeBy := sumOf(bodies), reciprocalOf(bodies)
		near := [4]float64{}
		for range 400 {
			sum, by, pushed, elastance := 0.0, 0.0, v, 0.0
			x, own := make([]float64, len(bodies)), leak*r.Float64()*float64(r.IntN(2))
			for i, b := range bodies {
				x[i] = in(b)
				sum, by = sum+x[i], by+1/x[i]
				elastance += 1 / x[i]
			}
			for i := range x {
				l := leak * float64(r.IntN(2))
				if i == 0 {
					l = own
				}
				pushed += x[i] * l
			}
			// I = (V + ΣR·I) ÷ ΣR; the piece's own leakage goes past its resistor.
			long := x[0] * (pushed/sum - own)
			rs := made * math.Exp(6*r.Float64()-3) // of the source
			i0, i1 := 1/(rs+made), 1/(rs+sum)
			got := [4]float64{v / x[0] / elastance, min(long, v), i1 * i1 * x[0] / (i0 * i0 * made), i1 * x[0] / (i0 * made)}
			for k, bound := range [4]float64{charge, settle, watts, volts} {
				if got[k] > bound*(1+1e-9) {
					t.Fatalf("%d: figure %d is %v beyond %v: %v of %v", n, k, got[k], bound, x, bodies)
				}
				near[k] = max(near[k], got[k]/bound)
			}
			if sum > wholeSum.High*(1+1e-9) || sum < wholeSum.Low*(1-1e-9) || 1/by > wholeBy.High*(1+1e-9) || 1/by < wholeBy.Low*(1-1e-9) {
				t.Fatalf("%d: whole beyond its interval", n)
			}
		}
		for k, got := range near {
			if got < 0.9 {
				t.Errorf("%d: figure %d comes no nearer than %v to the worst stated", n, k, got)
			}
		}
	}
}

func TestJoinCounts(t *testing.T) {
	body := Part{Qty: 2, Is: "electrolytic 33uF", For: []string{"C2"}, Made: Made{Pieces: 2, Way: Series}}
	over := Part{Qty: 2, Is: "resistor 220k", Across: 1}
	with := func(p Part, f func(*Part)) Part { f(&p); return p }
	tests := []struct {
		name  string
		parts []Part
		says  string
	}{
		{"right", []Part{body, over}, ""},
		{"one piece short", []Part{with(body, func(p *Part) { p.Qty = 1 })}, "takes 2 pieces, and 1 are written"},
		{"one resistor", []Part{body, with(over, func(p *Part) { p.Qty = 1 })}, "takes 2 pieces"},
		{"across nothing", []Part{body, with(over, func(p *Part) { p.Across = 5 })}, "no part that can be balanced"},
		{"across itself", []Part{body, with(over, func(p *Part) { p.Across = 2 })}, "no part that can be balanced"},
		{"across pieces side by side", []Part{with(body, func(p *Part) { p.Made.Way = Parallel }), over}, "nothing to balance"},
		{"balanced twice", []Part{body, over, over}, "balanced already"},
		{"in a place of its own", []Part{body, with(over, func(p *Part) { p.For = []string{"R5"} })}, "no place of its own"},
		{"for no place", []Part{with(body, func(p *Part) { p.For = nil })}, "nothing says what they bear"},
	}
	for _, tt := range tests {
		said := ""
		for _, err := range Join(tt.parts) {
			said += err.Error()
		}
		if !strings.Contains(said, tt.says) || tt.says == "" && said != "" {
			t.Errorf("%s: %q, want %q", tt.name, said, tt.says)
		}
	}
}

// No single offer of 33 µF bears 480 V, and the lists hold pieces that do.
func TestMakingsServeWhereNoOfferDoes(t *testing.T) {
	d, m := chainDesk(t, 0.05)
	o := option(t, "electrolytic 33uF", "", "C2")
	s := d.Under(m)
	l := s.Line(o, 0)
	if l.Chosen != nil {
		t.Fatalf("one offer serves: %+v", l.Chosen.Offer)
	}
	all := l.Makings()
	if len(all) == 0 {
		t.Fatal("nothing is offered")
	}
	for _, g := range all {
		if !g.Offered() || g.Kind.Over() {
			t.Errorf("%s %s is never offered and stands here", g.Offer.Number, g.Made)
		}
	}
	// 10 + 20 µF of the can bear 480 V of 600: proven, and 6.00 in all.
	best := all[0]
	if best.Offer.Number != "E-can" || best.Kind != rating.Within || best.Landed.String() != "6" {
		t.Errorf("the best: %s %s %s %s", best.Offer.Number, best.Made, best.Kind, best.Landed)
	}
	at := slices.IndexFunc(all, func(g Making) bool { return g.Offer.Number == "E-68s" })
	if at < 0 {
		t.Fatal("two in series are not offered")
	}
	// 5 % resistors: 0.525 · (480 + 0.95 · R · 0.241 mA) ≤ 288 V asks for R ≤ 299 kΩ,
	// and 288² ÷ 256.5 kΩ = 0.32 W: 270 kΩ 1 W. 2 · 3.00 + 2 · 0.20 = 6.40.
	two := all[at]
	if two.Balance == nil || two.Balance.Offer.Number != "R-270k" || two.Pieces != 2 || two.Resistors != 2 || two.Landed.String() != "6.4" || two.Kind != rating.NotProven {
		t.Errorf("two in series: %+v", two)
	}

	parts := Make(o.Parts, 0, two)
	if len(Join(parts)) != 0 || len(parts) != 2 || parts[0].Qty != 2 || parts[0].Number != "E-68s" || parts[1].Qty != 2 || parts[1].Number != "R-270k" {
		t.Fatalf("%+v", parts)
	}
	made := &Option{ID: "T", Finding: "A", Parts: parts}
	for i, number := range []string{"E-68s", "R-270k"} {
		l := s.Line(made, i)
		if l.Chosen == nil || l.Chosen.Offer.Number != number || l.Qty != 2 || l.Problem != "" || l.Chosen.Kind != rating.NotProven {
			t.Errorf("line %d: %+v", i, l)
		}
	}
	if back := Unmake(parts, 0); len(back) != 1 || back[0].Qty != 1 || back[0].Number != "" || back[0].Made.Is() {
		t.Errorf("one piece again: %+v", back)
	}
}

// A part asked about as several pieces is judged as such.
func TestTrialOfSeveral(t *testing.T) {
	d, m := chainDesk(t, 0)
	o := option(t, "electrolytic 33uF", "", "C2")
	asked, _ := d.Offer("P", "E-68")
	d.Trials = map[string][]*catalog.Offer{TrialKey("T", "0"): {asked}}
	l := d.Under(m).Line(o, 0)
	if one := l.Candidates()[0]; one.Kind != rating.OverWorsened {
		t.Errorf("one piece: %s", one.Kind)
	}
	j, _, err := ReadJoint("2 x electrolytic 68uF 300V in series, leak 0.1mA + 2 x 220k 1W 5%")
	if err != nil {
		t.Fatal(err)
	}
	d.Joints = map[*catalog.Offer]Joint{asked: j}
	l = d.Under(m).Line(o, 0)
	if two := l.Candidates()[0]; two.Kind != rating.Within || two.Made.Way != Series {
		t.Errorf("two in series: %s %s", two.Kind, two.Made)
	}
}
