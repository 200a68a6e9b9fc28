package job_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"lugworth/core/finding"
	"lugworth/core/job"
	"lugworth/core/limit"
	"lugworth/core/money"
	"lugworth/core/rating"
	"lugworth/core/stress"
	"lugworth/core/unit"
)

// pick names one row of a result; empty fields are the amp as found.
type pick struct {
	set, option, part, subject string
	quantity                   limit.Quantity
	scenario                   string
}

func (p pick) of(t *testing.T, r *job.Result) job.Row {
	t.Helper()
	var found []job.Row
	for _, row := range r.Rows() {
		if row.Set == p.set && row.Option == p.option && row.Part == p.part && row.Subject == p.subject && row.Quantity == p.quantity && row.Scenario == p.scenario {
			found = append(found, row)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%+v names %d rows, want 1", p, len(found))
	}
	return found[0]
}

const (
	pv, sv, pw, sw, hv, dc, fc = limit.PlateVolts, limit.ScreenVolts, limit.PlateWatts, limit.ScreenWatts, limit.HeaterVolts, limit.DCVolts, limit.FirstCapacitor
	top, measured, bench, cold = stress.Top, stress.Measured, stress.Bench, stress.Cold
	greatest                   = "greatest value"
)

// A figureTest is one figure of a whole job: the row, its ends, its kind and
// the hand calculation. The ends agree to tol, one in the last place printed.
type figureTest struct {
	name      string
	at        pick
	low, high float64
	tol       float64
	kind      rating.Verdict
	reason    string // a piece of the sentence, "" any
	hand      string
}

func checkFigures(t *testing.T, r *job.Result, tests []figureTest) {
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			row := tt.at.of(t, r)
			if row.Kind != tt.kind {
				t.Errorf("kind %s, want %s (%s)", row.Kind, tt.kind, tt.hand)
			}
			if math.Abs(row.Low-tt.low) > tt.tol || math.Abs(row.High-tt.high) > tt.tol {
				t.Errorf("%g to %g, want %g to %g within %g (%s)", row.Low, row.High, tt.low, tt.high, tt.tol, tt.hand)
			}
			if !strings.Contains(row.Reason(), tt.reason) {
				t.Errorf("reason %q, want in it %q", row.Reason(), tt.reason)
			}
		})
	}
}

