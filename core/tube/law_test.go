package tube

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Slopes against differences, on a grid with negative and zero electrodes:
// one part in a million of the slope, or of what the current allows where the
// slope vanishes.
func TestSlopesAgainstDifferences(t *testing.T) {
	for _, name := range []string{"12AX7", "12AU7A", "6V6GT", "EL34", "EL84", "EF86"} {
		l, ok := Fitted(name)
		if !ok {
			t.Fatalf("no law of %s", name)
		}
		for _, va := range []float64{-20, -0.2, 0, 0.4, 5, 60, 250, 450} {
			for _, vs := range []float64{-5, 0, 3, 140, 300} {
				for _, vg := range []float64{-60, -12, -2, -0.5, 0, 1} {
					slopes(t, &l, va, vs, vg)
				}
			}
		}
	}
}

func slopes(t *testing.T, l *Law, va, vs, vg float64) {
	t.Helper()
	spec := Specimen{P: 1.1, Shift: 0.2, Share: 0.9}
	c, d := l.At(va, vs, vg, spec)
	at := [3]float64{va, vs, vg}
	for i := range at {
		up, down := at, at
		h := 2e-5 * math.Max(1, math.Abs(at[i])/10)
		up[i] += h
		down[i] -= h
		hi, _ := l.At(up[0], up[1], up[2], spec)
		lo, _ := l.At(down[0], down[1], down[2], spec)
		for _, e := range []struct {
			what              string
			slope, hi, lo, at float64
		}{{"plate", d.Plate[i], hi.Plate, lo.Plate, c.Plate}, {"screen", d.Screen[i], hi.Screen, lo.Screen, c.Screen}, {"grid", d.Grid[i], hi.Grid, lo.Grid, c.Grid}} {
			got := (e.hi - e.lo) / (2 * h)
			// Differences lose digits to rounding of the current itself, and
			// to the curvature over the step.
			room := 1e-6*math.Abs(e.slope) + 1e-10*math.Abs(e.at)/h + 1e-5*h*math.Abs(e.slope) + 1e-16
			if math.Abs(got-e.slope) > room {
				t.Errorf("%s at %g %g %g: %s slope %d is %.9g, differences give %.9g", l.Type, va, vs, vg, e.what, i, e.slope, got)
			}
		}
	}
}

// The cathode's current rises with every electrode, at 10,000 random points.
func TestCurrentRisesWithEveryElectrode(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 9))
	names := []string{"12AX7", "12AY7", "12AT7", "12AU7A", "6SN7GTB", "6SL7GT", "EF86", "6V6GT", "6L6GC", "5881", "EL34", "EL84", "6550A", "KT88", "KT66"}
	for range 10_000 {
		l, _ := Fitted(names[r.IntN(len(names))])
		va, vs, vg := 600*r.Float64()-50, 500*r.Float64()-20, 20-80*r.Float64()
		all := func(va, vs, vg float64) float64 {
			s, _ := soft(va, floor)
			if l.Kind != Triode {
				g, _ := soft(vs, floor)
				s = (g + l.D*s) / (1 + l.D)
			}
			ik, _, _ := l.space(s, vg, 1)
			return ik
		}
		at := all(va, vs, vg)
		for _, up := range []float64{all(va+1, vs, vg), all(va, vs+1, vg), all(va, vs, vg+0.1)} {
			if up < at*(1-1e-12) {
				t.Fatalf("%s at %g %g %g: current falls from %g to %g", l.Type, va, vs, vg, at, up)
			}
		}
	}
}

// The rectifier's law must satisfy its own equation. By hand: GZ34, 17 V at
// 250 mA gives Pv 0.25/17^1.5 = 3.567e-3.
func TestRectifier(t *testing.T) {
	l, ok := Fitted("GZ34")
	if !ok || l.Kind != Rectifier {
		t.Fatal("no law of GZ34")
	}
	i, _ := l.Diode(17, 0, 1)
	if math.Abs(i-0.25) > 0.001 {
		t.Errorf("17 V across GZ34 give %.4f A, want 0.25", i)
	}
	for _, u := range []float64{0.01, 1, 20, 300, 2000} {
		for _, r := range []float64{0, 1, 50, 500, 1e4} {
			i, slope := l.Diode(u, r, 1)
			v := u - r*i
			if math.Abs(l.Pv*math.Pow(v, 1.5)-i) > 1e-9*i+1e-15 {
				t.Errorf("u %g r %g: %g A through, %g A by the drop", u, r, i, l.Pv*math.Pow(v, 1.5))
			}
			h := 1e-4 * u
			hi, _ := l.Diode(u+h, r, 1)
			lo, _ := l.Diode(u-h, r, 1)
			if got := (hi - lo) / (2 * h); math.Abs(got-slope) > 1e-6*slope {
				t.Errorf("u %g r %g: slope %g, differences %g", u, r, slope, got)
			}
		}
	}
	if i, s := l.Diode(-5, 10, 1); i != 0 || s != 0 {
		t.Errorf("conducts backward: %g", i)
	}
}

