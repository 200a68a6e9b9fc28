package keyed_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lugworth/wasm/keyed"
	"lugworth/wasm/keyed/sample"
)

// Carrying out the steps from one tree to another gives the other, whatever
// the two are and whichever row has the focus.
func TestDiffGivesTheNewTree(t *testing.T) {
	for seed := uint64(1); seed <= 600; seed++ {
		old, new := sample.Tree(seed), sample.Tree(seed+1)
		focus := keyed.Focus{fmt.Sprint("k", seed%24): true}
		doc := newDocument(t, old)
		for _, op := range keyed.Diff(old, new, focus) {
			doc.apply(op)
		}
		if got, want := doc.root.String(), newDocument(t, new).root.String(); got != want {
			t.Fatalf("from tree %d to tree %d:\n got %s\nwant %s", seed, seed+1, got, want)
		}
	}
}

func TestSameTreeNeedsNoStep(t *testing.T) {
	for seed := uint64(1); seed <= 50; seed++ {
		if ops := keyed.Diff(sample.Tree(seed), sample.Tree(seed), nil); len(ops) != 0 {
			t.Fatalf("tree %d against itself: %v", seed, ops)
		}
	}
}

func list(keys ...string) keyed.Tree {
	return keyed.Tree{Nodes: []keyed.Node{keyed.Row("ul", "list", keyed.Each(keys, func(k string) keyed.Node {
		return keyed.Row("li", k, keyed.Text(k))
	}))}}
}

// The least number of rows is moved: all but a longest run that keeps its
// order. The number to expect is counted by trying every subset.
func TestFewestMoves(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		n := 1 + random.IntN(8)
		var was, is []string
		order := random.Perm(n)
		for i := range n {
			was = append(was, fmt.Sprint("r", i))
			is = append(is, fmt.Sprint("r", order[i]))
		}
		doc := newDocument(t, list(was...))
		for _, op := range keyed.Diff(list(was...), list(is...), nil) {
			doc.apply(op)
		}
		if want := n - longestRising(order); len(doc.moved) != want {
			t.Errorf("to %v: moved %v, want %d moves", order, doc.moved, want)
		}
	}
}

func longestRising(order []int) int {
	best := 0
	for set := range 1 << len(order) {
		last, size := -1, 0
		for i, v := range order {
			if set&(1<<i) != 0 {
				if v < last {
					size = -1
					break
				}
				last = v
				size++
			}
		}
		best = max(best, size)
	}
	return best
}

