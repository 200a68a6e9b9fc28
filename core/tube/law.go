package tube

import "math"

// A Law gives the currents of one type from its electrode volts. The zero
// Law conducts nothing.
type Law struct {
	Type string
	Kind string // Triode, Pentode or Beam (screen tubes), Rectifier, Diode

	P, Mu, K, Gamma, Phi float64 // space current: A/V^gamma, amplification, knee, exponent, contact volts
	D, A, M              float64 // screen tubes: plate's pull, odds of plate against screen, their slope

	Pv float64 // rectifier: A/V^1.5
	Vf float64 // diode: volts at which it conducts

	// The range of the points the law rests on. Outside it (screen or, for
	// triodes, plate volts past 0.5 to 1.6 times) no verdict may rest on it.
	Least, Most float64
	Points      int  // published points behind it; 0 = stated constants
	FromMemory  bool // all points are from memory
}

// A Specimen says how one tube differs from its type.
type Specimen struct {
	P     float64 // factor on the current
	Shift float64 // volts added to the grid
	Share float64 // factor on the odds of plate against screen
}

// Currents are the electrode currents of a tube, in amps, into plate, screen
// and grid.
type Currents struct{ Plate, Screen, Grid float64 }

// Slopes are derivatives of Currents to plate, screen and grid volts, A/V.
type Slopes struct{ Plate, Screen, Grid [3]float64 }

// At returns the currents and their slopes at volts to the cathode.
//
//	S(x, w) = w·ln(1 + exp(x/w));  va' = S(va, 0.3), vs' = S(vs, 0.3)
//	ve = va' (triode), (vs' + d·va')/(1 + d) (screen tube)
//	Ik = P·S(vg + shift + phi + ve/mu, (ve + 1)/k)^gamma
//	triode: Ia = Ik·va'/(va' + 1)
//	screen tube: r = va'/vs', odds o = A·r^m·r^1.6/(r^1.6 + 0.08^1.6),
//	  Ia = Ik·o/(1 + o)·dva'/dva, Is = Ik/(1 + o)·vs'/(vs' + 1)
//	Ig = 1e-3·S(vg + 0.3, 0.15)^1.5
//
// Ik rises with every electrode's volts, whatever the constants. The slope
// dva'/dva is 1 within 1e-7 from 5 V up; it takes the current off a plate
// below its cathode where the screen is there too, as with the plate supply
// switched off: such a plate would give power. Our own law, of the family of
// the published three-halves forms; the grid constants are our own choice,
// one set for all types. The shift moves the cathode's current and leaves the
// grid's.
func (l *Law) At(plate, screen, grid float64, s Specimen) (Currents, Slopes) {
	var c Currents
	var d Slopes
	c.Grid, d.Grid[2] = gridCurrent(grid)
	grid += s.Shift
	va, dva := soft(plate, floor)
	if l.Kind == Triode {
		ik, de, dg := l.space(va, grid, s.P)
		share := va / (va + 1)
		c.Plate = ik * share
		d.Plate[0] = (de*share + ik/((va+1)*(va+1))) * dva
		d.Plate[2] = dg * share
		return c, d
	}
	vs, dvs := soft(screen, floor)
	ve := (vs + l.D*va) / (1 + l.D)
	ik, de, dg := l.space(ve, grid, s.P)
	to, dlog := l.odds(va, vs, s.Share)
	on := to / (1 + to)
	off := 1 / (1 + to)
	slip := vs / (vs + 1)
	// d ln(o) is dlog·(dva/va − dvs/vs); d on = on·off·d ln(o).
	turnA, turnS := on*off*dlog/va, -on*off*dlog/vs
	ea, es := de*l.D/(1+l.D), de/(1+l.D)
	c.Plate = ik * on * dva
	c.Screen = ik * off * slip
	d.Plate[0] = ((ea*on+ik*turnA)*dva + ik*on*(1-dva)/floor) * dva
	d.Plate[1] = (es*on + ik*turnS) * dvs * dva
	d.Plate[2] = dg * on * dva
	d.Screen[0] = (ea*off - ik*turnA) * slip * dva
	d.Screen[1] = ((es*off-ik*turnS)*slip + ik*off/((vs+1)*(vs+1))) * dvs
	d.Screen[2] = dg * off * slip
	return c, d
}

