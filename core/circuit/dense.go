package circuit

import "math"

// solveDense solves a x = b by elimination with row exchange; false if a is
// singular. a and b are left as they are.
func solveDense(a [][]float64, b []float64) ([]float64, bool) {
	n := len(b)
	m := make([][]float64, n)
	for i := range m {
		m[i] = append(append(make([]float64, 0, n+1), a[i]...), b[i])
	}
	for c := 0; c < n; c++ {
		p := c
		for r := c + 1; r < n; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[p][c]) {
				p = r
			}
		}
		if !(math.Abs(m[p][c]) > 1e-12) {
			return nil, false
		}
		m[c], m[p] = m[p], m[c]
		for r := c + 1; r < n; r++ {
			f := m[r][c] / m[c][c]
			for k := c; k <= n && f != 0; k++ {
				m[r][k] -= f * m[c][k]
			}
		}
	}
	x := make([]float64, n)
	for r := n - 1; r >= 0; r-- {
		sum := m[r][n]
		for k := r + 1; k < n; k++ {
			sum -= m[r][k] * x[k]
		}
		x[r] = sum / m[r][r]
	}
	return x, true
}

// leastSquares finds y so that Σ cols[k] y[k] is nearest b.
func leastSquares(cols [][]float64, b []float64) ([]float64, bool) {
	n := len(cols)
	a, rhs := make([][]float64, n), make([]float64, n)
	for i := range a {
		a[i] = make([]float64, n)
		for k := range cols {
			a[i][k] = dot(cols[i], cols[k])
		}
		a[i][i] *= 1 + 1e-9
		rhs[i] = dot(cols[i], b)
	}
	return solveDense(a, rhs)
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}
