package record

import (
	"encoding/hex"
	"maps"
	"slices"
	"strings"
)

// marks are the 21 signs of a short code: none that is read as another by eye
// (0 O, 1 I L, 2 Z, 5 S, 6, 8 B, U V) and no vowel, so that no word appears.
const marks = "CDFGHJKMNPQRTVWXY3479"

// CodeOf returns the short code of a hash: 12 marks in 3 groups, as for
// "K7RM-4XCD-9TWP", about 52 bits. It is the hash taken as one great number,
// written in base 21, lowest digits first.
func CodeOf(hash string) string {
	raw, err := hex.DecodeString(hash)
	if err != nil {
		return ""
	}
	var b strings.Builder
	for i := range 12 {
		if i > 0 && i%4 == 0 {
			b.WriteByte('-')
		}
		b.WriteByte(marks[divide(raw, len(marks))])
	}
	return b.String()
}

// divide divides the number n, highest byte first, in place and returns the
// rest. base is at most 255.
func divide(n []byte, base int) (rest int) {
	for i, digit := range n {
		rest = rest<<8 | int(digit)
		n[i] = byte(rest / base)
		rest %= base
	}
	return rest
}

// ShortCode returns the code of the whole chain for print: that of the record
// that had seen all others. Just after a merge there may be several that
// nobody has seen; then it is the code of their hashes, sorted and hashed
// together. A file without a chain, or without records, has none: "".
func ShortCode(f File) string {
	if f.NoChain || len(f.Records) == 0 {
		return ""
	}
	return codeOfTips(unseen(inOrder(f.Records)))
}

// codeOfTips is the code of the hashes nobody has seen, sorted.
func codeOfTips(last []string) string {
	if len(last) == 1 {
		return CodeOf(last[0])
	}
	return CodeOf(hashOf([]byte(strings.Join(last, "\n"))))
}

// Code is ShortCode of what the log holds. A record is hashed once: after the
// first time the answer costs nothing that grows with the log.
func (l *Log) Code() string {
	if l.file.NoChain || len(l.file.Records) == 0 {
		return ""
	}
	if l.tips == nil {
		l.tips = map[string]bool{}
		for _, h := range unseen(inOrder(l.file.Records)) {
			l.tips[h] = true
		}
	}
	return codeOfTips(slices.Sorted(maps.Keys(l.tips)))
}

// tip makes a new record the one that nobody has seen, in place of those it
// holds.
func (l *Log) tip(r Record, hash string) {
	if l.tips == nil {
		return
	}
	delete(l.tips, r.Prev)
	for _, h := range r.Seen {
		delete(l.tips, h)
	}
	l.tips[hash] = true
}

// unseen returns the hashes that no record holds, sorted.
func unseen(records []hashed) []string {
	held := map[string]bool{}
	for i := range records {
		held[records[i].Prev] = true
		for _, h := range records[i].Seen {
			held[h] = true
		}
	}
	var out []string
	for i := range records {
		if !held[records[i].hash] {
			out = append(out, records[i].hash)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// FindCode finds the record whose code a paper bears, however the chain grew
// since. Case, spaces and dashes do not matter. A paper printed between a
// merge and the next record bears a code that no single record has.
func FindCode(f File, code string) (Record, bool) {
	plain := func(s string) string {
		return strings.NewReplacer("-", "", " ", "").Replace(strings.ToUpper(s))
	}
	want := plain(code)
	if f.NoChain || want == "" {
		return Record{}, false
	}
	for _, r := range f.Records {
		if plain(CodeOf(r.Hash())) == want {
			return r, true
		}
	}
	return Record{}, false
}
