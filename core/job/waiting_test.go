package job_test

import (
	"testing"

	"lugworth/core/job"
	"lugworth/core/order"
	"lugworth/core/record"
)

// What is sent to a supplier is the basket in force; it comes back from the
// records as it was sent, and what came is counted against it.
func TestWaiting(t *testing.T) {
	j, books := opened(t, "drover")
	r := job.Derive(j, books, "2026-03-02")
	if _, ok := r.Place("nobody", "2026-03-02"); ok {
		t.Error("an order without a basket")
	}
	body, ok := r.Place("K", "2026-03-02")
	if !ok {
		t.Fatal("no basket of K")
	}
	body["id"] = "K-1"
	log := record.NewLog(record.File{Format: record.Format})
	meta := record.Meta{ID: "p1", At: "2026-03-02T10:00:00+01:00", Device: "bench", Salt: "00112233445566778899aabbccddeeff"}
	if _, err := log.Append(job.KindPlaced, body, meta); err != nil {
		t.Fatal(err)
	}
	meta.ID = "p2"
	if _, err := log.Append(job.KindArrived, map[string]any{"id": "K-1/" + r.Buy.Baskets[0].Lines[0].Number, "pieces": "1", "at": "2026-03-05"}, meta); err != nil {
		t.Fatal(err)
	}
	got := job.Read(log.File())
	if len(got.Placed) != 1 || len(got.Placed[0].Lines) != len(r.Buy.Baskets[0].Lines) || got.Placed[0].Total != "95.00" {
		t.Fatalf("%+v", got.Placed)
	}
	for i, l := range r.Buy.Baskets[0].Lines {
		if p := got.Placed[0].Lines[i]; p.Number != l.Number || p.Pieces != l.Pieces || p.Days != l.LeadDays {
			t.Errorf("line %d came back as %+v, want %+v", i, p, l)
		}
	}
	due := order.Outstanding(got.Placed, got.Arrivals, "2026-06-01")
	late := 0
	for _, d := range due {
		if d.Status == order.Late {
			late++
		}
	}
	if late == 0 || len(due) != len(r.Buy.Baskets[0].Lines) {
		t.Errorf("%d late of %d", late, len(due))
	}
}
