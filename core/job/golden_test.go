package job_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"lugworth/catalogs"
	"lugworth/core/amp"
	"lugworth/core/job"
	"lugworth/core/tube"
)

var update = flag.Bool("update", false, "rewrite the wanted files of the whole jobs; read the diff")

const jobs = "../../testdata/jobs/"

// opened returns the facts and the books of a whole job.
func opened(t testing.TB, name string) (*job.Job, *job.Books) {
	t.Helper()
	path := jobs + name + ".txtar"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	c, err := job.OpenCase(path, data, nil)
	if err != nil {
		t.Fatal(err)
	}
	builtin, problems := tube.ReadCards("cards.csv", catalogs.Cards)
	if len(problems) > 0 {
		t.Fatal(problems[0])
	}
	return c.Open(builtin)
}

func derived(t testing.TB, name string) *job.Result {
	t.Helper()
	j, b := opened(t, name)
	return job.Derive(j, b, "2026-01-05")
}

// Whole jobs: what comes out stands in the archive beside what goes in.
func TestWholeJobs(t *testing.T) {
	paths, err := filepath.Glob(jobs + "*.txtar")
	if err != nil || len(paths) < 2 {
		t.Fatalf("%d whole jobs found, want 2 or more: %v", len(paths), err)
	}
	for _, path := range paths {
		name := strings.TrimSuffix(filepath.Base(path), ".txtar")
		t.Run(name, func(t *testing.T) {
			r := derived(t, name)
			if len(r.Problems) > 0 {
				t.Errorf("problems: %v", r.Problems)
			}
			a, err := txtar.ParseFile(path)
			if err != nil {
				t.Fatal(err)
			}
			got := outputs(t, r)
			if *update {
				rewrite(t, path, a, got)
				return
			}
			compare(t, a, got)
		})
	}
}

// outputs are the wanted files of a job, carriage returns written ^M.
func outputs(t *testing.T, r *job.Result) []txtar.File {
	t.Helper()
	out := []txtar.File{{Name: "want/verdicts.txt", Data: []byte(r.VerdictText())}, {Name: "want/quote.txt", Data: []byte(r.QuoteText())}}
	if text := r.CircuitText(); text != "" {
		out = append(out, txtar.File{Name: "want/circuit.txt", Data: []byte(text + withoutScreens(r))})
	}
	orders, warnings, err := r.OrderFiles()
	if err != nil || len(warnings) > 0 {
		t.Errorf("order files: %v %v", err, warnings)
	}
	for _, f := range orders {
		out = append(out, txtar.File{Name: "want/" + f.Name, Data: bytes.ReplaceAll(f.Data, []byte("\r\n"), []byte("^M\n"))})
	}
	return out
}

// withoutScreens is how wide the figures by the circuit become where nobody
// reads the screen currents.
func withoutScreens(r *job.Result) string {
	j := *r.Job
	j.Amp.Readings = slices.DeleteFunc(slices.Clone(j.Amp.Readings), func(x amp.Reading) bool {
		return x.Quantity == amp.Current && strings.HasSuffix(x.At, ":screen")
	})
	bare := job.Derive(&j, r.Books, r.Now)
	return "\n\nwithout the screen currents:\n" + bare.BandText()
}

func rewrite(t *testing.T, path string, a *txtar.Archive, got []txtar.File) {
	t.Helper()
	a.Files = slices.DeleteFunc(a.Files, func(f txtar.File) bool { return strings.HasPrefix(f.Name, "want/") })
	a.Files = append(a.Files, got...)
	if err := os.WriteFile(path, txtar.Format(a), 0o666); err != nil {
		t.Fatal(err)
	}
}

func compare(t *testing.T, a *txtar.Archive, got []txtar.File) {
	t.Helper()
	want := map[string]string{}
	for _, f := range a.Files {
		if strings.HasPrefix(f.Name, "want/") {
			want[f.Name] = string(f.Data)
		}
	}
	for _, f := range got {
		w, ok := want[f.Name]
		if !ok {
			t.Errorf("%s is made and not wanted", f.Name)
			continue
		}
		delete(want, f.Name)
		differ(t, f.Name, string(f.Data), w)
	}
	for name := range want {
		t.Errorf("%s is wanted and not made", name)
	}
}

// differ prints the first lines that differ.
func differ(t *testing.T, name, got, want string) {
	t.Helper()
	if got == want {
		return
	}
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	shown := 0
	for i := 0; i < max(len(g), len(w)) && shown < 5; i++ {
		a, b := at(g, i), at(w, i)
		if a != b {
			t.Errorf("%s:%d:\n got %s\nwant %s", name, i+1, a, b)
			shown++
		}
	}
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return "(no line)"
}
