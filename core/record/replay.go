package record

import (
	"bytes"
	"fmt"
)

// What Replay may have to say, beside what Verify finds.
const (
	// SetAside: bytes of the store that cannot be read or proven; they are in
	// the notice as they were found.
	SetAside Code = "set-aside"
	// HeadsLost: the damaged snapshot no longer says where its chains end.
	HeadsLost Code = "heads-lost"
)

// Entry returns the form of a record in a journal: the record with its hash
// beside it, so that each entry proves itself whole.
func Entry(r Record) []byte {
	out := append([]byte(`{"hash":"`), r.Hash()...)
	out = append(out, `","record":`...)
	return append(r.append(out, true), '}')
}

// Replay opens a store: the snapshot holds all records so far as File.Write
// made it (empty: none yet), the journal those after it as Entry made them.
// What is half written or changed is set aside and said; what can be proven
// whole opens. A record proves itself by the hash of its body and by its own
// hash standing elsewhere in the store: in its journal entry, in the record
// after it, or in the stated heads.
//
// Where anything was set aside the device should go on under a new name, since
// its chain may have gone further than what opened.
func Replay(snapshot []byte, journal [][]byte) (File, []Notice) {
	var notices []Notice
	later := File{}
	for i, raw := range journal {
		r, err := readEntry(raw)
		if err != nil {
			notices = append(notices, setAside(raw, fmt.Sprintf("journal entry %d", i+1), err.Error()))
			continue
		}
		later.Records = append(later.Records, r)
	}
	f, damage := openSnapshot(snapshot)
	if !f.NoChain {
		var dropped []Notice
		f, dropped = proven(f, snapshot, journal)
		damage = append(damage, dropped...)
	}
	f, said := Merge(f, later)
	notices = append(append(damage, notices...), said...)
	for _, b := range Verify(f).Broken {
		notices = append(notices, Notice{Code: b.Code, Device: b.Device, ID: b.ID, Say: b.String()})
	}
	return f, notices
}

func setAside(raw []byte, what, why string) Notice {
	return Notice{Code: SetAside, Say: fmt.Sprintf("%s is set aside: %s", what, why), Raw: bytes.Clone(raw)}
}

func readEntry(raw []byte) (Record, error) {
	n, whole, ps := scan(raw)
	if !whole || len(ps) > 0 {
		return Record{}, ps
	}
	hash, body := n.get("hash"), n.get("record")
	if n.kind != '{' || hash == nil || body == nil || len(n.members) != 2 {
		return Record{}, fmt.Errorf("it is not a hash and a record")
	}
	r, err := ReadRecord(raw[body.at:body.end])
	switch {
	case err != nil:
		return Record{}, err
	case r.Hash() != hash.text:
		return Record{}, fmt.Errorf("record %s is not the one that was hashed", r.ID)
	case !r.BodyIntact():
		return Record{}, fmt.Errorf("the body of record %s is not the one that was hashed", r.ID)
	}
	return r, nil
}

// openSnapshot reads a snapshot, or line by line what is left of it.
func openSnapshot(snapshot []byte) (File, []Notice) {
	if len(bytes.TrimSpace(snapshot)) == 0 {
		return File{Format: Format}, nil
	}
	f, err := Read(snapshot)
	if err == nil {
		return f, nil
	}
	f = File{Format: Format}
	first, rest, _ := bytes.Cut(snapshot, []byte("\n"))
	var notices []Notice
	if head, err := Read(append(bytes.Clone(first), "]}"...)); err == nil {
		f.Heads = head.Heads
	} else {
		notices = append(notices, setAside(first, "line 1 of the snapshot", err.Error()),
			Notice{Code: HeadsLost, Say: "the snapshot no longer says which records were the last"})
	}
	for i, line := range bytes.Split(rest, []byte("\n")) {
		line = bytes.TrimSuffix(line, []byte(","))
		if text := string(bytes.TrimSpace(line)); text == "" || text == "]}" {
			continue
		}
		r, err := ReadRecord(line)
		if err != nil {
			notices = append(notices, setAside(line, fmt.Sprintf("line %d of the snapshot", i+2), err.Error()))
			continue
		}
		f.Records = append(f.Records, r)
	}
	return f, notices
}

// proven takes out the records whose body or envelope was changed.
func proven(f File, snapshot []byte, journal [][]byte) (File, []Notice) {
	rep := Verify(f)
	if rep.Whole() {
		return f, nil
	}
	held := map[string]bool{}
	for _, raw := range append([][]byte{snapshot}, journal...) {
		hashesIn(raw, held)
	}
	changed := map[string]bool{}
	for _, b := range rep.Broken {
		changed[b.Device+"\n"+b.ID] = b.Code == Changed
	}
	var notices []Notice
	kept := f.Records[:0:0]
	for _, r := range f.Records {
		what := fmt.Sprintf("record %s of device %s", r.ID, r.Device)
		switch {
		case !r.BodyIntact():
			notices = append(notices, setAside(r.JSON(), what, "its body is not the one that was hashed"))
		case changed[r.Device+"\n"+r.ID] && !held[r.Hash()]:
			notices = append(notices, setAside(r.JSON(), what, "nothing in the store vouches for it"))
		default:
			kept = append(kept, r)
		}
	}
	f.Records = kept
	return f, notices
}

// hashesIn notes every run of exactly 64 hex digits, in whole or broken text.
func hashesIn(raw []byte, held map[string]bool) {
	from := 0
	for i := 0; i <= len(raw); i++ {
		if i < len(raw) && isHex(string(raw[i:i+1])+"0") {
			continue
		}
		if i-from == 64 {
			held[string(raw[from:i])] = true
		}
		from = i + 1
	}
}
