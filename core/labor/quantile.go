package labor

import "math"

// Moments are the mean, the variance and the third central moment of hours.
// All three add up over independent tasks.
type Moments struct{ Mean, Variance, Third float64 }

// Moments returns those of the beta distribution that has the three points'
// mean (low + 4·mode + high)/6 and their mode:
//
//	variance = (mean − low)(high − mean)/7
//	skewness = 2(b − a)√7 ÷ (8√(ab)),  a = 1 + 4(mode − low)/(high − low), b = 6 − a
//
// The familiar ((high − low)/6)² belongs to a beta with another mode.
//
// Source: moments of the beta distribution, a textbook result.
func (t Three) Moments() Moments {
	low, mode, high := t.Low.Float(), t.Mode.Float(), t.High.Float()
	mean := (low + 4*mode + high) / 6
	if high <= low {
		return Moments{Mean: mean}
	}
	a := 1 + 4*(mode-low)/(high-low)
	b := 6 - a
	v := (mean - low) * (high - mean) / 7
	skew := 2 * (b - a) * math.Sqrt(7) / (8 * math.Sqrt(a*b))
	return Moments{mean, v, skew * v * math.Sqrt(v)}
}

// Plus adds independent hours.
func (m Moments) Plus(o Moments) Moments {
	return Moments{m.Mean + o.Mean, m.Variance + o.Variance, m.Third + o.Third}
}

// IfFound are the moments of work that happens with a chance between 0 and 1.
func (m Moments) IfFound(chance float64) Moments {
	r1, r2, r3 := m.raw()
	return central(chance*r1, chance*r2, chance*r3)
}

// Times multiplies hours by an independent lognormal factor whose logarithm
// has the given mean and standard deviation: one factor for the whole job, so
// that its tasks run over together.
func (m Moments) Times(mean, sd float64) Moments {
	return m.scaled(lognormalMoments(mean, sd))
}

// scaled multiplies by an independent factor with these moments about zero.
func (m Moments) scaled(f [3]float64) Moments {
	r1, r2, r3 := m.raw()
	return central(f[0]*r1, f[1]*r2, f[2]*r3)
}

// lognormalMoments are the first three moments about zero.
func lognormalMoments(mean, sd float64) (f [3]float64) {
	for i := range f {
		k := float64(i + 1)
		f[i] = math.Exp(k*mean + k*k*sd*sd/2)
	}
	return f
}

// raw returns the moments about zero.
func (m Moments) raw() (r1, r2, r3 float64) {
	r1 = m.Mean
	return r1, m.Variance + r1*r1, m.Third + 3*r1*m.Variance + r1*r1*r1
}

func central(r1, r2, r3 float64) Moments {
	v := r2 - r1*r1
	return Moments{r1, v, r3 - 3*r1*v - r1*r1*r1}
}

// Quantile returns the hours that are enough with probability p: of the
// shifted lognormal distribution with these three moments, of the mirrored
// one where they lean the other way, of the normal one where they do not lean.
//
//	skewness = (w + 2)√(w − 1), w = exp(sd²)
//
// It is an approximation; for sums of beta tasks and a lognormal factor it
// stays within one percent at one half, eight and nine tenths (tested against
// drawn samples). Source: method of moments.
func (m Moments) Quantile(p float64) float64 {
	if m.Variance <= 0 {
		return m.Mean
	}
	sd := math.Sqrt(m.Variance)
	skew := m.Third / (m.Variance * sd)
	if skew < 0 {
		return m.Mean - sd*lognormal(-skew, 1-p)
	}
	return m.Mean + sd*lognormal(skew, p)
}

// lognormal is a quantile of the shifted lognormal with mean 0, variance 1.
func lognormal(skew, p float64) float64 {
	z := math.Sqrt2 * math.Erfinv(2*p-1)
	if skew < 1e-6 {
		return z
	}
	// With u = √(w − 1): u³ + 3u = skew has one real root.
	h := skew / 2
	r := math.Cbrt(h + math.Sqrt(h*h+1))
	u := r - 1/r
	s := math.Sqrt(math.Log1p(u * u))
	// scale·(exp(s·z) − exp(s²/2)) has variance 1 at scale = 1 ÷ (u·exp(s²/2))
	return (math.Exp(s*z-s*s/2) - 1) / u
}

// Chance returns how probable it is that so many hours are enough: what
// Quantile turns around.
func (m Moments) Chance(hours float64) float64 {
	if m.Variance <= 0 {
		if hours >= m.Mean {
			return 1
		}
		return 0
	}
	sd := math.Sqrt(m.Variance)
	x, skew := (hours-m.Mean)/sd, m.Third/(m.Variance*sd)
	if skew < 0 {
		return 1 - below(-skew, -x)
	}
	return below(skew, x)
}

// below is the chance of the shifted lognormal with mean 0, variance 1.
func below(skew, x float64) float64 {
	if skew >= 1e-6 {
		h := skew / 2
		r := math.Cbrt(h + math.Sqrt(h*h+1))
		u := r - 1/r
		s := math.Sqrt(math.Log1p(u * u))
		if x*u <= -1 {
			return 0
		}
		x = math.Log1p(x*u)/s + s/2
	}
	return math.Erfc(-x/math.Sqrt2) / 2
}
