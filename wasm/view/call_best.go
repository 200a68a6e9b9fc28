package view

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/core/decision"
	"lugworth/core/labor"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// bestRow answers what the owner asks first: the best there is for so much by
// such a day. Both may be said on the telephone and differ from the record.
func bestRow(m app.Model) keyed.Node {
	w := m.Weigh()
	b, wrong := w.Best()
	items := []keyed.Item{keyed.El("h2", keyed.Text("What is the best for my money, in time?")), bestForm(m, w)}
	switch {
	case wrong != "":
		items = append(items, keyed.El("p", keyed.Class("call-best-say over"), keyed.Attr("role", "alert"), keyed.Text(sentence(wrong))))
	case w.Seeking() && !b.Found:
		items = append(items, bestProgress(w, b), part.Note("Looking."))
	default:
		items = append(items, bestProgress(w, b), bestSays(m, w, b))
	}
	return keyed.Row("section", "call-best", keyed.Class("card stack"), keyed.Several(items...))
}

// bestForm takes the ceiling and the day as they are said.
func bestForm(m app.Model, w *app.Weigh) keyed.Item {
	ceiling, day := m.Open.Job.Bounds.Ceiling, m.Open.Job.Bounds.Days
	if s := m.Said(); s.Asked {
		ceiling, day = s.Ceiling, s.Day
	}
	field := func(name, label, value, unit, hint string) part.Field {
		return part.Field{ID: "best-" + name, Label: label, Value: m.Draft("draft", "best-said", name, value), Act: "draft", For: "best-said", K: name, Name: name, Unit: unit, Hint: hint, Big: true}
	}
	money := field("ceiling", "Under", ceiling, m.Open.Result.Policy.Currency.Code, "empty: no ceiling")
	money.Number = true
	by := field("day", "Ready by", day, "", "21, the 20th, or a date")
	return keyed.El("form", keyed.ID("best-form"), keyed.Class("call-best-form"), keyed.Do("best", ""),
		fields(money, by), keyed.El("button", keyed.ID("best-find"), keyed.Attr("type", "submit"), keyed.Class("press press-main"), keyed.Text("Find the best")))
}

// bestProgress is shown where the search takes longer than one feels.
func bestProgress(w *app.Weigh, b decision.Best) keyed.Item {
	if !w.Long() {
		return keyed.Item{}
	}
	say := fmt.Sprintf("%d thousand steps so far", w.Looked()/1000)
	if b.Found && b.AtMost > b.Value {
		say += fmt.Sprintf("; nothing is worth more than %d, this is worth %d", b.AtMost, b.Value)
	}
	return part.Progress(say, 0, 0, "best-stop", "")
}

// bestSays is the answer: what it comes to, when, what is in it, what comes
// next, and what a little more would buy.
func bestSays(m app.Model, w *app.Weigh, b decision.Best) keyed.Item {
	r := m.Open.Result
	c := r.Policy.Currency
	items := []keyed.Item{keyed.El("p", keyed.Class("call-best-asked soft"), keyed.Text(askedWords(m, w.Limits)))}
	if b.Accept == nil && !b.Found {
		return keyed.Several(append(items, keyed.El("p", keyed.Class("call-best-say"), keyed.Text(orWords(sentence(b.Say), "Nothing is to be decided."))))...)
	}
	items = append(items,
		keyed.El("p", keyed.Class("lead"), keyed.El("b", keyed.Class("amount"), keyed.Text(c.Format(b.Total))), keyed.El("span", keyed.Text(" "+c.Code+", "+dayWords(b.Standing)))),
		keyed.El("p", keyed.Class("soft small"), keyed.Text(dateTestWords(m, b.Standing))),
		keyed.If(!b.Found, keyed.El("p", keyed.Class("over"), keyed.Text("Nothing fits both; this is the cheapest there is."))),
		keyed.El("p", keyed.Class("call-best-ids"), keyed.Text(inWords(m, b.Accept))),
		keyed.If(outWords(m, b.Accept) != "", keyed.El("p", keyed.Class("soft"), keyed.Text(outWords(m, b.Accept)))),
		keyed.El("p", keyed.Class("call-best-say"), keyed.Text(sentence(b.Say))))
	if b.RunnerUp != nil {
		items = append(items, part.Note("Next best: "+c.Format(b.RunnerUp.Total)+", "+dayWords(*b.RunnerUp)+", "+differWords(b.Accept, b.RunnerUp.Accept)+"."))
	}
	return keyed.Several(append(items, bestFoot(m, w, b))...)
}

