package tube

import (
	"math"
	"testing"
)

// The share of the volts solves its equation over every size a leg can have,
// and more.
func TestFall(t *testing.T) {
	for s := 1e-160; s < 1e9; s *= 1.07 {
		y := fall(s)
		// Divided by s²: y²(1 + y)/s² = 1.
		if got := (y / s) * (y / s) * (1 + y); math.Abs(got-1) > 2e-15 {
			t.Fatalf("fall(%g) = %g: off by %g of its square, want 2e-15", s, y, got-1)
		}
	}
	if y := fall(0); y != 0 {
		t.Errorf("fall(0) = %g", y)
	}
	// By hand: y = 1 solves 1 + 1 = 2.
	if y := fall(math.Sqrt2); math.Abs(y-1) > 1e-15 {
		t.Errorf("fall(√2) = %v, want 1", y)
	}
}