// floor is the width in volts below which an electrode's pull fades out.
const floor = 0.3

// soft is S(x, w) = w·ln(1 + exp(x/w)) and its slope. It stays above nothing
// by a hair, so that ratios of electrode volts have a meaning.
func soft(x, w float64) (s, slope float64) {
	y := x / w
	switch {
	case y > 36:
		return x, 1
	case y < -36:
		e := math.Exp(max(y, -600))
		return max(w*e, 1e-300), e
	}
	e := math.Exp(-math.Abs(y))
	s = w * (max(y, 0) + math.Log1p(e))
	if y >= 0 {
		return s, 1 / (1 + e)
	}
	return s, e / (1 + e)
}

// space is the cathode's current at effective plate volts ve, with slopes to
// ve and to the grid.
func (l *Law) space(ve, grid, p float64) (ik, de, dg float64) {
	x, w := grid+l.Phi+ve/l.Mu, (ve+1)/l.K
	e, slope := soft(x, w)
	// dS/dw = ln(1 + e^y) − y·slope, y = x/w
	dw := e/w - x/w*slope
	ik = p * l.P * math.Exp(l.Gamma*math.Log(e))
	if ik == 0 || math.IsInf(ik, 0) {
		return ik, 0, 0
	}
	d := ik * l.Gamma / e
	return ik, d * (slope/l.Mu + dw/l.K), d * slope
}

// odds is the plate's current over the screen's, and its slope to the log of
// the ratio of their volts.
func (l *Law) odds(va, vs, share float64) (o, dlog float64) {
	r := va / vs
	log := math.Log(r)
	k := math.Exp(knee * log)
	part := k / (k + kneeAt)
	if math.IsInf(k, 1) {
		part = 1
	}
	o = share * l.A * math.Exp(l.M*log) * part
	if o < 1e-30 || o > 1e30 {
		return min(max(o, 1e-30), 1e30), 0
	}
	return o, l.M + knee*(1-part)
}

// The knee of the plate's share at low plate volts: our own choice.
const knee = 1.6

var kneeAt = math.Pow(0.08, knee)

// gridCurrent is the current of a grid near and above its cathode.
func gridCurrent(v float64) (i, slope float64) {
	s, d := soft(v+0.3, 0.15)
	root := math.Sqrt(s)
	return 1e-3 * s * root, 1.5e-3 * root * d
}

// Diode returns a rectifier's current and slope at u volts across it and
// series ohms r, conduct a factor on its current.
//
//	rectifier: i = conduct·Pv·v^1.5 with v + r·i = u
//	diode: i = (u − Vf)/r above Vf, r not less than a milliohm
func (l *Law) Diode(u, r, conduct float64) (amps, slope float64) {
	if l.Kind != Rectifier {
		if u <= l.Vf {
			return 0, 0
		}
		r = max(r, 1e-3)
		return (u - l.Vf) / r, 1 / r
	}
	if u <= 0 {
		return 0, 0
	}
	p := conduct * l.Pv
	x := math.Sqrt(u)
	if a := r * p; a > 0 {
		x = fall(a*x) / a
	}
	g := 1.5 * p * x // di/dv
	return p * x * x * x, g / (1 + r*g)
}

// fall returns y ≥ 0 with y³ + y² = s²: with y = r·p·√v, how a rectifier and
// its series ohms share the volts. Halley's steps from s/√(1 + s), which is
// right at both ends of s near zero.
func fall(s float64) float64 {
	w := s * s
	if w == 0 { // so little that the ohms take nothing
		return s
	}
	y := s / math.Sqrt(1+s)
	for range 60 {
		f, df, half := y*y*(1+y)-w, y*(2+3*y), 1+3*y
		step := f * df / (df*df - f*half)
		if y -= step; math.Abs(step) <= 1e-5*y { // the next would be a quarter of its cube
			break
		}
	}
	return y
}
