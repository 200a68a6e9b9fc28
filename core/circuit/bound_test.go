package circuit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"lugworth/core/limit"
)

// Hand calculation: q = 10, causes 0.5 and −0.7: together 1.2, a log of 0.12,
// allowance 0.05 × 0.12/0.25 = 2.4 %. High end 10 e^0.12 × 1.024 = 11.5456;
// low end 10 e^(-0.12 × 1.03) ÷ 1.048 = 8.433, linear 8.8 ÷ 1.048 = 8.397: the
// lower.
func TestLogLinear(t *testing.T) {
	for _, c := range []struct {
		name      string
		q         float64
		ds        []float64
		low, high float64
		ok        bool
	}{
		{"two causes", 10, []float64{0.5, -0.7}, 8.396947, 11.545568, true},
		{"below zero", -10, []float64{0.5, -0.7}, -11.545568, -8.396947, true},
		{"no cause", 10, nil, 10, 10, true},
		{"too large for the rule", 1, []float64{3.5}, -6, 8, false},
		{"nothing there", 0, []float64{0.1}, -0.2, 0.2, false},
		// a log of 0.5 takes the whole allowance: e^0.5 × 1.05 = 1.73116;
		// low 1 − 0.5 = 0.5 (e^(-0.5 × 1.125) = 0.570), ÷ 1.1
		{"whole allowance", 1, []float64{0.5}, 0.5 / 1.1, 1.731157, true},
	} {
		low, high, ok := logLinear(c.q, c.ds)
		if math.Abs(low-c.low) > 1e-5 || math.Abs(high-c.high) > 1e-5 || ok != c.ok {
			t.Errorf("%s: %.6f to %.6f, %v; want %.6f to %.6f, %v", c.name, low, high, ok, c.low, c.high, c.ok)
		}
	}
}

// wide returns every knob of a net as a cause: parts 10 %, tubes 20 % of
// current and their grid volts, windings, copper and rectifiers 20 %.
func wide(n *Net, sheet map[string]bool) []direction {
	var ds []direction
	for i, k := range n.Knobs {
		width := 0.10 * k.Value
		switch k.Property {
		case Perveance, Volts, Conduct, Copper, Share, HeaterLoad:
			width = 0.20 * k.Value
		case Shift:
			width = 0.3
			if sheet[k.Ref] {
				width = 1.2
			}
		case Turn:
			width = 0.05
		}
		if width > 0 {
			ds = append(ds, direction{ref: k.Ref, property: k.Property, fresh: true, moves: []delta{{i, width}}})
		}
	}
	return ds
}

// outputs are the output tubes of an amp.
func (a benchAmp) outputs() map[string]bool {
	out := map[string]bool{}
	for i := range a.sheet {
		if isOutput(&a.sheet[i]) {
			out[a.sheet[i].Ref] = true
		}
	}
	return out
}

// bounds are the ends of every figure over causes and mains, by both rules.
type bounds struct {
	logLow, logHigh, low, high []float64
	soft                       int // ends without a firm corner
}

const mainsEnds = 0.06

// boundsOf works out both rules at both ends of the mains.
func (a benchAmp) boundsOf(t *testing.T, fs []Figure) bounds {
	t.Helper()
	n := len(fs)
	b := bounds{make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n), 0}
	for i := range fs {
		b.logLow[i], b.logHigh[i], b.low[i], b.high[i] = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	}
	for _, m := range []float64{1 - mainsEnds, 1 + mainsEnds} {
		p := a.widest(t, m, fs)
		for i, f := range fs {
			q, ok := p.sol.Figure(f)
			if !ok {
				continue
			}
			r := &reach{p: p, basis: Calibrated, parts: p.parts(f, q, p.slope[i], false)}
			if l, h, ok := logLinear(q, r.parts); ok || p.rippled(f, q) {
				b.logLow[i], b.logHigh[i] = min(b.logLow[i], l), max(b.logHigh[i], h)
			} else {
				b.logLow[i], b.logHigh[i] = math.Inf(-1), math.Inf(1) // left to the corner
			}
			ds, slope, rest := p.split(r)
			for _, up := range []bool{false, true} {
				_, v, firm, err := p.corner(f, up, ds, slope)
				if err != nil {
					t.Fatalf("%s %v: %v", a.name, f, err)
				}
				v = beyond(v, rest, 0, up)
				if up {
					shown, _, err := p.cornerEnd(r, f, up, q, 1, math.Inf(1))
					if err != nil || v > 2*tooSmall[f.Quantity] && shown < v*(1-1e-9) {
						t.Errorf("%s %v: a band would end at %.6g, the corner lies at %.6g (%v)", a.name, f, shown, v, err)
					}
				}
				if !firm { // such an end is left to the log-linear bound, or to nothing at all
					b.soft++
					v = math.Inf(1)
					if !up {
						v = math.Inf(-1)
					}
				}
				b.low[i], b.high[i] = min(b.low[i], v), max(b.high[i], v)
			}
		}
	}
	return b
}

