package view

import (
	"slices"

	"lugworth/core/decision"
	"lugworth/core/job"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// consentRow says what is agreed of the choice in force, and records the next
// answer.
func consentRow(m app.Model) keyed.Node {
	r := m.Open.Result
	if r.Force < 0 {
		return keyed.Row("section", "consent", keyed.Attr("hidden", ""))
	}
	a := r.Authority()
	items := []keyed.Item{keyed.El("h2", keyed.Text("What is agreed?")), keyed.El("p", keyed.Class(agreedClass(a)), keyed.Text(a.Say(r.Policy.Currency)))}
	if a.Given {
		items = append(items, more1("The answer on record", keyed.El("p", keyed.Text(a.Consent.Words())), part.Note("An answer is never changed, only followed by a later one.")))
		if !a.Covers() || len(a.Dropped) > 0 {
			items = append(items, part.Presses(part.Press("quiet", "See the change order", "change-order", "")))
		}
	}
	items = append(items, part.Presses(part.Press("main", "Record the owner's answer", "consent-open", "")))
	return keyed.Row("section", "consent", append([]keyed.Item{keyed.Class("card stack")}, items...)...)
}

func agreedClass(a decision.Authority) string {
	if a.Covers() {
		return "agreed"
	}
	return "agreed agreed-not"
}

// consentDialog takes the answer down and gives what is read back.
func consentDialog(m app.Model) keyed.Node {
	c := m.Heard()
	say := m.ReadBack()
	return part.Dialog("consent-dialog", "What does the owner say?", "dialog-close", "",
		leftOut(m, c),
		keyed.El("h3", keyed.Text("Read this back")),
		keyed.El("ul", keyed.Class("readback"), keyed.Map(say, func(s string) keyed.Item { return keyed.El("li", keyed.Text(s)) })),
		keyed.El("form", keyed.ID("form-consent"), keyed.Class("stack"), keyed.Do("consent", ""), consentFields(m),
			keyed.El("label", keyed.Class("tick"), keyed.El("input", keyed.Attr("type", "checkbox"), keyed.ID("consent-readback"), keyed.Attr("name", "readback")), keyed.El("span", keyed.Text("Read back, and confirmed"))),
			ask(m, "", false),
			part.Note("With it the estimate is frozen as it stands. Neither can be taken back; a later answer follows it. What must be recorded differs by place: check with your local authority."),
			send("Record it")))
}

func consentFields(m app.Model) keyed.Item {
	j := m.Open.Job
	with := func(name, label, hint, value string) part.Field {
		f := draft(m, "consent", name, label, hint)
		f.Value = m.Draft("draft", "consent", name, value)
		return f
	}
	written, conditions := m.OnPaper()
	channel := with("channel", "How", "", orWords(written, "by phone"))
	for _, c := range decision.Channels {
		channel.Options = append(channel.Options, keyed.Option{Value: c, Say: c})
	}
	ceiling := with("ceiling", "At most, without asking again", "empty: the total above", j.Bounds.Ceiling)
	ceiling.Unit, ceiling.Number = m.Open.Result.Policy.Currency.Code, true
	return fields(with("who", "Who agrees", "", j.Owner.Name), channel, with("called", "Number called", "", j.Owner.Phone), with("received", "Heard by", "your name", heardBefore(j)), ceiling,
		with("conditions", "Conditions", "not before Friday", conditions))
}

// heardBefore is who heard the last answer, or took the amp in.
func heardBefore(j *job.Job) string {
	if n := len(j.Consents); n > 0 {
		return j.Consents[n-1].Received
	}
	return j.Receipt.Received
}

// leftOut asks of each finding the choice leaves out whether that is a no.
func leftOut(m app.Model, c decision.Consent) keyed.Item {
	left := append(slices.Clone(c.Declined), c.Open...)
	if len(left) == 0 {
		return keyed.Item{}
	}
	var rows []keyed.Node
	for _, f := range m.Open.Result.Findings {
		id := f.Finding.ID
		if !slices.Contains(left, id) {
			continue
		}
		var chips []keyed.Item
		for _, a := range []struct{ value, say string }{{"no", "No"}, {"think", "Thinks about it"}} {
			chips = append(chips, keyed.El("button", keyed.Attr("type", "button"), keyed.Class("chip"), keyed.ID("answer-"+id+"-"+a.value), keyed.Do("answer", id), keyed.Attr("value", a.value),
				keyed.Live("aria-pressed", pressedWord(m.Answered(id) == a.value)), keyed.El("span", keyed.Text(a.say))))
		}
		rows = append(rows, keyed.Row("li", "left-"+id, keyed.Class("check"), keyed.El("div", keyed.El("b", keyed.Text(joined(" ", id, string(f.Finding.Seen))))), group("Of "+id, "chips", chips...)))
	}
	return keyed.Several(keyed.El("h3", keyed.Text("Left out of the choice")), keyed.El("ul", keyed.Class("checks"), keyed.Nodes(rows...)))
}
