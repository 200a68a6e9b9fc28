package unit

import (
	"errors"
	"testing"
)

// errText is how a table states an error: its code, "" for none.
func errText(err error) string {
	var p Problem
	var a Ambiguous
	switch {
	case err == nil:
		return ""
	case errors.As(err, &p):
		return string(p.Code)
	case errors.As(err, &a):
		return "ambiguous: " + a.list()
	}
	return err.Error()
}

// TestReadSpec is the list of spellings the trade uses, with the form we
// print. The readings are common practice, no source, where nothing is said.
func TestReadSpec(t *testing.T) {
	tests := []struct {
		text string
		hint Unit
		want string // canonical form
		err  string
	}{
		// Capacitors, no unit or a vintage one.
		{".022", Farad, "22 nF", ""},
		{".022", None, "22 nF", ""},
		{"0.022", Farad, "22 nF", ""},
		{"0.022uF", None, "22 nF", ""},
		{".022 mfd", None, "22 nF", ""},
		{".022MF", None, "22 nF", ""},
		{"22n", None, "22 nF", ""},
		{"22nF", None, "22 nF", ""},
		{"22 000 pF", None, "22 nF", ""},
		{"22000mmf", None, "22 nF", ""},
		{"22kpF", None, "22 nF", ""},
		{"223", Farad, "22 nF", ""},
		{"223K", Farad, "22 nF ±10 %", ""},
		{"2n2", None, "2.2 nF", ""},
		{"4n7", None, "4.7 nF", ""},
		{"500pF", None, "500 pF", ""},
		{"500 uuf", None, "500 pF", ""},
		{"500 µµF", None, "500 pF", ""},
		{"500 μμF", None, "500 pF", ""},
		{"22 mF", Farad, "", "ambiguous: 22 µF (mF for microfarads, as on old parts) or 22000 µF (thousandths of a farad)"},
		{"22mf", None, "22 µF", ""},
		{"20+20+20@450", Farad, "20+20+20 µF 450 V", ""},
		{"20+20+20@450", None, "20+20+20 µF 450 V", ""},
		{"40/40 500V", Farad, "40+40 µF 500 V", ""},
		{"40/40 500V", None, "40+40 µF 500 V", ""},
		{"8-8-16", Farad, "8+8+16 µF", ""},
		{"100uF/350", None, "100 µF 350 V", ""},
		{"25/25", Farad, "25 µF 25 V", ""},
		{"25/25 AXIAL", None, "25 µF 25 V", ""},
		{"20/20/20uF", None, "20+20+20 µF", ""},
		{"16-16-450", Farad, "16+16 µF 450 V", ""},
		{"20/20 @ 450", Farad, "20+20 µF 450 V", ""},
		{".1-400", Farad, "100 nF 400 V", ""},
		{".1-400", None, "100 nF 400 V", ""},
		{".05 µF-600 V", None, "50 nF 600 V", ""},
		{"2x16uF 450V", None, "16+16 µF 450 V", ""},
		{"40uF + 20uF 450V", None, "40+20 µF 450 V", ""},
		{"8/450", Farad, "8 µF 450 V", ""},
		{"8/450V", None, "8 µF 450 V", ""},
		{"K-1002 22uF 500V", None, "22 µF 500 V", ""},
		{"250/500V", Farad, "", "ambiguous: 25 pF 500 V (three-figure code) or 250 pF 500 V (picofarads) or 250 µF 500 V (microfarads)"},
		{"50/50", Farad, "", "ambiguous: 50 µF 50 V or 50+50 µF (sections)"},
		{"20 500V", Farad, "", "ambiguous: 20 µF 500 V (microfarads) or 20 pF 500 V (picofarads)"},
		{"220", Farad, "", "ambiguous: 22 pF (three-figure code) or 220 pF (picofarads) or 220 µF (microfarads)"},
		{"223K", None, "", "ambiguous: 223 kΩ (resistor) or 22 nF ±10 % (three-figure code of a capacitor)"},
		{"22,000 pF", Farad, "", "ambiguous: 22 pF (a decimal mark) or 22 nF (a thousands mark)"},
		{"10u50", None, "", "ambiguous: 10.5 µF (letter in the decimal place) or 10 µF 50 V (value and volts)"},
		{"20uF 450V + 20uF 25V", Farad, "", "several-ratings"},

		// Capacitors as price lists write them.
		{"Can 32+32uF, 500V", None, "32+32 µF 500 V", ""},
		{"32+32uF, 500V", None, "32+32 µF 500 V", ""},
		{"CAP AXIAL 22MFD 450V", None, "22 µF 450 V", ""},
		{"CAP AXIAL 22MFD 450V", Farad, "22 µF 450 V", ""},
		{"FILM 22n/400V", None, "22 nF 400 V", ""},
		{"PAPER-OIL LOOK .02 600V", Farad, "20 nF 600 V", ""},
		{"33µF 500V axiaal", None, "33 µF 500 V", ""},
		{"0,1µF 630V", None, "100 nF 630 V", ""},
		{"0.1mfd 350V", None, "100 nF 350 V", ""},
		{"100n 400V", None, "100 nF 400 V", ""},
		{"220u/35V", None, "220 µF 35 V", ""},
		{"220u35V", None, "220 µF 35 V", ""},
		{"22nK400", Farad, "22 nF 400 V ±10 %", ""},
		{"100nJ 63V", None, "100 nF 63 V ±5 %", ""},
		{".1K400", Farad, "100 nF 400 V ±10 %", ""},
		{"22uF 450V 105C 16x32mm", Farad, "22 µF 450 V", ""},
		{"22uF 450V -10/+50%", Farad, "22 µF 450 V -10/+50 %", ""},
		{"0.1uF X2 275VAC", Farad, "100 nF 275 V AC", ""},
		{"16 mfd 450 WVDC 525 SV", Farad, "16 µF 450 V 525 V surge", ""},
		{"16 mfd. 450 V.D.C.", Farad, "16 µF 450 V", ""},
		{"10pF ±0.5pF", Farad, "10 pF ±5 %", ""},
		{"22uF 450", Farad, "22 µF 450 V", ""},
		{"µ47", Farad, "470 nF", ""},
		{"16µF,450V", None, "16 µF 450 V", ""},
		{"0,0047/1kV", Farad, "4.7 nF 1000 V", ""},
		{"8+8µF/450V", None, "8+8 µF 450 V", ""},
		{"22n 400V K", None, "22 nF 400 V ±10 %", ""},
		{"47uF 63V 4x7", Farad, "47 µF 63 V", ""},
		{"16,16 µF 450V", None, "", "ambiguous: 16.16 µF 450 V (decimal comma) or 16+16 µF 450 V (two sections)"},
		{"1/4 µF 600V", None, "", "ambiguous: 250 nF 600 V (fraction) or 1+4 µF 600 V (two sections)"},

		// Resistors.
		{"4k7", None, "4.7 kΩ", ""},
		{"4.7K", None, "4.7 kΩ", ""},
		{"4,7 kΩ", None, "4.7 kΩ", ""},
		{"4700R", None, "4.7 kΩ", ""},
		{"R47", None, "0.47 Ω", ""},
		{"470 ohm ½W", None, "470 Ω 0.5 W", ""},
		{"220K 1/2w 5%", None, "220 kΩ 0.5 W ±5 %", ""},
		{"220K 1/2w 5%", Ohm, "220 kΩ 0.5 W ±5 %", ""},
		{"1M", None, "1 MΩ", ""},
		{"1meg", None, "1 MΩ", ""},
		{"1MEGOHM", None, "1 MΩ", ""},
		{"2M2", Ohm, "2.2 MΩ", ""},
		{"100M", Ohm, "", "ambiguous: 100 MΩ (M for megohms) or 100 kΩ (M for thousand, as on some drawings before about 1950)"},
		{"5W 250R", None, "250 Ω 5 W", ""},
		{"250 Ω-5 W", None, "250 Ω 5 W", ""},
		{"250-5", Ohm, "250 Ω 5 W", ""},
		{"100K", None, "100 kΩ", ""},
		{"100K", Ohm, "100 kΩ", ""},
		{"300R", None, "300 Ω", ""},
		{"82R 10W", None, "82 Ω 10 W", ""},
		{"100 k ±10 %", Ohm, "100 kΩ ±10 %", ""},
		{"4k7 J", Ohm, "4.7 kΩ ±5 %", ""},
		{"4k7J", Ohm, "4.7 kΩ ±5 %", ""},
		{"1K 2.5W 5%", Ohm, "1 kΩ 2.5 W ±5 %", ""},
		{"250", Ohm, "250 Ω", ""},
		{"103", Ohm, "", "ambiguous: 103 Ω (ohms) or 10 kΩ (three-figure code)"},
		{"1/2 MEG", Ohm, "500 kΩ", ""},
		{"100 MΩ", None, "100 MΩ", ""},
		{"B500K", Ohm, "500 kΩ", ""},
		{"250-ohm 5-watt", None, "250 Ω 5 W", ""},
		{"250KA pot", Ohm, "250 kΩ", ""},
		{"100K/1/2W", None, "100 kΩ 0.5 W", ""},
		{"1K5W", Ohm, "", "unknown-unit"},
		{"1 MOhm", Ohm, "1 MΩ", ""},
		{"1 mOhm", Ohm, "", "ambiguous: 1 MΩ (megohms) or 0.001 Ω (thousandths of an ohm)"},
		{"4.7m", Ohm, "", "ambiguous: 4.7 MΩ (megohms) or 0.0047 Ω (thousandths of an ohm)"},
		{"22,000", Ohm, "", "ambiguous: 22 Ω (a decimal mark) or 22 kΩ (a thousands mark)"},

		// Fuses, taps and the rest.
		{"2A T", None, "2 A T", ""},
		{"T2A", None, "2 A T", ""},
		{"2 A slow-blow", None, "2 A T", ""},
		{"Fuse T2A (per 5, price each)", Ampere, "2 A T", ""},
		{"Fuse T2A (per 5, price each)", None, "2 A T", ""},
		{"5A 125V F", None, "5 A F 125 V", ""},
		{"F 5A", None, "5 A F", ""},
		{"Fuse slow 2A", None, "2 A T", ""},
		{"F500mA", None, "500 mA F", ""},
		{"T2AL250V", None, "2 A T 250 V", ""},
		{"T1A6", Ampere, "1.6 A T", ""},
		{"1/2A", Ampere, "500 mA", ""},
		{"5 A", None, "5 A", ""},
		{"117/234V", None, "117/234 V", ""},
		{"117/234V", Volt, "117/234 V", ""},
		{"290-0-290 V", Volt, "290-0-290 V", ""},
		{"450", Volt, "450 V", ""},
		{"6.3 V ±10%", Volt, "6.3 V ±10 %", ""},
		{"6.3 ±10%", Volt, "6.3 V ±10 %", ""},
		{"1/2", Watt, "0.5 W", ""},
		{"10 Hy", Henry, "10 H", ""},
		{"Choke 4H 90mA", None, "4 H", ""},

		// Refused.
		{"", Farad, "", "empty"},
		{"45O", Volt, "", "not-a-number"},
		{"6V6GT", None, "", "unknown-unit"},
		{"3-core lead kit", None, "", "no-value"},
		{"EL84 quartet (matched)", None, "", "no-value"},
		{"axial", Farad, "", "no-value"},
		{"5W", Ohm, "", "no-value"},
		{"-100k", Ohm, "", "negative"},
		{"470 ohm", Farad, "", "wrong-unit"},
		{"NaN", Farad, "", "not-finite"},
		{"1e+309 V", Volt, "", "not-finite"},
		{"22000000 uF", Farad, "", "out-of-range"},
		{"22uF 47uF", Farad, "", "extra-text"},
		{"22 µF 10% 5%", Farad, "", "extra-text"},
	}
	for _, tt := range tests {
		got, err := ReadSpec(tt.text, tt.hint)
		if errText(err) != tt.err {
			t.Errorf("ReadSpec(%q, %v) = %q, error %q, want %q %q", tt.text, tt.hint, got.Canonical(), errText(err), tt.want, tt.err)
			continue
		}
		if err == nil && got.Canonical() != tt.want {
			t.Errorf("ReadSpec(%q, %v) = %q, want %q", tt.text, tt.hint, got.Canonical(), tt.want)
		}
		if err != nil {
			continue
		}
		again, err := ReadSpec(got.Canonical(), got.Unit)
		if err != nil || again.Canonical() != got.Canonical() {
			t.Errorf("ReadSpec(%q) reads its own form as %q, %v", tt.text, again.Canonical(), err)
		}
	}
}

func BenchmarkReadSpec(b *testing.B) {
	texts := []string{"22uF 450V", ".022", "220K 1/2w 5%", "CAP AXIAL 22MFD 450V", "20/20/20uF"}
	b.ReportAllocs()
	for i := range b.N {
		_, _ = ReadSpec(texts[i%len(texts)], None)
	}
}