func TestDroverVerdicts(t *testing.T) {
	r := derived(t, "drover")
	within, below, worse, inherited, open := rating.Within, rating.BelowReserve, rating.OverWorsened, rating.OverInherited, rating.NotProven
	can, axial, axial450 := "K K-1001", "K K-1002", "R R-2201"
	checkFigures(t, r, []figureTest{
		{"peak at 127, as-found can", pick{"", "", "", "C1a", dc, cold}, 445.2, 445.2, 0.1, below, "wanted 467.4 V", "290 x 1.41421 x 127/117 = 445.18; x 1.05 = 467.44"},
		{"475 V can passes", pick{"", "T2a", can, "C1a", dc, cold}, 445.2, 445.2, 0.1, within, "wanted 467.4 V", "475 > 467.44"},
		{"500 V axial passes", pick{"", "T2b", axial, "C1b", dc, cold}, 445.2, 445.2, 0.1, within, "", "500 > 467.44"},
		{"500 V axial in the old can", pick{"", "T2c", axial, "C1c", dc, cold}, 445.2, 445.2, 0.1, within, "", "500 > 467.44"},
		{"450 V axial below reserve", pick{"", "T2b", axial450, "C1a", dc, cold}, 445.2, 445.2, 0.1, below, "inside the rating by 1.1 %", "(450 - 445.18)/450 = 1.07 %"},
		{"first capacitor", pick{"", "T2b", axial, "C1a", fc, greatest}, 26.4e-6, 26.4e-6, 0.05e-6, within, "", "22 x 1.2 = 26.4 of 32"},
		{"first capacitor, can", pick{"", "T2a", can, "C1a", fc, greatest}, 24e-6, 24e-6, 0.05e-6, within, "", "20 x 1.2 = 24"},
		{"400 V film never", pick{"", "T3/film", "R R-2302", "C5", dc, cold}, 445.2, 445.2, 0.1, worse, "by 11.3 %", "445.18/400 - 1 = 11.3 %"},
		{"630 V film", pick{"", "T3/film", "K K-1101", "C6", dc, cold}, 445.2, 445.2, 0.1, within, "34.8 % above the wanted", "630/467.44 - 1 = 34.8 %, said as 35"},
		{"600 V paper look", pick{"", "T3/paper-look", "R R-2301", "C7", dc, cold}, 445.2, 445.2, 0.1, within, "28.4 % above the wanted", "600/467.44 - 1 = 28.4 %, said as 28"},
		{"couplers as found", pick{"", "", "", "C8", dc, cold}, 445.2, 445.2, 0.1, inherited, "", "printed 400 V"},
		{"fuse as found", pick{"", "", "", "F1", limit.FuseCurrent, "as marked"}, 5, 5, 0.001, inherited, "5.00 A > 2.00 A", "5 A where the label says 2 A"},
		{"fuse fitted", pick{"", "T1", "K K-1502", "F1", limit.FuseCurrent, "as marked"}, 2, 2, 0.001, within, "", "equal is within"},

		{"plate to cathode at 117", pick{"", "", "", "V3", pv, bench}, 299, 299, 0.5, within, "", "318 - 19 = 299"},
		{"plate watts at 117", pick{"", "", "", "V3", pw, bench}, 10.1, 10.1, 0.05, within, "", "19/262/2 = 36.26 mA; less 2.5 = 33.76 mA; x 299 = 10.09"},
		{"plate watts at 124", pick{"", "", "", "V4", pw, measured}, 11.3, 11.7, 0.05, within, "", "10.094 x 1.0598^2 = 11.34, ^2.5 = 11.67"},
		{"plate watts at 127", pick{"", "", "", "V3", pw, top}, 11.9, 12.4, 0.05, open, "lies between", "10.094 x 1.0855^2 = 11.89, ^2.5 = 12.39 around 12"},
		{"plate volts at 127", pick{"", "", "", "V3", pv, top}, 324.6, 324.6, 0.1, inherited, "by 3.0 %, inherited", "299 x 127/117 = 324.56; /315 = +3.0 %"},
		{"plate volts at 124", pick{"", "", "", "V3", pv, measured}, 316.9, 316.9, 0.1, inherited, "by 0.6 %, inherited", "299 x 124/117 = 316.89; /315 = +0.6 %"},
		{"screen volts at 117", pick{"", "", "", "V3", sv, bench}, 281, 281, 0.5, within, "", "300 - 19"},
		{"screen volts at 124", pick{"", "", "", "V3", sv, measured}, 297.8, 297.8, 0.1, inherited, "by 4.5 %, inherited", "281 x 124/117 = 297.81; /285 = +4.5 %"},
		{"screen volts at 127", pick{"", "", "", "V4", sv, top}, 305.0, 305.0, 0.1, inherited, "by 7.0 %, inherited", "281 x 127/117 = 305.02; /285 = +7.0 %"},
		{"screen watts at 117", pick{"", "", "", "V3", sw, bench}, 0.70, 0.70, 0.005, within, "", "281 x 2.5 mA = 0.7025"},
		{"screen watts at 127", pick{"", "", "", "V3", sw, top}, 0.83, 0.86, 0.005, within, "", "0.7025 x 1.0855^2 = 0.828, ^2.5 = 0.862"},
		{"heater at 114", pick{"", "", "", "LV", hv, stress.Bottom}, 6.09, 6.09, 0.005, within, "", "6.25 x 114/117 = 6.090"},
		{"heater at 127", pick{"", "", "", "LV", hv, top}, 6.78, 6.78, 0.005, within, "+7.7 %", "6.25 x 127/117 = 6.784; /6.3 = +7.7 %"},

		{"T6r, plate watts at 127", pick{"", "T6r", "", "V3", pw, top}, 10.8, 11.4, 0.05, within, "", "11.89 x 0.905 = 10.76; 12.39 x 0.9186 = 11.38"},
		{"T6r, plate volts at 127", pick{"", "T6r", "", "V3", pv, top}, 324.6, 334.1, 0.1, worse, "over as found: 324.6 V > 315.0 V, by 3.0 %, inherited; with T6r up to 9.5 V more", "rise 0.095 x (445.18 - 318 x 1.0855) = 9.50"},
		{"T6r, screen volts at 127", pick{"", "T6r", "", "V3", sv, top}, 305.0, 316.4, 0.1, worse, "over as found: 305.0 V > 285.0 V, by 7.0 %, inherited; with T6r up to 11.4 V more", "rise 0.095 x (445.18 - 300 x 1.0855) = 11.35"},
		{"T6r in the collector's set", pick{"Collector", "", "", "V4", pw, top}, 10.8, 11.4, 0.05, within, "", "as alone: nothing else touches the stage"},
		{"T6r resistor", pick{"", "T6r", "K K-1601", "R20", limit.Watts, top}, 1.52, 1.70, 0.02, within, "", "19^2/262 = 1.378; x r^2 f^2 300/262: 1.378 x 1.178 x .819 x 1.145 = 1.52; r^3, .8438: 1.70"},
	})
}

func TestDroverOtherTubesEndTheFigures(t *testing.T) {
	r := derived(t, "drover")
	for _, at := range []pick{{"", "T6", "", "V3", pw, top}, {"Player", "", "", "V4", pv, top}, {"Player", "", "", "V3", sw, measured}} {
		row := at.of(t, r)
		if row.Kind != rating.NotProven || row.HasFigure || !strings.Contains(row.Reason(), "read the stage again") {
			t.Errorf("%+v: %s, figure %v, %q; want not proven until read again", at, row.Kind, row.HasFigure, row.Reason())
		}
	}
}