// bestFoot says how sure the answer is, and takes it.
func bestFoot(m app.Model, w *app.Weigh, b decision.Best) keyed.Item {
	r := m.Open.Result
	taken := sameChoice(r.Accepted(), b.Accept)
	var items []keyed.Item
	for _, u := range b.Unpriced {
		items = append(items, part.Note("Left out, for it has no price: "+u+"."))
	}
	sure := ""
	switch {
	case b.Proven && b.Found:
		sure = fmt.Sprintf("Proven: no other choice that fits is worth more by the weights of the bench (%d).", b.Value)
	case b.Found && !w.Seeking():
		sure = fmt.Sprintf("Not proven: the search was stopped. It is worth %d by the weights of the bench; nothing is worth more than %d.", b.Value, b.AtMost)
	}
	return keyed.Several(append(items,
		keyed.If(sure != "", part.Note(sure)),
		keyed.If(b.Found && b.Proven && !b.Settled && !w.Seeking(), part.Note("What a little more money or time would buy was not searched to the end.")),
		keyed.If(!w.Limits.HasCeiling && !w.Limits.HasDays, part.Note("Neither a ceiling nor a date is named.")),
		keyed.If(w.Limits.HasCeiling && !weighed(r), part.Note("No finding has a weight: among what fits, only the musts are worth more than nothing.")),
		keyed.If(taken, part.Note("This is the choice in force.")),
		part.Presses(
			keyed.If(!taken, part.Press("main", "Take this", "take-best", "", keyed.ID("best-take"))),
			keyed.If(m.Said().Asked, part.Press("", "Put on record", "best-agree", "", keyed.ID("best-agree"))),
			keyed.If(m.Said().Asked, part.Press("quiet", "Back to the record", "best-record", "", keyed.ID("best-record")))))...)
}

func sameChoice(a, b []string) bool {
	return slices.Equal(slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b)))
}

// askedWords repeat what was asked, so that a slip is heard.
func askedWords(m app.Model, l decision.Limits) string {
	var say []string
	if l.HasCeiling {
		say = append(say, "under "+m.Open.Result.Policy.Currency.Format(l.Ceiling))
	}
	if l.HasDays {
		by := "by day " + itoa(l.Days)
		if m.Screen.Today != "" {
			by += ", " + labor.Date(m.Screen.Today, l.Days)
		}
		say = append(say, by)
	}
	if len(say) == 0 {
		return "With no limit:"
	}
	return "Best " + strings.Join(say, ", ") + ":"
}

// dayWords is the day of a choice, open to the later side where a lead is not
// stated.
func dayWords(s decision.Standing) string {
	switch {
	case s.Simulated || len(s.NoLead) == 0:
		return "day " + itoa(s.ReadyDays)
	case s.ReadyDays == 0:
		return "day not known"
	}
	return "day " + itoa(s.ReadyDays) + " or later"
}

// dateTestWords is the test the day was judged by.
func dateTestWords(m app.Model, s decision.Standing) string {
	if s.Simulated {
		return "Date test: the day kept in eight of ten draws, from today, bench time and the road counted."
	}
	say := "Date test: the longest lead, from the order; bench time is not counted."
	if m.Open.Result.Books.Sheet.DateTest == "P80" {
		say += " The shop asks for eight of ten draws, and does not state all that takes."
	}
	if len(s.NoLead) > 0 {
		say += " No lead is stated for " + strings.Join(s.NoLead, ", ") + "."
	}
	return say
}

// inWords names what a choice takes beside the musts' only ways.
func inWords(m app.Model, accept []string) string {
	var musts, others []string
	for _, o := range m.Open.Result.Options {
		if !slices.Contains(accept, o.Option.ID) {
			continue
		}
		if pileOf(m, o.Option.Finding) == "must" {
			musts = append(musts, o.Option.ID)
			continue
		}
		others = append(others, o.Option.ID+" "+o.Option.Say)
	}
	return joined("; ", joined(" ", "Musts", strings.Join(musts, " ")), orWords(strings.Join(others, ", "), "nothing else"))
}

// outWords names the findings that a choice leaves.
func outWords(m app.Model, accept []string) string {
	var out []string
	for _, f := range m.Open.Result.Findings {
		done := len(f.Options) == 0
		for _, i := range f.Options {
			done = done || slices.Contains(accept, m.Open.Result.Options[i].Option.ID)
		}
		if !done {
			out = append(out, f.Finding.ID+" "+string(f.Finding.Seen))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "Left as it is: " + strings.Join(out, "; ") + "."
}

func pileOf(m app.Model, finding string) string {
	for _, f := range m.Open.Result.Findings {
		if f.Finding.ID == finding {
			return orWords(string(f.Finding.Pile), "must")
		}
	}
	return ""
}

// differWords says how one choice differs from another.
func differWords(from, to []string) string {
	less := func(a, b []string) string {
		return strings.Join(slices.DeleteFunc(slices.Clone(a), func(id string) bool { return slices.Contains(b, id) }), " ")
	}
	come, leave := less(to, from), less(from, to)
	switch {
	case come == "":
		return "without " + leave
	case leave == "":
		return "with " + come
	}
	return come + " in place of " + leave
}
