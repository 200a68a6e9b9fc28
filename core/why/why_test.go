package why

import (
	"strings"
	"testing"
)

var (
	peak    = &Rule{Name: "reservoir peak", Formula: "√2 · half · top/read", Source: "peak of a sine wave"}
	reserve = &Rule{Name: "reserve", Formula: "worst · (1 + reserve)"}
)

// loud fails the test when somebody formats it.
type loud struct{ t *testing.T }

func (l loud) String() string { l.t.Error("formatted before it was shown"); return "" }

func tree() *Node {
	half := Given("half winding", Text("290.0 V"), "r12")
	read := Given("mains at the reading", Text("117.0 V"), "r12")
	top := Given("top of the range", Text("127 V"), "r3")
	worst := Found(peak, "no-load peak", Text("445.2 V"), half, read, top)
	return Found(reserve, "wanted rating", Text("467.4 V"), worst)
}

func TestPrint(t *testing.T) {
	want := strings.Join([]string{
		"467.4 V, wanted rating (reserve: worst · (1 + reserve))",
		"  445.2 V, no-load peak (reservoir peak: √2 · half · top/read)",
		"    290.0 V, half winding [r12]",
		"    117.0 V, mains at the reading [r12]",
		"    127 V, top of the range [r3]",
		"",
	}, "\n")
	if got := Print(tree()); got != want {
		t.Errorf("Print:\n%s\nwant:\n%s", got, want)
	}
}

func TestSources(t *testing.T) {
	if got := strings.Join(Sources(tree()), " "); got != "r12 r3" {
		t.Errorf("Sources = %q, want each place once, in order", got)
	}
}

func TestNil(t *testing.T) {
	var n *Node
	if Print(n) != "" || len(Lines(n)) != 0 || Sources(n) != nil || n.Shown() != "" {
		t.Error("a nil reason is not empty")
	}
	got := Found(peak, "x", nil, nil, Given("a", nil, "r1"), nil, Given("b", nil, "r2"))
	if len(got.From) != 2 || got.From[0].Label != "a" || got.From[1].Label != "b" {
		t.Errorf("nil sources were kept: %v", got.From)
	}
	Walk(&Node{From: []*Node{nil, got}}, func(*Node, int) bool { return true })
}

func TestFoundLeavesTheCallersSliceAlone(t *testing.T) {
	from := []*Node{Given("a", nil, ""), nil, Given("b", nil, "")}
	Found(peak, "x", nil, from...)
	if from[1] != nil || from[2].Label != "b" {
		t.Error("the caller's sources were moved")
	}
}

func TestNothingIsFormattedBeforeItIsShown(t *testing.T) {
	n := Found(peak, "x", loud{t}, Given("y", loud{t}, "r1"))
	Sources(n)
	Walk(n, func(*Node, int) bool { return true })
}

func TestSharedNodeIsPrintedOnce(t *testing.T) {
	shared := Found(peak, "peak", Text("445 V"), Given("half", Text("290 V"), "r1"))
	lines := Lines(Found(reserve, "both", nil, shared, shared))
	if len(lines) != 4 || lines[1].Repeat || !lines[3].Repeat {
		t.Errorf("lines = %v, want the second use marked as a repeat without its sources", lines)
	}
	if !strings.HasSuffix(lines[3].String(), ", as above") {
		t.Errorf("repeat reads %q", lines[3])
	}
}

func TestCircleEnds(t *testing.T) {
	a := &Node{Label: "a"}
	a.From = []*Node{{Label: "b", From: []*Node{a}}}
	if got := len(Lines(a)); got != 2 {
		t.Errorf("%d lines of a circle, want 2", got)
	}
}

func TestWalkStopsWhereTold(t *testing.T) {
	var labels []string
	Walk(tree(), func(n *Node, depth int) bool {
		labels = append(labels, n.Label)
		return depth < 1
	})
	if got := strings.Join(labels, ", "); got != "wanted rating, no-load peak" {
		t.Errorf("visited %q", got)
	}
}
