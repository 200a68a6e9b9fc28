package record

import (
	"encoding/json"
	"strings"
	"testing"
)

func TestAppendChains(t *testing.T) {
	f := bench(t)
	for i, want := range []int64{1, 2, 3, 4, 5} {
		if f.Records[i].N != want {
			t.Errorf("record %d has n %d, want %d", i, f.Records[i].N, want)
		}
	}
	r := f.Records
	if r[0].Prev != First || r[1].Prev != r[0].Hash() || r[2].Prev != First || r[4].Prev != r[1].Hash() {
		t.Error("prev is not the hash of the device's record before")
	}
	if len(r[0].Seen) != 0 || r[2].Seen["bench"] != r[1].Hash() || r[4].Seen["phone"] != r[3].Hash() || len(r[4].Seen) != 1 {
		t.Error("seen is not the heads of the other devices")
	}
	if f.Heads["bench"] != r[4].Hash() || f.Heads["phone"] != r[3].Hash() {
		t.Error("heads are not the last record of each device")
	}
	wantText(t, "read after write", string(mustRead(t, string(f.Write())).Write()), string(f.Write()))
	if got := Verify(f); !got.Whole() {
		t.Errorf("Verify: %v", got)
	}
}

func TestAppendErrors(t *testing.T) {
	good := Meta{"x1", "2031-05-01", "bench", salt(1)}
	with := func(change func(*Meta)) Meta { m := good; change(&m); return m }
	tests := []struct {
		name, kind string
		body       any
		meta       Meta
		err        string
	}{
		{"fine", "note", map[string]string{"say": "x"}, good, ""},
		{"no kind", "", map[string]string{}, good, "kind, id, time and device are needed"},
		{"no device", "note", map[string]string{}, with(func(m *Meta) { m.Device = "" }), "kind, id, time and device are needed"},
		{"id used", "note", map[string]string{}, with(func(m *Meta) { m.ID = "bench-0" }), `the id "bench-0" stands in the log already`},
		{"short salt", "note", map[string]string{}, with(func(m *Meta) { m.Salt = "00ff" }), "the salt is not at least 16 bytes"},
		{"salt not hex", "note", map[string]string{}, with(func(m *Meta) { m.Salt = strings.Repeat("xy", 16) }), "the salt is not"},
		{"body a list", "note", []string{"a"}, good, "the body is not an object"},
		{"body null", "note", nil, good, "the body is not an object"},
		{"float", "reading", map[string]float64{"v": 1.5}, good, "1.5 is not a whole number"},
		{"id a number", "note", json.RawMessage(`{"id":7}`), good, "the id of the body is not text: 7"},
		{"undo of a consent", Undo, map[string]string{"record": "phone-2"}, good, `record "phone-2" is of kind "consent", which only a later one supersedes`},
		{"undo of nothing", Undo, map[string]string{"record": "no"}, good, `there is no record "no"`},
		{"undo without a name", Undo, map[string]string{}, good, `there is no record ""`},
		{"undo of a note", Undo, map[string]string{"record": "bench-4"}, good, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l := NewLog(bench(t))
			_, err := l.Append(tt.kind, tt.body, tt.meta)
			wantIn(t, "error", errText(err), tt.err)
			if got, want := len(l.File().Records), 5; err != nil && got != want {
				t.Errorf("%d records after an error, want %d", got, want)
			}
		})
	}
}

func TestSealedKindsCannotBeUndone(t *testing.T) {
	for _, kind := range []string{Consent, Frozen, HandBack} {
		l := NewLog(File{})
		r := say(t, l, "bench", kind, `{"total":"471.57"}`)
		if _, err := l.Undo(r.Hash(), Meta{"u", "t", "bench", salt(9)}); err == nil {
			t.Errorf("Undo of a %s: no error", kind)
		}
	}
}

func TestFileIsNotChangedByLaterRecords(t *testing.T) {
	l := NewLog(bench(t))
	before := l.File()
	bytes := string(before.Write())
	other := NewLog(before)
	say(t, l, "bench", "note", `{"say":"one"}`)
	say(t, other, "bench", "note", `{"say":"two"}`)
	wantText(t, "file taken before", string(before.Write()), bytes)
	wantIn(t, "first log", string(l.File().Write()), `"one"`)
	wantIn(t, "second log", string(other.File().Write()), `"two"`)
}

func TestAdopt(t *testing.T) {
	f := mustRead(t, `{"format":1,"records":[{"kind":"job","body":{"name":"Sparrow"},"by":"hand"},{"kind":"note","body":{"say":"x"}},{"kind":"undo","body":{"record":"r2"}}]}`)
	got, err := Adopt(f, "bench", "2031-05-01", []string{salt(1), salt(2), salt(3)})
	if err != nil {
		t.Fatal(err)
	}
	if rep := Verify(mustRead(t, string(got.Write()))); !rep.Whole() {
		t.Errorf("the adopted file does not verify: %v", rep)
	}
	s := Fold(got.Records)
	if s.Has("note", "") || !s.Has("job", "") || string(got.Records[0].Extra["by"]) != `"hand"` {
		t.Errorf("the adopted file says something else: %s", dump(s))
	}
	_, err = Adopt(got, "bench", "t", nil)
	wantIn(t, "adopted twice", errText(err), "has a chain already")
	_, err = Adopt(f, "bench", "t", nil)
	wantIn(t, "no salts", errText(err), "3 records and 0 salts")
	_, err = NewLog(f).Append("note", map[string]string{}, Meta{"a", "t", "d", salt(1)})
	wantIn(t, "append by hand", errText(err), "adopt it first")
}

// The code of a log is that of its file, however it grew: by one device, by
// two in turn, after a merge of what nobody had seen, and from a file.
func TestLogCode(t *testing.T) {
	same := func(l *Log, when string) {
		t.Helper()
		wantText(t, "code "+when, l.Code(), ShortCode(l.File()))
	}
	l := NewLog(File{})
	same(l, "of nothing")
	for n := range 4 {
		say(t, l, "bench", "note", `{"id":"n","say":"x"}`)
		same(l, "of one device")
		if n == 2 {
			say(t, l, "phone", "note", `{"id":"p","say":"y"}`)
			same(l, "of two devices")
		}
	}
	a, b := NewLog(l.File()), NewLog(l.File())
	same(a, "from a file")
	say(t, a, "bench", "note", `{"id":"a","say":"1"}`)
	say(t, b, "phone", "note", `{"id":"b","say":"2"}`)
	both, _ := Merge(a.File(), b.File())
	m := NewLog(both)
	same(m, "after a merge")
	say(t, m, "third", "note", `{"id":"c","say":"3"}`)
	same(m, "once both were seen")
	if m.Code() == "" || m.Code() == a.Code() {
		t.Errorf("codes %q and %q", m.Code(), a.Code())
	}
}
