package tube

import (
	"bytes"
	"math"
	"os"
	"strings"
	"testing"

	"lugworth/core/formula"
	"lugworth/core/limit"
	"lugworth/core/unit"
)

func shippedCards(t *testing.T) ([]Card, []byte) {
	t.Helper()
	data, err := os.ReadFile("../../catalogs/cards.csv")
	if err != nil {
		t.Fatal(err)
	}
	cards, problems := ReadCards("cards.csv", data)
	for _, p := range problems {
		t.Errorf("line %d, %s: %q %s %s", p.Line, p.Column, p.Cell, p.Code, p.Hint)
	}
	return cards, data
}

func TestShippedCardsComeBackByteForByte(t *testing.T) {
	cards, data := shippedCards(t)
	if !bytes.Equal(Write(cards), data) {
		t.Error("cards.csv changes when it is written back")
	}
	rows := 0
	for _, c := range cards {
		rows += len(c.Rows)
	}
	if lines := bytes.Count(data, []byte("\n")); rows+1 != lines {
		t.Errorf("%d rows of %d lines", rows, lines)
	}
}

// No original sheet was opened for the shipped cards, so none may be marked
// seen or user, and every value names where it comes from.
func TestShippedMarksAreHonest(t *testing.T) {
	cards, _ := shippedCards(t)
	for _, c := range cards {
		for _, r := range c.Rows {
			mark, err := limit.ParseMark(r.Mark)
			if err != nil || r.Mark == "" || mark > limit.SecondHand {
				t.Errorf("line %d: mark %q", r.Line, r.Mark)
			}
			if r.Source == "" {
				t.Errorf("line %d: no source", r.Line)
			}
			if secondHand := strings.Contains(r.Source, "second-hand transcription"); mark == limit.SecondHand && !secondHand && !strings.HasPrefix(r.Source, "worked out from drop") {
				t.Errorf("line %d: second-hand, but the source says %q", r.Line, r.Source)
			}
			if strings.HasPrefix(r.Source, "from memory") && mark != limit.Memory {
				t.Errorf("line %d: from memory, marked %q", r.Line, r.Mark)
			}
		}
	}
}

// Each row is the high end as the named sheet prints it (second-hand
// transcription; memory where the mark says so).
func TestShippedLimits(t *testing.T) {
	cards, _ := shippedCards(t)
	set := NewSet(cards)
	tests := []struct {
		typ    string
		q      limit.Quantity
		high   float64
		system limit.System
		mark   limit.Mark
	}{
		{"6V6GT", limit.PlateVolts, 315, limit.DesignCenter, limit.SecondHand}, // General Electric, March 1955
		{"6V6GT", limit.ScreenVolts, 285, limit.DesignCenter, limit.SecondHand},
		{"6V6GT", limit.PlateWatts, 12, limit.DesignCenter, limit.SecondHand},
		{"6V6GT", limit.GridOhmsFixed, 100e3, limit.DesignCenter, limit.SecondHand},
		{"6V6GTA", limit.PlateVolts, 350, limit.DesignMaximum, limit.SecondHand}, // RCA
		{"6V6GTA", limit.GridOhmsFixed, 100e3, limit.DesignMaximum, limit.Memory},
		{"6L6GC", limit.PlateVolts, 500, limit.DesignMaximum, limit.SecondHand}, // RCA, August 1960
		{"6L6GC", limit.ScreenWatts, 5, limit.DesignMaximum, limit.SecondHand},
		{"6L6G", limit.PlateWatts, 19, limit.DesignCenter, limit.SecondHand},
		{"6L6", limit.PlateVolts, 360, limit.DesignCenter, limit.Memory},
		{"5881", limit.PlateWatts, 23, limit.DesignCenter, limit.SecondHand}, // Tung-Sol
		{"6CA7", limit.PlateWatts, 25, limit.DesignCenter, limit.SecondHand}, // Philips, January 1969
		{"EL34", limit.CathodeCurrent, 0.150, limit.DesignCenter, limit.SecondHand},
		{"EL34", limit.HeaterVolts, 6.93, limit.Unstated, limit.Memory},
		{"6BQ5", limit.PlateVolts, 300, limit.DesignCenter, limit.SecondHand}, // Philips, January 1969
		{"EL84", limit.CathodeCurrent, 0.065, limit.DesignCenter, limit.SecondHand},
		{"6550", limit.PlateWatts, 35, limit.DesignCenter, limit.Memory},
		{"6550A", limit.PlateWatts, 42, limit.DesignMaximum, limit.SecondHand}, // General Electric, April 1972
		{"6973", limit.PlateVolts, 440, limit.DesignMaximum, limit.SecondHand}, // RCA, October 1960
		{"7591", limit.ScreenVolts, 440, limit.DesignMaximum, limit.SecondHand},
		{"ECC83", limit.PlateVolts, 300, limit.DesignCenter, limit.SecondHand}, // General Electric, June 1953
		{"12AX7A", limit.PlateVolts, 330, limit.DesignMaximum, limit.Memory},
		{"12AU7A", limit.PlateWatts, 2.75, limit.DesignMaximum, limit.SecondHand}, // RCA, July 1961
		{"6SN7GTB", limit.PlateVolts, 450, limit.DesignMaximum, limit.Memory},
		{"EF86", limit.ScreenWatts, 0.2, limit.DesignCenter, limit.SecondHand}, // Philips, January 1970
		{"5Y3GT", limit.OutputCurrent, 0.125, limit.Unstated, limit.SecondHand},
		{"5Y3GT", limit.FirstCapacitor, 20e-6, limit.Unstated, limit.SecondHand},
		{"5U4GB", limit.FirstCapacitor, 40e-6, limit.Unstated, limit.Memory},
		{"GZ34", limit.FirstCapacitor, 60e-6, limit.Unstated, limit.Memory},
		{"83", limit.InverseVolts, 1550, limit.Unstated, limit.SecondHand}, // RCA, July 1963
	}
	for _, tt := range tests {
		c, ok := set.Find(tt.typ)
		limits := c.LimitsOf(tt.q)
		if !ok || len(limits) == 0 {
			t.Errorf("%s: no %s", tt.typ, tt.q)
			continue
		}
		l := limits[0]
		if !near(l.High, tt.high) || !l.HasHigh || l.System != tt.system || l.Mark != tt.mark || l.Usable() != (tt.mark != limit.Memory) {
			t.Errorf("%s %s = %v, %v, %v; want %v, %v, %v", tt.typ, tt.q, l.High, l.System, l.Mark, tt.high, tt.system, tt.mark)
		}
	}
}

