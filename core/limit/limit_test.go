package limit

import (
	"math"
	"testing"

	"lugworth/core/unit"
)

func TestParseMark(t *testing.T) {
	tests := []struct {
		text string
		want Mark
		bad  bool
	}{
		{"seen", Seen, false}, {"Second-Hand", SecondHand, false}, {"second hand", SecondHand, false},
		{" memory ", Memory, false}, {"USER", User, false},
		{"", Memory, false}, // nobody marked it: never trusted
		{"sure", Memory, true}, {"0", Memory, true},
	}
	for _, tt := range tests {
		got, err := ParseMark(tt.text)
		if got != tt.want || (err != nil) != tt.bad {
			t.Errorf("ParseMark(%q) = %v, %v; want %v", tt.text, got, err, tt.want)
		}
	}
}

func TestParseSystem(t *testing.T) {
	tests := []struct {
		text string
		want System
		bad  bool
	}{
		{"design center", DesignCenter, false}, {"Design-Centre", DesignCenter, false}, {"DC", DesignCenter, false},
		{"design maximum", DesignMaximum, false}, {"DM", DesignMaximum, false},
		{"absolute  maximum", AbsoluteMaximum, false}, {"am", AbsoluteMaximum, false},
		{"marked", Marked, false}, {"", Unstated, false}, {"unstated", Unstated, false},
		{"maximum", Unstated, true}, // of which system?
	}
	for _, tt := range tests {
		got, err := ParseSystem(tt.text)
		if got != tt.want || (err != nil) != tt.bad {
			t.Errorf("ParseSystem(%q) = %v, %v; want %v", tt.text, got, err, tt.want)
		}
	}
}

func TestWordsReadBack(t *testing.T) {
	for m := Memory; m <= User; m++ {
		if got, err := ParseMark(m.String()); got != m || err != nil {
			t.Errorf("mark %v reads back as %v, %v", m, got, err)
		}
	}
	for s := Unstated; s <= Marked; s++ {
		if got, err := ParseSystem(s.String()); got != s || err != nil {
			t.Errorf("system %v reads back as %v, %v", s, got, err)
		}
	}
	if Mark(200).String() != "memory" || System(200).String() != "unstated" {
		t.Error("a value out of range must read as the least trusted one")
	}
}

func TestOnlyDesignCenterIsJudgedAtNominal(t *testing.T) {
	for s := Unstated; s <= Marked; s++ {
		if s.AtNominal() != (s == DesignCenter) {
			t.Errorf("%v.AtNominal() = %v", s, s.AtNominal())
		}
	}
}

func TestUsable(t *testing.T) {
	tests := []struct {
		l    Limit
		want bool
	}{
		{Limit{}, false},
		{Limit{High: 315, HasHigh: true}, false}, // no mark: from memory
		{Limit{High: 315, HasHigh: true, Mark: SecondHand}, true},
		{Limit{High: 315, HasHigh: true, Mark: Seen}, true},
		{Limit{High: 315, HasHigh: true, Mark: User}, true},
		{Limit{Mark: User}, false}, // no number
	}
	for _, tt := range tests {
		if got := tt.l.Usable(); got != tt.want {
			t.Errorf("%+v Usable = %v", tt.l, got)
		}
	}
}

func TestHoldsAndMargin(t *testing.T) {
	heater := Limit{Quantity: HeaterVolts, Low: 5.67, High: 6.93, HasLow: true, HasHigh: true, Unit: unit.Volt}
	plate := Limit{Quantity: PlateVolts, High: 315, HasHigh: true, Unit: unit.Volt}
	tests := []struct {
		l      Limit
		v      float64
		holds  bool
		margin float64 // to 0.0001
	}{
		{plate, 315, true, 0},        // equal is inside
		{plate, 300, true, 0.0476},   // 15/315
		{plate, 324.6, false, -.030}, // -9.6/315 = -0.0305
		{heater, 6.09, true, 0.0741}, // low end (6.09-5.67)/5.67 = 0.0741, high end 0.1212
		{heater, 6.78, true, 0.0216}, // high end 0.15/6.93
		{heater, 5.0, false, -0.1182},
		{heater, 7.245, false, -0.0455},
	}
	for _, tt := range tests {
		margin, ok := tt.l.Margin(tt.v)
		if got := tt.l.Holds(tt.v); got != tt.holds || !ok || math.Abs(margin-tt.margin) > 0.0005 {
			t.Errorf("%s at %v: holds %v, margin %.4f, %v; want %v, %.4f", tt.l.Quantity, tt.v, got, margin, ok, tt.holds, tt.margin)
		}
	}
	if plate.Holds(math.NaN()) || (Limit{}).Holds(1) {
		t.Error("not a number, and no limit, hold nothing")
	}
	if _, ok := (Limit{}).Margin(1); ok {
		t.Error("no number, no margin")
	}
	if _, ok := plate.Margin(math.NaN()); ok {
		t.Error("not a number has no margin")
	}
}

func TestUnitOf(t *testing.T) {
	if u, ok := UnitOf(FirstCapacitor); u != unit.Farad || !ok {
		t.Errorf("first capacitor in %v, %v", u, ok)
	}
	if _, ok := UnitOf("point 1 plate volts"); ok {
		t.Error("an unknown quantity has a unit")
	}
}
