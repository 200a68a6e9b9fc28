package job_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/plan"
	"lugworth/core/record"
)

// A history is a job that grows record by record, as at the bench, derived
// anew at each.
type history struct {
	t     *testing.T
	rng   *rand.Rand
	log   *record.Log
	state record.State
	files []job.File
	job   *job.Job
	books *job.Books
	last  *job.Result
	made  []string // ids that may be undone
	n     int
}

func newHistory(t *testing.T, name string, seed uint64) *history {
	t.Helper()
	data, err := os.ReadFile(jobs + name + ".txtar")
	if err != nil {
		t.Fatal(err)
	}
	c, err := job.OpenCase(name, data, nil)
	if err != nil {
		t.Fatal(err)
	}
	salts := make([]string, len(c.File.Records))
	for i := range salts {
		salts[i] = fmt.Sprintf("%032x", i)
	}
	f, err := record.Adopt(c.File, "bench", "2026-01-05T10:00:00Z", salts)
	if err != nil {
		t.Fatal(err)
	}
	h := &history{t: t, rng: rand.New(rand.NewPCG(seed, 5)), log: record.NewLog(f), state: record.Fold(f.Records, job.FoldKinds...), files: c.Books}
	h.job = job.Fold(h.state, true)
	h.books = job.OpenBooks(nil, h.files).WithCopies(h.job.Copies)
	h.last = job.Derive(h.job, h.books, "2026-01-05")
	return h
}

// put adds one record and derives again, going on from the last Result.
func (h *history) put(kind string, body map[string]any) {
	h.t.Helper()
	h.n++
	meta := record.Meta{ID: fmt.Sprintf("x%d", h.n), At: "2026-01-05T11:00:00Z", Device: "bench", Salt: fmt.Sprintf("%032x", 1000+h.n)}
	var r record.Record
	var err error
	if kind == record.Undo {
		if len(h.made) == 0 {
			return
		}
		r, err = h.log.Undo(h.made[h.rng.IntN(len(h.made))], meta)
	} else {
		r, err = h.log.Append(kind, body, meta)
	}
	if err != nil {
		h.t.Fatalf("%s %v: %v", kind, body, err)
	}
	h.made = append(h.made, r.ID)
	h.state.Add(r)
	copies := len(h.job.Copies)
	h.job = h.job.After(h.state, kind)
	if copies != len(h.job.Copies) {
		h.books = h.books.WithCopies(h.job.Copies)
	}
	h.last = job.Again(h.last, h.job, h.books, "2026-01-05")
}

// check holds the last Result against one derived from the start.
func (h *history) check(after string) {
	h.t.Helper()
	j := job.Fold(record.Fold(h.log.File().Records, job.FoldKinds...), true)
	want := job.Derive(j, job.OpenBooks(nil, h.files).WithCopies(j.Copies), "2026-01-05")
	got, exp := whole(h.t, h.last), whole(h.t, want)
	if got != exp {
		g, w := strings.Split(got, "\n"), strings.Split(exp, "\n")
		for i := range max(len(g), len(w)) {
			if at(g, i) != at(w, i) {
				h.t.Fatalf("after %s, line %d:\n got %s\nwant %s", after, i, at(g, i), at(w, i))
			}
		}
	}
}

// whole writes everything a Result says.
func whole(t *testing.T, r *job.Result) string {
	t.Helper()
	data, err := r.JSON()
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	b.Write(data)
	b.WriteString(r.VerdictText() + r.QuoteText())
	for _, o := range r.Options {
		fmt.Fprintf(&b, "%s %v %q %q %v %v %v\n", o.Option.ID, o.Accepted, o.Refused, o.Problems, len(o.Apart.Least), o.Apart.Offered(), o.Beside.Says())
		for _, ls := range [][]string{lineWords(o.Alone), lineWords(o.Lines)} {
			b.WriteString(strings.Join(ls, "\n") + "\n")
		}
	}
	d, err := r.Deltas()
	fmt.Fprintf(&b, "%+v %v\n", d, err)
	orders, notes, err := r.OrderFiles()
	fmt.Fprintf(&b, "%s %v %v\n", orders, notes, err)
	fmt.Fprintf(&b, "%+v\n%+v\n%+v\n", r.Policy, r.Closed, r.Dates)
	return b.String()
}

func lineWords(lines []plan.Line) []string {
	var out []string
	for _, l := range lines {
		w := fmt.Sprint(l.Option, l.Part, l.Qty, l.Problem, l.NeedsReason)
		if l.Chosen != nil {
			w += fmt.Sprint(l.Chosen.Offer.Number, l.Chosen.Kind, l.Chosen.Cost)
			for _, j := range l.Chosen.Rows {
				w += " | " + j.Subject + " " + j.Reason()
			}
		}
		out = append(out, w)
	}
	return out
}

