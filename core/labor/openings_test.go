package labor

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// By hand: chassis 0.4/0.6/1.4 out and in, expected 0.7 h; board 0.5/0.7/0.9
// up and down, expected 0.7 h. The filters and the trim are done at the
// board, the ripple test closed between them: chassis twice, board twice:
// 4 × 0.7 = 2.8 h, at 80.00 twice 112.00. Without the test: 1.4 h.
func TestStatesAreOpenedAsOftenAsTheOrderAsks(t *testing.T) {
	setUps := []SetUp{
		{ID: "board", Say: "board lifted", Three: three(t, ".5 .7 .9"), From: "out"},
		{ID: "out", Say: "chassis out", Three: three(t, ".4 .6 1.4"), From: Closed},
		{ID: "S2", Say: "final tests", Three: three(t, ".8 1.0 1.8")},
	}
	one := three(t, "1 1 1")
	filters := Task{ID: "F", Say: "new filters", Three: one, SetUps: []string{"S2", "board"}}
	test := Task{ID: "R", Say: "ripple test", Three: one, In: []string{Closed}, After: []string{"F"}}
	trim := Task{ID: "B", Say: "bias trim", Three: one, In: []string{"board"}, After: []string{"R"}}
	e, err := Sum([]Task{filters, test, trim}, setUps, rate("80.00", "USD"))
	if err != nil {
		t.Fatal(err)
	}
	board, out, s2 := e.Lines[0], e.Lines[1], e.Lines[2]
	if board.Times != 2 || out.Times != 2 || board.Amount != 11200 || out.Amount != 11200 || s2.Times != 0 || !slices.Equal(s2.For, []string{"F"}) || !slices.Equal(board.For, []string{"F", "B"}) {
		t.Errorf("%+v\n%+v\n%+v", board, out, s2)
	}
	if e.Again != "board lifted comes again because ripple test (closed) must come before bias trim" {
		t.Errorf("says %q", e.Again)
	}
	if e, err = Sum([]Task{filters, trim}, setUps, rate("80.00", "USD")); err != nil || e.Lines[0].Times != 1 || e.Lines[1].Times != 1 || e.Again != "" {
		t.Errorf("%v %+v", err, e)
	}
	near(t, "hours", 0, float64(e.Hours)-(0.7+0.7+1.1+2), 1e-9)
	if e, err = Sum([]Task{{ID: "J", Three: one, SetUps: []string{"S2"}}}, setUps, rate("80.00", "USD")); err != nil || len(e.Lines) != 2 {
		t.Errorf("a task that asks for no state: %v %+v", err, e.Lines)
	}
}

func TestStatesRefuse(t *testing.T) {
	one := three(t, "1 1 1")
	out := SetUp{ID: "out", Three: one, From: Closed}
	for want, c := range map[string]struct {
		task Task
		s    []SetUp
	}{
		`reached from "lid"`: {Task{ID: "a", Three: one}, []SetUp{out, {ID: "x", Three: one, From: "lid"}}},
		`in state "lid"`:     {Task{ID: "a", Three: one, In: []string{"lid"}}, []SetUp{out}},
		"names 2 states":     {Task{ID: "a", Three: one, SetUps: []string{"out", "board"}}, []SetUp{out, {ID: "board", Three: one, From: "out"}}},
		"is defined twice":   {Task{ID: "a", Three: one}, []SetUp{out, out}},
	} {
		if _, err := Sum([]Task{c.task}, c.s, rate("80.00", "USD")); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// A task without a state of its own still holds its place in the order, and
// is done wherever the amp stands open.
func TestTasksWithoutAState(t *testing.T) {
	one := three(t, "1 1 1")
	setUps := []SetUp{{ID: "out", Say: "chassis out", Three: one, From: Closed}}
	tasks := []Task{{ID: "a", Three: one, In: []string{"out"}}, {ID: "b", Three: one, After: []string{"a"}}, {ID: "c", Three: one, In: []string{"out"}, After: []string{"b"}}}
	e, err := Sum(tasks, setUps, rate("60", "USD"))
	if err != nil || e.Lines[0].Times != 1 || math.Abs(float64(e.Hours)-4) > 1e-9 {
		t.Errorf("%v %+v", err, e.Lines)
	}
}
