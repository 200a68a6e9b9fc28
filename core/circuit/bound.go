package circuit

import "math"

// The log-linear bound takes every cause to its end and multiplies: a study
// of eight amps and this program's own samples found no specimen further out
// than a twentieth more, for causes that together move a figure by a quarter
// or more; below that the allowance goes down in proportion. No published
// source.
const (
	boundMore  = 0.05
	boundWhole = 0.25
	cornerMore = 0.01 // the same for a corner that was solved
	cornerNear = 0.02 // and for one solved with the ripple held
	mostFall   = 0.5  // the same, of the low end
	mostLog    = 3.0  // beyond, a logarithm says nothing: twice the sum
	noFigure   = 1e-9 // a figure below this has no logarithm worth the name
)

// logLinear bounds a figure q whose causes move it by ds at their ends:
//
//	high = max(q + Σ|d|, q exp Σ|d/q|) × (1 + allowance)
//
// and the low end the other way about, with twice the allowance and the
// logarithm a quarter of itself longer: what a tube draws goes to nothing
// faster than it grows, and past a logarithm of a half a stage may collapse,
// so that nothing but zero is sure.
// Where the causes are many times the figure, as with one that is mostly
// ripple or nearly nothing, ok is false and the ends are twice the sum away.
func logLinear(q float64, ds []float64) (low, high float64, ok bool) {
	sum := 0.0
	for _, d := range ds {
		sum += math.Abs(d)
	}
	if sum == 0 {
		return q, q, true
	}
	if q < 0 {
		low, high, ok = logLinear(-q, ds)
		return -high, -low, ok
	}
	if q < noFigure || sum/q > mostLog {
		return q - 2*sum, q + 2*sum, false
	}
	log := sum / q
	more := 1 + boundMore*min(1, log/boundWhole)
	high = max(q+sum, q*math.Exp(log)) * more
	low = min(q-sum, q*math.Exp(-log*(1+log/4)))
	more += more - 1 // the low end twice
	switch {
	case log > mostFall:
		low = min(0, q-sum*more)
	case low > 0:
		low /= more
	default:
		low *= more
	}
	return low, high, true
}

// cornerRoom is what is left beyond a solved corner.
func cornerRoom(q float64, ds []float64, firm bool) float64 {
	sum := 0.0
	for _, d := range ds {
		sum += math.Abs(d)
	}
	switch {
	case sum == 0:
		return 0
	case !firm:
		return boundMore
	case math.Abs(q) < noFigure:
		return cornerMore
	}
	return cornerMore * min(1, sum/math.Abs(q)/boundWhole)
}
