package record

import (
	"fmt"
	"strings"
)

// What Verify can find.
const (
	// BodyChanged: body and salt do not give the body hash.
	BodyChanged Code = "body-changed"
	// Changed: the record's hash is not the one that the device's next record,
	// or the file's statement of heads, holds.
	// Discussion: the envelope was changed, or a record after it is missing.
	Changed Code = "record-changed"
	// Forked: two records of one device follow the same record.
	// Discussion: a device's data was copied and both copies went on.
	Forked Code = "chain-forked"
	// Absent: a record that this one follows or had seen is not in the file.
	Absent Code = "record-missing"
	// Clock: n is not above that of a record that was seen.
	Clock Code = "clock"
	// Repeated: the record stands in the file more than once.
	Repeated Code = "repeated"
)

// A Break is one place where a file is not what its chain says.
type Break struct {
	Device, ID string
	N          int64
	Code       Code
	Say        string
}

// String names the record and what differs.
func (b Break) String() string {
	if b.ID == "" {
		return fmt.Sprintf("device %s: %s", b.Device, b.Say)
	}
	return fmt.Sprintf("record %s of device %s (n %d): %s", b.ID, b.Device, b.N, b.Say)
}

// A Report is the outcome of Verify.
type Report struct {
	NoChain  bool // written by hand: there is nothing to verify
	Records  int
	Redacted int
	Broken   []Break // in the order of the fold: the first broken record first
}

// Whole says that there is a chain and nothing in it is broken.
func (r Report) Whole() bool { return !r.NoChain && len(r.Broken) == 0 }

// String says the outcome, one line for each break.
func (r Report) String() string {
	if r.NoChain {
		return fmt.Sprintf("no chain: %d records written by hand", r.Records)
	}
	if r.Whole() {
		return fmt.Sprintf("whole: %d records, %d of them redacted", r.Records, r.Redacted)
	}
	lines := []string{fmt.Sprintf("broken: %d of %d records", len(r.Broken), r.Records)}
	for _, b := range r.Broken {
		lines = append(lines, b.String())
	}
	return strings.Join(lines, "\n")
}

// Verify answers whether every record is the one its device wrote, and names
// those that are not. The last record of a chain has no record after it to
// vouch for it; the heads that a file states do, against accident. Against
// someone who rewrites the heads too, only a short code on paper does.
func Verify(f File) Report {
	rep := Report{NoChain: f.NoChain, Records: len(f.Records)}
	for _, r := range f.Records {
		if r.Redacted() {
			rep.Redacted++
		}
	}
	if f.NoChain {
		return rep
	}
	v := verifier{file: f, records: inOrder(f.Records), broken: map[int]Break{}, faulty: map[string]bool{}}
	v.backward()
	v.forward()
	for i := range v.records {
		if b, ok := v.broken[i]; ok {
			rep.Broken = append(rep.Broken, b)
		}
	}
	rep.Broken = append(rep.Broken, v.lostHeads()...)
	return rep
}

type verifier struct {
	file    File
	records []hashed
	byHash  map[string]*hashed
	broken  map[int]Break
	faulty  map[string]bool // devices with a record that is not vouched for
}

func (v *verifier) fault(i int, code Code, say string) {
	r := &v.records[i]
	if _, known := v.broken[i]; !known {
		v.broken[i] = Break{r.Device, r.ID, r.N, code, say}
	}
}

// backward goes from the newest record to the oldest and looks for the hash of
// each among those that newer records and the stated heads hold. Where the
// newer record of the same device is broken itself, its word counts for
// nothing either way.
func (v *verifier) backward() {
	v.byHash = map[string]*hashed{}
	held := map[string]bool{}
	for _, h := range v.file.Heads {
		held[h] = true
	}
	newer := map[string]int{} // place of the device's next record, plus one
	for i := len(v.records) - 1; i >= 0; i-- {
		r := &v.records[i]
		switch {
		case v.byHash[r.hash] != nil:
			v.fault(i, Repeated, "the record stands in the file more than once")
		case !held[r.hash]:
			v.unheld(i, newer[r.Device]-1)
		case !r.BodyIntact():
			v.fault(i, BodyChanged, "the body is not the one that was hashed")
		}
		v.byHash[r.hash] = r
		newer[r.Device] = i + 1
		held[r.Prev] = true
		for _, h := range r.Seen {
			held[h] = true
		}
	}
}

// unheld judges a record whose hash nobody holds; next is the place of the
// device's next record, or -1.
func (v *verifier) unheld(i, next int) {
	r := &v.records[i]
	switch _, faulty := v.broken[next]; {
	case next < 0 && v.file.Heads == nil:
		if !r.BodyIntact() {
			v.fault(i, BodyChanged, "the body is not the one that was hashed")
		}
		return
	case next < 0:
		v.fault(i, Changed, "it is not the record that the file states as the last of its device: "+
			"it was changed, or later ones are missing")
	case v.records[next].Prev == r.Prev:
		v.fault(i, Forked, fmt.Sprintf("it and record %s follow the same record", v.records[next].ID))
	case faulty && v.broken[next].Code != BodyChanged:
		if !r.BodyIntact() {
			v.fault(i, BodyChanged, "the body is not the one that was hashed")
		}
		return
	default:
		v.fault(i, Changed, fmt.Sprintf("its hash is not the one that record %s holds: "+
			"it was changed, or a record between them is missing", v.records[next].ID))
	}
	v.faulty[r.Device] = true
}

// forward looks for what each record followed and had seen.
func (v *verifier) forward() {
	for i := range v.records {
		r := &v.records[i]
		if r.Prev != First {
			v.follows(i, r.Device, r.Prev, "follows")
		}
		for _, device := range sortedKeys(r.Seen) {
			v.follows(i, device, r.Seen[device], "had seen")
		}
	}
}

func (v *verifier) follows(i int, device, hash, verb string) {
	r, other := &v.records[i], v.byHash[hash]
	switch {
	case other == nil && v.faulty[device]:
		// The record that is not vouched for is the one that is missed here.
	case other == nil:
		v.fault(i, Absent, fmt.Sprintf("it %s a record of device %s that is not in the file", verb, device))
	case other.Device != device:
		v.fault(i, Changed, fmt.Sprintf("it %s record %s as one of device %s, and that is of device %s", verb, other.ID, device, other.Device))
	case other.N >= r.N:
		v.fault(i, Clock, fmt.Sprintf("its n is not above that of record %s, which it %s", other.ID, verb))
	}
}

// lostHeads names devices of which the stated last record is not there and no
// other record gave the reason.
func (v *verifier) lostHeads() []Break {
	last := map[string]*hashed{}
	for i := range v.records {
		last[v.records[i].Device] = &v.records[i]
	}
	var out []Break
	for _, device := range sortedKeys(v.file.Heads) {
		head, end := v.byHash[v.file.Heads[device]], last[device]
		switch {
		case head != nil && head.Device != device:
			out = append(out, Break{head.Device, head.ID, head.N, Changed, "the file states it as the last record of device " + device})
		case head != nil || v.faulty[device]:
		case end == nil:
			out = append(out, Break{Device: device, Code: Absent, Say: "the record stated as its last is not in the file"})
		default:
			out = append(out, Break{device, end.ID, end.N, Absent, "it is the last of its device here, and the file states another: later ones are missing"})
		}
	}
	return out
}
