package money

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// rational is the exact value of d, by another library.
func rational(d Decimal) *big.Rat {
	return new(big.Rat).SetFrac(big.NewInt(d.coef), new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(d.scale)), nil))
}

// roundRat rounds n/d by math/big, slowly and plainly.
func roundRat(n, d *big.Int, r Rounding) *big.Int {
	sign := int64(n.Sign() * d.Sign())
	q, m := new(big.Int).QuoRem(new(big.Int).Abs(n), new(big.Int).Abs(d), new(big.Int))
	twice := m.Lsh(m, 1).CmpAbs(d)
	if r == HalfUp && twice >= 0 || r == HalfEven && (twice > 0 || twice == 0 && q.Bit(0) == 1) {
		q.Add(q, big.NewInt(1))
	}
	return q.Mul(q, big.NewInt(sign))
}

func TestMulDivAgainstBig(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	overflows := 0
	for range 300_000 {
		a, b, d := wide(rnd), wide(rnd), wide(rnd)
		r := Rounding(rnd.IntN(3))
		if d == 0 {
			continue
		}
		want := roundRat(new(big.Int).Mul(big.NewInt(a), big.NewInt(b)), big.NewInt(d), r)
		got, err := MulDiv(a, b, d, r)
		switch {
		case err != nil && want.IsInt64(), err == nil && (!want.IsInt64() || want.Int64() != got):
			t.Fatalf("MulDiv(%d, %d, %d, %v) = %d, %v, want %v", a, b, d, r, got, err, want)
		case err != nil:
			overflows++
		}
	}
	if overflows < 1000 {
		t.Errorf("only %d overflows: the cases are too tame", overflows)
	}
}

// wide draws numbers of every size, ties and ends included.
func wide(rnd *rand.Rand) int64 {
	switch rnd.IntN(20) {
	case 0:
		return math.MinInt64
	case 1:
		return math.MaxInt64
	case 2:
		return int64(rnd.IntN(5)) - 2
	}
	return int64(rnd.Uint64()) >> rnd.IntN(63)
}

func TestDecimalAgainstBig(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	done := 0
	for range 50_000 {
		d, _ := NewDecimal(wide(rnd), rnd.IntN(maxScale+1))
		e, _ := NewDecimal(wide(rnd), rnd.IntN(maxScale+1))
		x, y := rational(d), rational(e)
		if got := d.Cmp(e); got != x.Cmp(y) {
			t.Fatalf("%s cmp %s = %d", d, e, got)
		}
		if p, err := d.Mul(e); err == nil {
			done++
			if rational(p).Cmp(new(big.Rat).Mul(x, y)) != 0 {
				t.Fatalf("%s × %s = %s", d, e, p)
			}
		}
		if s, err := d.Add(e); err == nil && rational(s).Cmp(new(big.Rat).Add(x, y)) != 0 {
			t.Fatalf("%s + %s = %s", d, e, s)
		}
		if s, err := d.Sub(e); err == nil && rational(s).Cmp(new(big.Rat).Sub(x, y)) != 0 {
			t.Fatalf("%s - %s = %s", d, e, s)
		}
		if back, err := ReadDecimal(d.String(), Point); err != nil || back != d {
			t.Fatalf("%s reads back as %s, %v", d, back, err)
		}
	}
	if done < 1000 {
		t.Errorf("only %d products fit: the cases are too wild", done)
	}
}

func TestAllocateSums(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	for range 20_000 {
		total := Amount(wide(rnd))
		weights := make([]int64, 1+rnd.IntN(12))
		for i := range weights {
			weights[i] = rnd.Int64N(1 << (1 + rnd.IntN(50)))
		}
		parts, err := Allocate(total, weights)
		if err != nil {
			continue // all weights zero
		}
		sum := new(big.Int)
		for _, p := range parts {
			sum.Add(sum, big.NewInt(int64(p)))
		}
		if !sum.IsInt64() || sum.Int64() != int64(total) {
			t.Fatalf("Allocate(%d, %v) = %v, sums to %v", total, weights, parts, sum)
		}
	}
}