// A numberTest is one figure of a whole job that is no verdict.
type numberTest struct {
	name      string
	got, want float64
	tol       float64
	hand      string
}

func checkNumbers(t *testing.T, tests []numberTest) {
	t.Helper()
	for _, tt := range tests {
		if math.Abs(tt.got-tt.want) > tt.tol {
			t.Errorf("%s: %g, want %g within %g (%s)", tt.name, tt.got, tt.want, tt.tol, tt.hand)
		}
	}
}

func TestDroverFigures(t *testing.T) {
	r := derived(t, "drover")
	peak := func(v unit.Voltage) float64 { return r.Peak(v).High }
	v3 := r.Stage("V3")
	t6r := option(t, r, "T6r")
	leak := r.Findings[2].Leaks[0]
	checks := map[limit.Quantity]job.Check{}
	for _, c := range r.Checks {
		if c.Subject == "V3" || c.Subject == "LV" {
			checks[c.Quantity] = c
		}
	}
	checkNumbers(t, []numberTest{
		{"no-load peak at 117", peak(117), 410.1, 0.1, "290 x 1.41421"},
		{"no-load peak at 124", peak(124), 434.7, 0.1, "410.12 x 124/117"},
		{"no-load peak at 127", peak(127), 445.2, 0.1, "410.12 x 127/117"},
		{"wanted", pick{"", "T2b", "K K-1002", "C1a", dc, cold}.of(t, r).Wanted, 467.4, 0.1, "445.18 x 1.05"},
		{"leak current", float64(leak.Current), 13.6e-6, 0.05e-6, "3.0/220k"},
		{"leak resistance", float64(leak.Resistance), 21.8e6, 0.05e6, "(300 - 3)/13.64 uA"},
		{"cathode current", float64(v3.Cathode), 36.3e-3, 0.05e-3, "19/262/2"},
		{"plate current", float64(v3.Plate), 33.8e-3, 0.05e-3, "36.26 - 2.5 mA"},
		{"current factor, low end", t6r.Apart.Least[0].Factor.Low, 0.905, 0.0005, "(1 + 0.010 x 262)/(1 + 0.010 x 300) = 3.62/4"},
		{"current factor, high end", t6r.Apart.Least[0].Factor.High, 0.919, 0.0005, "(1 + 0.006 x 262)/(1 + 0.006 x 300) = 2.572/2.8"},
		{"least fitted resistor, unrounded", t6r.Apart.Least[0].Ohms, 275.97, 0.01, "(2.572 x 12.393/12 - 1)/0.006"},
		{"least fitted resistor", t6r.Apart.Least[0].Up(), 276, 1e-9, "rounded up"},
		{"check of plate volts at 124", checks[pv].Measured, 316.7, 0.1, "337 - 20.3"},
		{"check of plate watts at 124", checks[pw].Measured, 11.4, 0.05, "(20.3/262/2 - 2.7 mA) x 316.7"},
		{"check of the heater at 124", checks[hv].Measured, 6.62, 0.005, "as read"},
	})
	for q, c := range checks {
		if !c.Agrees {
			t.Errorf("check of %s: %g is not in %g to %g", q, c.Measured, c.Low, c.High)
		}
	}
	if c := checks[pw]; c.Low > 11.4 || c.High < 11.4 {
		t.Errorf("predicted %g to %g W at 124 V, want 11.4 inside", c.Low, c.High)
	}
	if len(checks) != 3 {
		t.Errorf("%d kinds of checks, want plate volts, plate watts and heater", len(checks))
	}
}

func option(t *testing.T, r *job.Result, id string) job.OptionResult {
	t.Helper()
	i := slices.IndexFunc(r.Options, func(o job.OptionResult) bool { return o.Option.ID == id })
	if i < 0 {
		t.Fatalf("no option %s", id)
	}
	return r.Options[i]
}