// draw is one thing somebody might do: mostly a yes or no.
func (h *history) draw() (kind string, body map[string]any) {
	j, pick := h.job, func(n int) int { return h.rng.IntN(max(n, 1)) }
	text := func(f string, v ...any) string { return fmt.Sprintf(f, v...) }
	switch k := h.rng.IntN(24); {
	case k < 10 && len(j.Sets) > 0 && len(j.Options) > 0:
		s := j.Sets[pick(len(j.Sets))]
		o := j.Options[pick(len(j.Options))].ID
		accept := slices.Clone(s.Accept)
		if i := slices.Index(accept, o); i >= 0 {
			accept = slices.Delete(accept, i, i+1)
		} else {
			accept = append(accept, o)
		}
		return job.KindSet, map[string]any{"name": s.Name, "accept": accept}
	case k < 12 && len(j.Sets) > 0:
		return job.KindPick, map[string]any{"name": j.Sets[pick(len(j.Sets))].Name}
	case k == 12 && len(j.Options) > 0:
		return job.KindReason, map[string]any{"id": j.Options[pick(len(j.Options))].ID, "say": []string{"", "the owner asked", "it runs cooler"}[pick(3)]}
	case k == 13 && len(h.last.Options) > 0:
		return h.copied(h.last.Options[pick(len(h.last.Options))])
	case k == 14:
		return job.KindMains, map[string]any{"high": text("%d", 120+pick(10))}
	case k == 15:
		return job.KindBounds, map[string]any{"ceiling": []string{"300.00", "700.00", "soon"}[pick(3)]}
	case k == 16 && len(j.Amp.Readings) > 0:
		r := j.Amp.Readings[pick(len(j.Amp.Readings))]
		return job.KindReading, map[string]any{"id": text("again%d", h.n), "at": r.At, "quantity": r.Quantity, "value": text("%.1f", r.Amount*(0.9+0.2*h.rng.Float64())), "mains": "117.0", "state": "powered", "meter_percent": "1"}
	case k == 17:
		return job.KindFinding, map[string]any{"id": text("N%d", pick(3)), "place": "board", "seen": "worn", "basis": "observed", "pile": "should", "value": text("%d", pick(9))}
	case k == 18 && len(j.Options) > 0:
		o := j.Options[pick(len(j.Options))]
		return job.KindOption, map[string]any{"id": o.ID, "high": text("%d.5", 2+pick(3))}
	case k == 19 && len(j.Amp.Positions) > 0:
		p := j.Amp.Positions[pick(len(j.Amp.Positions))]
		return job.KindPosition, map[string]any{"id": p.Ref, "ref": p.Ref, "rating": []string{"25V", "450V", "2W"}[pick(3)]}
	case k == 20 && len(j.Options) > 0:
		return job.KindTrial, map[string]any{"id": text("try%d", pick(3)), "option": j.Options[pick(len(j.Options))].ID, "text": []string{"22uF 450V", "0.022uF 630V film", "82R 10W"}[pick(3)]}
	case k == 21:
		return "weather", map[string]any{"id": "w", "say": "rain"}
	case k == 22:
		return job.KindAmp, map[string]any{"alike": pick(2) == 0}
	}
	return record.Undo, nil
}

// copied is the row of an offer, as the page carries it with a job.
func (h *history) copied(o job.OptionResult) (string, map[string]any) {
	for _, l := range o.Lines {
		if l.Chosen == nil {
			continue
		}
		c, err := h.books.CopyOf(l.Chosen.Offer)
		if err != nil {
			continue
		}
		return job.KindOffer, map[string]any{"id": c.ID, "list": c.List, "file": c.File, "line": c.Line, "columns": c.Columns, "cells": c.Cells, "mapping": c.Mapping}
	}
	return job.KindPick, map[string]any{"name": h.job.Pick}
}

// Whatever is recorded in whatever order, a Result that goes on from the one
// before is the one derived from the start.
func TestAgainIsDerive(t *testing.T) {
	histories, steps, least := 6, 36, 10
	if runtime.GOARCH == "wasm" {
		histories, steps, least = 2, 24, 8
	}
	kinds, went := map[string]int{}, 0
	for i := range histories {
		h := newHistory(t, wholeJobs[i%len(wholeJobs)], uint64(i))
		for range steps {
			kind, body := h.draw()
			was := h.last
			h.put(kind, body)
			kinds[kind]++
			if h.last.Shares(was) {
				went++
			}
			h.check(fmt.Sprint("history ", i, ": ", kind, " ", body))
		}
	}
	if len(kinds) < least || went < histories*steps/4 {
		t.Errorf("records %v, %d went on from the one before: too tame", kinds, went)
	}
}

// What a Result said stays said when another goes on from it.
func TestAgainLeavesTheOneBefore(t *testing.T) {
	h := newHistory(t, "drover", 1)
	was := h.last
	before := whole(t, was)
	for _, s := range h.job.Sets {
		h.put(job.KindPick, map[string]any{"name": s.Name})
		if !h.last.Shares(was) {
			t.Fatal("a pick lays another ground")
		}
	}
	if after := whole(t, was); after != before {
		t.Error("the first Result says something else now")
	}
}

// A recorded reason, a fact, or a row that stands in for a list lays another
// ground.
func TestAgainFromOtherFacts(t *testing.T) {
	j, b := opened(t, "drover")
	r := job.Derive(j, b, "")
	if !job.Again(r, j, b, "").Shares(r) {
		t.Error("the same facts lay another ground")
	}
	if job.Again(nil, j, b, "") == nil || job.Again(r, j, job.OpenBooks(nil, nil), "").Shares(r) {
		t.Error("other books share a ground")
	}
	j.Add(nil, nil)
	reasons := *j
	reasons.Reasons = map[string]string{"T1": "so"}
	for name, other := range map[string]*job.Job{"added readings": j, "a reason": &reasons, "a job made by hand": {}} {
		if job.Again(r, other, b, "").Shares(r) {
			t.Errorf("%s: the ground is shared", name)
		}
	}
	if whole(t, job.Again(r, &reasons, b, "")) != whole(t, job.Derive(&reasons, b, "")) {
		t.Error("with another reason: another result")
	}
}
