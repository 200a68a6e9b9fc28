package circuit

import "lugworth/core/linear"

// leastSquares finds y so that Σ cols[k] y[k] is nearest b.
func leastSquares(cols [][]float64, b []float64) ([]float64, bool) {
	n := len(cols)
	a, rhs := make([][]float64, n), make([]float64, n)
	for i := range a {
		a[i] = make([]float64, n)
		for k := range cols {
			a[i][k] = linear.Dot(cols[i], cols[k])
		}
		a[i][i] *= 1 + 1e-9
		rhs[i] = linear.Dot(cols[i], b)
	}
	return linear.Solve(a, rhs)
}