func TestDroverOffers(t *testing.T) {
	r := derived(t, "drover")
	t6r := option(t, r, "T6r")
	if t6r.Refused != "" || !t6r.Apart.Offered() || !t6r.Apart.NeedsReason() || len(t6r.Problems) > 0 {
		t.Errorf("T6r: refused %q, problems %v: want it on offer with a recorded reason", t6r.Refused, t6r.Problems)
	}
	if r.Job.Reasons["T6r"] == "" {
		t.Error("T6r has no recorded reason")
	}
	// Without the reason it stays on offer and cannot be ordered.
	j, b := opened(t, "drover")
	delete(j.Reasons, "T6r")
	j.Pick = "Collector" // the player's set fits other tubes, which ends the figures
	bare := option(t, job.Derive(j, b, ""), "T6r")
	if bare.Refused != "" || len(bare.Problems) != 1 {
		t.Errorf("T6r without a reason: refused %q, problems %v: want one problem", bare.Refused, bare.Problems)
	}
	// An ordinary capacitor from the mains to the chassis is never offered.
	for _, part := range []string{"K K-1101", "R R-2301", "R R-2302"} {
		for _, row := range r.Rows() {
			if row.Part == part && row.Subject == "C20" {
				t.Errorf("%s is weighed for the place from the mains to the chassis", part)
			}
		}
	}
	for part, offered := range map[string]bool{"K K-1101": true, "R R-2301": true, "R R-2302": false} {
		row := pick{"Player", "T3/film", part, "C5", dc, cold}.of(t, r)
		if row.Offered != offered {
			t.Errorf("%s offered %v, want %v", part, row.Offered, offered)
		}
	}
}

func TestDroverDates(t *testing.T) {
	r := derived(t, "drover")
	tests := []struct {
		on, code string
		want     []finding.CodeDate
	}{
		// 999-5723: maker 999, year 57, week 23.
		{"controls", "999-5723", []finding.CodeDate{{Source: "999", Year: 1957, Week: 23, Fit: finding.Fits}}},
		// 998741: maker 998, a year ending in 7, week 41: ask.
		{"speaker", "998741", []finding.CodeDate{
			{Source: "998", Year: 1947, Week: 41, Fit: finding.OldStock}, {Source: "998", Year: 1957, Week: 41, Fit: finding.Fits}, {Source: "998", Year: 1967, Week: 41, Fit: finding.Replacement}}},
	}
	if len(r.Dates) != len(tests) {
		t.Fatalf("%d date codes, want %d", len(r.Dates), len(tests))
	}
	for i, tt := range tests {
		d := r.Dates[i]
		if d.On != tt.on || d.Code != tt.code || !slices.Equal(d.Choices, tt.want) || d.Asks() != (len(tt.want) > 1) {
			t.Errorf("%s: %+v, want %v", tt.code, d, tt.want)
		}
	}
}

func TestDroverDrift(t *testing.T) {
	r := derived(t, "drover")
	f := r.Findings[4].Finding
	tests := []struct {
		meter string
		want  []finding.DriftWord
	}{
		// Limit 110 k. 112 x 0.99 = 110.9 > 110; 106 x 1.01 = 107.1.
		{"1", []finding.DriftWord{finding.Out, finding.Out, finding.In, finding.Out}},
		// 112 x 0.98 = 109.8 < 110 < 112 x 1.02; 106 x 1.02 = 108.1.
		{"2", []finding.DriftWord{finding.Out, finding.Out, finding.In, finding.CannotSay}},
	}
	for _, tt := range tests {
		d := *f.Drift
		d.MeterPercent = finding.Text(tt.meter)
		f.Drift = &d
		got := finding.Work(f, finding.Facts{})
		for i, want := range tt.want {
			if got.Drifts[i].Word != want {
				t.Errorf("meter ±%s %%, %s: %q, want %q", tt.meter, got.Drifts[i].Read, got.Drifts[i].Word, want)
			}
		}
	}
}

func TestDroverUndo(t *testing.T) {
	r := derived(t, "drover")
	for id, want := range map[string][3]string{
		"T1":  {"close", "bagged", "U1"},    // the cord hole is used again
		"T2b": {"modern", "in place", "U1"}, // matter kept
		"T2c": {"as made", "consumed", "U3"},
		"T7a": {"as made", "consumed", "U3"},
	} {
		o := option(t, r, id).Option
		if got := [3]string{string(o.Look), string(o.Matter), string(o.Undo)}; got != want {
			t.Errorf("%s: %v, want %v", id, got, want)
		}
	}
	// 160.00 − 88.00 = 72.00 more labor, and less of the can kept.
	usd, _ := money.CurrencyOf("USD")
	var said []string
	for _, i := range r.Insights() {
		said = append(said, i.Say(usd))
	}
	if want := "T2c costs 72.00 more labor than T2b and keeps less of the original: consumed, not in place"; !slices.Contains(said, want) {
		t.Errorf("insights %q, want among them %q", said, want)
	}
}

// setTest is one row of the tables of totals. Money is in minor units.
type setTest struct {
	name                                            string
	hours, independent, linked                      float64
	labor, parts, other, fee, tax, total, withFinds money.Amount
	ready                                           int
	fitsCeiling, fitsDate                           bool
}

