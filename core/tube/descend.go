package tube

import (
	"math"

	"lugworth/core/linear"
)

// descend moves x to a least sum of squares (Levenberg and Marquardt).
func (f *fitter) descend(x []float64) float64 {
	r := f.residuals(x)
	cost, damp := linear.Dot(r, r), 1e-2
	for range 300 {
		a, b := f.normal(x, r)
		moved := false
		for range 12 {
			step, ok := damped(a, b, damp)
			if !ok {
				damp *= 4
				continue
			}
			try := make([]float64, len(x))
			for i := range x {
				try[i] = x[i] - step[i]
			}
			tr := f.residuals(try)
			if c := linear.Dot(tr, tr); c < cost {
				moved = cost-c > 1e-13*cost
				copy(x, try)
				r, cost, damp = tr, c, damp/4
				break
			}
			damp *= 4
		}
		if !moved {
			break
		}
	}
	return cost
}

// normal is the normal matrix and gradient, by central differences.
func (f *fitter) normal(x, r []float64) (a [][]float64, b []float64) {
	n := len(x)
	j := make([][]float64, n)
	for i := range x {
		h := 1e-6 * max(1, math.Abs(x[i]))
		was := x[i]
		x[i] = was + h
		up := f.residuals(x)
		x[i] = was - h
		down := f.residuals(x)
		x[i] = was
		j[i] = make([]float64, len(r))
		for k := range r {
			j[i][k] = (up[k] - down[k]) / (2 * h)
		}
	}
	a, b = make([][]float64, n), make([]float64, n)
	for i := range n {
		a[i] = make([]float64, n)
		for k := range n {
			a[i][k] = linear.Dot(j[i], j[k])
		}
		b[i] = linear.Dot(j[i], r)
	}
	return a, b
}

// damped solves (a + damp·diag a) x = b.
func damped(a [][]float64, b []float64, damp float64) ([]float64, bool) {
	m := make([][]float64, len(a))
	for i := range m {
		m[i] = append([]float64(nil), a[i]...)
		m[i][i] += damp*a[i][i] + 1e-12
	}
	return linear.Solve(m, b)
}
