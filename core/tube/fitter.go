package tube

import "math"

// The constants of a law as the fit moves them: logarithms of what must be
// positive.
const (
	atP = iota
	atMu
	atKnee // ln(K/Mu)
	atGamma
	atPhi
	atD
	atA
	atM
	triodeCount = atD
	screenCount = atM + 1
)

// A fitter fits one card.
type fitter struct {
	card Card
	data []datum
	mu   float64
	best []float64
}

func (f *fitter) law(x []float64) Law {
	l := Law{Type: f.card.Type, Kind: f.card.Kind}
	l.P, l.Mu, l.Gamma, l.Phi = math.Exp(x[atP]), math.Exp(x[atMu]), x[atGamma], x[atPhi]
	l.K = l.Mu * math.Exp(x[atKnee])
	if len(x) == screenCount {
		l.D, l.A, l.M = math.Exp(x[atD]), math.Exp(x[atA]), x[atM]
	}
	return l
}

// residuals are the log ratios and the priors, each over its expected error.
func (f *fitter) residuals(x []float64) []float64 {
	l := f.law(x)
	var r []float64
	add := func(model, published, sigma float64) { r = append(r, math.Log(max(model, 1e-12)/published)/sigma) }
	for _, d := range f.data {
		c, s := l.At(d.va, d.vs, d.vg, typical)
		if d.point.HasPlate {
			add(c.Plate, d.ia, 0.02)
		}
		if d.point.HasScreen {
			add(c.Screen, d.is, 0.10)
		}
		if d.point.HasGm {
			add(s.Plate[2], d.gm, 0.05)
		}
		if d.point.HasRp {
			add(1/max(s.Plate[0], 1e-12), d.rp, 0.08)
		}
	}
	prior := func(v, want, sigma float64) { r = append(r, (v-want)/sigma) }
	prior(x[atGamma], 1.45, 0.12)
	prior(x[atKnee], math.Log(5.5), 0.5)
	if len(x) == triodeCount {
		prior(x[atMu], math.Log(f.mu), 0.08)
		prior(x[atPhi], 0.4, 0.5)
		return r
	}
	if f.mu > 0 {
		prior(x[atMu], math.Log(f.mu), 0.08)
	} else {
		prior(x[atMu], math.Log(9), 0.25)
	}
	prior(x[atPhi], 0.4, 1)
	prior(x[atD], math.Log(0.03), 0.7)
	prior(x[atM], 0.6, 0.5)
	if !f.screenRead() {
		prior(x[atA], math.Log(usualOdds[f.card.Kind]), 0.3)
	}
	prior(min(x[atM], 0), 0, 0.02) // no plate takes a smaller share for being higher
	return r
}

// usualOdds are the plate's current over the screen's where no sheet prints
// the screen's: about the middle of the types that do. Our own judgment.
var usualOdds = map[string]float64{Beam: 12, Pentode: 8}

// screenRead reports whether any point prints a screen current.
func (f *fitter) screenRead() bool {
	for _, d := range f.data {
		if d.point.HasScreen {
			return true
		}
	}
	return false
}

// typical is a tube as its type is published.
var typical = Specimen{P: 1, Share: 1}

// run tries several starts and keeps the best.
func (f *fitter) run() {
	n := screenCount
	if f.card.Kind == Triode {
		n = triodeCount
	}
	mu := f.mu
	if mu <= 0 {
		mu = 9
	}
	least := math.Inf(1)
	for start := range 6 {
		x := make([]float64, n)
		x[atMu], x[atKnee] = math.Log(mu), math.Log(5.5)+0.3*float64(start%3-1)
		x[atGamma], x[atPhi] = 1.35+0.1*float64(start%2), 0.4+0.2*float64(start/3)
		if n == screenCount {
			x[atD], x[atA], x[atM] = math.Log(0.03), math.Log(10), 0.6
		}
		// The first point's current fixes P to begin with.
		d := f.data[0]
		l := f.law(x)
		c, _ := l.At(d.va, d.vs, d.vg, typical)
		x[atP] = math.Log(d.ia / max(c.Plate, 1e-12))
		if cost := f.descend(x); cost < least {
			least, f.best = cost, x
		}
	}
}

// errors says how far a law is off one point.
func (f *fitter) errors(l *Law, d datum) FitPoint {
	p := d.point
	c, s := l.At(d.va, d.vs, d.vg, typical)
	if p.HasPlate {
		p.Plate = c.Plate/d.ia - 1
	}
	if p.HasScreen {
		p.Screen = c.Screen/d.is - 1
	}
	if p.HasGm {
		p.Gm = s.Plate[2]/d.gm - 1
	}
	if p.HasRp {
		p.Rp = 1/s.Plate[0]/d.rp - 1
	}
	return p
}
