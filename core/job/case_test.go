package job_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"lugworth/core/job"
	"lugworth/core/tube"
)

func TestOpenCase(t *testing.T) {
	tests := []struct {
		name, data, err string
	}{
		{"no archive, no JSON", "just words", "neither a job file (JSON) nor a text archive"},
		{"archive without a job", "-- shop.csv --\nkey,value,source\n", "the archive holds no job.json"},
		{"a job that is no job", "-- job.json --\n{\"format\":7}\n", "job.json: "},
		{"broken JSON", "{\"format\":1", "x: "},
		{"a job alone", `{"format":1,"records":[{"kind":"job","body":{"number":"N-1"}}]}`, ""},
		{"with a byte-order mark", "\xEF\xBB\xBF" + `{"format":1,"records":[{"kind":"job","body":{"number":"N-1"}}]}`, ""},
	}
	for _, tt := range tests {
		c, err := job.OpenCase("x", []byte(tt.data), nil)
		if (err == nil) != (tt.err == "") || err != nil && !strings.Contains(err.Error(), tt.err) {
			t.Errorf("%s: %v, want %q", tt.name, err, tt.err)
			continue
		}
		if err == nil {
			if j, _ := c.Open(nil); j.Number != "N-1" || j.Chain {
				t.Errorf("%s: number %q, chain %v", tt.name, j.Number, j.Chain)
			}
		}
	}
}

func TestListName(t *testing.T) {
	for file, want := range map[string]string{
		"lists/K.csv": "K", "U.csv": "U", "a/b/Dealer one.CSV": "Dealer one",
		"shop.csv": "", "lists/cards.csv": "", "terms.csv": "", "tasks.csv": "", "sheet.csv": "", "readings.csv": "", "notes.txt": "",
	} {
		if got, ok := job.ListName(file); got != want || ok != (want != "") {
			t.Errorf("ListName(%q) = %q %v, want %q", file, got, ok, want)
		}
	}
}

// A file brought later takes the place of one of the same name; carriage
// returns are written ^M in an archive.
func TestCaseFiles(t *testing.T) {
	archive := "-- job.json --\n{\"format\":1,\"records\":[]}\n-- shop.csv --\nkey,value,source^M\nname,First,x^M\ncurrency,USD,x^M\n"
	later := []job.File{{Name: "shop.csv", Data: []byte("key,value,source\nname,Second,x\ncurrency,USD,x\n")}}
	for want, more := range map[string][]job.File{"First": nil, "Second": later} {
		c, err := job.OpenCase("x", []byte(archive), more)
		if err != nil {
			t.Fatal(err)
		}
		if _, b := c.Open(nil); b.Sheet.Name != want {
			t.Errorf("the shop is %q, want %q", b.Sheet.Name, want)
		}
	}
}

// A job that carries the rows it uses opens and derives without its lists:
// same bills, same orders, same verdicts on what the plan takes.
func TestJobOpensWithoutItsLists(t *testing.T) {
	for _, name := range wholeJobs {
		j, b := opened(t, name)
		want := job.Derive(j, b, "")
		for _, o := range want.Options {
			for _, l := range o.Lines {
				if l.Chosen == nil {
					continue
				}
				c, err := b.CopyOf(l.Chosen.Offer)
				if err != nil {
					t.Fatal(err)
				}
				if !slices.ContainsFunc(j.Copies, func(have job.Copy) bool { return have.ID == c.ID }) {
					j.Copies = append(j.Copies, c)
				}
			}
		}
		bare := withoutLists(t, name).WithCopies(j.Copies)
		if len(bare.Lists) != 0 {
			t.Fatalf("%s: %d lists left", name, len(bare.Lists))
		}
		got := job.Derive(j, bare, "")
		for i, s := range got.Sets {
			if w := want.Sets[i]; s.Err != "" || s.Bill.Totals != w.Bill.Totals || s.ReadyDays != w.ReadyDays {
				t.Errorf("%s, %s: %d %q, want %d", name, s.Name, s.Bill.Total, s.Err, w.Bill.Total)
			}
			for k, l := range s.Lines {
				if l.Chosen == nil || l.Chosen.Kind != want.Sets[i].Lines[k].Chosen.Kind {
					t.Errorf("%s, %s, %s: another verdict without the lists", name, s.Name, l.Option)
				}
			}
		}
		files, _, err := got.OrderFiles()
		if err != nil {
			t.Fatal(err)
		}
		same, _, _ := want.OrderFiles()
		for i := range same {
			if i >= len(files) || string(files[i].Data) != string(same[i].Data) {
				t.Errorf("%s: %s differs without the lists", name, same[i].Name)
			}
		}
	}
}

