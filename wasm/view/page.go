// Package view draws the page from the model: which posture, which question
// it answers, and the figures with their reasons. It decides nothing.
package view

import (
	"strings"

	"lugworth/core/job"
	"lugworth/core/why"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// postures draws the view of each posture.
var postures = map[string]func(app.Model) []keyed.Node{
	"bench": Bench, "plan": Plan, "call": Call, "order": Order, "papers": Papers,
}

// Page is the whole page.
func Page(m app.Model) keyed.Tree {
	leaf := part.Leaf{Title: "Lugworth", Posture: m.Screen.Posture, Head: keyed.Several(head(m).Item(), undoPresses(m))}
	if m.Open == nil {
		leaf.Main = []keyed.Node{keyed.Row("section", "waiting", part.Empty("Opening", "Reading what is kept on this device.", "", keyed.Item{}))}
		return leaf.Tree()
	}
	leaf.Title = strings.TrimSpace(m.Open.Job.Number+" "+m.Open.Job.Amp.Model) + " – Lugworth"
	leaf.Main = append(problems(m), postures[m.Screen.Posture](m)...)
	if m.Screen.Posture != "bench" {
		leaf.Foot = foot(m)
	}
	leaf.Above = append(dialogs(m), toast(m)...)
	return leaf.Tree()
}

func head(m app.Model) part.Status {
	s := m.Screen
	st := part.Status{Job: "No job", ReadOnly: m.ReadOnly(), Update: s.Shell.Update, Offline: s.Shell.Offline, Copy: copyWords(s), CopyOld: copyOld(s)}
	if m.Open != nil {
		st.Job = strings.TrimSpace(m.Open.Job.Number + " " + m.Open.Job.Amp.Maker + " " + m.Open.Job.Amp.Model)
	}
	switch {
	case s.NotSaved != "":
		st.Saved, st.Unsaved = "Not saved: "+s.NotSaved, true
	case s.Saving:
		st.Saved = "Saving"
	case s.SavedAt != "":
		st.Saved = "Saved " + clock(s.SavedAt)
	}
	return st
}

// undoPresses take the last press back, or do it again: a tablet has no keys
// for that.
func undoPresses(m app.Model) keyed.Item {
	return keyed.El("div", keyed.Class("undo"),
		part.Press("quiet", "Undo", "undo", "", keyed.Flag("disabled", !m.MayUndo())),
		part.Press("quiet", "Redo", "redo", "", keyed.Flag("disabled", !m.MayRedo())))
}

// clock is the hour and minute of an ISO time.
func clock(at string) string {
	if len(at) < 16 {
		return at
	}
	return at[11:16]
}

// copyOld reports whether what is here should leave the browser again: after
// a day with changes, or many of them.
func copyOld(s app.Screen) bool {
	return s.CopyAt == "" || s.Changes > 20 || s.Changes > 0 && s.Today != "" && !strings.HasPrefix(s.CopyAt, s.Today)
}

func copyWords(s app.Screen) string {
	switch {
	case s.CopyAt == "":
		return "No backup yet"
	case s.Changes == 0:
		return "Backed up"
	}
	return "Back up now"
}

// foot is total, ceiling and date.
func foot(m app.Model) []keyed.Node {
	r := m.Open.Result
	f := part.Foot{Currency: r.Policy.Currency.Code, Total: "no choice yet", Ready: "no date yet", Ceiling: r.Job.Bounds.Ceiling}
	if d := r.Job.Bounds.Days; d != "" {
		f.Needed = "needed by day " + d
	}
	if r.Force >= 0 {
		s := r.Sets[r.Force]
		if s.Err != "" {
			f.Total = "not priced"
		} else {
			f = footOf(m, s)
		}
	}
	return []keyed.Node{f.Node()}
}

func footOf(m app.Model, s job.SetResult) part.Foot {
	r := m.Open.Result
	c := r.Policy.Currency
	f := part.Foot{Currency: c.Code, Total: c.Format(s.Bill.Total), TotalK: m.Screen.Whys.Put("total", s.Bill.Why)}
	b := buildOf(r, s)
	if r.Job.Bounds.Ceiling != "" {
		f.Ceiling = r.Job.Bounds.Ceiling
		f.Left, f.Over = c.Format(s.Left)+" left", false
		if s.Left < 0 {
			f.Left, f.Over = "over by "+c.Format(-s.Left), true
		}
	}
	f.Line = draw.MoneyLine(b)
	f.Ready, f.ReadyK = readySays(r, s), m.Screen.Whys.Put("ready", readyWhy(r, s))
	if d := r.Job.Bounds.Days; d != "" {
		f.Needed = "needed by day " + d
		f.Late = !s.FitsDate
	}
	return f
}

func problems(m app.Model) []keyed.Node {
	all := m.Screen.Problems
	if len(all) == 0 {
		return nil
	}
	return []keyed.Node{keyed.Row("section", "problems", keyed.Class("problems"), keyed.Attr("role", "alert"),
		keyed.El("h2", keyed.Text("What could not be used")),
		keyed.El("ul", keyed.Map(all, func(p string) keyed.Item { return keyed.El("li", keyed.Text(p)) })),
		part.Press("", "Close", "problems-close", ""))}
}

func toast(m app.Model) []keyed.Node {
	t := m.Screen.Toast
	if t.Say == "" {
		return nil
	}
	undo := ""
	if t.Undo {
		undo = "undo"
	}
	return []keyed.Node{part.Toast(t.Say, undo, "")}
}

func dialogs(m app.Model) []keyed.Node {
	switch m.Screen.Dialog {
	case "why":
		return []keyed.Node{part.Sheet("why-sheet", "Where does this figure come from?", "dialog-close", "", part.Chain(steps(shownWhy(m))))}
	case "jobs":
		return []keyed.Node{jobsDialog(m)}
	case "consent":
		if m.Open == nil {
			return nil
		}
		return []keyed.Node{consentDialog(m)}
	case "park", "resume":
		if m.Open == nil {
			return nil
		}
		if m.Screen.Dialog == "park" {
			return []keyed.Node{parkDialog(m)}
		}
		return []keyed.Node{resumeDialog(m)}
	case "photo":
		if d, ok := photoDialog(m); ok {
			return []keyed.Node{d}
		}
	case "supplier":
		return []keyed.Node{supplierSheet(m)}
	}
	return nil
}

// steps lays a reason out line by line.
func steps(n *why.Node) []part.Step {
	var out []part.Step
	for _, l := range why.Lines(n) {
		s := part.Step{Depth: l.Depth, Value: l.Value, Label: l.Label, Where: l.Where, Repeat: l.Repeat}
		if l.Rule != nil {
			s.Formula, s.Source = l.Rule.Formula, l.Rule.Source
			if s.Label == "" {
				s.Label = l.Rule.Name
			}
		}
		out = append(out, s)
	}
	return out
}

func jobsDialog(m app.Model) keyed.Node {
	rows := keyed.Each(m.Jobs, func(h app.Head) keyed.Node {
		return keyed.Row("li", "job-"+h.ID, part.Press("", strings.TrimSpace(h.Number+" "+h.Title), "job-open", h.ID),
			keyed.If(m.Open != nil && m.Open.ID == h.ID, keyed.El("span", keyed.Class("soft"), keyed.Text("open now"))))
	})
	return part.Dialog("jobs-dialog", "Which amp is on the bench?", "dialog-close", "",
		keyed.El("ul", keyed.Class("jobs"), rows),
		part.Presses(part.Press("main", "New job", "job-new", ""), part.Press("", "Open files", "open-file", ""), part.Press("", "Save this job as a file", "copy", "")))
}
