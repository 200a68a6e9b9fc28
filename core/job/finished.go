package job

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"lugworth/core/catalog"
)

// A Finished is one option of the job that was done, as past.csv takes it.
type Finished struct {
	Option, Class     string
	Estimated, Actual string // hours
	Changed           bool   // its scope changed: no row of past.csv
	Problem           string // why its hours cannot be read
}

// Finished lists what was done of this job, in the order of its options.
func (r *Result) Finished() []Finished {
	var out []Finished
	seen := map[string]bool{} // a task two options share is done once
	for i := range r.Job.Options {
		o := &r.Job.Options[i]
		d, ok := r.Job.finished(o.ID)
		if !ok || seen[o.Task] {
			continue
		}
		seen[o.Task] = true
		t := r.labor.tasks[o.ID].Three
		f := Finished{Option: o.ID, Class: r.classOf(o), Actual: d.Hours, Changed: d.Scope == ScopeChanged,
			Estimated: strconv.FormatFloat(float64(t.Expected()), 'f', 3, 64)}
		if _, err := readHours(d.Hours); err != nil {
			f.Problem = err.Error()
		}
		out = append(out, f)
	}
	return out
}

// finished returns what an option took, where it was done.
func (j *Job) finished(option string) (Done, bool) {
	for _, d := range j.Done {
		if d.ID == option && strings.TrimSpace(d.Hours) != "" {
			return d, true
		}
	}
	return Done{}, false
}

// InPast reports whether the book of finished work holds rows of this job.
func (r *Result) InPast() bool {
	for _, p := range r.Books.Past {
		if p.Job == r.Job.Number {
			return true
		}
	}
	return false
}

// PastWith returns past.csv with the finished work of this job behind its
// rows, and how many rows were added. Rows that stand there stay as they are,
// to the byte.
//
// Errors: the job has no number, its rows are there already, nothing of it
// can be added.
func (r *Result) PastWith(file []byte) ([]byte, int, error) {
	switch {
	case strings.TrimSpace(r.Job.Number) == "":
		return nil, 0, errors.New("the job has no number: past.csv knows jobs by it")
	case r.InPast():
		return nil, 0, fmt.Errorf("past.csv has rows of job %s already", r.Job.Number)
	}
	if len(file) == 0 {
		file = []byte("job,class,estimated,actual,note\n")
	}
	if !utf8.Valid(file) {
		return nil, 0, errors.New("past.csv is not in UTF-8: save it so before rows are added")
	}
	order, comma, err := pastColumns(file)
	if err != nil {
		return nil, 0, err
	}
	out := append([]byte(nil), file...)
	if out[len(out)-1] != '\n' {
		out = append(out, '\n')
	}
	n := 0
	for _, f := range r.Finished() {
		if f.Changed || f.Problem != "" || f.Estimated == "0.000" {
			continue
		}
		cells := map[string]string{"job": r.Job.Number, "class": f.Class, "estimated": f.Estimated, "actual": f.Actual, "note": "option " + f.Option}
		for i, c := range order {
			if i > 0 {
				out = append(out, comma)
			}
			out = append(out, quoted(cells[c])...)
		}
		out = append(out, '\n')
		n++
	}
	if n == 0 {
		return nil, 0, errors.New("no finished work of unchanged scope is recorded: nothing to learn from")
	}
	return sound(file, out, n)
}

// sound holds a changed past.csv against what was meant: so many rows more,
// or fewer, and all others as they were read before. A file with an open quote
// or line ends of its own is left to its owner.
func sound(was, is []byte, more int) ([]byte, int, error) {
	a, err := catalog.ReadTable(PastName, was, "job")
	if err != nil {
		return nil, 0, err
	}
	b, err := catalog.ReadTable(PastName, is, "job")
	if err != nil {
		return nil, 0, err
	}
	if len(b.Rows) != len(a.Rows)+more || len(b.Problems) > len(a.Problems) {
		return nil, 0, errors.New("past.csv has rows that cannot be told apart: mend it before rows are added or taken out")
	}
	return is, max(more, -more), nil
}

// PastWithout returns past.csv without the rows of this job, and how many
// those were. The other rows stay as they are, to the byte.
//
// Errors: there are none, the file cannot be read.
func (r *Result) PastWithout(file []byte) ([]byte, int, error) {
	t, err := catalog.ReadTable(PastName, file, "job", "class", "estimated", "actual")
	if err != nil {
		return nil, 0, err
	}
	at := slices.Index(t.Headings, "job")
	gone, rows := map[int]bool{}, 0
	for _, row := range t.Rows {
		if strings.TrimSpace(row.Cells[at]) == r.Job.Number {
			rows++
			for k := range 1 + strings.Count(strings.Join(row.Cells, ""), "\n") {
				gone[row.Line+k] = true
			}
		}
	}
	if len(gone) == 0 {
		return nil, 0, fmt.Errorf("past.csv has no row of job %s", r.Job.Number)
	}
	var out []byte
	for i, line := range bytes.SplitAfter(file, []byte("\n")) {
		if !gone[i+1] {
			out = append(out, line...)
		}
	}
	return sound(file, out, -rows)
}

// pastColumns are the headings of past.csv in its own order, and what parts
// them.
func pastColumns(file []byte) ([]string, byte, error) {
	t, err := catalog.ReadTable(PastName, file, "job", "class", "estimated", "actual")
	if err != nil {
		return nil, 0, err
	}
	comma := byte(',')
	if t.Delimiter != 0 {
		comma = byte(t.Delimiter)
	}
	return t.Headings, comma, nil
}

func quoted(cell string) string {
	if strings.ContainsAny(cell, "\",;\t|\r\n") {
		return `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
	}
	return cell
}
