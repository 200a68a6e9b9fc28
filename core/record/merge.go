package record

import (
	"bytes"
	"cmp"
	"fmt"
)

// What Merge may have to say.
const (
	// SameID: two records have one id and are not the same record.
	// Discussion: ids are names, not proof of identity; both are kept.
	SameID Code = "same-id"
	// Removed: one side had taken out a body that the other still had.
	// Discussion: a body taken out stays out, on both sides.
	Removed Code = "body-removed"
	// BodyDiffers: the two sides have different bodies for one record.
	// Discussion: the one that gives the body hash is kept.
	BodyDiffers Code = "body-differs"
	// NoChain: a hand-written file cannot be merged with another.
	NoChain Code = "no-chain"
)

// Merge unites two files by record hash, in the order of the fold. The result
// is the same whichever comes first and however often it is repeated. The
// notices say what this merge met for the first time.
//
// A hand-written file has no hashes to unite by: merged with anything but
// itself or an empty file, the one with a chain (or else the first) is
// returned alone, and a notice says so.
func Merge(a, b File) (File, []Notice) {
	if a.NoChain || b.NoChain {
		return mergeByHand(a, b)
	}
	m := merger{kept: map[string]*hashed{}}
	m.take(a.Records)
	m.take(b.Records)
	out := make([]hashed, 0, len(m.kept))
	for _, hash := range sortedKeys(m.kept) {
		out = append(out, *m.kept[hash])
	}
	sortRecords(out)
	f := File{Format: Format, Heads: m.heads(a.heads(), b.heads())}
	for i := range out {
		f.Records = append(f.Records, out[i].Record)
	}
	return f, append(m.sameIDs(a, b, out), m.notices...)
}

func mergeByHand(a, b File) (File, []Notice) {
	switch {
	case len(b.Records) == 0 || bytes.Equal(a.Write(), b.Write()):
		return a, nil
	case len(a.Records) == 0 || a.NoChain && !b.NoChain:
		a, b = b, a
	}
	if len(b.Records) == 0 {
		return a, nil
	}
	return a, []Notice{{Code: NoChain, Raw: b.Write(),
		Say: "a file written by hand has no chain and was not merged; adopt it first"}}
}

type merger struct {
	kept    map[string]*hashed
	notices []Notice
}

func (m *merger) take(records []Record) {
	for _, r := range records {
		h := hashed{r, r.Hash()}
		old := m.kept[h.hash]
		if old == nil {
			m.kept[h.hash] = &h
			continue
		}
		if bytes.Equal(old.Body, h.Body) && old.Salt == h.Salt {
			continue
		}
		if better(&h, old) {
			m.kept[h.hash], old = &h, &h
		}
		m.differ(old)
	}
}

// differ says what became of a record whose bodies differ.
func (m *merger) differ(kept *hashed) {
	n := Notice{Code: BodyDiffers, Device: kept.Device, ID: kept.ID,
		Say: fmt.Sprintf("record %s had two bodies; the one that fits its hash is kept", kept.ID)}
	switch {
	case kept.Redacted():
		n.Code, n.Say = Removed, fmt.Sprintf("the body of record %s was taken out on one side and is now out here", kept.ID)
	case !kept.BodyIntact():
		n.Say = fmt.Sprintf("record %s had two bodies and neither fits its hash", kept.ID)
	}
	m.notices = append(m.notices, n)
}

// better orders the contents two sides have for one record: taken out, then
// fitting the hash, then by bytes, so that every order of merging agrees.
func better(a, b *hashed) bool {
	rank := func(r *hashed) int {
		switch {
		case r.Redacted():
			return 2
		case r.BodyIntact():
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(rank(a), rank(b)), bytes.Compare(a.Body, b.Body), cmp.Compare(a.Salt, b.Salt)) > 0
}

// sameIDs says which ids came to name one more record by this merge.
func (m *merger) sameIDs(a, b File, all []hashed) []Notice {
	count := func(records []Record) map[string]int {
		out := map[string]int{}
		for _, r := range records {
			out[r.ID]++
		}
		return out
	}
	united := map[string]int{}
	for i := range all {
		united[all[i].ID]++
	}
	inA, inB := count(a.Records), count(b.Records)
	var out []Notice
	for _, id := range sortedKeys(united) {
		if n := united[id]; n > 1 && n > inA[id] && n > inB[id] {
			out = append(out, Notice{Code: SameID, ID: id, Say: fmt.Sprintf("%d different records have the id %s; all are kept", n, id)})
		}
	}
	return out
}

// heads chooses, device by device, the later of the two heads.
func (m *merger) heads(a, b map[string]string) map[string]string {
	out := map[string]string{}
	for device, h := range a {
		out[device] = h
	}
	for device, h := range b {
		if old, ok := out[device]; !ok || m.later(h, old) {
			out[device] = h
		}
	}
	return out
}

// later says whether head h stands in place of old: it comes after it, or it
// is not here and nothing here comes after it, or the chain is forked there
// and it is the greater.
func (m *merger) later(h, old string) bool {
	switch {
	case h == old || m.reaches(old, h):
		return false
	case m.reaches(h, old):
		return true
	}
	x, y := m.kept[h], m.kept[old]
	if (x == nil) != (y == nil) {
		return x == nil
	}
	if x != nil && x.N != y.N {
		return x.N > y.N
	}
	return h > old
}

// reaches follows prev from one hash back to another.
func (m *merger) reaches(from, to string) bool {
	for steps := 0; steps <= len(m.kept); steps++ {
		r := m.kept[from]
		if r == nil {
			return false
		}
		if from = r.Prev; from == to {
			return true
		}
	}
	return false
}
