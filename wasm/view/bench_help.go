package view

import (
	"strconv"
	"strings"

	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// joined joins what is not empty.
func joined(by string, words ...string) string {
	var kept []string
	for _, w := range words {
		if strings.TrimSpace(w) != "" {
			kept = append(kept, strings.TrimSpace(w))
		}
	}
	return strings.Join(kept, by)
}

// count is "1 finding", "3 findings", "none yet".
func count(n int, of string) string {
	switch n {
	case 0:
		return "none yet"
	case 1:
		return "1 " + of
	}
	return itoa(n) + " " + of + "s"
}

// volts is a voltage as it was written, without its unit.
func volts(v unit.Voltage) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(float64(v), 'f', -1, 64)
}

func pressedWord(on bool) string {
	if on {
		return "true"
	}
	return "false"
}

// doChip is a chip whose act takes an id, a k and a value, each of which may
// be "".
func doChip(act, id, k, value, say, note string, on bool, items ...keyed.Item) keyed.Item {
	do := keyed.Do(act, id)
	if k != "" {
		do = keyed.Do(act, id, k)
	}
	return keyed.El("button", keyed.Attr("type", "button"), keyed.Class("chip"), do, keyed.Several(items...),
		keyed.Attr("value", value), keyed.Live("aria-pressed", pressedWord(on)),
		keyed.El("span", keyed.Text(say)),
		keyed.If(note != "", keyed.El("span", keyed.Class("chip-note"), keyed.Text(note))))
}

// group holds chips that belong together under a label read out.
func group(label, class string, chips ...keyed.Item) keyed.Item {
	return keyed.El("div", keyed.Class(class), keyed.Attr("role", "group"), keyed.Attr("aria-label", label), keyed.Several(chips...))
}

// setChips choose the value of one field of one entity; a press on the chosen
// one takes it away.
func setChips(label, id, k, chosen string, chips ...part.Chip) keyed.Item {
	var items []keyed.Item
	for _, c := range chips {
		value := c.Value
		if value == chosen {
			value = ""
		}
		items = append(items, keyed.El("button", keyed.Attr("type", "button"), keyed.Class("chip"), keyed.ID("set-"+k+"-"+id+"-"+c.Value),
			keyed.Do("set", id, k), keyed.Live("value", value), keyed.Live("aria-pressed", pressedWord(c.Value == chosen)),
			keyed.El("span", keyed.Text(c.Say)),
			keyed.If(c.Note != "", keyed.El("span", keyed.Class("chip-note"), keyed.Text(c.Note)))))
	}
	return labeled(label, group(label, "chips", items...))
}

// labeled puts a visible name above a group of chips.
func labeled(label string, item keyed.Item) keyed.Item {
	return keyed.El("div", keyed.Class("labeled"), keyed.El("span", keyed.Class("label-say"), keyed.Attr("aria-hidden", "true"), keyed.Text(label)), item)
}

// tick is a box that sets a field to true or false.
func tick(id, label string, on bool, k string) keyed.Item {
	return keyed.El("label", keyed.Class("tick"), keyed.Attr("for", id),
		keyed.El("input", keyed.Attr("type", "checkbox"), keyed.ID(id), keyed.Do("tick", "", k), keyed.Checked(on)),
		keyed.El("span", keyed.Text(label)))
}

// field is an input that commits one field of one entity.
func field(m app.Model, id, k, label, value string) part.Field {
	return part.Field{ID: strings.ReplaceAll(joined("-", k, id), "/", "-"), Label: label, Value: m.Draft("set", id, k, value), Act: "set", For: id, K: k}
}

// draft is an input of a form: what is typed is kept until the form is sent.
// The form is named with a count behind it, so that the inputs for the next
// thing are others than those just sent.
func draft(m app.Model, form, name, label, hint string) part.Field {
	base, _, _ := strings.Cut(form, app.Nth)
	return part.Field{ID: base + "-" + name, Label: label, Value: m.Draft("draft", form, name, ""), Act: "draft", For: form, K: name, Name: name, Hint: hint}
}

// send is the button that sends a form.
func send(say string) keyed.Item {
	return keyed.El("button", keyed.Attr("type", "submit"), keyed.Class("press press-main"), keyed.Text(say))
}

// noteWhen is a remark that comes and goes without its row being written
// anew: the cursor may stand in it.
func noteWhen(on bool, say string) keyed.Item {
	return keyed.El("p", keyed.Class("note"), keyed.Flag("hidden", !on), keyed.Text(say))
}

// anew is what a form holds, made anew once its name counts one more: what
// was sent must not stand there to be sent twice, not even under the cursor.
func anew(form string, items ...keyed.Item) keyed.Item {
	return keyed.Nodes(keyed.Row("div", form+"-fields", keyed.Class("stack"), keyed.Several(items...)))
}

func nth(form string, n int) string { return form + app.Nth + itoa(n) }

// more1 is what stands folded away under one line.
func more1(say string, items ...keyed.Item) keyed.Item {
	return keyed.El("details", keyed.Class("more"), keyed.El("summary", keyed.Text(say)), keyed.El("div", keyed.Class("more-in stack"), keyed.Several(items...)))
}

func fields(all ...part.Field) keyed.Item {
	return keyed.El("div", keyed.Class("fields"), keyed.Map(all, func(f part.Field) keyed.Item { return f.Item() }))
}
