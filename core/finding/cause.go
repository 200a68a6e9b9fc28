package finding

import (
	"strings"

	"lugworth/core/unit"
)

// A Closed finding needs no work of its own: By is the accepted finding that
// cures it.
type Closed struct{ Finding, By string }

// Close returns the findings that close because the finding that causes
// them, or one further up that causes that, is accepted: work is done once
// and paid once. A finding that is itself accepted does not close: its own
// work was asked for. Of several accepted causes the nearest is named.
//
// Problems: a cause that is no finding, a finding named twice, and causes
// that run in a circle. Members of a circle close by nothing in it.
func Close(all []Finding, accepted func(id string) bool) ([]Closed, []unit.Problem) {
	by := map[string]*Finding{}
	var problems []unit.Problem
	for i := range all {
		f := &all[i]
		if by[f.ID] != nil {
			problems = append(problems, causeProblem(f.ID, "id", f.ID, unit.Duplicate, ""))
			continue
		}
		by[f.ID] = f
	}
	var closed []Closed
	for i := range all {
		f := &all[i]
		if by[f.ID] != f || f.Cause == "" {
			continue
		}
		if by[f.Cause] == nil {
			problems = append(problems, causeProblem(f.ID, "cause", f.Cause, unit.UnknownWord, ""))
			continue
		}
		if p, circle := circleFrom(f, by); circle {
			if p != nil {
				problems = append(problems, *p)
			}
			continue
		}
		if cure := cureOf(f, by, accepted); cure != "" && !accepted(f.ID) {
			closed = append(closed, Closed{Finding: f.ID, By: cure})
		}
	}
	return closed, problems
}

// cureOf returns the nearest accepted cause of f, "" if none is. The causes
// of f run into no circle.
func cureOf(f *Finding, by map[string]*Finding, accepted func(id string) bool) string {
	for c := by[f.Cause]; c != nil; c = by[c.Cause] {
		if accepted(c.ID) {
			return c.ID
		}
		if c.Cause == "" {
			return ""
		}
	}
	return ""
}

// circleFrom reports whether the causes of f run in a circle. The problem is
// given once, with the member that comes first by name.
func circleFrom(f *Finding, by map[string]*Finding) (*unit.Problem, bool) {
	seen := map[string]bool{}
	c := f
	for ; c != nil && c.Cause != ""; c = by[c.Cause] {
		if seen[c.ID] {
			break
		}
		seen[c.ID] = true
	}
	if c == nil || c.Cause == "" {
		return nil, false
	}
	ring, first := []string{c.ID}, c.ID
	for m := by[c.Cause]; m != c; m = by[m.Cause] {
		ring = append(ring, m.ID)
		first = min(first, m.ID)
	}
	if f.ID != first {
		return nil, true // told of with another member
	}
	p := causeProblem(f.ID, "cause", strings.Join(append(ring, c.ID), " ← "), unit.Circle, "")
	return &p, true
}

func causeProblem(id, field, text string, code unit.Code, hint string) unit.Problem {
	return unit.Problem{File: "finding " + id, Column: field, Cell: text, Code: code, Hint: hint}
}

// Causes returns the findings whose symptom f names a cause for, nearest
// first: what a person reads as "because of". A circle ends where it closes.
func Causes(f Finding, all []Finding) []Finding {
	by := map[string]Finding{}
	for _, g := range all {
		by[g.ID] = g
	}
	seen := map[string]bool{f.ID: true}
	var out []Finding
	for f.Cause != "" && !seen[f.Cause] {
		g, ok := by[f.Cause]
		if !ok {
			break
		}
		seen[g.ID] = true
		out = append(out, g)
		f = g
	}
	return out
}
