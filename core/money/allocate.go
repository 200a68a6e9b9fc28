package money

import (
	"errors"
	"fmt"
	"math/bits"
	"sort"
)

// Allocate splits total by weights so that the parts add up to total: each
// gets the whole part of its share, and the minor units left over go to the
// largest remainders, the earlier line first among equals.
//
// Errors: no weights, a negative weight, all weights zero, overflow.
func Allocate(total Amount, weights []int64) ([]Amount, error) {
	sum, err := sumWeights(weights)
	if err != nil {
		return nil, fmt.Errorf("allocate: %w", err)
	}
	negative := total < 0
	size := magnitude(int64(total))
	parts := make([]uint64, len(weights))
	remainders := make([]uint64, len(weights))
	left := size
	for i, w := range weights {
		hi, lo := bits.Mul64(size, uint64(w))
		parts[i], remainders[i] = bits.Div64(hi, lo, sum) // w <= sum, so hi < sum
		left -= parts[i]
	}
	for _, i := range byRemainder(remainders)[:left] {
		parts[i]++
	}
	out := make([]Amount, len(parts))
	for i, p := range parts {
		v, _ := signed(p, negative) // no part is larger than total
		out[i] = Amount(v)
	}
	return out, nil
}

func sumWeights(weights []int64) (uint64, error) {
	var sum uint64
	for _, w := range weights {
		if w < 0 {
			return 0, fmt.Errorf("weight %d is negative", w)
		}
		if sum += uint64(w); sum > 1<<63 {
			return 0, ErrOverflow
		}
	}
	if sum == 0 {
		return 0, errors.New("no weight above zero")
	}
	return sum, nil
}

func byRemainder(remainders []uint64) []int {
	order := make([]int, len(remainders))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return remainders[order[a]] > remainders[order[b]] })
	return order
}
