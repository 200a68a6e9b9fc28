package view

import (
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
	if open != benchIntake && app.HasIntake(m.Open.Job) {
		nodes = append(nodes, intakeLine(m))
	}
	nodes = append(nodes, parkLine(m))
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

// intakeLine is the intake in one line: a press opens it.
func intakeLine(m app.Model) keyed.Node {
	j := m.Open.Job
	say := joined(" · ", joined(" ", j.Amp.Maker, j.Amp.Model, j.Amp.About), j.Owner.Name, mainsWords(j.Mains), boundsWords(m))
	return keyed.Row("div", "bench-line", keyed.Class("bench-line"),
		keyed.El("button", keyed.Attr("type", "button"), keyed.Class("item"), keyed.Do("bench-part", benchIntake), keyed.El("span", keyed.Class("item-say"), keyed.Text(say)), keyed.El("span", keyed.Class("soft"), keyed.Text("change"))))
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
	say := func(c finding.Caution) keyed.Item { return part.Caution(c.Title, c.Say+memoryMark(c.Mark)) }
	names := make([]string, len(shown))
	for i, c := range shown {
		names[i] = c.Title
	}
	// Open until the first reading is kept, then folded to the names.
	first := len(m.Open.Job.Amp.Readings) == 0
	return keyed.Row("section", cautionKey(first), keyed.Attr("aria-label", "Cautions before a reading"),
		keyed.El("details", keyed.Class("more bench-caution"), keyed.If(first, keyed.Attr("open", "")),
			keyed.El("summary", keyed.El("span", keyed.Text(strings.Join(names, " · ")))),
			keyed.El("div", keyed.Class("more-in stack"), keyed.Map(append(shown, more...), say), part.Note(finding.Standing))))
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
