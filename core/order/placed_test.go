package order

import "testing"

// Two orders; by hand: 2026-03-02 and 4 days is the 6th, on the 9th that is 3
// days late; 35 days is April 6th.
func TestOutstanding(t *testing.T) {
	placed := []Placed{
		{ID: "K-1", At: "2026-03-02T09:15:00+01:00", Supplier: "K", Lines: []PlacedLine{{"K-1042", "film", 10, 4}, {"K-1203", "can", 1, 35}, {"K-1", "jack", 2, -1}}},
		{ID: "R-1", At: "2026-03-02", Supplier: "R", Lines: []PlacedLine{{"R-7", "tube", 4, 7}}},
	}
	arrived := []Arrival{{ID: "K-1/K-1042", Pieces: 6}, {ID: "R-1/R-7", Pieces: 4}, {ID: "X-1/nothing", Pieces: 9}}
	got := Outstanding(placed, arrived, "2026-03-09")
	want := []struct {
		number  string
		status  Status
		day     string
		overdue int
	}{{"K-1042", Late, "2026-03-06", 3}, {"K-1203", Waiting, "2026-04-06", 0}, {"K-1", Waiting, "", 0}, {"R-7", Here, "2026-03-09", 0}}
	if len(got) != len(want) {
		t.Fatalf("%d lines", len(got))
	}
	for i, w := range want {
		if g := got[i]; g.Number != w.number || g.Status != w.status || g.Day != w.day || g.Overdue != w.overdue {
			t.Errorf("%d: %+v, want %+v", i, g, w)
		}
	}
	if d := Outstanding(placed, []Arrival{{ID: "K-1/K-1203", Pieces: 0, Say: "back-ordered"}}, "2026-03-03"); d[0].Status != Waiting || d[0].Number != "K-1042" {
		t.Errorf("%+v", d[0])
	}
	if d := Outstanding([]Placed{{ID: "Z-1", At: "soon", Lines: []PlacedLine{{"1", "", 1, 3}}}}, nil, "2026-03-03"); d[0].Day != "" || d[0].Status != Waiting {
		t.Errorf("%+v", d[0])
	}
}
