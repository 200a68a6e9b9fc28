package catalog

import (
	"fmt"
	"slices"
	"testing"
)

// An index made in pieces of any size answers as one made at once, and each
// piece stays small.
func TestIndexInPieces(t *testing.T) {
	for _, rows := range []int{0, 1, 2, 1023, 1024, 1025, 5000} {
		l := List{Name: "X"}
		if rows > 0 {
			var err error
			if l, err = ReadList("X", "x.csv", []byte(wideList(rows)), Terms{}, nil); err != nil {
				t.Fatal(err)
			}
		}
		lists := []List{l, {Name: "empty"}}
		whole := NewIndex(lists)
		for _, piece := range []int{1, 7, 1000, 1 << 20} {
			g := StartIndex(lists)
			steps := 0
			for g.Step(piece) {
				steps++
			}
			if piece == 7 && steps < rows/7 {
				t.Errorf("%d rows by 7: only %d steps", rows, steps)
			}
			for kind := range Other + 1 {
				for _, w := range []Want{{Kinds: []Kind{kind}}, {Kinds: []Kind{kind}, ValueLow: 22e-9, ValueHigh: 47e-9}, {Kinds: []Kind{kind}, ValueLow: 1e3, ValueHigh: 1e5}} {
					if a, b := whole.Find(w), g.Index().Find(w); !slices.Equal(a, b) {
						t.Fatalf("%d rows by %d, %+v: %d offers, want %d", rows, piece, w, len(b), len(a))
					}
				}
			}
			if a, b := fmt.Sprint(whole.All()), fmt.Sprint(g.Index().All()); a != b {
				t.Errorf("%d rows by %d: not all offers", rows, piece)
			}
		}
	}
}
