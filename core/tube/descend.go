package tube

import "math"

// descend moves x to a least sum of squares (Levenberg and Marquardt).
func (f *fitter) descend(x []float64) float64 {
	r := f.residuals(x)
	cost, damp := dot(r, r), 1e-2
	for range 300 {
		a, b := f.normal(x, r)
		moved := false
		for range 12 {
			step := solveDense(a, b, damp)
			try := make([]float64, len(x))
			for i := range x {
				try[i] = x[i] - step[i]
			}
			tr := f.residuals(try)
			if c := dot(tr, tr); c < cost {
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
			a[i][k] = dot(j[i], j[k])
		}
		b[i] = dot(j[i], r)
	}
	return a, b
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

// solveDense solves (a + damp·diag a) x = b by elimination with pivots.
func solveDense(a [][]float64, b []float64, damp float64) []float64 {
	n := len(b)
	m := make([][]float64, n)
	for i := range m {
		m[i] = append(append([]float64(nil), a[i]...), b[i])
		m[i][i] += damp*a[i][i] + 1e-12
	}
	for c := range n {
		p := c
		for i := c + 1; i < n; i++ {
			if math.Abs(m[i][c]) > math.Abs(m[p][c]) {
				p = i
			}
		}
		m[c], m[p] = m[p], m[c]
		for i := c + 1; i < n; i++ {
			k := m[i][c] / m[c][c]
			for j := c; j <= n; j++ {
				m[i][j] -= k * m[c][j]
			}
		}
	}
	x := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		x[i] = m[i][n]
		for j := i + 1; j < n; j++ {
			x[i] -= m[i][j] * x[j]
		}
		x[i] /= m[i][i]
	}
	return x
}