func TestRowInFocusIsNotMoved(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	for range 300 {
		var was, is []string
		for _, i := range random.Perm(9)[:1+random.IntN(9)] {
			was = append(was, fmt.Sprint("r", i))
		}
		for _, i := range random.Perm(9) {
			is = append(is, fmt.Sprint("r", i))
		}
		doc := newDocument(t, list(was...))
		for _, op := range keyed.Diff(list(was...), list(is...), keyed.Focus{"r3": true, "list": true}) {
			doc.apply(op)
		}
		if slices.Contains(doc.moved, "r3") {
			t.Errorf("from %v to %v: the row in focus was moved", was, is)
		}
		if got, want := doc.root.String(), newDocument(t, list(is...)).root.String(); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

func TestInputInFocusIsNotWritten(t *testing.T) {
	page := func(v, total string) keyed.Tree {
		return keyed.Tree{Nodes: []keyed.Node{keyed.Row("p", "line-7",
			keyed.Input("text", v, keyed.Do("price", "7")), keyed.El("b", keyed.Text(total)))}}
	}
	ops := keyed.Diff(page("1", "1.00"), page("12", "12.00"), keyed.Focus{"line-7--price": true, "line-7": true})
	if len(ops) != 1 || ops[0].Slot.Value != "12.00" {
		t.Errorf("steps %+v, want the total alone", ops)
	}
}

func TestRow(t *testing.T) {
	tests := []struct {
		name string
		row  keyed.Node
		want string
	}{
		{"a text alone is a slot", keyed.Row("p", "k", keyed.Text("a<b")),
			`<p id="k">a&lt;b</p>`},
		{"ids come from the act", keyed.Row("p", "k", keyed.Button("Go", "go", "7"), keyed.Button("Go", "go", "8")),
			`<p id="k"><button id="k--go" type="button" data-act="go" data-id="7">Go</button>` +
				`<button id="k--go1" type="button" data-act="go" data-id="8">Go</button></p>`},
		{"an attribute cannot break out", keyed.Row("p", "k", keyed.Attr("title", `"><script>`), keyed.Live("class", "a\"b")),
			`<p id="k" title="&#34;&gt;&lt;script&gt;" class="a&#34;b"></p>`},
		{"our own marks are no text", keyed.Row("p", "k", keyed.Text("a\x00b\x01c"), keyed.Raw("<i>\x00</i>")),
			"<p id=\"k\">a\uFFFDb\uFFFDc<i></i></p>"},
		{"the chosen option", keyed.Row("select", "k", keyed.Options("b", keyed.Option{Value: "a", Say: "A"}, keyed.Option{Value: "b", Say: "B"})),
			`<select id="k"><option id="k--1" value="a">A</option><option id="k--2" value="b" selected="">B</option></select>`},
		{"rows among other items", keyed.Row("div", "k", keyed.El("h2", keyed.Text("H")), keyed.Nodes(keyed.Row("p", "x")), keyed.Text("end")),
			`<div id="k"><h2 id="k--2">H</h2><p id="x"></p><span id="k--1">end</span></div>`},
		{"nothing", keyed.Row("p", "k", keyed.If(false, keyed.Text("no")), keyed.Item{}),
			`<p id="k"></p>`},
	}
	for _, tt := range tests {
		if got := tt.row.HTML(); got != tt.want {
			t.Errorf("%s:\n got %s\nwant %s", tt.name, got, tt.want)
		}
	}
}

func TestCheck(t *testing.T) {
	twice := keyed.Tree{Title: "T", Nodes: []keyed.Node{keyed.Row("p", "a"), keyed.Row("p", "a"), keyed.Row("p", "b", keyed.El("i", keyed.ID("c"))), keyed.Row("p", "c")}}
	got := strings.Join(keyed.Check(twice), "; ")
	if want := `2 elements have the id "a"; 2 elements have the id "c"`; got != want {
		t.Errorf("Check = %q, want %q", got, want)
	}
	nested := keyed.Tree{Title: "T", Nodes: []keyed.Node{keyed.Row("p", "a", keyed.El("div", keyed.El("span"))), keyed.Row("table", "b", keyed.El("tr", keyed.El("td")))}}
	got = strings.Join(keyed.Check(nested), "; ")
	if want := "<div> stands inside <p>; <tr> stands inside <table>"; got != want {
		t.Errorf("Check = %q, want %q", got, want)
	}
	styled := keyed.Tree{Nodes: []keyed.Node{keyed.Row("p", "a", keyed.Attr("style", "x")), keyed.Row("p", "", keyed.Attr("onclick", "x"))}}
	got = strings.Join(keyed.Check(styled), "; ")
	if want := `the page has no title; style on <p>: the page's policy forbids it; a row has no key; onclick on <p>: the page's policy forbids it`; got != want {
		t.Errorf("Check = %q, want %q", got, want)
	}
	for seed := uint64(1); seed <= 50; seed++ {
		if got := keyed.Check(sample.Tree(seed)); len(got) > 0 {
			t.Errorf("sample tree %d: %q", seed, got)
		}
	}
}

func BenchmarkDiff300Rows(b *testing.B) {
	rows := func(changed int) keyed.Tree {
		var nodes []keyed.Node
		for i := range 300 {
			price := "1.00"
			if i == changed {
				price = "2.00"
			}
			nodes = append(nodes, keyed.Row("tr", fmt.Sprint("line-", i),
				keyed.El("td", keyed.Text("C4")), keyed.El("td", keyed.Text("22 nF")),
				keyed.El("td", keyed.Input("text", price, keyed.Do("price", fmt.Sprint(i)))), keyed.El("td", keyed.Text(price))))
		}
		return keyed.Tree{Nodes: []keyed.Node{keyed.Row("table", "lines", keyed.El("tbody", keyed.Nodes(nodes...)))}}
	}
	old := rows(-1)
	for i := 0; b.Loop(); i++ {
		keyed.Diff(old, rows(i%300), nil)
	}
}