// widest is the amp as marked with every cause open, at a part of its mains.
func (a benchAmp) widest(t *testing.T, part float64, fs []Figure) *prospect {
	t.Helper()
	v := a.net.Sheet()
	p := &prospect{a: &after{net: a.net}, spec: &spec{values: v}, state: State{Mains: part * nominalMains(a.sheet)}, found: map[string]*corner{}}
	var err error
	if p.sol, err = a.net.Solve(v, p.state, nil); err != nil {
		t.Fatal(err)
	}
	if p.slope, _, err = p.sol.Gradient(fs); err != nil {
		t.Fatal(err)
	}
	p.ds = append(wide(a.net, a.outputs()), rippleDirection)
	return p
}

// No specimen lies beyond either bound: samples of the whole box, a quarter
// of them at its corners. The long run takes 20,000 an amp. The closest call
// is printed.
func TestBoundsLong(t *testing.T) {
	count := often(10, 250, 20000)
	for _, a := range benchAmps(t) {
		t.Run(a.name, func(t *testing.T) { a.sampled(t, count) })
	}
}

func (a benchAmp) sampled(t *testing.T, count int) {
	var fs []Figure
	for i, f := range a.net.Figures() {
		if i%often(9, 3, 1) == 0 { // one of so many
			fs = append(fs, f)
		}
	}
	b := a.boundsOf(t, fs)
	ds := wide(a.net, a.outputs())
	r := rand.New(rand.NewPCG(20000, 8))
	call := &closest{}
	beyond := 0
	for i := range count {
		v, s := a.net.Sheet(), State{Mains: nominalMains(a.sheet) * (1 + mainsEnds*(2*r.Float64()-1))}
		for k := range ds {
			x := 2*r.Float64() - 1
			if i%4 == 0 {
				x = math.Copysign(1, x)
			}
			ds[k].to(v, x, a.net.Knobs)
		}
		if i%4 == 0 {
			s.Mains = nominalMains(a.sheet) * (1 + math.Copysign(mainsEnds, r.Float64()-0.5))
		}
		sol, err := a.net.Solve(v, s, nil)
		if err != nil {
			t.Fatalf("%s sample %d: %v", a.name, i, err)
		}
		for k, f := range fs {
			if q, ok := sol.Figure(f); ok && !call.take(t, f, q, &b, k) {
				if beyond++; beyond > 20 {
					t.Fatal("too many")
				}
			}
		}
	}
	t.Logf("%d samples of %d figures, %d of the ends without a firm corner; nearest a log-linear bound: %s; nearest a corner: %s", count, len(fs), b.soft, call.logSay, call.cornerSay)
}

// closest keeps the specimen nearest a bound, in parts of the bound.
type closest struct {
	log, corner       float64
	logSay, cornerSay string
}

const cornerSlack = 0.001

// Low ends matter to no verdict but "over": there the pull of one supply on
// another may cost half a percent.
const cornerLowSlack = 0.005

// Below these nobody rates anything, and the logarithm of a figure is that of
// the solver's own grain.
var tooSmall = map[limit.Quantity]float64{
	limit.DCVolts: 0.1, limit.Watts: 1e-4, Current: 1e-6, RippleCurrent: 1e-5, limit.PlateWatts: 1e-6, limit.ScreenWatts: 1e-6,
	limit.BothWatts: 1e-6, limit.CathodeCurrent: 1e-6, limit.OutputCurrent: 1e-6, limit.PeakCurrent: 1e-6, limit.FuseCurrent: 1e-6,
}

func (c *closest) take(t *testing.T, f Figure, q float64, b *bounds, k int) bool {
	t.Helper()
	scale := math.Abs(q)
	if scale < tooSmall[f.Quantity] {
		return true
	}
	if over := max(q/b.logHigh[k], 2-q/b.logLow[k]); over > c.log && !math.IsInf(b.logHigh[k], 0) && b.logLow[k] > 0 {
		c.log, c.logSay = over, fmt.Sprintf("%s %s %.4g of %.4g to %.4g", f.Ref, f.Quantity, q, b.logLow[k], b.logHigh[k])
	}
	if over := max(q-b.high[k], b.low[k]-q) / scale; over > c.corner || c.cornerSay == "" {
		c.corner, c.cornerSay = over, fmt.Sprintf("%s %s %.5g of %.5g to %.5g", f.Ref, f.Quantity, q, b.low[k], b.high[k])
	}
	slack, lowSlack := cornerSlack*scale, cornerLowSlack*scale
	switch {
	case q > b.logHigh[k] || q < b.logLow[k]:
		t.Errorf("%s %s = %.6g beyond the log-linear %.6g to %.6g", f.Ref, f.Quantity, q, b.logLow[k], b.logHigh[k])
	case q > b.high[k]+slack || q < b.low[k]-lowSlack:
		t.Errorf("%s %s = %.6g beyond the corners %.6g to %.6g", f.Ref, f.Quantity, q, b.low[k], b.high[k])
	default:
		return true
	}
	return false
}