// withoutLists opens the books of a whole job, its price lists left out.
func withoutLists(t *testing.T, name string) *job.Books {
	t.Helper()
	a, err := txtar.ParseFile(jobs + name + ".txtar")
	if err != nil {
		t.Fatal(err)
	}
	var files []job.File
	for _, f := range a.Files {
		if slices.Contains([]string{"shop.csv", "cards.csv", "terms.csv"}, f.Name) {
			files = append(files, job.File{Name: f.Name, Data: f.Data})
		}
	}
	return job.OpenBooks([]tube.Card{}, files)
}

// The least value printed keeps the verdict: three figures, rounded up.
func TestLeastOhmsUp(t *testing.T) {
	for ohms, want := range map[float64]float64{275.97: 276, 276: 276, 78.67: 78.7, 100.01: 101, 1234: 1240, 9.991: 10, 0.4701: 0.471} {
		if got := (job.LeastOhms{Ohms: ohms}).Up(); math.Abs(got-want) > 1e-9*want {
			t.Errorf("%g rounds up to %g, want %g", ohms, got, want)
		}
	}
}

// A choice that cannot be priced says so, and costs no other choice its
// price.
func TestChoicesThatCannotBePriced(t *testing.T) {
	tests := []struct {
		name  string
		spoil func(*job.Job)
		err   string
	}{
		{"an option the job has not", func(j *job.Job) { j.Sets[0].Accept = []string{"T99"} }, `no option "T99"`},
		{"two that exclude each other", func(j *job.Job) { j.Sets[0].Accept = []string{"T2a", "T2b"} }, "exclude each other"},
		{"an offer in no list", func(j *job.Job) {
			for i := range j.Options {
				if j.Options[i].ID == "T1" {
					j.Options[i].Parts[0].Number = "K-9999"
				}
			}
			j.Sets[1].Accept, j.Sets[2].Accept = nil, nil
		}, "offer K K-9999 is "},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			j, b := opened(t, "drover")
			tt.spoil(j)
			r := job.Derive(j, b, "")
			if !strings.Contains(r.Sets[0].Err, tt.err) || r.Sets[0].Bill.Total != 0 {
				t.Errorf("%q, total %d: want %q and no total", r.Sets[0].Err, r.Sets[0].Bill.Total, tt.err)
			}
			if r.Sets[1].Err != "" {
				t.Errorf("another set: %s", r.Sets[1].Err)
			}
		})
	}
}

// A part below the shop's reserve is put to the owner and not ordered until
// its reason is on record.
func TestBelowReserveIsHeld(t *testing.T) {
	j, b := opened(t, "drover")
	for i := range j.Options {
		if j.Options[i].ID == "T2b" {
			j.Options[i].Parts[0].List, j.Options[i].Parts[0].Number = "R", "R-2201"
		}
	}
	held := job.Derive(j, b, "").Buy.Held
	if len(held) != 1 || held[0].Need.Number != "R-2201" || !strings.Contains(held[0].Reason, "reserve") {
		t.Errorf("held %+v, want the 450 V axial for its reserve", held)
	}
	j.Reasons["T2b"] = "short of 500 V parts; the owner's supply never passes 124 V"
	if held := job.Derive(j, b, "").Buy.Held; len(held) != 0 {
		t.Errorf("held %+v with a recorded reason", held)
	}
}

// A part over its own rating cannot be ordered, reason or none.
func TestOverItsRatingIsHeld(t *testing.T) {
	j, b := opened(t, "drover")
	j.Reasons["T3/film"] = "cheap"
	for i := range j.Options {
		if j.Options[i].ID == "T3/film" {
			j.Options[i].Parts[0].List, j.Options[i].Parts[0].Number = "R", "R-2302"
		}
	}
	held := job.Derive(j, b, "").Buy.Held
	if len(held) != 1 || held[0].Need.Number != "R-2302" {
		t.Errorf("held %+v, want the 400 V film", held)
	}
}
