package tube

import (
	"fmt"
	"math"
	"strings"

	"lugworth/core/limit"
)

//go:generate go run lugworth/catalogs/fit -o fitted.go

// A Fitting is a law fitted to the published points of one card, with what
// it makes of each point.
type Fitting struct {
	Law    Law
	Points []FitPoint
	Left   []string // points left out, each with its reason
}

// A FitPoint is one published point and how far the law is off it, as
// fractions; zero where the sheet prints no such figure.
type FitPoint struct {
	N                     int
	Mark                  limit.Mark
	Plate, Screen, Gm, Rp float64
	HasPlate, HasScreen   bool
	HasGm, HasRp          bool
}

// Errors beyond these make a fit worthless: of plate current and of gm at
// every point that is not from memory.
const (
	plateBound = 0.05
	gmBound    = 0.10
)

// leftOut lists points that two editions give differently, or that belong to
// another case, and why each is not fitted. Editions are never averaged.
var leftOut = map[string]map[int]string{
	"6L6GC": {5: "its plate current is from memory and differs from that of point 6, which is the one printed"},
	"5881":  {1: "from memory, and differs from point 2, which is the one printed"},
	"EL34": {2: "another edition's row for the same currents: point 1 is the complete one",
		5: "no grid volts", 6: "no grid volts", 3: "no plate volts"},
	"12AY7": {2: "another edition's gain and resistance at the same current: point 1 is the older, complete row"},
	"EF86":  {2: "another issue's gain without its currents"},
}

// datum is one point as the fit sees it.
type datum struct {
	point          FitPoint
	va, vs, vg     float64
	ia, is, gm, rp float64
}

// data reads the points of a card that a law can be held against.
func data(card Card, left map[int]string) (ds []datum, out []string) {
	for _, p := range card.Points() {
		if why := left[p.N]; why != "" {
			out = append(out, fmt.Sprintf("point %d: %s", p.N, why))
			continue
		}
		d, missing := point(card, p)
		if missing != "" {
			out = append(out, fmt.Sprintf("point %d: %s", p.N, missing))
			continue
		}
		ds = append(ds, d)
	}
	return ds, out
}

// point reads one published point.
func point(card Card, p Point) (d datum, missing string) {
	var has bool
	used := []string{"plate volts"}
	if d.va, has = p.Figure("plate volts"); !has {
		return d, "no plate volts"
	}
	d.ia, d.point.HasPlate = p.Each("plate current")
	d.is, d.point.HasScreen = p.Each("screen current")
	if card.Kind != Triode {
		used = append(used, "screen volts")
		if d.vs, has = p.Figure("screen volts"); !has {
			return d, "no screen volts"
		}
	}
	if d.vg, has = p.Figure("grid volts"); has {
		used = append(used, "grid volts")
	} else {
		r, self := p.Figure("cathode ohms")
		tubes, several := p.Figure("tubes")
		if !several {
			tubes = 1
		}
		if !self || !d.point.HasPlate {
			return d, "no grid volts"
		}
		used = append(used, "cathode ohms")
		d.vg = -r * tubes * (d.ia + d.is)
	}
	d.gm, d.point.HasGm = p.Figure("gm")
	d.rp, d.point.HasRp = p.Figure("rp")
	if !d.point.HasPlate && !d.point.HasScreen {
		return d, "no current"
	}
	for _, c := range []struct {
		name string
		has  bool
	}{{"plate current", d.point.HasPlate}, {"screen current", d.point.HasScreen}} {
		if c.has {
			used = append(used, c.name)
		}
	}
	d.point.N, d.point.Mark = p.N, p.Mark(used...)
	return d, ""
}

// Fit fits a law to the published points of a card.
//
// It minimizes the squared log ratios, each over its own expected error:
// plate current 2 %, screen current 10 %, gm 5 %, plate resistance 8 %; and
// of each constant from what tubes are like: amplification as published ±8 %,
// exponent 1.45 ± 0.12, contact volts 0.4 ± 0.5 (screen tubes ± 1), knee
// over amplification 5.5 (one e-fold in two), plate's pull 0.03 (±0.7 in the
// log), slope of the share 0.6 ± 0.5 and not below nothing. Source of these: our own judgment.
//
// Errors: no point with a plate current; a fit off by more than 5 % of plate
// current, or 10 % of gm, at a point that is not from memory.
func Fit(card Card) (Fitting, error) {
	f := Fitting{Law: Law{Type: card.Type, Kind: card.Kind}}
	ds, left := data(card, leftOut[card.Type])
	f.Left = left
	if len(ds) == 0 || !ds[0].point.HasPlate {
		return f, fmt.Errorf("%s: no published point with its volts and plate current", card.Type)
	}
	fit := fitter{card: card, data: ds, mu: amplification(card, ds)}
	fit.run()
	f.Law = fit.law(fit.best)
	f.Law.Points = len(ds)
	f.Law.FromMemory = true
	f.Law.Least, f.Law.Most = math.Inf(1), 0
	var bad []string
	for _, d := range ds {
		p := fit.errors(&f.Law, d)
		f.Points = append(f.Points, p)
		f.Law.FromMemory = f.Law.FromMemory && p.Mark == limit.Memory
		v := d.vs
		if card.Kind == Triode {
			v = d.va
		}
		f.Law.Least, f.Law.Most = min(f.Law.Least, v), max(f.Law.Most, v)
		if p.Mark != limit.Memory && (math.Abs(p.Plate) > plateBound || math.Abs(p.Gm) > gmBound) {
			bad = append(bad, fmt.Sprintf("point %d: plate current off by %.1f %%, gm by %.1f %%", p.N, 100*p.Plate, 100*p.Gm))
		}
	}
	if len(bad) > 0 {
		return f, fmt.Errorf("%s: the fit is no good: %s", card.Type, strings.Join(bad, "; "))
	}
	return f, nil
}

// amplification is the published factor the fit starts from: of the control
// grid against what pulls the current.
func amplification(card Card, ds []datum) float64 {
	for _, name := range []string{"mu g1g2", "mu triode", "mu"} {
		for _, p := range card.Points() {
			if v, ok := p.Figure(name); ok && leftOut[card.Type][p.N] == "" {
				return v
			}
		}
	}
	if card.Kind == Triode {
		if d := ds[0]; d.gm > 0 && d.rp > 0 {
			return d.gm * d.rp
		}
		return 30
	}
	return 0 // not published: left free, about what such tubes have
}
