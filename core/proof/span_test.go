package proof

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// Every operation holds the true result, worked by math/big with 300 bits.
func TestSpanHoldsTheTruth(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	f := func(v float64) *big.Float { return new(big.Float).SetPrec(300).SetFloat64(v) }
	z := func() *big.Float { return new(big.Float).SetPrec(300) }
	for range 20000 {
		a := math.Exp(rng.Float64()*20-10) * float64(1-2*rng.IntN(2))
		b := math.Exp(rng.Float64()*20-10) * float64(1-2*rng.IntN(2))
		for _, x := range []struct {
			name string
			got  span
			want *big.Float
		}{
			{"plus", exact(a).plus(exact(b)), z().Add(f(a), f(b))},
			{"minus", exact(a).minus(exact(b)), z().Sub(f(a), f(b))},
			{"times", exact(a).times(exact(b)), z().Mul(f(a), f(b))},
			{"over", exact(a).over(exact(b)), z().Quo(f(a), f(b))},
			{"root", exact(math.Abs(a)).root(), z().Sqrt(f(math.Abs(a)))},
			{"halves", exact(math.Abs(a)).halves(5), z().Mul(z().Mul(f(a), f(a)), z().Sqrt(f(math.Abs(a))))},
		} {
			if x.want.Cmp(f(x.got.lo)) < 0 || x.want.Cmp(f(x.got.hi)) > 0 {
				t.Fatalf("%s of %g and %g: %g is outside %v", x.name, a, b, x.want, x.got)
			}
			if w := x.got.hi - x.got.lo; w > 1e-13*(math.Abs(x.got.hi)+math.Abs(a)+math.Abs(b)) {
				t.Fatalf("%s of %g and %g: %g wide", x.name, a, b, w)
			}
		}
	}
	if exact(1).over(span{-1, 1}).known() || exact(-1).root().known() {
		t.Error("a division by what may be zero, or a root below zero, is known")
	}
}

func TestStates(t *testing.T) {
	for _, tt := range []struct {
		text string
		got  float64
		want bool
	}{
		{"12.39", 12.391171, true}, {"12.40", 12.391171, false}, {"12.38", 12.391171, false},
		{"12", 12.391171, true}, {"-3.3", -3.26, true}, {"3.3", -3.26, false}, {"0.0", 0.04, true}, {"0.1", 0.04, false},
		{"", 0, false}, {"1e1", 10, false}, {"+1", 1, false}, {"01", 1, false}, {"1.", 1, false}, {".5", 0.5, false},
		{"NaN", math.NaN(), false}, {"0x10", 16, false}, {"1_0", 10, false}, {"--1", -1, false}, {"1", math.Inf(1), false},
	} {
		if err := states(tt.text, exact(tt.got)); (err == nil) != tt.want {
			t.Errorf("%q for %g: %v", tt.text, tt.got, err)
		}
	}
}
