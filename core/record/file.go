package record

import (
	"cmp"
	"strings"

	"lugworth/core/sorted"
)

// A File is all the records of one job, or of one shop's books.
type File struct {
	Format  int
	Heads   map[string]string // last record hash by device as the file states it; nil if it does not
	Records []Record
	NoChain bool // written by hand, without any chain field: ids are r1, r2, ...
}

// Write returns the bytes of the file, one record a line. What Read made of
// these bytes writes the same bytes again.
func (f File) Write() []byte {
	out := appendInt([]byte(`{"format":`), int64(cmp.Or(f.Format, Format)))
	if f.Heads != nil && !f.NoChain {
		out = append(out, `,"heads":`...)
		out = appendTexts(out, f.Heads)
	}
	out = append(out, `,"records":[`...)
	for i, r := range f.Records {
		if i > 0 {
			out = append(out, ',')
		}
		out = append(out, '\n')
		if f.NoChain {
			out = r.appendByHand(out)
		} else {
			out = r.append(out, true)
		}
	}
	return append(out, "\n]}\n"...)
}

// Find returns the places of the records with that hash or, where there is
// none, with that id. More than one place means that the id is not enough.
func (f File) Find(ref string) []int {
	var byID []int
	for i, r := range f.Records {
		if isHash(ref) && r.Hash() == ref {
			return []int{i}
		}
		if r.ID == ref {
			byID = append(byID, i)
		}
	}
	return byID
}

// A hashed record is one whose hash was worked out once.
type hashed struct {
	Record
	hash string
}

// inOrder hashes records and puts them in the order of the fold: n, device,
// id; the hash settles records that share all three.
func inOrder(records []Record) []hashed {
	out := make([]hashed, len(records))
	var buffer []byte
	for i := range records {
		buffer = records[i].append(buffer[:0], false)
		out[i] = hashed{records[i], hashOf(buffer)}
	}
	sortRecords(out)
	return out
}

func sortRecords(rs []hashed) {
	for i := 1; i < len(rs); i++ {
		if compare(&rs[i-1], &rs[i]) > 0 {
			sorted.By(rs, func(a, b hashed) int { return compare(&a, &b) })
			return
		}
	}
}

func compare(a, b *hashed) int {
	if a.N != b.N {
		return cmp.Compare(a.N, b.N)
	}
	return cmp.Or(strings.Compare(a.Device, b.Device), strings.Compare(a.ID, b.ID), strings.Compare(a.hash, b.hash))
}

// lastOf works out the head of every device's chain: its record with the
// greatest n; where a chain is forked, the greatest hash among these.
func lastOf(records []hashed) map[string]string {
	best := map[string]*hashed{}
	for i := range records {
		r := &records[i]
		old := best[r.Device]
		if old == nil || cmp.Or(cmp.Compare(r.N, old.N), cmp.Compare(r.hash, old.hash)) > 0 {
			best[r.Device] = r
		}
	}
	heads := map[string]string{}
	for device, r := range best {
		heads[device] = r.hash
	}
	return heads
}

// heads are those the file states, or else those it has.
func (f File) heads() map[string]string {
	if f.Heads != nil {
		return f.Heads
	}
	return lastOf(inOrder(f.Records))
}
