package order

import (
	"cmp"
	"time"

	"lugworth/core/sorted"
)

// A Placed order is what was sent to a supplier, as a record's body holds it.
type Placed struct {
	ID       string       `json:"id,omitempty"` // "K-1"
	At       string       `json:"at,omitempty"` // day it was sent
	Supplier string       `json:"supplier,omitempty"`
	Total    string       `json:"total,omitempty"` // in the supplier's currency
	Currency string       `json:"currency,omitempty"`
	Lines    []PlacedLine `json:"lines,omitempty"`
}

// A PlacedLine is one part of it.
type PlacedLine struct {
	Number string `json:"number,omitempty"`
	Text   string `json:"text,omitempty"`
	Pieces int    `json:"pieces,omitempty"`
	Days   int    `json:"days,omitempty"` // stated lead; −1 not stated
}

// An Arrival is what came of one line, all told.
type Arrival struct {
	ID     string `json:"id,omitempty"` // placed order, slash, number: "K-1/K-1042"
	At     string `json:"at,omitempty"` // day it last came
	Pieces int    `json:"pieces,omitempty"`
	Say    string `json:"say,omitempty"` // "one broken", "sent another make"
}

// Status is how a line that was ordered stands.
type Status string

const (
	Waiting Status = "waiting"
	Part    Status = "part arrived"
	Here    Status = "arrived"
	Late    Status = "late"
)

// A Due line is one part on order.
type Due struct {
	Order, Supplier, Number, Text string
	Key                           string // names its arrival
	Ordered, Came                 int
	Day                           string // when it should be there by the stated lead; "" not stated
	Overdue                       int    // days past that
	Status                        Status
	Say                           string
}

// Outstanding lists what is on order on a day (ISO 8601), late ones first, the
// rest by the day they should be there; what has come stands last. The day is
// the day of the order and the lead the list stated, as days of the calendar:
// a supplier's word and no promise of this program.
func Outstanding(placed []Placed, arrivals []Arrival, today string) []Due {
	var out []Due
	for _, p := range placed {
		for _, l := range p.Lines {
			d := Due{Order: p.ID, Supplier: p.Supplier, Number: l.Number, Text: l.Text, Key: p.ID + "/" + l.Number, Ordered: l.Pieces, Day: later(p.At, l.Days)}
			for _, a := range arrivals {
				if a.ID == d.Key {
					d.Came, d.Say = a.Pieces, a.Say
				}
			}
			d.Overdue = max(0, between(d.Day, today))
			switch {
			case d.Came >= d.Ordered:
				d.Status, d.Overdue = Here, 0
			case d.Overdue > 0:
				d.Status = Late
			case d.Came > 0:
				d.Status = Part
			default:
				d.Status = Waiting
			}
			out = append(out, d)
		}
	}
	sorted.By(out, func(a, b Due) int {
		return cmp.Or(rank(a)-rank(b), b.Overdue-a.Overdue, cmp.Compare(dayOrLast(a.Day), dayOrLast(b.Day)))
	})
	return out
}

func rank(d Due) int {
	switch d.Status {
	case Late:
		return 0
	case Here:
		return 2
	}
	return 1
}

// dayOrLast puts what has no day behind all that have.
func dayOrLast(day string) string {
	if day == "" {
		return "~"
	}
	return day
}

// later is the day so many days after another, "" where either is not known.
func later(day string, days int) string {
	if len(day) < 10 || days < 0 {
		return ""
	}
	t, err := time.Parse(time.DateOnly, day[:10])
	if err != nil {
		return ""
	}
	return t.AddDate(0, 0, days).Format(time.DateOnly)
}

// between counts the days from one day to another, 0 where either is not
// known.
func between(from, to string) int {
	if len(from) < 10 || len(to) < 10 {
		return 0
	}
	a, err1 := time.Parse(time.DateOnly, from[:10])
	b, err2 := time.Parse(time.DateOnly, to[:10])
	if err1 != nil || err2 != nil {
		return 0
	}
	return int(b.Sub(a).Hours() / 24)
}
