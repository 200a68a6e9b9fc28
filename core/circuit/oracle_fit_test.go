//go:build !js

package circuit_test

import "math"

// fitKoren fits the form by descent along a simplex of the logs of its
// constants (Nelder and Mead, 1965), started a few times.
func fitKoren(typeNumber string) koren {
	points, u := korenPoints[typeNumber], usual[typeNumber]
	make := func(x []float64) koren {
		k := koren{math.Exp(x[0]), math.Exp(x[1]), math.Exp(x[2]), math.Exp(x[3]), math.Exp(x[4]), 0}
		if u.Kg2 > 0 {
			k.Kg2 = math.Exp(x[5])
		}
		return k
	}
	x := []float64{math.Log(u.Mu), math.Log(u.X), math.Log(u.Kg1), math.Log(u.Kp), math.Log(u.Kvb), math.Log(max(u.Kg2, 1))}
	for range 6 {
		x = simplex(x, 0.1, func(x []float64) float64 { return make(x).miss(points, u) })
	}
	return make(x)
}

// simplex returns the least of f near x.
func simplex(x []float64, size float64, f func([]float64) float64) []float64 {
	n := len(x)
	at, val := make([][]float64, n+1), make([]float64, n+1)
	for i := range at {
		at[i] = append([]float64(nil), x...)
		if i < n {
			at[i][i] += size
		}
		val[i] = f(at[i])
	}
	move := func(c []float64, to []float64, by float64) []float64 {
		p := make([]float64, n)
		for j := range p {
			p[j] = c[j] + by*(to[j]-c[j])
		}
		return p
	}
	for range 2000 {
		best, worst, next := order(val)
		c := make([]float64, n)
		for i := range at {
			for j := 0; i != worst && j < n; j++ {
				c[j] += at[i][j] / float64(n)
			}
		}
		p := move(c, at[worst], -1)
		v := f(p)
		switch {
		case v < val[best]:
			if q := move(c, at[worst], -2); f(q) < v {
				p, v = q, f(q)
			}
		case v >= val[next]:
			p = move(c, at[worst], 0.5)
			v = f(p)
		}
		if v < val[worst] {
			at[worst], val[worst] = p, v
			continue
		}
		for i := range at {
			if i != best {
				at[i] = move(at[best], at[i], 0.5)
				val[i] = f(at[i])
			}
		}
	}
	best, _, _ := order(val)
	return at[best]
}

// order returns the places of the least, the greatest and the second
// greatest.
func order(v []float64) (best, worst, next int) {
	for i := range v {
		if v[i] < v[best] {
			best = i
		}
		if v[i] > v[worst] {
			worst = i
		}
	}
	next = best
	for i := range v {
		if i != worst && v[i] > v[next] {
			next = i
		}
	}
	return best, worst, next
}
