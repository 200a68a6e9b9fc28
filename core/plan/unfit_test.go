package plan

import (
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

// strange is a list of parts that do not belong where they are put.
const strange = `Number,Description,Value,Volts,Watts,Class,Price
X-res,Carbon comp resistor 1W,100k,500,1,,0.90
X-pot,Pot 500k,500k,500,,,2.00
X-ac,Film axial,.022uF,500VAC,,,0.90
X-class,Film X2,.022uF,500,,X2,0.90
X-dash,FILM 22n/500V~,,,,,0.90
X-lytic,Axial electrolytic,22uF,500,,,4.00
X-fast,Fuse fast 2A,2A F,,,,0.60
X-slow,Fuse slow 2A,2A T,,,,0.60
`

func strangeDesk(t *testing.T, change func(*amp.Amp)) (*Desk, *stress.Model) {
	t.Helper()
	d, _ := desk(t)
	l, err := catalog.ReadList("X", "X.csv", []byte(strange), catalog.Terms{Currency: "USD", Rate: money.Whole(1)}, nil)
	if err != nil || len(l.Offers) != strings.Count(strange, "\n")-1 {
		t.Fatalf("%d offers, %v: %v", len(l.Offers), err, l.Aside)
	}
	d.Offer = catalog.NewIndex([]catalog.List{l}).ByNumber
	if change != nil {
		change(d.Amp)
	}
	return d, stress.New(stress.Input{Amp: d.Amp, Mains: d.Mains, Cards: d.Cards})
}

func named(t *testing.T, is, number string, qty int, at ...string) *Option {
	t.Helper()
	o := option(t, is, number, at...)
	o.Parts[0].List, o.Parts[0].Qty = "X", qty
	return o
}

// A part of another sort, or with volts of another sort, is never approved in
// a place whose rating it seems to meet.
func TestUnfitPartsAreNotApproved(t *testing.T) {
	for _, c := range []struct {
		name, is, number string
		qty              int
		at               []string
		change           func(*amp.Amp)
	}{
		{"a 500 V resistor named for a filter capacitor", "electrolytic 22uF", "X-res", 1, []string{"C2"}, nil},
		{"a resistor asked for in a filter place", "resistor 100k", "X-res", 1, []string{"C2"}, nil},
		{"a 500 V pot named for a filter capacitor", "electrolytic 22uF", "X-pot", 1, []string{"C2"}, nil},
		{"AC volts on a place of direct voltage", "film .022", "X-ac", 1, []string{"C5"}, nil},
		{"the volts of a safety class", "film .022", "X-class", 1, []string{"C5"}, nil},
		{"AC volts by a swung dash", "film .022", "X-dash", 1, []string{"C5"}, nil},
		{"a capacitor for no place", "film .022", "X-dash", 1, nil, nil},
		{"an electrolytic named for a coupler", "coupler .022", "X-lytic", 1, []string{"C5"}, nil},
		{"a fast fuse where the label says slow", "fuse 2A", "X-fast", 1, []string{"F1"}, nil},
		{"a label with two figures", "fuse 2A T", "X-slow", 1, []string{"F1"}, func(a *amp.Amp) { a.Positions[10].Extra["label"] = "2A/1A" }},
		{"two pieces in one first place", "electrolytic 22uF", "X-lytic", 2, []string{"C1"}, nil},
		{"a second capacitor on the first node", "electrolytic 22uF", "X-lytic", 1, []string{"C1"}, func(a *amp.Amp) { a.Positions[3].Nodes[0].Name = "B1" }},
	} {
		d, m := strangeDesk(t, c.change)
		l := d.Under(m).Line(named(t, c.is, c.number, c.qty, c.at...), 0)
		if l.Chosen == nil {
			t.Fatalf("%s: %s", c.name, l.Problem)
		}
		if k := l.Chosen; k.Offered() && (k.Kind == rating.Within || k.Kind == rating.BelowReserve) {
			t.Errorf("%s: %s", c.name, k.Kind)
		}
	}
}

// Another rectifier brings its own limit of the first capacitor: the old one
// says nothing.
func TestOtherRectifierOtherFirstLimit(t *testing.T) {
	d, m := strangeDesk(t, nil)
	l := d.Under(m.With(stress.State{Tubes: map[string]string{"V5": "T9"}})).Line(named(t, "electrolytic 22uF", "X-lytic", 1, "C1"), 0)
	for _, j := range l.Chosen.Rows {
		if j.Quantity == limit.FirstCapacitor && j.Kind != rating.NotEnoughData {
			t.Errorf("first capacitor %s by the limit of the rectifier taken out", j.Kind)
		}
	}
}

// A heater winding is judged by the tubes it feeds: 6.0 V on one marked 5 V
// is over for a rectifier, though inside 6.3 V ±10 %.
func TestHeaterOfItsOwnTubes(t *testing.T) {
	heater := func(name string, v float64) limit.Limit {
		return limit.Limit{Subject: name, Quantity: limit.HeaterVolts, Low: .9 * v, High: 1.1 * v, HasLow: true, HasHigh: true, Unit: unit.Volt, Mark: limit.User}
	}
	cards := func(name string) (tube.Card, bool) {
		switch name {
		case "6V6GT":
			return tube.Card{Type: name, Limits: []limit.Limit{heater(name, 6.3)}}, true
		case "5U4GB":
			return tube.Card{Type: name, Limits: []limit.Limit{heater(name, 5)}}, true
		}
		return tube.Card{}, false
	}
	for _, c := range []struct {
		name   string
		marked []float64
		other  bool
		read   float64
		want   rating.Verdict
	}{
		{"marked 5 V, reads 6.0", []float64{5}, true, 6.0, rating.OverInherited},
		{"marked 5 V, reads 5.0", []float64{5}, true, 5.0, rating.Within},
		{"marked 6.3 V, reads 6.3", []float64{6.3}, true, 6.3, rating.Within},
		{"marked 12.6 V, reads 6.3", []float64{12.6}, true, 6.3, rating.NotEnoughData},
		{"not marked, the one winding", nil, false, 6.3, rating.Within},
		{"not marked, one of two", nil, true, 6.3, rating.NotEnoughData},
	} {
		a := &amp.Amp{Bias: stress.CathodeBias, Positions: []amp.Position{
			{Ref: "V3", Role: amp.OutputTube, Type: "6V6GT"}, {Ref: "V5", Role: amp.RectifierTube, Type: "5U4GB"},
			{Ref: "LV", Role: amp.HeaterWinding, Spec: unit.Spec{Unit: unit.Volt, Values: c.marked}},
		}, Readings: []amp.Reading{{ID: "r", At: "LV", Quantity: amp.RMSVolts, Amount: c.read, Unit: unit.Volt, Mains: 120, Stated: true}}}
		if c.other {
			a.Positions = append(a.Positions, amp.Position{Ref: "LV2", Role: amp.HeaterWinding})
		}
		d := &Desk{Amp: a, Mains: intake.Mains{Low: 120, High: 120}, Cards: cards}
		m := stress.New(stress.Input{Amp: a, Mains: d.Mains, Cards: cards})
		if got := d.heater(m, &a.Positions[2], false); len(got) != 1 || got[0].Kind != c.want {
			t.Errorf("%s: %v, want %s", c.name, got, c.want)
		}
	}
}

// A verdict that lifts only a row shown beside the one that decides buys no
// leave to take another quantity further over.
func TestShownRowsCureNothing(t *testing.T) {
	row := func(q limit.Quantity, scenario string, high float64, k rating.Verdict) rating.Judgment {
		return rating.Judgment{Subject: "V", Quantity: q, Scenario: scenario, Interval: unit.Exactly(high), Worst: high, HasFigure: true, HasLimit: true,
			Limit: limit.Limit{High: 300, HasHigh: true}, Bound: 300, Kind: k}
	}
	before := []rating.Judgment{row(limit.PlateWatts, stress.Measured, 301, rating.OverInherited), row(limit.PlateVolts, stress.Top, 310, rating.OverInherited)}
	after := []rating.Judgment{row(limit.PlateWatts, stress.Measured, 299, rating.Within), row(limit.PlateVolts, stress.Top, 315, rating.OverWorsened)}
	if e := Compare(before, after); len(e.Worsens) != 1 || e.Offered() {
		t.Errorf("offered on the strength of a row that decides nothing: %+v", e)
	}
}

// Volts marked with a swung dash on a part that stands in the amp are AC too.
func TestFoundPartWithACVolts(t *testing.T) {
	d, m := strangeDesk(t, func(a *amp.Amp) {
		p, _ := a.Find("C5")
		p.Rating, p.Spec.Volts = "600V~", 600
	})
	for _, j := range d.foundParts(m) {
		if j.Subject == "C5" && j.Kind != rating.NotProven {
			t.Errorf("C5: %s", j.Kind)
		}
	}
}