func checkSets(t *testing.T, r *job.Result, tests []setTest) {
	t.Helper()
	if len(r.Sets) != len(tests) {
		t.Fatalf("%d sets, want %d", len(r.Sets), len(tests))
	}
	for i, tt := range tests {
		s, b := r.Sets[i], r.Sets[i].Bill
		checkNumbers(t, []numberTest{
			{tt.name + " hours", float64(b.Hours), tt.hours, 0.05, ""},
			{tt.name + " spread, independent", float64(b.Independent), tt.independent, 0.005, ""},
			{tt.name + " spread, linked", float64(b.Linked), tt.linked, 0.005, ""},
		})
		got := setTest{tt.name, tt.hours, tt.independent, tt.linked, b.Labor, b.Parts, b.Other, b.Fee, b.Tax, b.Total, b.WithAllowance, s.ReadyDays, s.FitsCeiling, s.FitsDate}
		if s.Name != tt.name || got != tt || s.Err != "" {
			t.Errorf("%s %s\n got %+v\nwant %+v", s.Name, s.Err, got, tt)
		}
	}
}

func TestDroverTotals(t *testing.T) {
	r := derived(t, "drover")
	// Safety: S1 .7 + S2 1.1 + T1 .8 + T2b 1.1 + T3 .7 = 4.4 h x 80 = 352; five sd of
	// 1/6: sqrt(5)/6 = 0.37, 5/6 = 0.83. Lead kit 11.88, fuses 2 x .75, axials
	// 3 x 6.50, film 4 x .94 = 36.64; 8 % = 2.93. No ceiling is set: all fit.
	checkSets(t, r, []setTest{
		{"Safety only", 4.4, 0.37, 0.83, 35200, 3664, 0, 8000, 293, 47157, 50677, 2, true, true},
		{"Player", 6.2, 0.39, 1.07, 49600, 11089, 14050, 8000, 887, 83626, 88586, 21, true, true},
		{"Collector", 7.6, 0.55, 1.43, 60800, 10963, 0, 8000, 877, 80640, 86720, 2, true, true},
	})
	for _, s := range r.Sets {
		if s.Left != 0 {
			t.Errorf("%s: %d left of a ceiling nobody set", s.Name, s.Left)
		}
	}
	// Sent out: 95.00 x 1.10 + 36.00 at cost = 140.50.
	var other []money.Amount
	for _, l := range r.Sets[1].Bill.Lines {
		if l.Class == "other" {
			other = append(other, l.Amount)
		}
	}
	if !slices.Equal(other, []money.Amount{10450, 3600}) {
		t.Errorf("work sent out %v, want 104.50 and 36.00", other)
	}
}

func TestDroverOrders(t *testing.T) {
	r := derived(t, "drover")
	if len(r.Buy.Baskets) != 1 || len(r.Buy.Held) != 0 || r.Buy.Baskets[0].Supplier != "K" {
		t.Fatalf("baskets %v, held %v: want one of K and nothing held", r.Buy.Baskets, r.Buy.Held)
	}
	b := r.Buy.Baskets[0]
	found := map[string]bool{}
	for _, l := range b.Lines {
		found[l.Number] = true
		switch l.Number {
		case "K-1101": // 4 used of a pack of 10 at 0.75
			if l.Packs != 1 || l.Pieces != 10 || l.Needed != 4 || l.Spare != 6 || l.Amount != 750 {
				t.Errorf("film: %+v, want 1 pack of 10, 4 used, 6 to stock, 7.50", l)
			}
		case "K-1502": // 2 used of a pack of 5 at 0.60
			if l.Packs != 1 || l.Pieces != 5 || l.Spare != 3 || l.Amount != 300 {
				t.Errorf("fuse: %+v, want 1 pack of 5, 3 to stock, 3.00", l)
			}
		}
	}
	if !found["K-1101"] || !found["K-1502"] || len(b.Lines) != 7 {
		t.Errorf("lines %v, want seven with film and fuse", found)
	}
	// 15.60 + 7.50 + 4.20 + 54.00 + 9.50 + 3.00 + 1.20
	if b.Goods != 9500 {
		t.Errorf("goods %d, want 95.00", b.Goods)
	}
}

