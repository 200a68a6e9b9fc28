package draw

import (
	"encoding/xml"
	"fmt"
	"strings"
	"testing"
)

// Blocks by hand: 1 used up, 2 handed back and 3 in place are 6 blocks in one
// line, a seventh stands below; nothing at all is a dash. A full block is one
// shape, a half one two, an empty one one.
func TestTouchRows(t *testing.T) {
	plain := func(v int64) string { return fmt.Sprintf("%d.%02d", v/100, v%100) }
	got := TouchRows(Touches{Format: plain, Rows: []Touched{
		{Name: "a", Matter: [3]int{1, 2, 3}, Cost: 54311, Day: -1},
		{Name: "b", Matter: [3]int{0, 0, 7}, Look: [3]int{0, 1, 0}, Cost: 47157, Day: 2, Shown: true},
	}})
	if err := xml.Unmarshal([]byte(got), new(struct {
		XMLName xml.Name
	})); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(got, `class="pic-solid"`); n != 4 { // 1 full, 2 + 1 halves
		t.Errorf("%d solid shapes, want 4", n)
	}
	if n := strings.Count(got, "<rect"); n != 4+2+3+7+1 {
		t.Errorf("%d blocks and parts of blocks, want 17", n)
	}
	if n := strings.Count(got, `class="pic-line"`); n != 2+3+7+1+3 { // outlines, and a dash for each of three empty columns
		t.Errorf("%d lines, want 16", n)
	}
	for _, want := range []string{"543.11", "day not stated", "day 2", "a: parts 1 used up 2 handed back 3 out of use in place, look nothing, undo nothing, 543.11, day not stated", `y="` + num(66+touchBlock+3+0.75)} {
		if !strings.Contains(got, want) {
			t.Errorf("the picture lacks %q", want)
		}
	}
}
