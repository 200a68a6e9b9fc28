package money

import (
	"errors"
	"fmt"
	"math"
	"math/bits"
)

// MulDiv returns a·b/d, rounded once. The product is held in 128 bits, so
// only the result can overflow.
//
// Errors: d = 0; a result beyond int64.
func MulDiv(a, b, d int64, r Rounding) (int64, error) {
	if d == 0 {
		return 0, errors.New("divide by zero")
	}
	negative := (a < 0) != (b < 0) != (d < 0)
	divisor := magnitude(d)
	hi, lo := bits.Mul64(magnitude(a), magnitude(b))
	if hi >= divisor {
		return 0, fmt.Errorf("%d × %d / %d: %w", a, b, d, ErrOverflow)
	}
	q, rem := bits.Div64(hi, lo, divisor)
	if roundsAway(q, rem, divisor, r) {
		if q++; q == 0 {
			return 0, fmt.Errorf("%d × %d / %d: %w", a, b, d, ErrOverflow)
		}
	}
	v, ok := signed(q, negative)
	if !ok {
		return 0, fmt.Errorf("%d × %d / %d: %w", a, b, d, ErrOverflow)
	}
	return v, nil
}

// roundsAway reports whether quotient q with remainder rem goes one up in size.
func roundsAway(q, rem, divisor uint64, r Rounding) bool {
	half := rem >= divisor-rem // rem·2 >= divisor without overflow
	switch r {
	case HalfUp:
		return rem > 0 && half
	case HalfEven:
		tie := rem == divisor-rem
		return rem > 0 && half && (!tie || q&1 == 1)
	}
	return false
}

func magnitude(v int64) uint64 {
	if v < 0 {
		return -uint64(v)
	}
	return uint64(v)
}

func signed(m uint64, negative bool) (int64, bool) {
	if negative {
		return -int64(m), m <= 1<<63
	}
	return int64(m), m <= math.MaxInt64
}

// pow10 returns 10^n for n up to 18.
func pow10(n uint8) int64 {
	p := int64(1)
	for range n {
		p *= 10
	}
	return p
}
