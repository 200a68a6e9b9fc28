package formula

import (
	"math"
	"testing"

	"lugworth/core/unit"
)

func errText(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

func TestReservoirPeak(t *testing.T) {
	tests := []struct {
		name            string
		half, read, top unit.Voltage
		want            unit.Voltage // to 0.05 V
		err             string
	}{
		// By hand: 300 × 1.41421 = 424.26.
		{"same mains", 300, 120, 120, 424.3, ""},
		// By hand: 424.26 × 126/120 = 445.48.
		{"top of range", 300, 120, 126, 445.5, ""},
		{"reading left blank", 300, 0, 126, 0, "reservoir peak: mains at the reading is 0.0 V, want more than 0 V"},
		{"negative winding", -300, 120, 126, 0, "reservoir peak: half winding is -300.0 V, want more than 0 V"},
		{"not a number", 300, 120, unit.Voltage(math.NaN()), 0, "reservoir peak: top of the range is NaN V, want more than 0 V"},
		{"infinite", unit.Voltage(math.Inf(1)), 120, 126, 0, "reservoir peak: half winding is +Inf V, want more than 0 V"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := ReservoirPeak(tt.half, tt.read, tt.top)
			if errText(err) != tt.err {
				t.Fatalf("error %q, want %q", errText(err), tt.err)
			}
			if math.Abs(float64(got-tt.want)) > 0.05 {
				t.Errorf("ReservoirPeak(%v, %v, %v) = %v, want %v", tt.half, tt.read, tt.top, float64(got), float64(tt.want))
			}
		})
	}
}

// Nothing answers when a figure is missing: zero is "left blank".
func TestBlankIsAnError(t *testing.T) {
	for what, answer := range answers {
		switch what {
		case "PeakOf", "RMSOf", "RippleRMS", "Dissipation":
			continue // no voltage or no current is a fact: the result is zero
		}
		if v, err := answer(in{}); err == nil {
			t.Errorf("%s of nothing = %v, want an error", what, v)
		}
	}
}

// A figure that is not a number never comes back as an answer.
func TestNotANumberIsAnError(t *testing.T) {
	rows := published(t, "electrical.csv", "what,inputs,expected,tolerance,source,mark")
	for _, row := range rows {
		m, err := inputs(row[1])
		if err != nil {
			t.Fatal(err)
		}
		switch row[0] {
		case "PeakOf", "RMSOf", "RippleRMS":
			continue // a single factor: what is put in comes out
		}
		for name, was := range m {
			if name == "n" {
				continue // a count
			}
			m[name] = math.NaN()
			if got, err := answers[row[0]](m); err == nil {
				t.Errorf("%s with %s not a number = %v, want an error", row[0], name, got)
			}
			m[name] = was
		}
	}
}

// By hand: the mains falls from 117 to 110, r = 0.940; a heater at 6.3 V
// reads 5.92 V, and 35 mA idles at 32.9 down to 31.9 mA. Less mains, less of
// each: common practice, no source.
func TestLessMainsLessHeat(t *testing.T) {
	heater, err := HeaterAt(6.3, 117, 110)
	if err != nil || heater >= 6.3 {
		t.Errorf("HeaterAt(6.3, 117, 110) = %v, %v; want less than 6.3 V", float64(heater), err)
	}
	low, high, err := IdleAt(0.035, 117, 110)
	if err != nil || high >= 0.035 || low > high {
		t.Errorf("IdleAt(35 mA, 117, 110) = %v, %v, %v; want both below 35 mA", float64(low), float64(high), err)
	}
	low, _, err = IdleAt(0.035, 110, 117)
	if err != nil || low <= 0.035 {
		t.Errorf("IdleAt(35 mA, 110, 117) from %v, %v; want above 35 mA", float64(low), err)
	}
}

