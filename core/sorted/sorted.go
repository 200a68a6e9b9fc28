// Package sorted sorts the few short lists of the core. It knows nothing of
// the trade.
package sorted

import "sort"

// By sorts xs by cmp, as slices.SortStableFunc does: equals keep their order.
// The work is done by code that is there once for all types; slices brings a
// copy of its own for each type, and those copies once were a thirtieth of the
// page's program. Long lists of pointers may go to slices all the same.
func By[T any](xs []T, cmp func(a, b T) int) {
	sort.SliceStable(xs, func(i, j int) bool { return cmp(xs[i], xs[j]) < 0 })
}
