package sorted_test

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"

	"lugworth/core/sorted"
)

type pair struct{ key, at int }

// Held against the standard library's own stable sort.
func TestByAgainstTheLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 200 {
		xs := make([]pair, n)
		for i := range xs {
			xs[i] = pair{r.IntN(1 + n/4), i}
		}
		byKey := func(a, b pair) int { return cmp.Compare(a.key, b.key) }
		want := slices.Clone(xs)
		slices.SortStableFunc(want, byKey)
		sorted.By(xs, byKey)
		if !slices.Equal(xs, want) {
			t.Fatalf("%d pairs: %v, want %v", n, xs, want)
		}
	}
}
