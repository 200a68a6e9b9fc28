package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"
)

// cli runs the command line and returns its exit code and both outputs.
func cli(args ...string) (code int, out, notes string) {
	var o, n bytes.Buffer
	code = run(args, &o, &n)
	return code, o.String(), n.String()
}

// worked runs the work verb and returns the files it wrote.
func worked(t *testing.T, args ...string) map[string][]byte {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "made", "here")
	code, out, notes := cli(append(args, "-out", dir)...)
	if code != 0 || out != "" || notes != "" {
		t.Fatalf("%q: exit %d, said %q %q", args, code, out, notes)
	}
	return files(t, dir)
}

func files(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	all := map[string][]byte{}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		all[e.Name()] = data
	}
	return all
}

// The work verb writes the documented files, the same on every run, and the
// same from one archive as from a job file and a folder.
func TestWork(t *testing.T) {
	tests := []struct {
		job    string
		orders []string
		total  string // of the set in force, from the scenario
	}{
		{"drover", []string{"order-K.csv"}, "836.26"},
		{"tern", []string{"order-E.csv", "order-U.csv"}, "432.37"},
	}
	for _, tt := range tests {
		t.Run(tt.job, func(t *testing.T) {
			archive := "testdata/jobs/" + tt.job + ".txtar"
			once := worked(t, "work", archive)
			want := append([]string{"estimate.html", "result.json", "verdicts.csv"}, tt.orders...)
			slices.Sort(want)
			if got := keysOf(once); !slices.Equal(got, want) {
				t.Errorf("wrote %q, want %q", got, want)
			}
			sameFiles(t, "a second run", once, worked(t, "work", archive))
			job, dir := unpacked(t, archive)
			sameFiles(t, "a job file and a folder", once, worked(t, "work", "-lists", dir, job))
			sameFiles(t, "flags behind the file", once, worked(t, "work", job, "-lists="+dir))
			resultFields(t, once["result.json"], tt.total)
			verdictRows(t, once["verdicts.csv"])
			if page := string(once["estimate.html"]); !strings.Contains(page, tt.total) || strings.Contains(page, "src=\"http") {
				t.Errorf("the estimate does not stand alone with %s", tt.total)
			}
		})
	}
}

func keysOf(m map[string][]byte) []string {
	var ks []string
	for k := range m {
		ks = append(ks, k)
	}
	slices.Sort(ks)
	return ks
}

// sameFiles compares two runs byte for byte. The estimate bears the day.
func sameFiles(t *testing.T, what string, a, b map[string][]byte) {
	t.Helper()
	if !slices.Equal(keysOf(a), keysOf(b)) {
		t.Errorf("%s wrote %q, not %q", what, keysOf(b), keysOf(a))
	}
	for name := range a {
		if name != "estimate.html" && !bytes.Equal(a[name], b[name]) && !sameButPlace(name, a[name], b[name]) {
			t.Errorf("%s: %s differs", what, name)
		}
	}
}

// sameButPlace allows what names the file a row stands in: "lists/K.csv" in
// an archive, "K.csv" in a folder.
func sameButPlace(name string, a, b []byte) bool {
	return !strings.HasPrefix(name, "order-") && bytes.Equal(bytes.ReplaceAll(a, []byte("lists/"), nil), b)
}