func TestTernVerdicts(t *testing.T) {
	r := derived(t, "tern")
	within, below, worse, inherited, lacking := rating.Within, rating.BelowReserve, rating.OverWorsened, rating.OverInherited, rating.NotEnoughData
	// As found, tap 220: r at 253 is 253/220 = 1.15. On tap 240: (253/240)/(220/220) = 1.05417.
	checkFigures(t, r, []figureTest{
		{"heater at 243 on 220", pick{"", "", "", "LV", hv, measured}, 6.96, 6.96, 0.005, inherited, "+10.5 %", "6.30 x 243/220 = 6.959; /6.3 = +10.5 %"},
		{"heater at 253 on 220", pick{"", "", "", "LV", hv, top}, 7.245, 7.245, 0.0005, inherited, "+15.0 %", "6.30 x 1.15"},
		{"heater at 243 on 240", pick{"", "T1", "", "LV", hv, measured}, 6.38, 6.38, 0.005, within, "+1.3 %", "6.30 x 1.0125 = 6.379: +1.25 %"},
		{"heater at 253 on 240", pick{"", "T1", "", "LV", hv, top}, 6.64, 6.64, 0.005, within, "", "6.30 x 1.05417"},
		{"peak on 220", pick{"", "", "", "C1a", dc, cold}, 435.9, 435.9, 0.1, within, "wanted 457.7 V", "268 x 1.41421 x 1.15 = 435.86; the can says 500 V"},
		{"450 V before the tap is moved", pick{"", "T3ii", "trial filter-450", "C1a", dc, cold}, 435.9, 435.9, 0.1, below, "below the wanted 457.7 V", "450 < 457.66"},
		{"450 V after", pick{"musts T5 T9", "T3ii", "trial filter-450", "C1a", dc, cold}, 399.5, 399.5, 0.1, within, "wanted 419.5 V", "379.01 x 1.05417 = 399.54; x 1.05 = 419.52"},
		{"400 V film after", pick{"musts T5 T9", "T6", "trial film-400", "C5", dc, cold}, 399.5, 399.5, 0.1, below, "inside the rating by 0.1 %", "(400 - 399.54)/400 = 0.115 %"},
		{"400 V film before", pick{"", "T6", "E E-82", "C5", dc, cold}, 435.9, 435.9, 0.1, worse, "", "435.86 > 400"},
		{"630 V film after", pick{"musts T5 T9", "T6", "E E-81", "C8", dc, cold}, 399.5, 399.5, 0.1, within, "", "630 > 419.52"},
		{"630 V film before", pick{"", "T6", "E E-81", "C8", dc, cold}, 435.9, 435.9, 0.1, within, "", "630 > 457.66"},

		{"plate volts at 220 on 220", pick{"", "", "", "V4", pv, bench}, 307, 307, 0.5, inherited, "", "318 - 11 > 300"},
		{"plate watts at 220 on 220", pick{"", "", "", "V4", pw, bench}, 12.1, 12.1, 0.05, inherited, "by 0.7 %, inherited", "(11/62/4 - 5 mA) x 307 = 12.082; /12 = +0.7 %"},
		{"plate watts at 243 on 220", pick{"", "", "", "V5", pw, measured}, 14.7, 15.5, 0.05, inherited, "", "12.082 x 1.10455^2 = 14.74, ^2.5 = 15.49"},
		{"plate watts at 243 on 240", pick{"", "T1", "", "V6", pw, measured}, 12.4, 12.5, 0.05, inherited, "", "12.082 x 1.0125^2 = 12.39, ^2.5 = 12.46"},
		{"plate watts at 253 on 240", pick{"", "T1", "", "V7", pw, top}, 13.4, 13.8, 0.05, inherited, "", "12.082 x 1.05417^2 = 13.43, ^2.5 = 13.79"},
		{"plate volts at 253 on 240", pick{"", "T1", "", "V4", pv, top}, 323.6, 323.6, 0.1, inherited, "by 7.9 %, inherited", "307 x 1.05417 = 323.63; /300 = +7.9 %"},
		{"plate watts with T1 and T4", pick{"musts only", "", "", "V4", pw, top}, 10.8, 11.7, 0.05, within, "", "13.43 x 0.804 = 10.79; 13.79 x 0.8485 = 11.70"},
		{"plate volts with T1 and T4", pick{"musts only", "", "", "V4", pv, top}, 323.6, 336.2, 0.1, worse, "over as found: 323.6 V > 300.0 V, by 7.9 %, inherited; with T4 up to 12.6 V more", "rise 0.196 x (399.54 - 318 x 1.05417) = 12.6"},
		{"first capacitor has no limit", pick{"", "T3ii", "E E-77", "C1a", fc, greatest}, 39.6e-6, 39.6e-6, 0.05e-6, lacking, "no limit", "33 x 1.2"},
		{"screens have no limit", pick{"", "", "", "V4", sv, top}, 0, 0, 0, lacking, "", "neither limit nor reading"},
		{"screen watts have no limit", pick{"musts only", "", "", "V7", sw, top}, 0, 0, 0, lacking, "", "neither limit nor reading"},
	})
}

func TestTernFigures(t *testing.T) {
	r := derived(t, "tern")
	v4 := r.Stage("V4")
	j, b := opened(t, "tern")
	j.Pick = "musts only" // T5 fits other tubes, which ends the figures
	least := option(t, job.Derive(j, b, ""), "T4").Beside.Least
	if len(least) != 4 {
		t.Fatalf("least resistor for %d tubes, want 4", len(least))
	}
	checkNumbers(t, []numberTest{
		{"cathode current", float64(v4.Cathode), 44.4e-3, 0.05e-3, "11/62/4 = 44.35 mA"},
		{"plate current", float64(v4.Plate), 39.4e-3, 0.05e-3, "44.35 - 5.0"},
		{"current factor, low end", least[0].Factor.Low, 0.804, 0.0005, "(1 + 0.05 x 62)/(1 + 0.05 x 82) = 4.1/5.1"},
		{"current factor, high end", least[0].Factor.High, 0.848, 0.0005, "(1 + 0.02 x 62)/(1 + 0.02 x 82) = 2.24/2.64"},
		{"least fitted resistor", least[0].Up(), 78.7, 1e-9, "(2.24 x 13.786/12 - 1)/0.02 = 78.67, rounded up"},
	})
	if five := 82 * 0.95; five >= least[0].Ohms {
		t.Errorf("a part of -5 %% reads %g, least %g: it would not do", five, least[0].Ohms)
	}
}

