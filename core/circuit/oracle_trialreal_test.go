//go:build !js

package circuit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"lugworth/core/amp"
)

// newTrialAmp makes random amp n.
func newTrialAmp(t testing.TB, n int, laws map[string]koren) *trialAmp {
	t.Helper()
	r := rand.New(rand.NewPCG(1996, uint64(n)))
	p := newPlan(r)
	a := &trialAmp{number: n, tube: p.tube, fixed: p.fixed}
	a.sheet = sheetOf(t, fmt.Sprintf("trial %d", n), []byte(p.rows(laws[p.tube])))
	a.real = realParts(r, a.sheet)
	a.is = map[string]korenSpecimen{}
	for _, q := range a.sheet {
		switch {
		case q.Role == amp.OutputTube:
			a.outs = append(a.outs, q.Ref)
			a.is[q.Ref] = korenSpecimen{spread(r, 0.15), 1.2 * (2*r.Float64() - 1), spread(r, 0.2)}
		case q.Kind == "triode":
			a.is[q.Ref] = korenSpecimen{spread(r, 0.15), 0.3 * (2*r.Float64() - 1), 1}
		}
	}
	a.rect = reckonLeg{vf: 0.7 + 0.1*r.Float64()}
	if d, vacuum := drops[p.rectifier]; vacuum {
		a.rect = reckonLeg{pv: d[1] / math.Pow(d[0], 1.5) * within(r, 0.2)}
	}
	a.heat = 0.1 * r.NormFloat64()
	a.bench = p.mains * within(r, 0.04)
	a.change = newChange(r, a)
	return a
}

// spread is a factor whose log is normal, no more than 2.3 deviations out.
func spread(r *rand.Rand, sd float64) float64 {
	return math.Exp(sd * max(-2.3, min(2.3, r.NormFloat64())))
}

// newChange picks another bias resistor, a fifth either way.
func newChange(r *rand.Rand, a *trialAmp) circuitChange {
	ref, by := "R640", pick(r, 0.85, 1.2)
	if a.fixed {
		ref, by = "R303", pick(r, 0.92, 1.1)
	}
	for _, p := range a.sheet {
		if p.Ref == ref {
			marked := nearE24(p.Spec.Value() * by)
			return circuitChange{ref, marked, 0.05, marked * within(r, 0.05)}
		}
	}
	panic("no " + ref)
}

// realParts returns the sheet with every part as it really is: inside its
// marked tolerance; copper 15 %, the mains' ohms 20 %, heaters 10 %.
func realParts(r *rand.Rand, sheet []amp.Position) []amp.Position {
	out := make([]amp.Position, len(sheet))
	for i, p := range sheet {
		if v := p.Spec.Values; len(v) > 0 && p.Spec.Tolerance.Stated {
			p.Spec.Values = []float64{v[0] * within(r, p.Spec.Tolerance.Plus)}
		}
		extra := map[string]string{}
		for _, k := range keysOf(p.Extra) {
			extra[k] = p.Extra[k]
			if by := map[string]float64{"dcr": 0.15, "rs": 0.2, "heater": 0.1}[k]; by > 0 {
				var v float64
				fmt.Sscan(p.Extra[k], &v)
				extra[k] = fmt.Sprintf("%.9g", v*within(r, by))
			}
		}
		p.Extra = extra
		out[i] = p
	}
	return out
}

// stage says how the output stage is biased.
func (a *trialAmp) stage() string {
	switch {
	case a.fixed:
		return "pair, fixed bias"
	case len(a.outs) == 2:
		return "pair, one cathode resistor"
	}
	return "single"
}