// unpacked writes an archive as a job file and a folder of the shop's files.
func unpacked(t *testing.T, archive string) (job, dir string) {
	t.Helper()
	a, err := txtar.ParseFile(archive)
	if err != nil {
		t.Fatal(err)
	}
	dir = t.TempDir()
	for _, f := range a.Files {
		if strings.HasPrefix(f.Name, "want/") {
			continue
		}
		path := filepath.Join(dir, filepath.FromSlash(f.Name))
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, f.Data, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(dir, "job.json"), dir
}

// documented are the fields of result.json that never change their meaning.
var documented = map[string][]string{
	"sets": {"name", "accept", "hours", "spread_independent", "spread_linked", "labor", "parts", "other", "fee", "tax", "total",
		"with_allowance", "ready_days", "fits_ceiling", "fits_date"},
	"verdicts": {"set", "option", "part", "subject", "quantity", "scenario", "mains", "low", "high", "worst", "limit", "unit", "system",
		"margin_percent", "kind", "tier", "reason"},
	"stresses": {"set", "subject", "quantity", "scenario", "mains", "low", "expected", "high", "unit", "tier"},
	"orders":   {"supplier", "lines", "goods", "carriage", "total"},
}

var kinds = []string{"not-enough-data", "not-proven", "over-worsened", "over-inherited", "below-reserve", "within"}

func resultFields(t *testing.T, data []byte, total string) {
	t.Helper()
	var r map[string]any
	if err := json.Unmarshal(data, &r); err != nil {
		t.Fatalf("result.json: %v", err)
	}
	for section, fields := range documented {
		rows, _ := r[section].([]any)
		if len(rows) == 0 {
			t.Errorf("result.json has no %s", section)
		}
		for _, row := range rows {
			hasFields(t, section, row, fields)
		}
	}
	hasFields(t, "best", r["best"], []string{"accept", "total", "value", "runner_up", "say"})
	hasFields(t, "ordering", r["ordering"], []string{"currency", "feasible", "reason", "cost", "lower", "proven", "parcels", "lead_days", "planned", "swaps", "top_ups", "assumed"})
	for _, o := range r["orders"].([]any) {
		for _, l := range o.(map[string]any)["lines"].([]any) {
			hasFields(t, "lines", l, []string{"part", "packs", "pieces", "pack_price", "amount"})
		}
	}
	for _, s := range r["sets"].([]any) {
		if s := s.(map[string]any); s["name"] == r["pick"] && s["total"] != total {
			t.Errorf("set %v comes to %v, want %s", s["name"], s["total"], total)
		}
	}
}

func hasFields(t *testing.T, section string, row any, fields []string) {
	t.Helper()
	m, _ := row.(map[string]any)
	for _, f := range fields {
		if _, ok := m[f]; !ok {
			t.Errorf("%s without %s: %v", section, f, row)
		}
	}
	if k, ok := m["kind"]; ok && !slices.Contains(kinds, k.(string)) {
		t.Errorf("%s of kind %v", section, k)
	}
}

func verdictRows(t *testing.T, data []byte) {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("verdicts.csv: %d rows, %v", len(rows), err)
	}
	kind := slices.Index(rows[0], "kind")
	for _, r := range rows[1:] {
		if !slices.Contains(kinds, r[kind]) {
			t.Errorf("verdicts.csv: kind %q", r[kind])
		}
	}
}

// Wrong use of the command line is exit 2 with help, bad input exit 1 with
// the place; neither writes a file.
func TestWorkRefuses(t *testing.T) {
	broken := filepath.Join(t.TempDir(), "broken.job.json")
	if err := os.WriteFile(broken, []byte(`{"format":1,"records":[`), 0o666); err != nil {
		t.Fatal(err)
	}
	const drover = "testdata/jobs/drover.txtar"
	tests := []struct {
		args []string
		code int
		want string
	}{
		{[]string{"work"}, 2, "work: give one job file and -out DIR"},
		{[]string{"work", drover}, 2, "work: give one job file and -out DIR"},
		{[]string{"work", drover, drover, "-out", "OUT"}, 2, "work: give one job file and -out DIR"},
		{[]string{"work", drover, "-out"}, 2, "-out wants a value"},
		{[]string{"work", drover, "-to", "OUT"}, 2, `there is no flag "-to"`},
		{[]string{"work", "no-such.txtar", "-out", "OUT"}, 1, "no-such.txtar"},
		{[]string{"work", drover, "-lists", "no-such", "-out", "OUT"}, 1, "-lists no-such: not a folder that can be read"},
		{[]string{"work", broken, "-out", "OUT"}, 1, "broken.job.json: line 1, column 24 (records): the text breaks off here"},
		{[]string{"verify"}, 2, "verify: give one job or shop file"},
		{[]string{"verify", "a", "b"}, 2, "verify: give one job or shop file"},
		{[]string{"verify", "-x"}, 2, "verify: give one job or shop file"},
		{[]string{"verify", "no-such.job.json"}, 1, "no-such.job.json"},
		{[]string{"verify", broken}, 1, "broken.job.json: line 1, column 24"},
	}
	for _, tt := range tests {
		dir := filepath.Join(t.TempDir(), "out")
		args := slices.Clone(tt.args)
		if i := slices.Index(args, "OUT"); i >= 0 {
			args[i] = dir
		}
		code, out, notes := cli(args...)
		if code != tt.code || !strings.Contains(notes, tt.want) || out != "" {
			t.Errorf("%q: exit %d, said %q %q; want exit %d and %q", tt.args, code, out, notes, tt.code, tt.want)
		}
		if help := strings.Contains(notes, "go run . work"); help != (tt.code == 2) {
			t.Errorf("%q: exit %d, help shown: %v", tt.args, code, help)
		}
		if _, err := os.Stat(dir); err == nil {
			t.Errorf("%q left files behind", tt.args)
		}
	}
}
