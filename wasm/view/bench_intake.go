package view

import (
	"strings"

	"lugworth/core/finding"
	"lugworth/core/job"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

func benchIntakeView(m app.Model) []keyed.Node {
	nodes := []keyed.Node{keyed.Row("div", "bench-head", part.Question("Whose amp is it, and what supply will it live on?", "Every worst case is taken at the ends of the owner's mains range."))}
	if f := firstSteps(m); len(f) > 0 {
		nodes = append(nodes, f...)
	}
	return append(nodes, ownerCard(m), mainsCard(m), ampCard(m), datesCard(m), boundsCard(m), receiptCard(m))
}

// firstSteps teaches an unfinished job what comes first; nothing once all is
// there.
func firstSteps(m app.Model) []keyed.Node {
	j := m.Open.Job
	steps := []struct {
		done            bool
		say, note, part string
	}{
		{j.Mains.Declared(), "The owner's mains range", "low and high, as declared; no range, no verdict", benchIntake},
		{j.Amp.Maker+j.Amp.Model != "" && j.Amp.Bias != "", "The amp and how it is biased", "maker, model, cathode or fixed bias", benchIntake},
		{len(j.Findings) > 0, "What you see", "one finding for each thing that is wrong", benchFindings},
		{len(j.Amp.Positions) > 0, "What stands where", "bring sheet.csv, or add the parts that matter", benchParts},
		{len(j.Amp.Readings) > 0, "What you read", "each with the mains at that moment", benchReadings},
	}
	left := 0
	var items []keyed.Item
	for _, s := range steps {
		mark := "done"
		if !s.done {
			left++
			mark = itoa(len(items) + 1)
		}
		items = append(items, keyed.El("li", keyed.El("button", keyed.Attr("type", "button"), keyed.Class("item"), keyed.Do("bench-part", s.part, s.say),
			keyed.El("span", keyed.Class("ref"), keyed.Text(mark)),
			keyed.El("span", keyed.Class("item-say"), keyed.El("b", keyed.Text(s.say)), keyed.El("br"), keyed.El("span", keyed.Class("soft"), keyed.Text(s.note))))))
	}
	if left == 0 {
		return nil
	}
	return []keyed.Node{keyed.Row("section", "bench-first", keyed.Class("empty"),
		keyed.El("h2", keyed.Text("Five steps to a first verdict")), keyed.El("ol", keyed.Class("list first-steps"), keyed.Several(items...)))}
}

func ownerCard(m app.Model) keyed.Node {
	o := m.Open.Job.Owner
	words := field(m, "", "owner/complaint", "The owner's words", o.Complaint)
	words.Lines, words.Hint = 2, "As said. It reaches the papers unaltered."
	aim := field(m, "", "owner/aim", "What the amp is for", o.Aim)
	aim.Lines, aim.Hint = 2, "To play, to sell, to keep as it was made"
	return keyed.Row("section", "owner", keyed.Class("card stack"), keyed.El("h2", keyed.Text("Owner")),
		field(m, "", "owner/name", "Name", o.Name).Item(), words.Item(), aim.Item())
}

func mainsCard(m app.Model) keyed.Node {
	s := m.Open.Job.Mains
	raw := func(name string, v unit.Voltage) string { return rawField(m, job.KindMains, name, volts(v)) }
	number := func(name, label, value, hint string) part.Field {
		f := field(m, "", "mains/"+name, label, value)
		f.Unit, f.Number, f.Hint, f.Problem = "V", true, hint, jobProblem(m, job.KindMains, name)
		return f
	}
	how := field(m, "", "mains/how", "How and when it was measured", s.How)
	how.Hint = "owner's meter at the outlet, evening"
	return keyed.Row("section", "mains", keyed.Class("card stack"), keyed.El("h2", keyed.Text("The owner's mains")),
		keyed.El("div", keyed.Class("fields-3"), number("measured", "Measured", raw("measured", s.Measured), "at the owner's outlet").Item(),
			number("low", "Range, low", raw("low", s.Low), "as declared").Item(),
			number("high", "Range, high", raw("high", s.High), "worst cases are taken here").Item()),
		how.Item(),
		noteWhen(!s.Declared(), "Without low and high nothing can be judged: an unknown range is never replaced by a usual one."))
}

// rawField is a text of a singleton as it was entered.
func rawField(m app.Model, kind, name, fallback string) string {
	v, ok := m.Open.State.Field(kind, "", name)
	if !ok || string(v.JSON) == "null" {
		return fallback
	}
	return strings.Trim(string(v.JSON), `"`)
}

// jobProblem says what is wrong with a field of a singleton.
func jobProblem(m app.Model, kind, name string) string {
	for _, p := range m.Open.Job.Problems {
		if p.File == kind && p.Column == name {
			p.File, p.Column = "", "" // the field itself says where
			return p.Error()
		}
	}
	return ""
}

func ampCard(m app.Model) keyed.Node {
	a := m.Open.Job.Amp
	about := field(m, "", "amp/about", "Made about", a.About)
	about.Hint = "about 1957"
	serial := field(m, "", "amp/serial", "Serial", a.Serial)
	serial.Hint = "left empty it prints as none found"
	label := field(m, "", "amp/label", "Rating label", a.Label)
	label.Hint = "117 V, 2 A slow"
	taps := field(m, "", "amp/taps", "Mains taps", strings.Join(a.Taps, " "))
	taps.Act, taps.Value, taps.Hint = "amp-taps", m.Draft("amp-taps", "", "amp/taps", strings.Join(a.Taps, " ")), "200 220 240, or nothing"
	return keyed.Row("section", "amp", keyed.Class("card stack"), keyed.El("h2", keyed.Text("Amp")),
		fields(field(m, "", "amp/maker", "Maker", a.Maker), field(m, "", "amp/model", "Model", a.Model), serial, about),
		fields(label, taps),
		keyed.Nodes(tapRow(a.Taps, a.Tap)...),
		setChips("Bias of the output tubes", "", "amp/bias", a.Bias,
			part.Chip{Value: "cathode", Say: "Cathode resistor"},
			part.Chip{Value: "fixed from the same transformer", Say: "Fixed", Note: "from the same transformer"},
			part.Chip{Value: "other", Say: "Other", Note: "a figure for it stays not proven"}),
		keyed.El("div", keyed.Class("stack"),
			tick("amp-standby", "It has a standby switch", a.Standby, "amp/standby"),
			tick("amp-alike", "The output tubes draw alike: read, not supposed", a.Alike, "amp/alike"),
			tick("amp-grounded", "Chassis grounded: measured", a.Grounded, "amp/grounded")))
}

// tapRow asks for the tap in use, once taps are named.
func tapRow(taps []string, in string) []keyed.Node {
	if len(taps) == 0 {
		return nil
	}
	return []keyed.Node{keyed.Row("div", "amp-tap", setChips("Tap found in use", "", "amp/tap", in, chipsOf(taps)...))}
}

func chipsOf(words []string) []part.Chip {
	out := make([]part.Chip, len(words))
	for i, w := range words {
		out[i] = part.Chip{Value: w, Say: w}
	}
	return out
}

// datesCard reads the codes stamped on parts.
func datesCard(m app.Model) keyed.Node {
	form := nth("code", len(m.Open.Job.Amp.DateCodes))
	var items []keyed.Item
	for i, d := range m.Open.Result.Dates {
		items = append(items, dateCode(i, d))
	}
	return keyed.Row("section", "dates", keyed.Class("card stack"), keyed.El("h2", keyed.Text("Date codes")),
		keyed.If(len(items) > 0, keyed.El("ul", keyed.Class("list"), keyed.Several(items...))),
		keyed.El("form", keyed.Class("stack"), keyed.ID("date-code-form"), keyed.Do("date-code", ""),
			anew(form, fields(draft(m, form, "on", "Stamped on", "controls"), draft(m, form, "code", "Code", "999-5723"))), send("Add the code")))
}

func dateCode(i int, d finding.CodeReading) keyed.Item {
	k := itoa(i)
	var years []keyed.Item
	if d.Asks() {
		for _, c := range d.Choices {
			y := itoa(c.Year)
			years = append(years, doChip("date-code-year", "", k, y, y, string(c.Fit), false, keyed.ID("date-code-"+k+"-"+y)))
		}
	}
	return keyed.El("li", keyed.Class("line bench-row"), keyed.El("span", keyed.Class("grow"), keyed.El("b", keyed.Text(d.On+" "+d.Code)), keyed.El("br"), keyed.El("span", keyed.Text(d.String()))),
		keyed.If(len(years) > 0, group("Which year?", "chips", years...)),
		part.Press("quiet", "Remove", "date-code-drop", "", keyed.Attr("data-k", k), keyed.Attr("aria-label", "Remove code "+d.Code)))
}

func boundsCard(m app.Model) keyed.Node {
	b := m.Open.Job.Bounds
	ceiling := field(m, "", "bounds/ceiling", "At most", b.Ceiling)
	ceiling.Unit, ceiling.Number, ceiling.Hint = m.Open.Result.Policy.Currency.Code, true, "empty sets no ceiling"
	days := field(m, "", "bounds/days", "Within", b.Days)
	days.Unit, days.Number, days.Hint = "days", true, "whole days from the order"
	return keyed.Row("section", "bounds", keyed.Class("card stack"), keyed.El("h2", keyed.Text("Ceiling and date")), fields(ceiling, days))
}

func receiptCard(m app.Model) keyed.Node {
	o, r := m.Open.Job.Owner, m.Open.Job.Receipt
	return keyed.Row("section", "receipt", keyed.Class("card stack"), keyed.El("h2", keyed.Text("Receipt")),
		more1("What the receipt prints", fields(
			field(m, "", "job/number", "Job number", m.Open.Job.Number), field(m, "", "owner/phone", "Phone", o.Phone),
			field(m, "", "owner/address", "Address", o.Address), field(m, "", "owner/agreed", "Agreement made", o.Agreed),
			field(m, "", "receipt/number", "Receipt number", r.Number), field(m, "", "receipt/date", "Date in", r.Date),
			field(m, "", "receipt/received", "Received by", r.Received), field(m, "", "receipt/accessories", "Came with it", r.Accessories))))
}