func TestTernTotals(t *testing.T) {
	r := derived(t, "tern")
	// Everything: S1 .4 + S2 1.1 + .1 + .3 + 1.1 + .3 + .2 + .7 + .4 + 1.2 + .3 = 6.1 h x 60;
	// parts .52 + 7.49 + 2 x 4.33 + 1.58 + .86 + 74.88 + 4 x 1.34 + 3.02 = 102.37; fee 60.
	checkSets(t, r, []setTest{
		{"everything", 6.1, 0.47, 1.03, 36600, 10237, 0, 6000, 0, 52837, 52837, 4, false, true},
		{"without T8", 4.9, 0.30, 0.67, 29400, 10237, 0, 6000, 0, 45637, 45637, 4, false, true},
		{"without T8 new can", 4.5, 0.30, 0.67, 27000, 11459, 0, 6000, 0, 44459, 44459, 35, true, false},
		{"musts T5 T9", 4.5, 0.30, 0.63, 27000, 10237, 0, 6000, 0, 43237, 43237, 4, true, true},
		{"musts only", 4.0, 0.29, 0.60, 24000, 2447, 0, 6000, 0, 32447, 32447, 4, true, true},
	})
	if left := r.Sets[1].Left; left != -637 {
		t.Errorf("without T8: %d left, want over by 6.37", left)
	}
	// T1 bills 0.1 h at 60 and one fuse at 0.52.
	ds, err := r.Deltas()
	if err != nil || ds[0].Option != "T1" || ds[0].Total != -652 {
		t.Errorf("leaving T1 out changes %+v, %v: want 6.52 less", ds[0], err)
	}
}

func TestTernBest(t *testing.T) {
	b, err := derived(t, "tern").Best()
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{"T1", "T2", "T3ii", "T4", "T5", "T6", "T9"}; !b.Found || !slices.Equal(b.Accept, want) || b.Total != 43237 || b.Value != 9 {
		t.Errorf("best %v %d value %d, want %v 432.37 value 9", b.Accept, b.Total, b.Value, want)
	}
	// T5 5 + T7 3 = 8: 432.37 − 21.02 + 24.00.
	if b.RunnerUp == nil || b.RunnerUp.Value != 8 || b.RunnerUp.Total != 43535 {
		t.Errorf("runner-up %+v, want T5 and T7 at 435.35, value 8", b.RunnerUp)
	}
	if want := "raise the ceiling by 6.37, or accept day 35, and T7 comes too"; b.Say != want {
		t.Errorf("it says %q, want %q", b.Say, want)
	}
}

// Landed cost, not rounded, and selling price, rounded once.
func TestTernPrices(t *testing.T) {
	r := derived(t, "tern")
	tests := []struct {
		list, number, landed string
		selling              money.Amount
	}{
		{"U", "U-101", "17.40", 2088}, // 14.50 x 1.2; x 1.2 = 20.88
		{"U", "U-120", "62.40", 7488}, // 52.00 x 1.2
		{"U", "U-130", "1.32", 158},   // 1.10 x 1.2; 1.584
		{"U", "U-131", "0.72", 86},    // 0.864
		{"U", "U-140", "0.432", 52},   // 0.36 x 1.2; 0.5184
		{"U", "U-150", "6.24", 749},   // 7.488
		{"U", "U-160", "2.52", 302},   // 3.024
		{"E", "E-77", "3.612", 433},   // 4.20 x 0.86; 4.3344
		{"E", "E-81", "1.118", 134},   // 1.30 x 0.86; 1.3416
	}
	for _, tt := range tests {
		o, ok := r.Books.Offer(tt.list, tt.number)
		if !ok {
			t.Errorf("no offer %s", tt.number)
			continue
		}
		c := r.Books.Cost(o)
		want, _ := money.ReadDecimal(tt.landed, money.Point)
		if c.Err != nil || c.Landed.Cmp(want) != 0 || c.Selling != tt.selling {
			t.Errorf("%s: landed %s, selling %d, %v; want %s, %d", tt.number, c.Landed, c.Selling, c.Err, tt.landed, tt.selling)
		}
	}
}

