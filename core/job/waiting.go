package job

import (
	"strconv"

	"lugworth/core/order"
)

// Waiting lists what is on order, late ones first.
func (r *Result) Waiting() []order.Due { return order.Outstanding(r.Job.Placed, r.Job.Arrivals, r.Now) }

// Place is the body of the record that an order was sent to a supplier: what
// the basket in force holds beyond what was sent before. ok is false where
// there is nothing.
func (r *Result) Place(supplier, at string) (body map[string]any, ok bool) {
	for _, b := range r.Buy.Baskets {
		if b.Supplier != supplier {
			continue
		}
		var lines []map[string]any
		for _, l := range b.Lines {
			if n := l.Pieces - r.OnOrder(supplier, l.Number); n > 0 {
				lines = append(lines, map[string]any{"number": l.Number, "text": l.Text, "pieces": strconv.Itoa(n), "days": strconv.Itoa(l.LeadDays)})
			}
		}
		return map[string]any{"at": at, "supplier": supplier, "total": b.Currency.Format(b.Total), "currency": b.Currency.Code, "lines": lines}, len(lines) > 0
	}
	return nil, false
}

// OnOrder returns how many pieces of a part are on order or here, by orders
// that were placed for this job.
func (r *Result) OnOrder(list, number string) int {
	n := 0
	for _, p := range r.Job.Placed {
		if p.Supplier != list {
			continue
		}
		for _, l := range p.Lines {
			if l.Number == number {
				n += l.Pieces
			}
		}
	}
	return n
}

// placed reads what was ordered and what came. Counts are written as digits:
// records hold no other numbers.
func (d *decoder) placed() {
	j := d.job
	j.Placed, j.Arrivals = nil, nil
	for _, p := range each[struct {
		order.Placed
		Lines []struct{ Number, Text, Pieces, Days string } `json:"lines"`
	}](d, KindPlaced) {
		out := p.Placed
		out.Lines = nil
		for _, l := range p.Lines {
			out.Lines = append(out.Lines, order.PlacedLine{Number: l.Number, Text: l.Text, Pieces: whole(l.Pieces, 0), Days: whole(l.Days, -1)})
		}
		j.Placed = append(j.Placed, out)
	}
	for _, a := range each[struct {
		order.Arrival
		Pieces string `json:"pieces"`
	}](d, KindArrived) {
		out := a.Arrival
		out.Pieces = whole(a.Pieces, 0)
		j.Arrivals = append(j.Arrivals, out)
	}
}

func whole(digits string, other int) int {
	v, err := strconv.Atoi(digits)
	if err != nil || v < -1 || v > 1_000_000 {
		return other
	}
	return v
}
