package record

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"
)

func TestVerifyNamesTheBrokenRecord(t *testing.T) {
	change := func(i int, with func(*Record)) func(*File) {
		return func(f *File) { with(&f.Records[i]) }
	}
	drop := func(i int) func(*File) { return func(f *File) { f.Records = slices.Delete(f.Records, i, i+1) } }
	tests := []struct {
		name string
		do   func(*File)
		want string // the report, "" if whole
	}{
		{"untouched", func(*File) {}, ""},
		{"other order", func(f *File) { slices.Reverse(f.Records) }, ""},
		{"no heads stated", func(f *File) { f.Heads = nil }, ""},
		{"body", change(1, func(r *Record) { r.Body = json.RawMessage(`{"id":"F1","say":"hiss"}`) }), "broken: 1 of 5 records\nrecord bench-1 of device bench (n 2): the body is not the one that was hashed"},
		{"salt", change(2, func(r *Record) { r.Salt = salt(99) }), "record phone-2 of device phone (n 3): the body is not"},
		{"body of the last, no heads", func(f *File) { f.Heads = nil; f.Records[4].Body = json.RawMessage(`{}`) }, "record bench-4 of device bench (n 5): the body is not"},
		{"time", change(1, func(r *Record) { r.At = "2031-05-02" }), "broken: 1 of 5 records\nrecord bench-1 of device bench (n 2): its hash is not the one that record bench-4 holds"},
		{"kind of the first", change(0, func(r *Record) { r.Kind = "note" }), "broken: 1 of 5 records\nrecord bench-0 of device bench (n 1): its hash is not the one that record bench-1 holds"},
		{"time of the last", change(4, func(r *Record) { r.At = "later" }), "broken: 1 of 5 records\nrecord bench-4 of device bench (n 5): it is not the record that the file states as the last"},
		{"prev", change(4, func(r *Record) { r.Prev = strings.Repeat("ab", 32) }), "broken: 1 of 5 records\nrecord bench-4 of device bench (n 5): it is not the record"},
		{"device", change(1, func(r *Record) { r.Device = "desk" }), "record bench-1 of device desk (n 2)"},
		{"first one gone", drop(0), "broken: 1 of 4 records\nrecord bench-1 of device bench (n 2): it follows a record of device bench that is not in the file"},
		{"one between gone", drop(1), "record bench-0 of device bench (n 1): its hash is not the one that record bench-4 holds: it was changed, or a record between them is missing"},
		{"last one gone", drop(4), "broken: 1 of 4 records\nrecord bench-1 of device bench (n 2): it is the last of its device here, and the file states another: later ones are missing"},
		{"one device gone", func(f *File) {
			f.Records = slices.DeleteFunc(f.Records, func(r Record) bool { return r.Device == "phone" })
		}, "record bench-4 of device bench (n 5): it had seen a record of device phone that is not in the file"},
		{"twice", func(f *File) { f.Records = append(f.Records, f.Records[2]) }, "broken: 1 of 6 records\nrecord phone-2 of device phone (n 3): the record stands in the file more than once"},
		{"clock", clockBack, "its n is not above that of record bench-0, which it follows"},
		{"forked", forked, "it and record bench-2b follow the same record"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := bench(t)
			tt.do(&f)
			rep := Verify(f)
			if tt.want == "" != rep.Whole() {
				t.Fatalf("Whole() = %v: %v", rep.Whole(), rep)
			}
			if tt.want == "" {
				tt.want = "whole: 5 records, 0 of them redacted"
			}
			wantIn(t, "report", rep.String(), tt.want)
		})
	}
}

// clockBack makes a chain that is whole but for its clock.
func clockBack(f *File) {
	l := NewLog(File{})
	r := Record{ID: "bench-1", At: "t", Device: "bench", N: 1, Prev: First, Kind: "note", Salt: salt(1), Body: json.RawMessage(`{}`)}
	r.BodyHash = BodyHash(r.Salt, r.Body)
	r0 := r
	r0.ID = "bench-0"
	r.Prev = r0.Hash()
	l.add(r0)
	l.add(r)
	*f = l.File()
}

// forked lets two copies of one device go on from the same record.
func forked(f *File) {
	a, b := NewLog(*f), NewLog(*f)
	for l, id := range map[*Log]string{a: "bench-2a", b: "bench-2b"} {
		if _, err := l.Append("note", map[string]string{"say": id}, Meta{id, "t", "bench", salt(7)}); err != nil {
			panic(err)
		}
	}
	*f, _ = Merge(a.File(), b.File())
	f.Heads["bench"] = b.Heads()["bench"]
}

