package part

import (
	"strconv"

	"lugworth/wasm/keyed"
)

func digits(n int) string { return strconv.Itoa(n) }

// Pile is the heading of a pile: must, should, could. Count and sum stand at
// the right of it; either may be "".
func Pile(pile, say, count string, sum keyed.Item) keyed.Item {
	return keyed.El("div", keyed.Class("pile pile-"+pile),
		keyed.El("h2", keyed.Text(say)),
		keyed.El("span", keyed.Class("pile-count"), keyed.Text(count)),
		keyed.El("span", keyed.Class("pile-sum"), sum))
}

// Block is a card that stands straight under the view's question: its heading
// is of the second order.
func Block(heading string, items ...keyed.Item) keyed.Item {
	return keyed.El("section", keyed.Class("card"), keyed.El("h2", keyed.Text(heading)), keyed.Several(items...))
}

// Card is a card inside a pile or a block: its heading is of the third order.
// Items may hold attributes for it.
func Card(heading string, items ...keyed.Item) keyed.Item {
	return keyed.El("section", keyed.Class("card"),
		keyed.If(heading != "", keyed.El("h3", keyed.Text(heading))), keyed.Several(items...))
}

// CardRow is a card that is a row of its own. class, which may be "", is added
// and may change.
func CardRow(key, class, heading string, items ...keyed.Item) keyed.Node {
	if class != "" {
		class = " " + class
	}
	return keyed.Row("section", key, keyed.LiveClass("card"+class),
		keyed.If(heading != "", keyed.El("h3", keyed.Text(heading))), keyed.Several(items...))
}

// Facts is a list of names and values, ruled like a ledger.
func Facts(facts ...keyed.Item) keyed.Item {
	return keyed.El("dl", append([]keyed.Item{keyed.Class("facts")}, facts...)...)
}

// Fact is one line of [Facts].
func Fact(name string, value ...keyed.Item) keyed.Item {
	return keyed.El("div", keyed.Class("fact"),
		keyed.El("dt", keyed.Text(name)), keyed.El("dd", value...))
}

// Col is a column of a table. Num columns stand at the right, in equal
// digits; a Wide one takes what room there is.
type Col struct {
	Say       string
	Num, Wide bool
}

// Table is a table with its caption, which is read out and printed. body is
// keyed rows made with [TR]; foot may be nothing.
func Table(caption string, cols []Col, body, foot keyed.Item) keyed.Item {
	return keyed.El("div", keyed.Class("scroll"), keyed.Attr("role", "region"),
		keyed.Attr("aria-label", caption), keyed.Attr("tabindex", "0"),
		keyed.El("table", keyed.Class("table"),
			keyed.El("caption", keyed.Text(caption)),
			keyed.El("thead", keyed.El("tr", keyed.Map(cols, func(c Col) keyed.Item {
				return keyed.El("th", keyed.Attr("scope", "col"), attr("class", c.class()), keyed.Text(c.Say))
			}))),
			keyed.El("tbody", body),
			keyed.El("tfoot", foot)))
}

func (c Col) class() string {
	switch {
	case c.Num:
		return "num"
	case c.Wide:
		return "wide"
	}
	return ""
}

// TR is a row of a table: one cell for each column.
func TR(key string, cols []Col, cells ...keyed.Item) keyed.Node {
	return keyed.Row("tr", key, tds(cols, cells))
}

// Sum is a table's foot: the sum under a single rule, closed by a double one.
func Sum(cols []Col, cells ...keyed.Item) keyed.Item {
	return keyed.El("tr", keyed.Class("sum"), tds(cols, cells))
}

func tds(cols []Col, cells []keyed.Item) keyed.Item {
	out := make([]keyed.Item, len(cells))
	for i, c := range cells {
		class := ""
		if i < len(cols) {
			class = cols[i].class()
		}
		out[i] = keyed.El("td", attr("class", class), c)
	}
	return keyed.Several(out...)
}

// Empty stands where there is nothing yet and teaches what goes there: what
// it is for, an example, and the press that makes the first one.
func Empty(heading, teach, example string, press keyed.Item) keyed.Item {
	return keyed.El("div", keyed.Class("empty"),
		keyed.El("h2", keyed.Text(heading)),
		keyed.El("p", keyed.Text(teach)),
		keyed.If(example != "", keyed.El("p", keyed.Class("example"), keyed.Text(example))),
		press)
}

// Caution is a hazard and what to do about it.
func Caution(heading, say string) keyed.Item {
	return keyed.El("div", keyed.Class("caution"), keyed.Attr("role", "note"),
		keyed.El("strong", keyed.Text(heading)), keyed.El("span", keyed.Text(say)))
}

// Note is a remark beside the matter.
func Note(say string) keyed.Item {
	return keyed.El("p", keyed.Class("note"), keyed.Text(say))
}
