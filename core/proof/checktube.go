package proof

import (
	"errors"
	"fmt"
	"math"
)

// wide rounds a library function's result outward by more than it may miss.
func wide(lo, hi float64) span {
	return span{lo - 4e-15*math.Abs(lo), hi + 4e-15*math.Abs(hi)}
}

// soft is S(x, w) = w · ln(1 + exp(x ÷ w)), which rises with both.
func soft(x, w span) span {
	s := func(x, w float64) float64 {
		y := x / w
		return w * (max(y, 0) + math.Log1p(math.Exp(-math.Abs(y))))
	}
	r := wide(s(x.lo, w.lo), s(x.hi, w.hi))
	return span{max(r.lo, 0), r.hi}
}

// lift is the slope of S(x, w) by x, 1 ÷ (1 + exp(−x ÷ w)), which rises with x.
func lift(x span, w float64) span {
	s := func(x float64) float64 { return 1 / (1 + math.Exp(-x/w)) }
	return wide(s(x.lo), s(x.hi))
}

// power is a to the power p, a not below zero.
func (a span) power(p span) span {
	q := func(x, y float64) float64 { return math.Pow(x, y) }
	c := []float64{q(a.lo, p.lo), q(a.lo, p.hi), q(a.hi, p.lo), q(a.hi, p.hi)}
	return wide(min(c[0], c[1], c[2], c[3]), max(c[0], c[1], c[2], c[3]))
}

// tube adds the currents of one tube.
func (z *solved) tube(e *Element) error {
	l, n := z.laws[e.Type], len(e.Nodes)
	for _, name := range []string{"p", "mu", "k", "gamma", "phi"} {
		if _, ok := l[name]; !ok {
			return fmt.Errorf("the law of %q states no %s", e.Type, name)
		}
	}
	shift, _, err := number(z.s.Shift)
	if err != nil {
		return err
	}
	cathode := e.Nodes[n-1]
	own := z.drop(e.Nodes[n-2], cathode)
	grid := own.plus(z.of(e.Ref, Shift)).plus(exact(shift.mid()))
	va := soft(z.drop(e.Nodes[0], cathode), exact(0.3))
	amps := map[string]span{"grid": exact(1e-3).times(soft(own.plus(exact(0.3)), exact(0.15)).power(exact(1.5)))}
	if e.Kind == TriodeTube {
		amps["plate"] = z.space(l, va, grid, e.Ref).times(va.over(va.plus(exact(1))))
	} else {
		z.screened(l, e, va, grid, amps)
	}
	for _, d := range z.s.Drive {
		plate, _, err1 := number(d.Plate)
		screen, _, err2 := number(d.Screen)
		if err := errors.Join(err1, err2); err != nil {
			return err
		}
		if d.Ref == e.Ref {
			amps["plate"], amps["screen"] = amps["plate"].plus(exact(plate.mid())), amps["screen"].plus(exact(screen.mid()))
		}
	}
	total := exact(0)
	for i, electrode := range []string{"plate", "screen", "grid"} {
		a, ok := amps[electrode]
		if !ok {
			continue
		}
		if !a.known() || math.IsNaN(a.lo) {
			return errors.New("its currents are not known")
		}
		if e.Kind == TriodeTube && i == 2 {
			i = 1
		}
		z.amps[e.Ref+" "+electrode] = a
		z.flow(e.Nodes[i], cathode, a)
		if electrode != "grid" {
			total = total.plus(a)
		}
	}
	z.amps[e.Ref+" cathode"] = total
	return nil
}

// space is the cathode's current at effective plate volts ve.
func (z *solved) space(l map[string]span, ve, grid span, ref string) span {
	e := soft(grid.plus(l["phi"]).plus(ve.over(l["mu"])), ve.plus(exact(1)).over(l["k"]))
	return z.of(ref, Perveance).times(l["p"]).times(e.power(l["gamma"]))
}

// screened parts the current of a screen tube between plate and screen.
func (z *solved) screened(l map[string]span, e *Element, va, grid span, amps map[string]span) {
	vs := soft(z.drop(e.Nodes[1], e.Nodes[3]), exact(0.3))
	one := exact(1)
	ve := vs.plus(l["d"].times(va)).over(one.plus(l["d"]))
	ik, r := z.space(l, ve, grid, e.Ref), va.over(vs)
	o := z.of(e.Ref, Share).times(l["a"]).times(r.power(l["m"])).over(one.plus(exact(0.08).over(r).power(exact(1.6))))
	amps["plate"] = ik.over(one.plus(one.over(o))).times(lift(z.drop(e.Nodes[0], e.Nodes[3]), 0.3))
	amps["screen"] = ik.over(one.plus(o)).times(vs.over(vs.plus(one)))
}
