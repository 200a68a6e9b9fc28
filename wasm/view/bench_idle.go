package view

import (
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// benchIdleView says what a meter must show when the output stage is set.
func benchIdleView(m app.Model) []keyed.Node { return idleView(m, sightOf(m).idle(m)) }

func idleView(m app.Model, s sight) []keyed.Node {
	nodes := []keyed.Node{keyed.Row("div", "idle-head", part.Question("What do I dial?", idleUnder(m, s)))}
	if len(s.Windows) == 0 {
		return append(nodes, keyed.Row("div", "idle-none", idleEmpty(m, s)))
	}
	nodes = append(nodes, keyed.Row("div", "idle-mains", idleMains(m)), idleCautions(m))
	for _, g := range idleGroups(s.Windows) {
		if len(g.refs) == 1 && len(m.For(g.Ref)) > 1 {
			g.refs, g.alike = m.For(g.Ref), true
		}
		nodes = append(nodes, idleCard(m, g))
	}
	nodes = append(nodes, pairCard(s))
	for _, c := range s.Curves {
		nodes = append(nodes, keyed.Row("section", "curves-"+slug(c.Subject), keyed.Class("card"), keyed.El("h2", keyed.Text("Where does "+c.Subject+" stand?")), part.Picture(draw.PlateCurves(c))))
	}
	return append(nodes, choicesCard(m, s))
}

func idleUnder(m app.Model, s sight) string {
	if len(s.Windows) == 0 {
		return "The currents between which the output tubes may idle, as readings of a meter."
	}
	w := "Good over the owner's " + mainsWords(m.Open.Job.Mains) + "."
	if !m.Open.Job.Mains.Declared() {
		w = "The owner's mains range is not declared."
	}
	return "Set it here, at the mains on this bench. " + w
}

// idleEmpty teaches what is missing and how to get it.
func idleEmpty(m app.Model, s sight) keyed.Item {
	a := &m.Open.Job.Amp
	switch {
	case len(a.Positions) == 0:
		return part.Empty("It needs the amp's circuit", "A window of currents follows from the circuit: what the tubes bear, what the supply gives, what the bias does. Load a circuit sheet, or put the amp together from stages.",
			"mains, full-wave supply, cathode-biased pair", part.Press("main", "To the circuit", "circuit-open", app.CircuitRows))
	case len(a.WithRole(amp.OutputTube)) == 0:
		return part.Empty("No output tube is marked", "The row of an output tube says role=output-tube. Add it to the sheet and load it again.",
			"V3, beam, 6V6GT, plate=P3 screen=B2 grid=G3 cathode=K, role=output-tube", part.Press("main", "To the sheet", "circuit-open", app.CircuitRows))
	case !m.Open.Job.Mains.Declared():
		return part.Empty("The owner's mains is not known", "A current that is right at this bench may be too much where the amp is played. Enter the range of the owner's mains.",
			"114 to 127 V", part.Press("main", "To the owner", "bench-part", benchIntake))
	}
	return part.Empty("The circuit is not worked out", sentence(capital(s.Missing))+" Look at the drawing and the chart: what is missing or does not agree is named there.",
		"volts of the first filter, of each output plate, screen and cathode, all at one mains", part.Press("main", "To the circuit", "circuit-open", ""))
}

// idleMains asks for the mains at the bench, which the readings to dial
// belong to.
func idleMains(m app.Model) keyed.Item {
	last := ""
	if m.Screen.Circuit.Mains == "" {
		if v, ok := m.BenchMains(); ok {
			last = volts(v)
		}
	}
	f := part.Field{ID: "idle-mains-now", Label: "Mains at this bench now", Value: m.Draft("idle-mains", "", "", orWords(m.Screen.Circuit.Mains, last)), Act: "idle-mains", Unit: "V", Number: true}
	if _, ok := m.BenchMains(); !ok {
		f.Problem = "no voltage can be read from this"
	} else if last != "" {
		f.Hint = "that of the last reading: read it again before you dial"
	}
	return f.Item()
}

// idleCautions stand before the figures, folded to their names: each way of
// reading the current shows its own live work in full.
func idleCautions(m app.Model) keyed.Node {
	ids := []string{"load", "hot-glass", "work-rules"}
	if m.Open.Job.Amp.Bias != "cathode" {
		ids = append([]string{"no-bias"}, ids...)
	}
	var names []string
	for _, id := range ids {
		names = append(names, cautionTitles[id])
	}
	return keyed.Row("section", "idle-cautions", keyed.Attr("aria-label", "Cautions before anything is dialed"), keyed.El("details", keyed.Class("more bench-caution"),
		keyed.El("summary", keyed.El("span", keyed.Text(strings.Join(names, " · ")))), keyed.El("div", keyed.Class("more-in stack"), keyed.Map(ids, cautionWords))))
}

// An idleGroup is one window with all tubes it is the same for.
type idleGroup struct {
	refs  []string
	alike bool // asked of the first, the others are stated to draw alike
	circuit.Window
}

// idleGroups join tubes whose windows and ways of dialing print alike.
func idleGroups(ws []circuit.Window) []idleGroup {
	var out []idleGroup
next:
	for _, w := range ws {
		for i := range out {
			if sameWindow(out[i].Window, w) {
				out[i].refs = append(out[i].refs, w.Ref)
				continue next
			}
		}
		out = append(out, idleGroup{refs: []string{w.Ref}, Window: w})
	}
	return out
}

func sameWindow(a, b circuit.Window) bool {
	if a.Type != b.Type || a.Mains != b.Mains || a.Missing != b.Missing || a.Doubt != b.Doubt || len(a.Dial) != len(b.Dial) ||
		bandWords(a.Current, unit.Ampere) != bandWords(b.Current, unit.Ampere) {
		return false
	}
	for i := range a.Dial {
		if a.Dial[i].At != b.Dial[i].At || meterWords(a.Dial[i].Low, a.Dial[i].Unit) != meterWords(b.Dial[i].Low, b.Dial[i].Unit) {
			return false
		}
	}
	return true
}

// meterWords is a figure as a bench meter shows it.
func meterWords(v float64, u unit.Unit) string {
	return unit.FormatAmount(v, u, draw.MeterFigures(v, u))
}

// idleCard is the window of one tube, or of several alike: the current, the
// reading to dial in big digits, and what the method may be off by.
func idleCard(m app.Model, g idleGroup) keyed.Node {
	name := joined(" ", strings.Join(g.refs, ", "), g.Type)
	key := "idle-" + slug(strings.Join(g.refs, "-")+"-"+volts(g.Mains))
	heading := keyed.El("h2", keyed.Text(name+", at "+volts(g.Mains)+" V mains"))
	if g.Missing != "" {
		return keyed.Row("section", key, keyed.Class("card stack idle-card"), heading, part.Verdict(draw.NotEnoughData, ""), keyed.El("p", keyed.Text(sentence(capital(g.Missing)))))
	}
	d, chosen := chosenDial(m, g.Window)
	return keyed.Row("section", key, keyed.Class("card stack idle-card"), heading,
		keyed.If(chosen, dialChips(g.Window, d), dialCaution(d)),
		keyed.If(len(g.Ways) > 0, keyed.El("h3", keyed.Text("How to get there")), keyed.If(swaps(g.Window), cautionWords("stored-charge")), keyed.El("ul", keyed.Class("idle-terms"), keyed.Map(g.Ways, func(w string) keyed.Item { return keyed.El("li", keyed.Text(w)) }))),
		keyed.If(chosen, dialDigits(d, g.Window)),
		keyed.El("p", keyed.Class("soft small"), keyed.Text("Cathode current of one tube: plate and screen together")),
		part.Picture(draw.WindowStrip(windowStrip(name, g.Window, d, chosen))),
		keyed.If(chosen, dialError(d)),
		part.Facts(part.Fact("Lower end", keyed.Text(printed(g.Least))), part.Fact("Upper end", keyed.Text(printed(g.Most)))),
		keyed.If(g.alike, part.Note("For each of "+strings.Join(g.refs, ", ")+", which are stated to draw alike. The meter goes to "+g.Ref+".")),
		keyed.If(m.Work().Tap != "", part.Note("On the "+m.Work().Tap+" V tap, as the choice in force has it.")),
		keyed.If(g.Doubt != "", part.Verdict(draw.NotProven, "not proven: "+g.Doubt)))
}

// swaps reports whether getting there means to change a part.
func swaps(w circuit.Window) bool {
	return slices.ContainsFunc(w.Ways, func(s string) bool { return strings.Contains(s, " in place of ") })
}

// printed has the signs of print in place of those of files.
func printed(s string) string { return strings.NewReplacer("<=", "≤", ">=", "≥").Replace(s) }

// chosenDial is the method in sight: the one asked for, else the first.
func chosenDial(m app.Model, w circuit.Window) (circuit.Dial, bool) {
	for _, d := range w.Dial {
		if d.Method == m.Screen.Circuit.Method {
			return d, true
		}
	}
	if len(w.Dial) > 0 {
		return w.Dial[0], true
	}
	return circuit.Dial{}, false
}

func dialChips(w circuit.Window, now circuit.Dial) keyed.Item {
	if len(w.Dial) < 2 {
		return keyed.Item{}
	}
	var chips []part.Chip
	for _, d := range w.Dial {
		chips = append(chips, part.Chip{Value: d.Method, Say: capital(d.Method), Note: "± " + unit.FormatAmount(100*d.Error, unit.Percent, 1)})
	}
	return part.Chips("Way of reading the current", "idle-method", "", now.Method, chips...)
}

// dialDigits are the two ends the meter must stay between, rounded inward.
func dialDigits(d circuit.Dial, w circuit.Window) keyed.Item {
	if d.Low >= d.High {
		when := "Meter " + d.At + " shows"
		switch { // what is in place reads otherwise, and lower may still be too much
		case swaps(w):
			when = "With that fitted, the meter " + d.At + " shows"
		case len(w.Ways) > 0:
			when = "With that set, the meter " + d.At + " shows"
		}
		most, v, _ := strings.Cut(unit.FormatDown(d.High, d.Unit, draw.MeterFigures(d.High, d.Unit)), " ")
		return keyed.Several(keyed.El("p", keyed.El("b", keyed.Text(when))), part.Reading("at most", most, v))
	}
	low, u, _ := strings.Cut(unit.FormatUp(d.Low, d.Unit, draw.MeterFigures(d.Low, d.Unit)), " ")
	high, v, _ := strings.Cut(unit.FormatDown(d.High, d.Unit, draw.MeterFigures(d.High, d.Unit)), " ")
	return keyed.Several(keyed.El("p", keyed.El("b", keyed.Text("Meter "+d.At+" shows"))),
		keyed.El("div", keyed.Class("idle-ends"), part.Reading(leastSays(w), low, u), part.Reading("at most", high, v)))
}

// leastSays names the lower end: where no limit sets it, it is what the tube
// draws now.
func leastSays(w circuit.Window) string {
	if w.Current.Low == w.Current.Expected {
		return "as it is now"
	}
	return "at least"
}

// dialError is what the method may be off by, term by term.
func dialError(d circuit.Dial) keyed.Item {
	return keyed.Several(
		keyed.El("p", keyed.El("b", keyed.Text("The current may be off by "+unit.FormatAmount(100*d.Error, unit.Percent, 1)+" either way:"))),
		keyed.El("ul", keyed.Class("idle-terms"), keyed.Map(d.Terms, func(t string) keyed.Item { return keyed.El("li", keyed.Text(t)) })))
}

// dialCaution is the live work a method means, in the words of the catalog.
func dialCaution(d circuit.Dial) keyed.Item {
	if d.Caution != circuit.LiveReadings && d.Caution != "" {
		return keyed.Several(cautionWords(circuit.LiveReadings), cautionWords(d.Caution))
	}
	return cautionWords(circuit.LiveReadings)
}

func windowStrip(name string, w circuit.Window, d circuit.Dial, dial bool) draw.Window {
	s := draw.Window{Subject: name + " at " + volts(w.Mains) + " V mains", Low: w.Current.Low, High: w.Current.High, Unit: unit.Ampere, Now: unit.Exactly(w.Current.Expected)}
	if dial {
		s.Dial, s.DialLow, s.DialHigh, s.DialUnit = d.At, d.Low, d.High, d.Unit
	}
	return s
}

// pairCard says how far the tubes of a stage differ.
func pairCard(s sight) keyed.Node {
	if len(s.Pairs) == 0 {
		return keyed.Row("section", "idle-pairs")
	}
	heading := keyed.El("h2", keyed.Text("How far do the tubes differ?"))
	if !slices.ContainsFunc(s.Pairs, func(p pairDiffers) bool { return p.Read != "" }) {
		return keyed.Row("section", "idle-pairs", keyed.Class("card stack"), heading, part.Note("Not known: no two of them were read apart."))
	}
	return keyed.Row("section", "idle-pairs", keyed.Class("card stack"), heading,
		part.Facts(keyed.Map(s.Pairs, func(p pairDiffers) keyed.Item {
			return keyed.Several(part.Fact(p.Refs+", as read", keyed.Text(orWords(p.Read, "not read apart"))), part.Fact(p.Refs+", band", keyed.Text(orWords(p.Band, "nothing is known of the pair"))))
		})))
}
