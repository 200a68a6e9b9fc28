package part

import (
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
)

// Verdict is the mark and the word of a verdict. say takes the place of the
// usual word: "within by 28 %"; it must still name the verdict.
func Verdict(k draw.Kind, say string) keyed.Item {
	if say == "" {
		say = k.Word()
	}
	return keyed.El("span", keyed.LiveClass("verdict is-"+k.Slug()),
		keyed.El("span", keyed.Class("verdict-mark"), keyed.Attr("aria-hidden", "true"), keyed.Raw(draw.Mark(k))),
		keyed.El("span", keyed.Class("verdict-word"), keyed.Text(say)))
}

// Why is a figure that opens its reason: act "why" with k.
func Why(k, figure string, items ...keyed.Item) keyed.Item {
	return keyed.El("button", keyed.Attr("type", "button"), keyed.Class("why"), keyed.Do("why", "", k), keyed.Flag("disabled", k == ""),
		keyed.Several(items...), keyed.Text(figure))
}

// Money is an amount with its currency; currency may be "" in a column whose
// head names it.
func Money(amount, currency string) keyed.Item {
	return keyed.El("span", keyed.Class("money"),
		keyed.El("span", keyed.Class("amount"), keyed.Text(amount)),
		keyed.If(currency != "", keyed.El("span", keyed.Class("unit"), keyed.Text("\u00a0"+currency))))
}

// Delta is what a press would change: "+52.00", "−8.00". A change that breaks
// the ceiling or the date is over and says so in words.
func Delta(figure string, over bool, says string) keyed.Item {
	class := "delta"
	if over {
		class += " is-over"
	}
	return keyed.El("span", keyed.LiveClass(class),
		keyed.El("span", keyed.Class("amount"), keyed.Text(figure)),
		keyed.El("span", keyed.Class("delta-say"), keyed.Text(says)))
}

// Reading is a figure in big digits, as the bench shows it.
func Reading(label, figure, unit string) keyed.Item {
	return keyed.El("div", keyed.Class("reading"),
		keyed.El("span", keyed.Class("reading-label"), keyed.Text(label)),
		keyed.El("span", keyed.Class("digits"), keyed.Text(figure)),
		keyed.El("span", keyed.Class("unit"), keyed.Text(unit)))
}

// Moved is the class of a row that a toggle has just moved. Count up by one at
// each toggle: the class then changes and the motion starts anew.
func Moved(n int) string {
	if n%2 == 0 {
		return "moved-even"
	}
	return "moved-odd"
}

// Step is one line of a reason.
type Step struct {
	Depth   int
	Value   string // "445.2 V"
	Label   string
	Formula string
	Source  string
	Where   string // the reading or the file line it comes from
	Repeat  bool   // shown in full above
}

const deepest = 6

// Chain is a reason, from the figure down to readings and sources.
func Chain(steps []Step) keyed.Item {
	return keyed.El("ol", keyed.Class("chain"), keyed.Map(steps, step))
}

func step(s Step) keyed.Item {
	depth := "depth-" + string(rune('0'+min(max(s.Depth, 0), deepest)))
	return keyed.El("li", keyed.Class("step "+depth),
		keyed.El("b", keyed.Class("amount"), keyed.Text(s.Value)),
		keyed.El("span", keyed.Class("step-label"), keyed.Text(s.Label)),
		keyed.If(s.Formula != "", keyed.El("code", keyed.Class("formula"), keyed.Text(s.Formula))),
		keyed.If(s.Where != "", keyed.El("span", keyed.Class("where"), keyed.Text(s.Where))),
		keyed.If(s.Source != "", keyed.El("cite", keyed.Class("source"), keyed.Text(s.Source))),
		keyed.If(s.Repeat, keyed.El("span", keyed.Class("where"), keyed.Text("as above"))))
}
