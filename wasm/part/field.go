package part

import "lugworth/wasm/keyed"

// Field is an input with its label. It sends Typed and Changed with Act, For
// and K.
type Field struct {
	ID      string // of the input; unique in the page
	Label   string
	Value   string
	Unit    string // stands after the input: "V"
	Hint    string // an example of what may be typed
	Problem string // what is wrong with it; said to a reader at once
	Act     string
	For     string // data-id
	K       string // data-k, "" for none
	Name    string // in a form
	Keys    string // keys sent as messages: "Enter Escape"
	Number  bool   // the keyboard with digits
	Big     bool   // digits of the bench
	Off     bool
	Lines   int            // more than 1: a text of several lines
	Options []keyed.Option // a choice from a list
}

// Item is the field as it stands in a view.
func (f Field) Item() keyed.Item {
	class := "field"
	if f.Big {
		class += " field-big"
	}
	return keyed.El("div", keyed.Class(class),
		keyed.El("label", keyed.Attr("for", f.ID), keyed.Text(f.Label)),
		keyed.El("span", keyed.Class("field-line"), f.input(),
			keyed.If(f.Unit != "", keyed.El("span", keyed.Class("unit"), keyed.Text(f.Unit)))),
		keyed.El("p", keyed.ID(f.ID+"-hint"), keyed.Class("hint"), keyed.Text(f.Hint)),
		keyed.El("p", keyed.ID(f.ID+"-wrong"), keyed.Class("wrong"), keyed.Attr("role", "alert"), keyed.Text(f.Problem)))
}

func (f Field) input() keyed.Item {
	common := keyed.Several(keyed.ID(f.ID), keyed.Class("input"), f.does(),
		keyed.Attr("aria-describedby", f.ID+"-hint "+f.ID+"-wrong"),
		keyed.Live("aria-invalid", yes(f.Problem != "")), keyed.Flag("disabled", f.Off),
		attr("name", f.Name), attr("data-keys", f.Keys))
	switch {
	case len(f.Options) > 0:
		return keyed.El("select", common, keyed.Options(f.Value, f.Options...))
	case f.Lines > 1:
		return keyed.El("textarea", common, keyed.Attr("rows", digits(f.Lines)), keyed.Value(f.Value))
	}
	return keyed.Input("text", f.Value, common, keyed.Attr("autocomplete", "off"),
		keyed.If(f.Number, keyed.Attr("inputmode", "decimal")))
}

func (f Field) does() keyed.Item {
	if f.K == "" {
		return keyed.Do(f.Act, f.For)
	}
	return keyed.Do(f.Act, f.For, f.K)
}

// Tick is a box to tick. It sends Changed.
func Tick(id, label string, on bool, act, forID string) keyed.Item {
	return keyed.El("label", keyed.Class("tick"), keyed.Attr("for", id),
		keyed.El("input", keyed.Attr("type", "checkbox"), keyed.ID(id), keyed.Do(act, forID), keyed.Checked(on)),
		keyed.El("span", keyed.Text(label)))
}

// Chip is one of a few choices in sight. Note is a second line: a price, a
// date.
type Chip struct{ Value, Say, Note string }

// Chips are choices side by side, the chosen one filled. A press sends act and
// id with k and value = the chip's Value.
func Chips(label, act, id, chosen string, chips ...Chip) keyed.Item {
	return chooser("chips", label, act, id, func(v string) bool { return v == chosen }, chips)
}

// BigChips are chips for the bench and the telephone: wide, 64 px high.
func BigChips(label, act, id, chosen string, chips ...Chip) keyed.Item {
	return chooser("chips chips-big", label, act, id, func(v string) bool { return v == chosen }, chips)
}

// ChipSet are chips of which several may be on.
func ChipSet(label, act, id string, on func(value string) bool, chips ...Chip) keyed.Item {
	return chooser("chips", label, act, id, on, chips)
}

func chooser(class, label, act, id string, on func(string) bool, chips []Chip) keyed.Item {
	return keyed.El("div", keyed.Class(class), keyed.Attr("role", "group"), keyed.Attr("aria-label", label),
		keyed.Map(chips, func(c Chip) keyed.Item {
			return keyed.El("button", keyed.Attr("type", "button"), keyed.Class("chip"),
				keyed.Do(act, id, c.Value), keyed.Attr("value", c.Value), keyed.Live("aria-pressed", yes(on(c.Value))),
				keyed.El("span", keyed.Text(c.Say)),
				keyed.If(c.Note != "", keyed.El("span", keyed.Class("chip-note"), keyed.Text(c.Note))))
		}))
}

// Press is a button. Kind is "" for a plain one, "main" for the one thing a
// view is about, "quiet" for what is seldom wanted.
func Press(kind, say, act, id string, items ...keyed.Item) keyed.Item {
	class := "press"
	if kind != "" {
		class += " press-" + kind
	}
	return keyed.Button(say, act, id, keyed.Class(class), keyed.Several(items...))
}

// Presses are buttons side by side.
func Presses(items ...keyed.Item) keyed.Item {
	return keyed.El("div", append([]keyed.Item{keyed.Class("presses")}, items...)...)
}

func yes(on bool) string {
	if on {
		return "true"
	}
	return "false"
}

// attr is nothing where the value is empty.
func attr(name, value string) keyed.Item {
	return keyed.If(value != "", keyed.Attr(name, value))
}
