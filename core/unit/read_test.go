package unit

import (
	"math"
	"strings"
	"testing"
)

func TestRead(t *testing.T) {
	tests := []struct {
		text string
		unit Unit
		want float64 // to 1 part in 10^12
		err  string
	}{
		{"318", Volt, 318, ""},
		{" 318 V ", Volt, 318, ""},
		{"2,5 mA", Ampere, 0.0025, ""},
		{"100k", Ohm, 100e3, ""},
		{"0.0025 A", Ampere, 0.0025, ""},
		{"-12.5 V", Volt, -12.5, ""},
		{"−12,5", Volt, -12.5, ""},
		{"10 MΩ", Ohm, 10e6, ""},
		{"10M", Ohm, 10e6, ""}, // a meter's input: M is mega in a reading
		{"1 1/2", Hour, 1.5, ""},
		{"½", Hour, 0.5, ""},
		{"90 min", Hour, 1.5, ""},
		{".022", Farad, 22e-9, ""},
		{"22 pF", Farad, 22e-12, ""},
		{"1E-08", Farad, 1e-8, ""},
		{"5500 µmhos", Siemens, 5.5e-3, ""},
		{"5.5 mA/V", Siemens, 5.5e-3, ""},
		{"0.006 A/V", Siemens, 6e-3, ""},
		{"60 c/s", Hertz, 60, ""},
		{"50 Hz", Hertz, 50, ""},
		{"35 days", Day, 35, ""},
		{"3 weeks", Day, 21, ""},
		{"5 %", Percent, 5, ""},
		{"12 pcs", Piece, 12, ""},
		{"1.234,5", Volt, 1234.5, ""},
		{"1,234.5", Volt, 1234.5, ""},
		{"22 000", Ohm, 22000, ""},
		{"0", Volt, 0, ""},
		{"1e5", None, 1e5, ""},

		{"", Volt, 0, "empty"},
		{"   ", Volt, 0, "empty"},
		{"45O", Volt, 0, "not-a-number"},
		{"none", Volt, 0, "not-a-number"},
		{"NaN", Volt, 0, "not-finite"},
		{"-Inf", Volt, 0, "not-finite"},
		{"∞", Volt, 0, "not-finite"},
		{"1e309", Volt, 0, "not-finite"},
		{"1e300", Volt, 0, "out-of-range"},
		{strings.Repeat("9", 60), Volt, 0, "out-of-range"},
		{strings.Repeat("9", 500), Volt, 0, "too-long"},
		{"-5 kΩ", Ohm, 0, "negative"},
		{"318 Q", Volt, 0, "unknown-unit"},
		{"318 mA", Volt, 0, "wrong-unit"},
		{"318 V 320", Volt, 0, "extra-text"},
		{"1.2.3", Volt, 0, "not-a-number"},
		{"1,234", Volt, 0, "ambiguous: 1.234 V (a decimal mark) or 1234 V (a thousands mark)"},
		{"22 mF", Farad, 0, "ambiguous: 22 µF (µF) or 22000 µF (mF, thousandths of a farad)"},
	}
	for _, tt := range tests {
		got, err := Read(tt.text, tt.unit)
		if errText(err) != tt.err {
			t.Errorf("Read(%q, %v) = %v, error %q, want %q", tt.text, tt.unit, got, errText(err), tt.err)
		} else if math.Abs(got-tt.want) > 1e-12*math.Abs(tt.want) {
			t.Errorf("Read(%q, %v) = %v, want %v", tt.text, tt.unit, got, tt.want)
		}
	}
}

func TestReadTolerance(t *testing.T) {
	tests := []struct{ text, want, err string }{
		{"10%", "±10 %", ""},
		{"±5 %", "±5 %", ""},
		{"+/-1", "±1 %", ""},
		{"-20/+80 %", "-20/+80 %", ""},
		{"+50 -10 %", "-10/+50 %", ""},
		{"K", "±10 %", ""},
		{"j", "±5 %", ""},
		{"20", "±20 %", ""},
		{"2,5", "±2.5 %", ""},
		{"wide", "", "not-a-number"},
		{"500", "", "out-of-range"},
		{"±500", "", "out-of-range"},
		{"", "", "empty"},
	}
	for _, tt := range tests {
		got, err := ReadTolerance(tt.text)
		if errText(err) != tt.err || got.String() != tt.want {
			t.Errorf("ReadTolerance(%q) = %q, %q, want %q %q", tt.text, got, errText(err), tt.want, tt.err)
		}
	}
}

