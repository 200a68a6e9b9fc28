package view

import (
	"slices"
	"strings"

	"lugworth/core/finding"
	"lugworth/core/intake"
	"lugworth/core/job"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// The parts of the bench, each with the question it answers.
const (
	benchIntake   = "intake"
	benchFindings = "findings"
	benchReadings = "readings"
	benchParts    = "parts"
)

// Bench draws the capture posture: whose amp it is, what is seen, what is
// read, what stands where. One part is open at a time.
func Bench(m app.Model) []keyed.Node {
	open := benchPart(m)
	nodes := []keyed.Node{keyed.Row("div", "bench-parts", keyed.Class("bench-parts"), benchTabs(m, open))}
	nodes = append(nodes, benchLine(m, open))
	if m.Open.Job.Park.Parked() {
		nodes = append(nodes, parkedLine(m))
	}
	switch open {
	case benchIntake:
		return append(nodes, benchIntakeView(m)...)
	case benchReadings:
		return append(nodes, benchReadingsView(m)...)
	case benchParts:
		return append(nodes, benchPartsView(m)...)
	case app.BenchIdle:
		return append(nodes, benchIdleView(m)...)
	case app.BenchLeave:
		return append(nodes, benchLeaveView(m)...)
	}
	return append(nodes, benchFindingsView(m)...)
}

// benchPart is the part that is open.
func benchPart(m app.Model) string {
	switch m.Screen.Bench {
	case benchIntake, benchReadings, benchParts, app.BenchIdle, app.BenchLeave:
		return m.Screen.Bench
	}
	return benchFindings
}

func benchTabs(m app.Model, open string) keyed.Item {
	j := m.Open.Job
	tabs := []struct{ id, say, note string }{
		{benchIntake, "Owner", intakeNote(j)},
		{benchFindings, "Seen", count(len(j.Findings), "finding")},
		{benchParts, "Parts", count(len(j.Amp.Positions), "place")},
		{benchReadings, "Read", count(len(j.Amp.Readings), "reading")},
		{app.BenchIdle, "Dial", "bias, idle"},
		{app.BenchLeave, "Leave", "tests, parts"},
	}
	var items []keyed.Item
	for _, t := range tabs {
		items = append(items, doChip("bench-part", t.id, "", "", t.say, t.note, t.id == open))
	}
	return group("Parts of the bench", "chips chips-big", items...)
}

func intakeNote(j *job.Job) string {
	if app.HasIntake(j) {
		return "amp, mains"
	}
	return "begin here"
}

// benchLine is whose amp it is in one line, and beside it how the work is put
// down.
func benchLine(m app.Model, open string) keyed.Node {
	return keyed.Row("div", "bench-line", keyed.Class("bench-line"),
		keyed.If(open != benchIntake && app.HasIntake(m.Open.Job), intakePress(m)),
		keyed.If(!m.Open.Job.Park.Parked(), part.Press("quiet", "Put the work down", "park", "")))
}

// intakePress is the intake in one line: a press opens it.
func intakePress(m app.Model) keyed.Item {
	j := m.Open.Job
	say := joined(" · ", joined(" ", j.Amp.Maker, j.Amp.Model, j.Amp.About), j.Owner.Name, mainsWords(j.Mains), boundsWords(m))
	return keyed.El("button", keyed.Attr("type", "button"), keyed.Class("item"), keyed.Do("bench-part", benchIntake),
		keyed.El("span", keyed.Class("item-say"), keyed.Text(say)), keyed.El("span", keyed.Class("soft"), keyed.Text("change")))
}

func mainsWords(s intake.Mains) string {
	if !s.Declared() {
		return ""
	}
	w := volts(s.Low) + " to " + volts(s.High) + " V"
	if s.Measured > 0 {
		w = volts(s.Measured) + " V measured, " + w
	}
	return w
}

func boundsWords(m app.Model) string {
	b := m.Open.Job.Bounds
	w := ""
	if b.Ceiling != "" {
		w = "at most " + b.Ceiling + " " + m.Open.Result.Policy.Currency.Code
	}
	if b.Days != "" {
		w = joined(", ", w, "within "+b.Days+" days")
	}
	return w
}

// liveCautions are the cautions of work with the power on, in their order;
// the first few always stand in sight.
var liveCautions = map[string]bool{"charge": true, "live": true, "line-to-chassis": true, "ground": true, "hot-chassis": true, "limiter": true, "load": true, "cold": true, "electrolytics": true, "heat": true}

var alwaysInSight = map[string]bool{"charge": true, "live": true, "line-to-chassis": true}

func cautionNodes(m app.Model) keyed.Node {
	var shown, more []finding.Caution
	for _, c := range m.Open.Result.CautionList() {
		switch {
		case alwaysInSight[c.Key]:
			shown = append(shown, c)
		case liveCautions[c.Key]:
			more = append(more, c)
		}
	}
	names := make([]string, len(shown))
	for i, c := range shown {
		names[i] = c.Title
	}
	// Open until the first reading is kept, then folded to the names.
	first := len(m.Open.Job.Amp.Readings) == 0
	return keyed.Row("section", cautionKey(first), keyed.Class("bench-cautions"), keyed.Attr("aria-label", "Cautions before a reading"),
		keyed.El("details", keyed.Class("more bench-caution"), keyed.If(first, keyed.Attr("open", "")),
			keyed.El("summary", keyed.El("span", keyed.Text(strings.Join(names, " · ")))),
			keyed.El("div", keyed.Class("more-in stack"), cautionList(append(shown, more...)), part.Note(finding.Standing))))
}

// cautionList says each caution in its order. Where nobody holds a source for
// any of them, one line under them says so for all.
func cautionList(all []finding.Caution) keyed.Item {
	memory := !slices.ContainsFunc(all, func(c finding.Caution) bool { return c.Mark != "memory" })
	rows := keyed.Map(all, func(c finding.Caution) keyed.Item {
		say := " " + c.Say
		if !memory {
			say += memoryMark(c.Mark)
		}
		return keyed.El("li", keyed.El("b", keyed.Text(c.Title+".")), keyed.Text(say))
	})
	return keyed.Several(keyed.El("ul", keyed.Class("caution-list"), rows), keyed.If(memory && len(all) > 0, part.Note("All of these: common practice, from memory.")))
}

// cautionKey makes the open list and the folded one two rows.
func cautionKey(first bool) string {
	if first {
		return "bench-cautions-first"
	}
	return "bench-cautions"
}

// memoryMark says of a line nobody holds a source for that it is so.
func memoryMark(mark string) string {
	if mark == "memory" {
		return " (common practice, from memory)"
	}
	return ""
}
