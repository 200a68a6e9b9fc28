package unit

import (
	"math"
	"testing"
)

func TestFormat(t *testing.T) {
	tests := []struct{ got, want string }{
		{Quantity{22e-9, Farad}.String(), "22 nF"},
		{Quantity{467.4, Volt}.String(), "467.4 V"},
		{Quantity{0.0338, Ampere}.String(), "33.8 mA"},
		{Quantity{100e3, Ohm}.String(), "100 kΩ"},
		{Quantity{0.7, Watt}.String(), "0.70 W"},
		{Quantity{10.1, Watt}.String(), "10.1 W"},
		{Quantity{0, Volt}.String(), "0.0 V"},
		{Quantity{-0.01, Volt}.String(), "-10.0 mV"},
		{Quantity{13.6e-6, Ampere}.String(), "13.6 µA"},
		{Quantity{1e-6, Farad}.String(), "1 µF"},
		{Quantity{10000e-6, Farad}.String(), "10000 µF"},
		{Quantity{999.97, Ohm}.String(), "1 kΩ"},
		{Quantity{0.999, Watt}.String(), "1.0 W"},
		{Quantity{1, Day}.String(), "1 day"},
		{Quantity{35, Day}.String(), "35 days"},
		{Quantity{12345, Piece}.String(), "12345 pieces"},
		{Quantity{5.5e-3, Siemens}.String(), "5.5 mS"},
		{Quantity{math.NaN(), Volt}.String(), "not a finite number"},
		{Voltage(424.26).String(), "424.3 V"},
		{FormatAmount(21.83e6, Ohm, 1), "21.8 MΩ"},
		{FormatAmount(445.15, Volt, 1), "445.2 V"}, // held as 445.1499…; halves go up
		{FormatAmount(-0.04, Volt, 0), "-40 mV"},
		{FormatAmount(-0.004, None, 1), "0.0"},
		{FormatDown(27.69, Volt, 1), "27.6 V"}, // a maximum to dial
		{FormatDown(27.6, Volt, 1), "27.6 V"},
		{FormatDown(-0.51, None, 0), "-1"},
		{FormatUp(78.61, Ohm, 1), "78.7 Ω"}, // a least value
		{FormatUp(78.7, Ohm, 1), "78.7 Ω"},
		{FormatUp(275.2, Ohm, 0), "276 Ω"},
		{Short(450, Volt), "450 V"},
		{Short(0.5, Watt), "0.5 W"},
		{Short(2, Ampere), "2 A"},
		{FormatInterval(Interval{11.3, 11.5, 11.7}, Watt, 1), "11.3–11.7 W"},
		{FormatInterval(Exactly(0.7), Watt, 2), "0.70 W"},
		{FormatInterval(Interval{0.0009, 0.001, 0.0011}, Ampere, 1), "0.9–1.1 mA"},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
}

func TestNearest(t *testing.T) {
	tests := []struct {
		series  Series
		v, want float64 // to 1 part in 10^9
	}{
		// By hand: 20/18 = 1.111, 22/20 = 1.100, so 22 is nearer by ratio.
		{E12, 20e-9, 22e-9},
		{E6, 16e-6, 15e-6},
		// By hand: 25/22 = 1.136, 27/25 = 1.080.
		{E12, 0.25e-6, 0.27e-6},
		{E24, 9.6, 10}, // 9.6/9.1 = 1.055, 10/9.6 = 1.042: next decade
		// By hand: 47/46.4 = 1.0129, 47.5/47 = 1.0106.
		{E96, 47e3, 47.5e3},
		{E3, 1, 1},
	}
	for _, tt := range tests {
		got, err := tt.series.Nearest(tt.v)
		if err != nil || math.Abs(got/tt.want-1) > 1e-9 {
			t.Errorf("%v.Nearest(%v) = %v, %v, want %v", tt.series, tt.v, got, err, tt.want)
		}
	}
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := E12.Nearest(v); err == nil {
			t.Errorf("E12.Nearest(%v): no error", v)
		}
	}
	if s, ok := SeriesOf(250e-9); ok {
		t.Errorf("0.25 µF is in %v; it is an obsolete step", s)
	}
	if s, _ := SeriesOf(23.2e3); s != E48 && s != E96 {
		t.Errorf("23.2 kΩ is in %v, want E96", s)
	}
}

func TestInterval(t *testing.T) {
	iv := Around(318, 0.01)
	if !iv.Valid() || math.Abs(iv.Low-314.82) > 1e-9 || math.Abs(iv.High-321.18) > 1e-9 {
		t.Errorf("Around = %v", iv)
	}
	// By hand: [-2,3] × [4,5]: ends -10 and 15.
	if p := (Interval{-2, 1, 3}).Times(Interval{4, 4.5, 5}); p.Low != -10 || p.High != 15 {
		t.Errorf("Times = %v", p)
	}
	if d := (Interval{1, 2, 3}).Minus(Interval{1, 1, 2}); d.Low != -1 || d.High != 2 {
		t.Errorf("Minus = %v", d)
	}
	// By hand: 22 µF +20 % = 26.4 µF.
	can := Tolerance{0.2, 0.2, true}.Within(22e-6)
	if math.Abs(can.High-26.4e-6) > 1e-15 || !can.Holds(22e-6) {
		t.Errorf("Within = %v", can)
	}
	if (Interval{2, 1, 3}).Valid() || (Interval{math.NaN(), 1, 2}).Valid() {
		t.Error("a disordered interval is valid")
	}
}

func TestReadSpecAllocations(t *testing.T) {
	n := testing.AllocsPerRun(100, func() { _, _ = ReadSpec("220K 1/2w 5%", Ohm) })
	if n > 1 {
		t.Errorf("ReadSpec allocates %v times, want 1: the values", n)
	}
}