func TestProblemText(t *testing.T) {
	_, err := Read("45O", Volt)
	p, ok := Located(err, "list.csv", 14, "Volts", "45O")
	want := `list.csv: line 14, column "Volts": "45O" is not a number; did you mean 450?`
	if !ok || p.Error() != want {
		t.Errorf("got  %s\nwant %s", p.Error(), want)
	}
	_, err = ReadSpec("100M", Ohm)
	p, _ = Located(err, "", 3, "value", "100M")
	want = `line 3, column "value": "100M" can be read in more than one way; did you mean ` +
		`100 MΩ (M for megohms) or 100 kΩ (M for thousand, as on some drawings before about 1950)?`
	if p.Error() != want {
		t.Errorf("got  %s\nwant %s", p.Error(), want)
	}
	if _, ok := Located(nil, "f", 1, "c", "x"); ok {
		t.Error("Located of no error is a problem")
	}
}

func TestFuzzSeedsStable(t *testing.T) {
	for _, text := range []string{"22uF 450V", "1/4 µF", "290-0-290", "4k7J", "R47-5W", "1A6T", "0R1"} {
		stable(t, text)
	}
}

// stable checks that what was read prints to a form that reads back alike.
func stable(t *testing.T, text string) {
	t.Helper()
	for _, hint := range []Unit{None, Farad, Ohm, Ampere, Volt, Watt, Henry} {
		s, err := ReadSpec(text, hint)
		if err != nil {
			continue
		}
		form := s.Canonical()
		again, err := ReadSpec(form, s.Unit)
		if err != nil || again.Canonical() != form {
			t.Errorf("ReadSpec(%q, %v) prints %q, which reads as %q, %v", text, hint, form, again.Canonical(), err)
		}
		for _, v := range append(s.Values, s.Volts, s.Watts, s.Surge, s.Tolerance.Minus, s.Tolerance.Plus) {
			if !finite(v) || v < 0 {
				t.Errorf("ReadSpec(%q, %v) holds %v", text, hint, v)
			}
		}
	}
}

func FuzzReadSpec(f *testing.F) {
	for _, s := range []string{"20+20+20@450", "223K", "250 Ω-5 W", "-20/+80%", "290-0-290 V", "T2AL250V", "1,234", "½W 1M", "10u50", "2x16"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) { stable(t, text) })
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"318", "2,5 mA", "1e309", "1 1/2", "-12.5", "22 000", ".022", "NaN"} {
		f.Add(s, uint8(Volt))
	}
	f.Fuzz(func(t *testing.T, text string, n uint8) {
		u := Unit(n % uint8(Piece+1))
		v, err := Read(text, u)
		if err != nil {
			return
		}
		if !finite(v) {
			t.Fatalf("Read(%q, %v) = %v", text, u, v)
		}
		form := Quantity{v, u}.String()
		again, err := Read(form, u)
		if err != nil && strings.HasPrefix(errText(err), "ambiguous") {
			return // farads of zero or the like ask again
		}
		if got := (Quantity{again, u}).String(); err != nil || got != form {
			t.Errorf("Read(%q, %v) prints %q, which reads as %q, %v", text, u, form, got, err)
		}
	})
}

func TestParseUnit(t *testing.T) {
	tests := []struct {
		text   string
		unit   Unit
		factor float64
		ok     bool
	}{
		{"V", Volt, 1, true}, {" mA ", Ampere, 1e-3, true}, {"kΩ", Ohm, 1e3, true}, {"ohm", Ohm, 1, true},
		{"µF", Farad, 1e-6, true}, {"uf", Farad, 1e-6, true}, {"mA/V", Siemens, 1e-3, true}, {"A/V", Siemens, 1, true},
		{"%", Percent, 1, true}, {"h", Hour, 1, true}, {"days", Day, 1, true}, {"Hz", Hertz, 1, true}, {"H", Henry, 1, true},
		{"", None, 1, true}, {"mF", None, 0, false}, {"mm", None, 0, false}, {"bananas", None, 0, false}, {"   ", None, 1, false},
	}
	for _, tt := range tests {
		u, f, ok := ParseUnit(tt.text)
		if u != tt.unit || ok != tt.ok || math.Abs(f-tt.factor) > 1e-15 {
			t.Errorf("ParseUnit(%q) = %v, %v, %v, want %v, %v, %v", tt.text, u, f, ok, tt.unit, tt.factor, tt.ok)
		}
	}
	for u := Volt; u <= Piece; u++ {
		if got, f, ok := ParseUnit(u.String()); got != u || f != 1 || !ok {
			t.Errorf("ParseUnit(%q) = %v, %v, %v", u.String(), got, f, ok)
		}
	}
}
