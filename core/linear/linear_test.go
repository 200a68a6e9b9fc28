package linear

import (
	"math"
	"testing"
)

func TestSolve(t *testing.T) {
	for _, tt := range []struct {
		a    [][]float64
		b, x []float64 // by hand; nil = singular
	}{
		{[][]float64{{2, 1}, {1, -1}}, []float64{5, 1}, []float64{2, 1}},
		{[][]float64{{0, 1}, {1, 0}}, []float64{3, 4}, []float64{4, 3}}, // rows must be exchanged
		{[][]float64{{1, 2}, {2, 4}}, []float64{1, 2}, nil},
	} {
		x, ok := Solve(tt.a, tt.b)
		if ok != (tt.x != nil) {
			t.Errorf("%v: solved %v", tt.a, ok)
			continue
		}
		for i := range tt.x {
			if math.Abs(x[i]-tt.x[i]) > 1e-12 {
				t.Errorf("%v: %v, want %v", tt.a, x, tt.x)
			}
		}
	}
	if Dot([]float64{1, 2}, []float64{3, 4}) != 11 {
		t.Error("1·3 + 2·4 is 11")
	}
}