func TestRedactedChainVerifies(t *testing.T) {
	f := bench(t)
	got, err := Redact(f, "phone-2")
	if err != nil {
		t.Fatal(err)
	}
	back := mustRead(t, string(got.Write()))
	wantText(t, "report", Verify(back).String(), "whole: 5 records, 1 of them redacted")
	wantText(t, "short code", ShortCode(back), ShortCode(f))
	if strings.Contains(string(got.Write()), "owner") || strings.Contains(string(got.Write()), f.Records[2].Salt) {
		t.Error("body or salt is still in the file")
	}
	if f.Records[2].Redacted() {
		t.Error("the file that was given changed")
	}
	s := Fold(back.Records)
	if len(s.Redacted()) != 1 || s.Has(Consent, "phone-2") || len(s.Records(Consent)) != 1 {
		t.Errorf("a redacted record is not listed as such: %s", dump(s))
	}
}

func TestRedactErrors(t *testing.T) {
	l := NewLog(bench(t))
	u, err := l.Undo("bench-4", Meta{"u", "t", "bench", salt(9)})
	if err != nil {
		t.Fatal(err)
	}
	_, err = Redact(l.File(), u.Hash())
	wantIn(t, "undo", errText(err), "is an undo")
	_, err = Redact(l.File(), "none")
	wantIn(t, "none", errText(err), `there is no record "none"`)
	f := l.File()
	f.Records[0].ID = "bench-1"
	_, err = Redact(f, "bench-1")
	wantIn(t, "two", errText(err), "2 records have the id")
	_, err = Redact(File{NoChain: true}, "r1")
	wantIn(t, "by hand", errText(err), "the file has no chain")
}

// Any one byte changed in any record: the file does not open, with a place on
// that line, or Verify names that record or the one after it.
func TestEveryByteCounts(t *testing.T) {
	clean := bench(t)
	text := clean.Write()
	lines := bytes.SplitAfter(text, []byte("\n"))
	at := len(lines[0])
	opened, refused := 0, 0
	for i, r := range clean.Records {
		line := lines[i+1]
		for j := range bytes.TrimRight(line, ",\n") {
			for _, flip := range []byte{0x01, 0x10, 0x20} {
				bad := bytes.Clone(text)
				bad[at+j] ^= flip
				f, err := Read(bad)
				if err != nil {
					refused++
					checkPlace(t, err, i+2, bad[at+j])
					continue
				}
				opened++
				if rep := Verify(f); !namesOneOf(rep, r, after(clean, i)) {
					t.Fatalf("record %s, byte %d, %q -> %q: %v", r.ID, j, text[at+j], bad[at+j], rep)
				}
			}
		}
		at += len(line)
	}
	if opened < 1000 || refused < 500 {
		t.Errorf("%d changed files opened and %d did not: the test tries too little", opened, refused)
	}
}

func checkPlace(t *testing.T, err error, line int, got byte) {
	t.Helper()
	for _, p := range err.(Problems) {
		if p.Line == line || p.Line == line+1 {
			return
		}
	}
	t.Fatalf("line %d changed to %q, and the problem is elsewhere: %v", line, got, err)
}

// after returns the next record of the same device, or the record itself.
func after(f File, i int) Record {
	for _, r := range f.Records[i+1:] {
		if r.Device == f.Records[i].Device {
			return r
		}
	}
	return f.Records[i]
}

// namesOneOf asks of the first break only. A changed id is named as it now
// stands, and so is a changed n; the other of the two tells the record.
func namesOneOf(rep Report, r, next Record) bool {
	if len(rep.Broken) == 0 {
		return false
	}
	b := rep.Broken[0]
	return b.N == r.N || b.ID == r.ID || b.ID == next.ID
}

func TestHeadsAreVerified(t *testing.T) {
	f := bench(t)
	f.Heads["phone"] = strings.Repeat("ab", 32)
	wantIn(t, "changed head", Verify(f).String(), "record phone-3 of device phone (n 4): it is the last of its device here, and the file states another")
	f = bench(t)
	f.Heads["desk"] = strings.Repeat("ab", 32)
	wantIn(t, "head of nobody", Verify(f).String(), "device desk: the record stated as its last is not in the file")
	f = bench(t)
	f.Heads["desk"] = f.Heads["bench"]
	wantIn(t, "head of another", Verify(f).String(), "the file states it as the last record of device desk")
	l := NewLog(bench(t))
	say(t, l, "phone", "note", `{"say":"last"}`)
	f = l.File()
	delete(f.Heads, "phone")
	wantIn(t, "device without a head", Verify(f).String(), "record phone-5 of device phone (n 6): it is not the record")
}