// Agreed by phone: the right to cancel is told, the wish to start put on
// record.
func TestTernAgreement(t *testing.T) {
	r := derived(t, "tern")
	got := r.Agreement()
	for _, want := range []string{"by phone", "right to cancel", "express request", "check with your local authority"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q does not say %q", got, want)
		}
	}
	page, err := r.EstimateHTML()
	if err != nil || !strings.Contains(string(page), "right to cancel") {
		t.Errorf("the estimate does not tell of the right to cancel (%v)", err)
	}
	if got := derived(t, "drover").Agreement(); got != "" {
		t.Errorf("nothing is said of where the drover's owner agreed, and yet %q", got)
	}
}

func TestTernOffers(t *testing.T) {
	j, b := opened(t, "tern")
	j.Pick = "musts only"
	r := job.Derive(j, b, "")
	t4 := option(t, r, "T4")
	// It cures the watts of four tubes at the top of the range and takes their
	// plate volts, already over, further over: on offer, with the reason.
	cured := 0
	for _, c := range t4.Beside.Cures {
		if c.Quantity == pw && c.Scenario == top {
			cured++
		}
	}
	if t4.Refused != "" || !t4.Beside.Offered() || !t4.Beside.NeedsReason() || cured != 4 || len(t4.Problems) > 0 {
		t.Errorf("T4: refused %q, cures %d, problems %v", t4.Refused, cured, t4.Problems)
	}
	delete(j.Reasons, "T4")
	r = job.Derive(j, b, "")
	if bare := option(t, r, "T4"); bare.Refused != "" || len(bare.Problems) != 1 {
		t.Errorf("T4 without a reason: refused %q, problems %v", bare.Refused, bare.Problems)
	}
	var held []string
	for _, h := range r.Buy.Held {
		held = append(held, h.Need.Number)
	}
	if !slices.Equal(held, []string{"U-130", "U-131"}) {
		t.Errorf("held %v, want the resistor and its bypass until the reason is on record", held)
	}
	// On the 220 tap it cures nothing, so alone it is not put to the owner.
	if t4.Apart.Offered() {
		t.Error("T4 alone, on the 220 tap, is on offer")
	}
	// Moving the tap cures the heaters and costs no part but a fuse.
	t1 := option(t, r, "T1")
	for _, at := range []string{top, measured} {
		if !slices.ContainsFunc(t1.Apart.Cures, func(c rating.Judgment) bool { return c.Quantity == hv && c.Scenario == at }) {
			t.Errorf("T1 does not cure the heater %s", at)
		}
	}
}

func TestTernOrders(t *testing.T) {
	r := derived(t, "tern")
	want := map[string]struct {
		pieces, spare int
		amount        money.Amount
	}{
		"E-77": {2, 0, 840}, "E-81": {4, 0, 520}, "U-120": {1, 0, 5200}, "U-130": {1, 0, 110}, "U-131": {1, 0, 60},
		"U-140": {5, 4, 180}, "U-150": {1, 0, 520}, "U-160": {1, 0, 210}, // fuses by the five at 0.36
	}
	goods := map[string]money.Amount{}
	for _, b := range r.Buy.Baskets {
		goods[b.Supplier+" "+b.Currency.Code] = b.Goods
		for _, l := range b.Lines {
			w, ok := want[l.Number]
			if !ok || l.Pieces != w.pieces || l.Spare != w.spare || l.Amount != w.amount {
				t.Errorf("%s: %d pieces, %d to stock, %d; want %+v", l.Number, l.Pieces, l.Spare, l.Amount, w)
			}
			delete(want, l.Number)
		}
	}
	if len(want) > 0 || len(r.Buy.Held) > 0 {
		t.Errorf("not ordered: %v, held %v", want, r.Buy.Held)
	}
	// 8.40 + 5.20 EUR; 52.00 + 1.10 + .60 + 1.80 + 5.20 + 2.10 GBP.
	if len(goods) != 2 || goods["E EUR"] != 1360 || goods["U GBP"] != 6280 {
		t.Errorf("goods %v, want 13.60 EUR and 62.80 GBP", goods)
	}
}

// Whichever set is in force, nothing of it is held back and no option is
// refused: the reasons on record are all that is asked for.
func TestEverySetCanBeOrdered(t *testing.T) {
	for _, name := range wholeJobs {
		j, b := opened(t, name)
		for _, s := range j.Sets {
			j.Pick = s.Name
			r := job.Derive(j, b, "")
			if len(r.Buy.Held) > 0 || len(r.Buy.Baskets) == 0 {
				t.Errorf("%s, %s: held %+v", name, s.Name, r.Buy.Held)
			}
			for _, o := range r.Options {
				if o.Refused != "" || len(o.Problems) > 0 {
					t.Errorf("%s, %s: %s refused %q, problems %v", name, s.Name, o.Option.ID, o.Refused, o.Problems)
				}
			}
		}
	}
}