// The laws carried are those the cards give now.
func TestFittedLawsAreThoseOfTheCards(t *testing.T) {
	cards, _ := shippedCards(t)
	fits, keys, _, errs := FitCards(cards)
	for _, err := range errs {
		t.Error(err)
	}
	if len(fits) != len(fitted) {
		t.Fatalf("%d laws carried, the cards give %d: run go generate", len(fitted), len(fits))
	}
	for i, f := range fits {
		have := fitted[i]
		if have.keys[0] != keys[i][0] {
			t.Fatalf("law %d is of %s, the cards give %s: run go generate", i, have.keys[0], keys[i][0])
		}
		a, b := f.Law, have.Law
		for _, p := range [][2]float64{{a.P, b.P}, {a.Mu, b.Mu}, {a.K, b.K}, {a.Gamma, b.Gamma}, {a.D, b.D}, {a.A, b.A}, {a.Pv, b.Pv}} {
			// Fits made on other machines differ in the last digits.
			if math.Abs(p[0]-p[1]) > 1e-3*math.Abs(p[0]) {
				t.Errorf("%s: constant %g, the cards give %g: run go generate", a.Type, p[1], p[0])
			}
		}
		// Contact volts and the slope of the share may be next to nothing.
		if math.Abs(a.Phi-b.Phi) > 1e-3 || math.Abs(a.M-b.M) > 1e-3 {
			t.Errorf("%s: phi %g, m %g; the cards give %g, %g: run go generate", a.Type, b.Phi, b.M, a.Phi, a.M)
		}
		if a.Points != b.Points || a.FromMemory != b.FromMemory || !slices.Equal(f.Left, have.Left) || !slices.Equal(keys[i], have.keys) {
			t.Errorf("%s: points, marks or names are not those of the card: run go generate", a.Type)
		}
		for k, p := range f.Points {
			h := have.Points[k]
			if p.N != h.N || p.Mark != h.Mark || math.Abs(p.Plate-h.Plate) > 1e-3 || math.Abs(p.Gm-h.Gm) > 1e-3 || math.Abs(p.Screen-h.Screen) > 5e-3 {
				t.Errorf("%s point %d: %+v, the cards give %+v: run go generate", a.Type, p.N, h, p)
			}
		}
	}
}

// Types a bench meets must have a law; those all from memory must say so.
func TestTypesWithLaws(t *testing.T) {
	for _, name := range []string{"12AX7", "ECC83", "12AY7", "12AT7", "ECC81", "12AU7", "ECC82", "6SN7GTB", "6SL7GT", "EF86", "6V6GT", "6L6GC", "5881", "EL34", "6CA7", "EL84", "6BQ5", "6550", "KT88", "KT66", "5Y3GT", "5U4GB", "5AR4", "5V4GA", "6X4", "EZ81", "7025", "6L6", "6L6G", "6V6GTA", "5Y3"} {
		if _, _, ok := LawOf(Card{}, false, name); !ok {
			t.Errorf("no law of %s", name)
		}
	}
	for name, doubt := range map[string]bool{"6550": true, "5U4GB": true, "5V4GA": true, "6X4": true, "6AQ5A": true, "KT66": true, "KT88": false, "6V6GT": false, "5Y3GT": false, "EZ81": false} {
		if _, d, _ := LawOf(Card{}, false, name); (d != "") != doubt {
			t.Errorf("%s: doubt %q, want one: %v", name, d, doubt)
		}
	}
}

// Held out: 6V6GT fitted to its one row that is not from memory, then asked
// for the two recalled ones. They are predicted, not fitted, so 10 % will do:
// 34 mA at 315/225/−13 V, 35 mA a tube at 250/250/−15 V.
func TestRowsLeftOutArePredicted(t *testing.T) {
	cards, _ := shippedCards(t)
	card, _ := NewSet(cards).Find("6V6GT")
	all, _ := data(card, nil)
	f := fitter{card: card, data: all[:1]}
	f.run()
	l := f.law(f.best)
	for _, d := range all[1:] {
		c, _ := l.At(d.va, d.vs, d.vg, typical)
		t.Logf("%g/%g/%g V: %.1f mA, recalled %.1f", d.va, d.vs, d.vg, 1000*c.Plate, 1000*d.ia)
		if math.Abs(c.Plate/d.ia-1) > 0.10 {
			t.Errorf("%g/%g/%g V: %.1f mA, recalled %.1f", d.va, d.vs, d.vg, 1000*c.Plate, 1000*d.ia)
		}
	}
}

// Far outside anything real the law must still give numbers.
func TestLawStaysFinite(t *testing.T) {
	for _, name := range []string{"12AX7", "EL34"} {
		l, _ := Fitted(name)
		for _, v := range []float64{-1e6, -1e3, 0, 1e3, 1e6} {
			for _, g := range []float64{-1e6, -100, 0, 100, 1e6} {
				c, d := l.At(v, v/2, g, typical)
				for _, x := range []float64{c.Plate, c.Screen, c.Grid, d.Plate[0], d.Plate[1], d.Plate[2], d.Screen[0], d.Screen[1], d.Screen[2], d.Grid[2]} {
					if math.IsNaN(x) || math.IsInf(x, 0) {
						t.Fatalf("%s at %g %g %g: %v %v", name, v, v/2, g, c, d)
					}
				}
			}
		}
	}
}

// A plate at or below the cathode gives no power away: with the plate supply
// switched off and the heaters on, what is left is the creep of electrons at
// a fraction of a volt.
func TestPlateBelowTheCathodeDrawsNothing(t *testing.T) {
	for _, name := range []string{"12AX7", "12AU7", "EF86", "6V6GT", "6L6GC", "EL34", "EL84", "KT88"} {
		l, _ := Fitted(name)
		for _, v := range []float64{-400, -50, -10, -3} {
			for _, vs := range []float64{v, v / 2, v * 2, 0.1} {
				c, d := l.At(v, vs, 0, typical)
				if c.Plate > 1e-6 || c.Screen > 5e-3 || d.Plate[0] > 1e-5 {
					t.Errorf("%s at %g %g 0: plate %g A, screen %g A, slope %g", name, v, vs, c.Plate, c.Screen, d.Plate[0])
				}
			}
		}
	}
}