// Two editions that differ are both there, and each says that there is
// another.
func TestConflictsAreKept(t *testing.T) {
	cards, _ := shippedCards(t)
	set := NewSet(cards)
	tests := []struct {
		typ, figure string
		points      [2]int
		want        [2]float64
	}{
		{"6L6GC", "plate current", [2]int{5, 6}, [2]float64{0.116, 0.108}},
		{"EL34", "gm", [2]int{1, 2}, [2]float64{0.0125, 0.011}},
		{"EL34", "grid volts", [2]int{1, 2}, [2]float64{-13.5, -12.2}},
		{"EL34", "screen current", [2]int{5, 6}, [2]float64{0.005, 0.010}},
		{"12AY7", "mu", [2]int{1, 2}, [2]float64{40, 44}},
		{"5881", "plate current", [2]int{1, 2}, [2]float64{0.075, 0.072}},
	}
	for _, tt := range tests {
		c, _ := set.Find(tt.typ)
		got := map[int]float64{}
		for _, p := range c.Points() {
			if v, ok := p.Figure(tt.figure); ok {
				got[p.N] = v
			}
		}
		for i, n := range tt.points {
			if !near(got[n], tt.want[i]) {
				t.Errorf("%s point %d %s = %v, want %v", tt.typ, n, tt.figure, got[n], tt.want[i])
			}
		}
	}
	drops := 0
	fiveU4, _ := set.Find("5Z3")
	for _, v := range fiveU4.Values {
		if strings.HasSuffix(v.Quantity, " volts") && strings.HasPrefix(v.Quantity, "drop ") {
			drops++
		}
	}
	if drops != 3 {
		t.Errorf("5U4G has %d drops, want the three that are met", drops)
	}
	ez81, _ := set.Find("EZ81")
	if len(ez81.LimitsOf(limit.InverseVolts)) != 2 || len(fiveU4.LimitsOf(limit.PeakCurrent)) != 2 {
		t.Error("limits that differ between editions must both be there")
	}
}

// The rectifier constant is the one its own drop gives: I/V^1.5, to half a
// percent, as three figures are printed.
func TestRectifierConstants(t *testing.T) {
	cards, _ := shippedCards(t)
	checked := 0
	for _, c := range cards {
		if c.Kind != Rectifier {
			continue
		}
		if c.Heating == "" {
			t.Errorf("%s: heating not stated", c.Type)
		}
		pv, ok := c.Law("Pv")
		if !ok {
			if c.Type != "83" { // mercury vapor: the law does not hold
				t.Errorf("%s: no law.Pv", c.Type)
			}
			continue
		}
		v, _ := c.Value("drop 1 volts")
		i, _ := c.Value("drop 1 current")
		want, err := formula.Perveance(unit.Voltage(v.Amount), unit.Current(i.Amount))
		if err != nil || math.Abs(pv-want) > 0.005*want {
			t.Errorf("%s: law.Pv %v, drop gives %v, %v", c.Type, pv, want, err)
		}
		checked++
	}
	if checked != 7 {
		t.Errorf("%d constants checked, want 7", checked)
	}
}

// What a sheet prints of a triode must agree with itself: µ = gm·rp, within
// six percent for figures rounded to two places.
func TestTriodePointsAgreeWithThemselves(t *testing.T) {
	cards, _ := shippedCards(t)
	checked := 0
	for _, c := range cards {
		if c.Kind != Triode {
			continue
		}
		for _, p := range c.Points() {
			mu, okMu := p.Figure("mu")
			gm, okGm := p.Figure("gm")
			rp, okRp := p.Figure("rp")
			if !okMu || !okGm || !okRp {
				continue
			}
			checked++
			if math.Abs(gm*rp-mu) > 0.06*mu {
				t.Errorf("%s point %d: gm·rp = %.1f, µ = %v", c.Type, p.N, gm*rp, mu)
			}
		}
	}
	if checked < 12 {
		t.Errorf("%d points checked, want at least 12", checked)
	}
}

// No published idle or class A row may stand above the type's own plate
// watts by more than two percent (rounding of the sheet).
func TestPublishedRowsIdleInsideTheirWatts(t *testing.T) {
	cards, _ := shippedCards(t)
	checked := 0
	for _, c := range cards {
		for _, p := range c.Points() {
			va, okV := p.Figure("plate volts")
			ia, okI := p.Each("plate current")
			best := 0.0
			for _, l := range c.LimitsOf(limit.PlateWatts) {
				best = math.Max(best, l.High)
			}
			if !okV || !okI || best == 0 {
				continue
			}
			checked++
			if va*ia > 1.02*best {
				t.Errorf("%s point %d: %.1f W of %v", c.Type, p.N, va*ia, best)
			}
		}
	}
	if checked < 30 {
		t.Errorf("%d rows checked, want at least 30", checked)
	}
}