// A pair within 3 % reads as close, one 8 % apart as usable: common
// practice, no source. The 5 mA rule helps small currents only.
func TestPairMatch(t *testing.T) {
	tests := []struct {
		i1, i2 unit.Current
		want   Match
	}{
		{0.0350, 0.0350, Close},
		{0.0340, 0.0350, Close},          // 1.0/34.5 = 2.9 %
		{0.0700, 0.0758, ApartButUsable}, // 5.8/72.9 = 8.0 %, 5.8 mA
		{0.0200, 0.0240, ApartButUsable}, // 4/22 = 18 %, but 4 mA
		{0.0700, 0.0800, Unmatched},      // 10/75 = 13 %, 10 mA
	}
	for _, tt := range tests {
		_, got, err := PairMatch(tt.i1, tt.i2)
		_, back, _ := PairMatch(tt.i2, tt.i1)
		if err != nil || got != tt.want || back != got {
			t.Errorf("PairMatch(%v, %v) = %v, %v, turned round %v; want %v", float64(tt.i1), float64(tt.i2), got, err, back, tt.want)
		}
	}
	if got := Match(9).String(); got != "apart" {
		t.Errorf("an unknown match reads %q, want apart", got)
	}
}

// The leak found from a shift gives the shift back.
func TestLeakRoundTrip(t *testing.T) {
	_, leak, err := LeakFromShift(3, 220e3, 300)
	if err != nil {
		t.Fatal(err)
	}
	got, err := GridWithLeak(0, 300, 220e3, leak)
	if err != nil || math.Abs(float64(got)-3) > 1e-9 { // rounding only
		t.Errorf("grid with the leak found = %v, %v; want 3 V", float64(got), err)
	}
	if _, _, err := LeakFromShift(300, 220e3, 300); err == nil {
		t.Error("a shift as great as the source has no leak resistance")
	}
}

// The least resistor gives the factor asked for.
func TestCathodeResistorRoundTrip(t *testing.T) {
	for _, f := range []float64{0.5, 0.8, 0.97, 1.2} {
		r1, err := CathodeResistorFor(0.006, 262, f)
		if err != nil {
			t.Fatal(err)
		}
		got, err := CathodeResistorFactor(0.006, 262, r1)
		if err != nil || math.Abs(got-f) > 1e-12 { // rounding only
			t.Errorf("factor of the resistor for %v = %v, %v", f, got, err)
		}
	}
	if _, err := CathodeResistorFor(0.006, 262, 3); err == nil {
		t.Error("no resistor raises the current threefold: want an error")
	}
}

func TestRefusals(t *testing.T) {
	tests := []struct {
		name string
		err  error
	}{
		{"goal above start", third(DischargeTime(1e3, 1e-6, 30, 450))},
		{"more than a year", third(DischargeTime(1e12, 1, 450, 1))},
		{"no capacitors", third(SeriesCaps())},
		{"no resistors", third(ParallelOhms())},
		{"k below √2", third(CapacitorRipple(0.1, 1.2))},
		{"style limit unknown", third(MaxContinuousVolts(0.5, 470e3, 0))},
		{"plate below cathode", third(Dissipation(10, 19, 0.03))},
		{"derating line upside down", third(Derated(0.5, 90, Derating{130, 70}))},
		{"tolerance of all of it", third(Spread(22e-6, unit.Tolerance{Minus: 1, Stated: true}))},
	}
	for _, tt := range tests {
		if tt.err == nil {
			t.Errorf("%s: no error", tt.name)
		}
	}
}

func third[T any](_ T, err error) error { return err }

func TestDeratedEnds(t *testing.T) {
	for _, line := range []Derating{CompositionDerating, FilmDerating, OxideDerating, WirewoundDerating} {
		full, _ := Derated(1, line.Full, line)
		none, _ := Derated(1, line.Zero+1, line)
		cold, _ := Derated(1, -40, line)
		if math.Abs(float64(full)-1) > 1e-9 || none != 0 || math.Abs(float64(cold)-1) > 1e-9 {
			t.Errorf("%v: %v full, %v cold, %v past the end", line, float64(full), float64(cold), float64(none))
		}
	}
}
