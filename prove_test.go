package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// call runs the command line and returns its exit code and what it said.
func called(args ...string) (code int, out, notes string) {
	var o, n bytes.Buffer
	code = run(args, &o, &n)
	return code, o.String(), n.String()
}

func TestProveAndCheck(t *testing.T) {
	for _, name := range []string{"drover", "tern", "drover-sheet", "tern-sheet"} {
		file := filepath.Join(t.TempDir(), name+".json")
		if code, out, notes := called("prove", filepath.Join("testdata", "jobs", name+".txtar"), "-out", file); code != 0 {
			t.Fatalf("prove %s: exit %d: %s%s", name, code, out, notes)
		}
		code, out, notes := called("check", file)
		if code != 0 || !strings.Contains(out, "holds: ") || notes != "" {
			t.Errorf("check %s: exit %d: %s%s", name, code, out, notes)
		}
	}
}

// The same job gives the same bytes.
func TestProveIsTheSameTwice(t *testing.T) {
	var was []byte
	for range 2 {
		file := filepath.Join(t.TempDir(), "p.json")
		if code, _, notes := called("prove", filepath.Join("testdata", "jobs", "tern.txtar"), "-out", file); code != 0 {
			t.Fatal(notes)
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if was != nil && !bytes.Equal(was, data) {
			t.Error("two runs differ")
		}
		was = data
	}
}

// A refused file exits 1 and says where, what was read and what was got; wrong
// use exits 2.
func TestCheckRefuses(t *testing.T) {
	file := filepath.Join(t.TempDir(), "p.json")
	if code, _, notes := called("prove", filepath.Join("testdata", "jobs", "drover.txtar"), "-out", file); code != 0 {
		t.Fatal(notes)
	}
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	changed := filepath.Join(t.TempDir(), "changed.json")
	if err := os.WriteFile(changed, bytes.Replace(data, []byte(`"value":"318"`), []byte(`"value":"308"`), 1), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"check", changed}, 1, "changed.json: refused: hash: read "},
		{[]string{"check", filepath.Join("testdata", "jobs", "drover.txtar")}, 1, "not a certificate"},
		{[]string{"check", filepath.Join(t.TempDir(), "none.json")}, 1, "none.json"},
		{[]string{"check"}, 2, "give one certificate"},
		{[]string{"check", file, file}, 2, "give one certificate"},
		{[]string{"check", "-fast", file}, 2, `no flag "-fast"`},
		{[]string{"prove", file}, 2, "give one job file and -out"},
		{[]string{"prove", file, "-out", changed}, 1, ""},
		{[]string{"prove", filepath.Join("testdata", "jobs", "drover.txtar"), "-out", filepath.Join(file, "p.json")}, 1, "p.json"},
	} {
		code, out, notes := called(tt.args...)
		if code != tt.code || !strings.Contains(notes, tt.says) || strings.Contains(out, "holds") {
			t.Errorf("%v: exit %d, want %d: %s%s", tt.args, code, tt.code, out, notes)
		}
	}
}
