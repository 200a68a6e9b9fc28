package view

import (
	"lugworth/core/bench"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// triageRow are the checks before the first power: open while they keep the
// chart closed, folded to a line once they do not.
func triageRow(m app.Model) keyed.Node {
	g := m.Gate()
	if !m.Unpowered() {
		return keyed.Row("section", "triage-folded", keyed.Attr("aria-label", "Checks before power"), more1(triageSays(g), triageChecks(m)))
	}
	form := nth("power-anyway", len(g.Wants))
	why := draft(m, form, "reason", "Why without them?", "was powered by the owner an hour ago")
	why.Name = "reason"
	return keyed.Row("section", "triage", keyed.Class("card stack"), keyed.El("h2", keyed.Text("Before the first power")),
		part.Note("With the plug out. The chart of readings with the power on opens once each is done, or passed over for a reason. Mains wiring and its tests are for those permitted to do them where you work."),
		triageChecks(m),
		more1("Power it without these checks",
			keyed.El("form", keyed.ID("form-power-anyway"), keyed.Class("stack"), keyed.Do("power-anyway", ""),
				anew(form, why.Item()), send("Pass over what is open"))))
}

// triageSays is the line the checks fold to.
func triageSays(g bench.Gate) string {
	done := len(bench.Checks) - len(g.Wants) - len(g.Failed) - len(g.Overridden)
	say := itoa(done) + " of " + itoa(len(bench.Checks)) + " checks before power done"
	if n := len(g.Overridden); n > 0 {
		say += ", " + itoa(n) + " passed over for a reason"
	}
	if n := len(g.Failed); n > 0 {
		say += ", " + itoa(n) + " failed"
	}
	return say
}

func triageChecks(m app.Model) keyed.Item {
	by := map[string]bench.Answer{}
	for _, a := range m.Open.Job.Triage {
		by[a.ID] = a
	}
	rows := make([]keyed.Node, len(bench.Checks))
	for i, c := range bench.Checks {
		rows[i] = keyed.Row("li", "check-"+c.ID, keyed.Class("check"), checkSays(c, by[c.ID]), checkChips(c, by[c.ID]), checkNote(m, c, by[c.ID]))
	}
	return keyed.El("ul", keyed.Class("checks"), keyed.Nodes(rows...))
}

func checkSays(c bench.Check, a bench.Answer) keyed.Item {
	return keyed.El("div", keyed.El("b", keyed.Text(c.Ask)), keyed.El("p", keyed.Class("soft small"), keyed.Text(c.How+" Left out: "+lowerFirst(c.Risk))),
		keyed.If(a.Result == bench.Overridden, keyed.El("p", keyed.Class("small"), keyed.Text("Passed over: "+a.Say))))
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return string(s[0]|0x20) + s[1:]
}

func checkChips(c bench.Check, a bench.Answer) keyed.Item {
	var chips []keyed.Item
	for _, r := range []struct {
		result bench.Result
		say    string
	}{{bench.Passed, "Passed"}, {bench.Failed, "Failed"}, {bench.Absent, "Not in this amp"}} {
		chips = append(chips, pressOnce("check-"+c.ID+"-"+string(r.result), "check", c.ID, string(r.result), r.say, a.Result == r.result))
	}
	return group(c.Ask, "chips", chips...)
}

// pressOnce is a chip for one answer; a press on the chosen one takes it back.
func pressOnce(id, act, of, value, say string, on bool) keyed.Item {
	if on {
		value = ""
	}
	return keyed.El("button", keyed.Attr("type", "button"), keyed.Class("chip"), keyed.ID(id),
		keyed.Do(act, of), keyed.Live("value", value), keyed.Live("aria-pressed", pressedWord(on)), keyed.El("span", keyed.Text(say)))
}

// checkNote takes what was read, once there is something to say of it.
func checkNote(m app.Model, c bench.Check, a bench.Answer) keyed.Item {
	if a.Result != bench.Passed && a.Result != bench.Failed {
		return keyed.Item{}
	}
	f := field(m, c.ID, "check/say", "What was read", a.Say)
	return f.Item()
}

// parkedLine says that the work was put down, and takes it up.
func parkedLine(m app.Model) keyed.Node {
	p := m.Open.Job.Park
	return keyed.Row("div", "park-line", keyed.Class("bench-line"),
		keyed.El("button", keyed.Attr("type", "button"), keyed.Class("item"), keyed.Do("resume-open", ""),
			keyed.El("span", keyed.Class("item-say"), keyed.Text("Put down "+day(p.At)+". "+p.Charge())), keyed.El("span", keyed.Class("soft"), keyed.Text("take it up"))))
}

// parkDialog notes how the amp is left, in a few seconds.
func parkDialog(m app.Model) keyed.Node {
	p := m.Open.Job.Park
	charge := draft(m, "park", "discharged", "Filters", "")
	charge.Options = []keyed.Option{{Value: "", Say: "not looked at"}, {Value: "yes", Say: "discharged and measured"}, {Value: "no", Say: "left charged"}}
	lifted := draft(m, "park", "lifted", "Leads lifted, and where", "C4 at the plate of V3")
	out := draft(m, "park", "out", "Out of the amp", "V3 and V4 in the box")
	next := draft(m, "park", "next", "Next step", "read R12")
	if lifted.Value == "" {
		lifted.Value = p.Lifted
	}
	if out.Value == "" {
		out.Value = p.Out
	}
	return part.Dialog("park-dialog", "How do you leave it?", "dialog-close", "",
		keyed.El("form", keyed.ID("form-park"), keyed.Class("stack"), keyed.Do("park", ""),
			charge.Item(), lifted.Item(), out.Item(), next.Item(), send("Put it down")))
}

// resumeDialog stands before everything else until it is read.
func resumeDialog(m app.Model) keyed.Node {
	p := m.Open.Job.Park
	var facts []keyed.Item
	for _, l := range p.Lines() {
		facts = append(facts, part.Fact(l[0], keyed.Text(l[1])))
	}
	presses := part.Presses(resumePress("main", "Read", "seen"))
	if p.Asks() {
		presses = part.Presses(resumePress("main", "Measured now: discharged", "measured"), resumePress("", "Not yet, ask me again", "later"))
	}
	return part.Dialog("resume-dialog", "How was it left?", "dialog-close", "",
		part.Note("Put down "+day(p.At)+"."),
		part.Caution("Stored charge", p.Charge()),
		keyed.If(len(facts) > 0, part.Facts(facts...)), presses)
}

func resumePress(class, say, value string) keyed.Item {
	return part.Press(class, say, "resume", "", keyed.ID("resume-"+value), keyed.Attr("value", value))
}
