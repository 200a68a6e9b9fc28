package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"time"

	"lugworth/catalogs"
	"lugworth/core/job"
	"lugworth/core/order"
	"lugworth/core/record"
	"lugworth/core/tube"
)

func init() {
	add(verb{"work", "JOB [-lists DIR] -out DIR", "derive everything from a job: result.json, verdicts.csv, estimate.html, order-SUPPLIER.csv", work})
	add(verb{"verify", "FILE", "check the record chain of a job or shop file", verify})
}

// work derives a job and writes what came out.
func work(args []string, out, notes io.Writer) error {
	f, err := flags(args, "lists", "out")
	if err != nil {
		return err
	}
	if len(f.rest) != 1 || f.given["out"] == "" {
		return wrongUse{"work: give one job file and -out DIR"}
	}
	r, err := derive(f.rest[0], f.given["lists"])
	if err != nil {
		return err
	}
	for _, p := range r.Problems {
		fmt.Fprintln(notes, p.Error())
	}
	return writeWork(r, f.given["out"], notes)
}

// derive opens a job file or archive with the folder beside it, if any.
func derive(path, lists string) (*job.Result, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	more, err := folder(lists)
	if err != nil {
		return nil, err
	}
	c, err := job.OpenCase(path, data, more)
	if err != nil {
		return nil, err
	}
	builtin, problems := tube.ReadCards("cards.csv", catalogs.Cards)
	if len(problems) > 0 {
		return nil, fmt.Errorf("shipped cards: %w", problems[0])
	}
	j, books := c.Open(builtin)
	return job.Derive(j, books, time.Now().Format("2006-01-02")), nil
}

// folder reads the CSV files of a folder and of its "lists" folder.
func folder(dir string) ([]job.File, error) {
	if dir == "" {
		return nil, nil
	}
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return nil, fmt.Errorf("-lists %s: not a folder that can be read", dir)
	}
	var out []job.File
	for _, pattern := range []string{"*.csv", "lists/*.csv"} {
		names, err := filepath.Glob(filepath.Join(dir, filepath.FromSlash(pattern)))
		if err != nil {
			return nil, err
		}
		sort.Strings(names)
		for _, n := range names {
			if strings.HasPrefix(filepath.Base(n), "order-") || filepath.Base(n) == "verdicts.csv" {
				continue
			}
			data, err := os.ReadFile(n)
			if err != nil {
				return nil, err
			}
			out = append(out, job.File{Name: filepath.Base(n), Data: data})
		}
	}
	return out, nil
}

func writeWork(r *job.Result, dir string, notes io.Writer) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	full := r.Output()
	full.Ordering = r.OutOrdering(ordered(r))
	data, err := full.JSON()
	if err != nil {
		return err
	}
	files := []job.File{{Name: "result.json", Data: data}, {Name: "verdicts.csv", Data: verdicts(r)}}
	page, err := r.EstimateHTML()
	if err != nil {
		fmt.Fprintln(notes, "no estimate: "+err.Error())
	} else {
		files = append(files, job.File{Name: "estimate.html", Data: page})
	}
	orders, warnings, err := r.OrderFiles()
	if err != nil {
		return err
	}
	for _, w := range warnings {
		fmt.Fprintln(notes, w)
	}
	for _, f := range append(files, orders...) {
		if err := os.WriteFile(filepath.Join(dir, f.Name), f.Data, 0o666); err != nil {
			return err
		}
	}
	return nil
}

// orderPatience is how long the order of a job may be worked on; then the best
// one found is given with the bound proven so far.
const orderPatience = 10 * time.Second

// ordered looks for the cheapest order of the choice in force.
func ordered(r *job.Result) order.Answer {
	o, err := r.Ordering()
	if err != nil {
		return order.Answer{Why: err.Error()}
	}
	s, err := o.Search(order.Limits{})
	if err != nil {
		return order.Answer{Why: err.Error()}
	}
	for end := time.Now().Add(orderPatience); !s.Step() && time.Now().Before(end); {
	}
	return s.Answer()
}

// verdicts writes every judgment as a CSV row.
func verdicts(r *job.Result) []byte {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Write([]string{"set", "option", "part", "subject", "quantity", "scenario", "mains", "low", "high", "worst", "limit", "wanted", "unit", "system", "source", "mark", "margin_percent", "kind", "tier", "reason"})
	for _, v := range r.Output().Verdicts {
		w.Write(guarded(v.Set, v.Option, v.Part, v.Subject, v.Quantity, v.Scenario, v.Mains, or(v.Low), or(v.High), or(v.Worst), or(v.Limit), or(v.Wanted), v.Unit, v.System, v.Source, v.Mark, or(v.MarginPercent), v.Kind, fmt.Sprint(v.Tier), v.Reason))
	}
	w.Flush()
	return []byte(b.String())
}

// guarded makes cells harmless in a spreadsheet.
func guarded(cells ...string) []string {
	for i, c := range cells {
		cells[i] = order.Guard(c)
	}
	return cells
}

func or(s *string) string {
	if s == nil {
		return ""
	}
	return *s
}

// verify checks the record chain of a file and names the first broken record.
func verify(args []string, out, notes io.Writer) error {
	if len(args) != 1 || strings.HasPrefix(args[0], "-") {
		return wrongUse{"verify: give one job or shop file"}
	}
	data, err := os.ReadFile(args[0])
	if err != nil {
		return err
	}
	f, err := record.Read(data)
	if err != nil {
		return fmt.Errorf("%s: %w", args[0], err)
	}
	if f.NoChain {
		fmt.Fprintf(out, "%s: %d records, written by hand: no chain to verify\n", args[0], len(f.Records))
		return nil
	}
	report := record.Verify(f)
	if !report.Whole() {
		return fmt.Errorf("%s: %s", args[0], report)
	}
	fmt.Fprintf(out, "%s: %s\ncode %s\n", args[0], report, record.ShortCode(f))
	return nil
}

// given are the flags of a verb, which may stand before or after its files.
type given struct {
	given map[string]string
	rest  []string
}

func flags(args []string, known ...string) (given, error) {
	g := given{given: map[string]string{}}
	for i := 0; i < len(args); i++ {
		a := args[i]
		if !strings.HasPrefix(a, "-") || a == "-" {
			g.rest = append(g.rest, a)
			continue
		}
		name, value, has := strings.Cut(strings.TrimLeft(a, "-"), "=")
		if !contains(known, name) {
			return g, wrongUse{fmt.Sprintf("there is no flag %q", a)}
		}
		if !has {
			i++
			if i == len(args) {
				return g, wrongUse{fmt.Sprintf("%s wants a value", a)}
			}
			value = args[i]
		}
		g.given[name] = value
	}
	return g, nil
}

func contains(list []string, s string) bool {
	for _, l := range list {
		if l == s {
			return true
		}
	}
	return false
}
