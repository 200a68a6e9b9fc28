package job_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"lugworth/catalogs"
	"lugworth/core/job"
	"lugworth/core/rating"
	"lugworth/core/tube"
)

// FuzzOpenCase opens whatever it is given and works it to the end: nothing
// panics, no list loses a row, every record is written back, no price stands
// beside an error, and nothing without a figure or a limit reads as good.
func FuzzOpenCase(f *testing.F) {
	for _, pattern := range []string{jobs + "*.txtar", "../../testdata/bad/*.txtar", "../../testdata/saved/v1/*.json"} {
		paths, err := filepath.Glob(pattern)
		if err != nil || len(paths) == 0 {
			f.Fatalf("no seeds at %s: %v", pattern, err)
		}
		for _, p := range paths {
			data, err := os.ReadFile(p)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(seed(data))
		}
	}
	f.Add([]byte(`{"format":1,"records":[{"kind":"option","body":{"id":"T1","parts":[{"for":["C1"]}]}}]}`))
	builtin, problems := tube.ReadCards("cards.csv", catalogs.Cards)
	if len(problems) > 0 {
		f.Fatal(problems[0])
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := job.OpenCase("fuzz", data, nil)
		if err != nil {
			if strings.TrimSpace(err.Error()) == "" {
				t.Error("an error without words")
			}
			return
		}
		work(t, c, builtin)
	})
}

// cells finds the texts of a job file and the cells of a table.
var cells = map[bool]*regexp.Regexp{true: regexp.MustCompile(`"[^"\n]*"`), false: regexp.MustCompile(`[^,;\n]+`)}

// FuzzOneCell puts any text in place of any cell of a job that is right, and
// works it to the end. Mutated bytes seldom stay a job; a cell does.
func FuzzOneCell(f *testing.F) {
	base, err := txtar.ParseFile("../../testdata/bad/base.txtar")
	if err != nil {
		f.Fatal(err)
	}
	for i, text := range []string{"", "0", "-1", "NaN", "1e309", "9223372036854775807", "T1", "C1", "V3", "=1+1", "0.000001", "100M"} {
		f.Add(uint16(i*37), text)
	}
	f.Fuzz(func(t *testing.T, at uint16, text string) {
		a := txtar.Archive{Files: slices.Clone(base.Files)}
		if !putCell(&a, int(at), text) {
			t.Skip()
		}
		c, err := job.OpenCase("fuzz", txtar.Format(&a), nil)
		if err == nil {
			work(t, c, nil)
		}
	})
}

// putCell replaces the n-th cell of the archive.
func putCell(a *txtar.Archive, n int, text string) bool {
	for i, f := range a.Files {
		isJob := f.Name == "job.json"
		found := cells[isJob].FindAllIndex(f.Data, -1)
		if n >= len(found) {
			n -= len(found)
			continue
		}
		if isJob {
			quoted, err := json.Marshal(text)
			if err != nil {
				return false
			}
			text = string(quoted)
		}
		a.Files[i].Data = slices.Concat(f.Data[:found[n][0]], []byte(text), f.Data[found[n][1]:])
		return true
	}
	return false
}

// seed leaves out of an archive what is only wanted, so that the fuzzer works
// on what is read.
func seed(data []byte) []byte {
	a := txtar.Parse(data)
	if len(a.Files) == 0 {
		return data
	}
	var in txtar.Archive
	for _, f := range a.Files {
		if !strings.HasPrefix(f.Name, "want/") {
			in.Files = append(in.Files, f)
		}
	}
	return txtar.Format(&in)
}

func work(t *testing.T, c *job.Case, builtin []tube.Card) {
	j, b := c.Open(builtin)
	r := job.Derive(j, b, "2026-01-05")
	if n := bytes.Count(c.File.Write(), []byte("\n{")); n != len(c.File.Records) {
		t.Errorf("%d records written of %d", n, len(c.File.Records))
	}
	for _, l := range b.Lists {
		if l.Rows != len(l.Offers)+l.RowsAside {
			t.Errorf("list %s: %d rows, %d read, %d set aside", l.Name, l.Rows, len(l.Offers), l.RowsAside)
		}
	}
	for _, p := range r.Problems {
		if strings.TrimSpace(p.Error()) == "" {
			t.Error("a problem without words")
		}
	}
	for _, row := range r.Rows() {
		if row.Kind == rating.Within && (!row.HasFigure || !row.HasLimit) {
			t.Errorf("%s %s reads within without a figure or a limit", row.Subject, row.Quantity)
		}
	}
	for _, s := range r.Sets {
		if s.Err != "" && s.Bill.Total != 0 || s.Bill.Total < 0 {
			t.Errorf("set %s comes to %d beside %q", s.Name, s.Bill.Total, s.Err)
		}
	}
	if _, err := r.JSON(); err != nil {
		t.Errorf("result: %v", err)
	}
	outsides(r)
}

// outsides writes everything else that can be asked of a result.
func outsides(r *job.Result) {
	r.EstimateHTML()
	r.OrderFiles()
	r.VerdictText()
	r.QuoteText()
	r.Spend()
	r.Deltas()
	for _, o := range r.Options {
		r.LaborOf(o.Option.ID)
	}
	for _, row := range r.Rows() {
		row.Why()
	}
	for _, f := range r.Job.Frozen {
		r.FrozenEstimate(f)
		r.Drift(f)
	}
}
