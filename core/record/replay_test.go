package record

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

// store is a snapshot of the first records and a journal of the others.
func store(f File, first int) (snapshot []byte, journal [][]byte) {
	l := NewLog(File{})
	for _, r := range f.Records[:first] {
		l.add(r)
	}
	for _, r := range f.Records[first:] {
		journal = append(journal, Entry(r))
	}
	if first == 0 {
		return nil, journal
	}
	return l.File().Write(), journal
}

func ids(f File) string {
	var out []string
	for _, r := range f.Records {
		out = append(out, r.ID)
	}
	return strings.Join(out, " ")
}

func TestReplayWhole(t *testing.T) {
	f := bench(t)
	for first := range len(f.Records) + 1 {
		snapshot, journal := store(f, first)
		got, said := Replay(snapshot, append(journal, journal...))
		if len(said) > 0 {
			t.Errorf("%d in the snapshot: %v", first, said)
		}
		wantText(t, fmt.Sprint(first, " in the snapshot"), string(got.Write()), string(f.Write()))
	}
	hand := mustRead(t, `{"format":1,"records":[{"kind":"job","body":{}}]}`)
	got, said := Replay(hand.Write(), nil)
	if !got.NoChain || len(said) > 0 {
		t.Errorf("by hand: %+v, %v", got, said)
	}
}

func TestReplayDamaged(t *testing.T) {
	f := bench(t)
	tests := []struct {
		name string
		do   func(snapshot []byte, journal [][]byte) ([]byte, [][]byte)
		ids  string
		say  string
	}{
		{"last entry half written", func(s []byte, j [][]byte) ([]byte, [][]byte) { j[1] = j[1][:100]; return s, j },
			"bench-0 bench-1 phone-2 phone-3", "journal entry 2 is set aside: line 1, column 101"},
		{"entry empty", func(s []byte, j [][]byte) ([]byte, [][]byte) { return s, append(j, nil) },
			"bench-0 bench-1 phone-2 phone-3 bench-4", "journal entry 3 is set aside: line 1, column 1: the text breaks off here"},
		{"entry of another form", func(s []byte, j [][]byte) ([]byte, [][]byte) { return s, append(j, f.Records[0].JSON()) },
			"bench-0 bench-1 phone-2 phone-3 bench-4", "journal entry 3 is set aside: it is not a hash and a record"},
		{"body in an entry", func(s []byte, j [][]byte) ([]byte, [][]byte) {
			j[0] = bytes.Replace(j[0], []byte("120 Hz"), []byte("126 Hz"), 1)
			return s, j
		}, "bench-0 bench-1 phone-2 bench-4", "the body of record phone-3 is not the one that was hashed"},
		{"time in an entry", func(s []byte, j [][]byte) ([]byte, [][]byte) {
			j[0] = bytes.Replace(j[0], []byte("2031"), []byte("2032"), 1)
			return s, j
		}, "bench-0 bench-1 phone-2 bench-4", "record phone-3 is not the one that was hashed"},
		{"body in the snapshot", func(s []byte, j [][]byte) ([]byte, [][]byte) {
			return bytes.Replace(s, []byte("hum"), []byte("hom"), 1), j
		}, "bench-0 phone-2 phone-3 bench-4", "record bench-1 of device bench is set aside: its body"},
		{"time in the snapshot", func(s []byte, j [][]byte) ([]byte, [][]byte) {
			return bytes.Replace(s, []byte("10:01"), []byte("10:07"), 1), j
		}, "bench-0 phone-2 phone-3 bench-4", "record bench-1 of device bench is set aside: nothing in the store vouches for it"},
		{"a line of the snapshot", func(s []byte, j [][]byte) ([]byte, [][]byte) {
			return bytes.Replace(s, []byte(`"kind":"finding"`), []byte(`"kind"~"finding"`), 1), j
		}, "bench-0 phone-2 phone-3 bench-4", "line 3 of the snapshot is set aside: line 1, column"},
		{"the first line of the snapshot", func(s []byte, j [][]byte) ([]byte, [][]byte) { s[3] = 'x'; return s, j },
			"bench-0 bench-1 phone-2 phone-3 bench-4", "the snapshot no longer says which records were the last"},
		{"snapshot cut in its last record", func(s []byte, j [][]byte) ([]byte, [][]byte) { return s[:len(s)-60], j },
			"bench-0 bench-1 phone-3 bench-4", "line 4 of the snapshot is set aside"},
		{"snapshot gone", func(s []byte, j [][]byte) ([]byte, [][]byte) { return nil, j },
			"phone-3 bench-4", "record phone-3 of device phone (n 4): it follows a record of device phone that is not in the file"},
		{"snapshot not text", func(s []byte, j [][]byte) ([]byte, [][]byte) { return []byte("\x00\x01"), j },
			"phone-3 bench-4", "line 1 of the snapshot is set aside"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, said := Replay(tt.do(store(f, 3)))
			wantText(t, "records", ids(got), tt.ids)
			var say []string
			for _, n := range said {
				say = append(say, n.Say)
			}
			wantIn(t, "notices", strings.Join(say, "\n"), tt.say)
			if again := mustRead(t, string(got.Write())); ids(again) != tt.ids {
				t.Error("the result does not read again")
			}
		})
	}
}

