package record

import "slices"

// An ancestry answers which of two records had been seen by the other. Records
// enter in the order of the fold, so that what one had seen is there before it.
//
// The records of one device form a chain; where a device went on twice from
// the same record, the second branch is a chain of its own. For every record
// the ancestry holds how far along each chain its writer had seen.
type ancestry struct {
	byHash map[string]int
	chain  []int32   // by record
	place  []int32   // by record: its place in its chain, from 1
	tip    []int32   // by chain: the record at its end
	seen   [][]int32 // by record, by chain: the last place seen, itself included
	last   map[string]int
}

func newAncestry(size int) *ancestry {
	return &ancestry{byHash: make(map[string]int, size), last: map[string]int{}, seen: make([][]int32, 0, size)}
}

// add enters the next record. Where the record before it is not here, the
// device's last one that is here stands in.
func (a *ancestry) add(r *hashed) {
	i := len(a.chain)
	prev, ok := a.byHash[r.Prev]
	if !ok && r.Prev != First {
		prev, ok = a.last[r.Device]
	}
	var seen []int32
	chain, at := int32(len(a.tip)), int32(1)
	if ok {
		seen = a.seen[prev]
		if c := a.chain[prev]; a.tip[c] == int32(prev) {
			chain, at = c, a.place[prev]+1
		}
	}
	seen = a.widen(seen, int(chain)+1, r)
	seen[chain] = at
	if int(chain) == len(a.tip) {
		a.tip = append(a.tip, 0)
	}
	a.tip[chain] = int32(i)
	a.chain, a.place, a.seen = append(a.chain, chain), append(a.place, at), append(a.seen, seen)
	a.byHash[r.hash], a.last[r.Device] = i, i
}

// widen copies what the record before had seen and adds what was seen of other
// devices.
func (a *ancestry) widen(before []int32, atLeast int, r *hashed) []int32 {
	out := make([]int32, max(atLeast, len(a.tip)))
	copy(out, before)
	for _, hash := range r.Seen {
		if other, ok := a.byHash[hash]; ok {
			for c, at := range a.seen[other] {
				out[c] = max(out[c], at)
			}
		}
	}
	return out
}

// saw says whether the writer of record b had seen record a.
func (a *ancestry) saw(b, earlier int) bool {
	c := int(a.chain[earlier])
	return c < len(a.seen[b]) && a.seen[b][c] >= a.place[earlier]
}

// unseenBy returns the claims that the writer of record b had not seen.
func (a *ancestry) unseenBy(b int, claims []claim) []claim {
	return slices.DeleteFunc(slices.Clone(claims), func(c claim) bool { return a.saw(b, c.record) })
}
