package keyed

import "sort"

// staying says which rows need not move: a longest run of rows that are in
// the same order as before. The row at focus, if it was there before, is one
// of them. from holds each row's former place, or -1.
func staying(from []int, focus int) []bool {
	stays := make([]bool, len(from))
	if focus >= 0 && from[focus] >= 0 {
		at := from[focus]
		stays[focus] = true
		rising(from, 0, focus, func(p int) bool { return p < at }, stays)
		rising(from, focus+1, len(from), func(p int) bool { return p > at }, stays)
		return stays
	}
	rising(from, 0, len(from), func(int) bool { return true }, stays)
	return stays
}

// rising marks a longest rising subsequence of from[lo:hi] among the places
// that may be used (patience sorting, O(n log n)).
func rising(from []int, lo, hi int, may func(int) bool, stays []bool) {
	var ends []int // ends[k] = index of the smallest last place of a run of k+1
	back := make(map[int]int)
	for i := lo; i < hi; i++ {
		if from[i] < 0 || !may(from[i]) {
			continue
		}
		k := sort.Search(len(ends), func(k int) bool { return from[ends[k]] >= from[i] })
		back[i] = -1
		if k > 0 {
			back[i] = ends[k-1]
		}
		if k == len(ends) {
			ends = append(ends, i)
		} else {
			ends[k] = i
		}
	}
	if len(ends) == 0 {
		return
	}
	for i := ends[len(ends)-1]; i >= 0; i = back[i] {
		stays[i] = true
	}
}
