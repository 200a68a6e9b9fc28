package view

import (
	"slices"
	"strings"

	"lugworth/core/job"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// ownerRow takes the code that the owner's page gave, and shows what it says
// against what is in force.
func ownerRow(m app.Model) keyed.Node {
	head := keyed.El("h2", keyed.Text("Ticked at home?"))
	if !m.MayAsk() {
		return keyed.Row("section", "owner-none", keyed.Class("card stack"), head,
			part.Note("The owner can tick on a page of their own, without a network, and read out a short code."),
			part.Presses(part.Press("quiet", "To the page for the owner", "owner-paper", "")))
	}
	t := m.Ticks()
	code := draft(m, "owner-code", "code", "Code from the owner", "groups of four signs")
	code.Value = m.Draft("draft", "owner-code", "code", t.Code)
	return keyed.Row("section", "owner", keyed.Class("card stack"), head,
		keyed.El("p", keyed.ID("owner-wrong"), keyed.Attr("role", "alert"), keyed.Class("bench-wrong"), keyed.Flag("hidden", t.Wrong == ""), keyed.Text(wrongWords(t))),
		keyed.El("form", keyed.ID("form-owner"), keyed.Class("line"), keyed.Do("owner-code", ""), code.Item(), send("Read it")),
		ticked(m, t))
}

func wrongWords(t app.Ticks) string {
	if t.Wrong == "" {
		return ""
	}
	return sentence(t.Wrong) + " Nothing is changed. Have it read out again."
}

// ticked is what a code says, finding by finding.
func ticked(m app.Model, t app.Ticks) keyed.Item {
	if t.Read == nil {
		return keyed.Item{}
	}
	cols := []part.Col{{Say: "Finding"}, {Say: "Ticked"}, {Say: "In force now"}}
	rows := keyed.Map(t.Read.Answers, func(a job.Answered) keyed.Item {
		now, other := inForce(m, a)
		return keyed.El("tr", keyed.El("td", keyed.Text(a.Finding)), keyed.El("td", keyed.Text(answerWords(a))),
			keyed.El("td", keyed.If(other, keyed.El("b", keyed.Text(now))), keyed.If(!other, keyed.Text(now))))
	})
	gone := m.Gone()
	done := m.AsTicked()
	return keyed.El("div", keyed.ID("owner-said"), keyed.Class("stack"), keyed.Attr("role", "group"), keyed.Attr("aria-label", "What the code says"), keyed.Attr("tabindex", "-1"),
		part.Table("What the owner ticked", cols, rows, keyed.Item{}),
		keyed.Map(ticksNotes(m, t), part.Note),
		keyed.If(len(gone) > 0, part.Note("No longer in the job: "+strings.Join(gone, ", ")+". Ask again.")),
		part.Presses(keyed.If(!done, part.Press("main", "Set the choice as ticked", "owner-take", "", keyed.Flag("disabled", len(gone) > 0 || m.ReadOnly() != ""))),
			part.Press("quiet", "Put the code away", "owner-forget", "")))
}

// answerWords is one finding as the owner ticked it.
func answerWords(a job.Answered) string {
	switch {
	case len(a.Accept) > 0:
		return "yes, " + strings.Join(a.Accept, ", ")
	case a.No:
		return "no"
	}
	return "thinks about it"
}

// inForce is one finding as the choice in force has it, and whether that is
// other work than was ticked.
func inForce(m app.Model, a job.Answered) (say string, other bool) {
	now := job.Answered{Finding: a.Finding}
	for i := range m.Open.Result.Options {
		if o := &m.Open.Result.Options[i]; o.Accepted && o.Option.Finding == a.Finding {
			now.Accept = append(now.Accept, o.Option.ID)
		}
	}
	ticked := slices.Clone(a.Accept)
	slices.Sort(ticked)
	slices.Sort(now.Accept)
	switch other = !slices.Equal(ticked, now.Accept); {
	case len(now.Accept) == 0:
		return "left out", other
	case other:
		return answerWords(now), true
	}
	return "the same", false
}

// ticksNotes say what else is to be told of a code.
func ticksNotes(m app.Model, t app.Ticks) []string {
	f := t.Read.Frozen
	notes := []string{"The code is whole, and of estimate " + f.ID + "."}
	if t.Read.Later {
		notes = append(notes, "A later estimate was frozen since: the owner ticked on the page of an earlier one.")
	}
	if t.Moved != "" {
		notes = append(notes, sentence(t.Moved))
	}
	if m.AsTicked() {
		return append(notes, "The choice in force is what was ticked. Nothing is agreed yet: read it back, and record the owner's answer.")
	}
	s, err := m.TickedNow()
	if err != nil {
		return append(notes, sentence(err.Error()))
	}
	c := m.Open.Result.Policy.Currency
	say := "What was ticked comes to " + c.Format(s.Total) + " today"
	if !s.FitsCeiling {
		say += ", over the ceiling by " + c.Format(-s.Left)
	}
	if !s.FitsDate {
		say += ", and misses the date"
	}
	for _, l := range s.Lacks {
		say += "; " + l
	}
	return append(notes, say+".")
}
