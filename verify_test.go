package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lugworth/core/record"
)

// chained is a file of three records of one device, made here.
func chained(t *testing.T) record.File {
	t.Helper()
	var l record.File
	l.Format = record.Format
	bodies := []string{`{"number":"V-1"}`, `{"id":"A1","seen":"hums"}`, `{"id":"A1","seen":"hums loudly"}`}
	for i, kind := range []string{"job", "finding", "finding"} {
		r := record.Record{ID: "id" + string(rune('1'+i)), At: "2026-01-05T10:00:00Z", Device: "tablet", N: int64(i + 1),
			Seen: map[string]string{}, Prev: record.First, Kind: kind, Salt: "00ff", Body: json.RawMessage(bodies[i])}
		if i > 0 {
			r.Prev = l.Records[i-1].Hash()
		}
		r.BodyHash = record.BodyHash(r.Salt, r.Body)
		l.Records = append(l.Records, r)
	}
	return l
}

func put(t *testing.T, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "v.job.json")
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestVerify(t *testing.T) {
	whole := chained(t).Write()
	missing := chained(t)
	missing.Records = append(missing.Records[:1:1], missing.Records[2])
	_, hand := handWritten(t)
	demo, err := os.ReadFile("catalogs/demo.job.json")
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name  string
		data  []byte
		code  int
		says  string // on standard output where done, else on standard error
		never string
	}{
		{"whole", whole, 0, "whole: 3 records, 0 of them redacted\ncode ", ""},
		{"a body changed", bytes.Replace(whole, []byte("V-1"), []byte("V-2"), 1), 1, "record id1 of device tablet (n 1): the body is not the one that was hashed", "id2"},
		{"an envelope changed", bytes.Replace(whole, []byte(`"kind":"job"`), []byte(`"kind":"jab"`), 1), 1, "record id1 of device tablet (n 1)", "id3 of"},
		{"a record missing", missing.Write(), 1, "broken: ", "whole"},
		{"written by hand", hand, 0, " records, written by hand: no chain to verify\n", "code"},
		{"not JSON", []byte("PK\x03\x04"), 1, "line 1, column 1", ""},
		{"the demo job", demo, 0, "", "broken"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			path := put(t, tt.data)
			code, out, notes := cli("verify", path)
			got, other := out, notes
			if tt.code != 0 {
				got, other = notes, out
			}
			if code != tt.code || !strings.HasPrefix(got, path+": ") || !strings.Contains(got, tt.says) || other != "" {
				t.Errorf("exit %d, said %q, beside it %q; want exit %d and %q", code, got, other, tt.code, tt.says)
			}
			if tt.never != "" && strings.Contains(strings.ReplaceAll(got, path, ""), tt.never) {
				t.Errorf("said %q, which should not name %q", got, tt.never)
			}
		})
	}
}

// handWritten is the job file of the base job.
func handWritten(t *testing.T) (dir string, data []byte) {
	t.Helper()
	job, dir := unpacked(t, "testdata/bad/base.txtar")
	data, err := os.ReadFile(job)
	if err != nil {
		t.Fatal(err)
	}
	return dir, data
}

// A job whose chain does not hold is derived all the same, and says so.
func TestWorkOnBrokenChain(t *testing.T) {
	path := put(t, bytes.Replace(chained(t).Write(), []byte("V-1"), []byte("V-2"), 1))
	dir := filepath.Join(t.TempDir(), "out")
	code, _, notes := cli("work", path, "-out", dir)
	if code != 0 || !strings.Contains(notes, "the chain does not hold: record id1 of device tablet (n 1): the body is not the one that was hashed\n") {
		t.Errorf("exit %d, said %q", code, notes)
	}
	if r := result(t, dir); r.Chain != "broken chain" || r.Job != "V-2" {
		t.Errorf("chain %q of job %q", r.Chain, r.Job)
	}
	if code, _, notes = cli("work", put(t, chained(t).Write()), "-out", dir); code != 0 || strings.Contains(notes, "chain") {
		t.Errorf("a whole chain: exit %d, said %q", code, notes)
	}
	if r := result(t, dir); r.Chain != "chain" {
		t.Errorf("a whole chain reads %q", r.Chain)
	}
}