// A byte changed anywhere in the store costs at most the records of one line
// break, never opens a record that is not one of the true ones, and is said.
func TestReplayEveryByte(t *testing.T) {
	f := bench(t)
	whole := map[string]bool{}
	for _, r := range f.Records {
		whole[string(r.JSON())] = true
	}
	snapshot, journal := store(f, 3)
	for i := range snapshot {
		bad := bytes.Clone(snapshot)
		bad[i] ^= 0x01
		got, said := Replay(bad, journal)
		if len(got.Records) < 3 {
			t.Fatalf("byte %d (%q): only %s opened", i, snapshot[i], ids(got))
		}
		if len(got.Records) < 5 && len(said) == 0 {
			t.Fatalf("byte %d (%q): nothing said, and %s opened", i, snapshot[i], ids(got))
		}
		for _, r := range got.Records {
			if !whole[string(r.JSON())] {
				t.Fatalf("byte %d (%q -> %q): opened a changed record %s\n%v", i, snapshot[i], bad[i], r.JSON(), said)
			}
		}
	}
}

// A crash leaves the snapshot and any first part of the journal.
func TestReplayEveryCut(t *testing.T) {
	f := many(t, 40)
	snapshot, journal := store(f, 20)
	for cut := range journal {
		for _, part := range []int{0, 1, len(journal[cut]) / 2, len(journal[cut]) - 1} {
			broken := append(append([][]byte{}, journal[:cut]...), journal[cut][:part])
			got, said := Replay(snapshot, broken)
			if len(got.Records) != 20+cut || len(said) != 1 || !Verify(got).Whole() {
				t.Fatalf("cut in entry %d at byte %d: %d records, %v", cut, part, len(got.Records), said)
			}
		}
	}
}

func TestShortCode(t *testing.T) {
	f := bench(t)
	code := ShortCode(f)
	if len(code) != 14 || code[4] != '-' || code[9] != '-' || strings.Trim(code, marks+"-") != "" {
		t.Errorf("ShortCode = %q, want 3 groups of 4 marks", code)
	}
	l := NewLog(f)
	say(t, l, "bench", "note", `{"say":"later"}`)
	grown := l.File()
	if ShortCode(grown) == code {
		t.Error("the code stays when the chain grows")
	}
	r, ok := FindCode(grown, " "+strings.ToLower(strings.ReplaceAll(code, "-", " ")))
	if !ok || r.ID != "bench-4" {
		t.Errorf("FindCode = %s, %v; want bench-4", r.ID, ok)
	}
	if _, ok := FindCode(grown, ""); ok {
		t.Error("FindCode finds nothing by nothing")
	}
	if _, ok := FindCode(grown, "CCCC-CCCC-CCCC"); ok {
		t.Error("FindCode finds a code nobody has")
	}
	other := NewLog(f)
	say(t, other, "phone", "note", `{"say":"apart"}`)
	ab, _ := Merge(grown, other.File())
	ba, _ := Merge(other.File(), grown)
	if ShortCode(ab) != ShortCode(ba) || ShortCode(ab) == ShortCode(grown) {
		t.Error("the code after a merge is not one of its own")
	}
	wantText(t, "not a hash", CodeOf("xyz"), "")
	// By hand: 0x..2b = 43 = 1 + 2*21, lowest digit first: D F C C ...
	wantText(t, "code of 43", CodeOf(strings.Repeat("0", 62)+"2b"), "DFCC-CCCC-CCCC")
}
