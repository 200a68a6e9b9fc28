package app

import (
	"slices"

	"lugworth/core/job"
	"lugworth/core/order"
	"lugworth/wasm/port"
)

// limitParcels asks for one parcel fewer or more, or for no limit. The first
// press begins at what the cheapest order takes.
func (m *Model) limitParcels(way string) []port.Effect {
	s, err := m.Seek()
	if s == nil || err != nil {
		return nil
	}
	l := &m.Screen.Buying.Limits
	switch way {
	case "less":
		l.Parcels = max(1, s.from(l.Parcels)-1)
	case "more":
		if l.Parcels > 0 {
			l.Parcels = min(l.Parcels+1, s.Suppliers())
		}
	default:
		l.Parcels = 0
	}
	return nil
}

// from is the number of parcels that a limit is lowered from.
func (s *Seek) from(limit int) int {
	if a := s.Best(); limit == 0 && a.Feasible {
		return a.Parcels
	}
	return max(limit, 1)
}

// Suppliers is how many could be ordered from, the shelf left out.
func (s *Seek) Suppliers() int {
	n := 0
	for _, x := range s.Sellers {
		if x.List != order.ShopStock {
			n++
		}
	}
	return n
}

// limitDays asks for the next earlier or later day that some offer states, or
// for no limit.
func (m *Model) limitDays(way string) []port.Effect {
	s, err := m.Seek()
	if s == nil || err != nil {
		return nil
	}
	l := &m.Screen.Buying.Limits
	days := s.Leads()
	switch {
	case way != "less" && way != "more":
		l.Days, l.HasDays = 0, false
	case len(days) == 0:
	case way == "less":
		l.Days, l.HasDays = before(days, s.latest(*l)), true
	case l.HasDays:
		l.Days = after(days, l.Days)
	}
	return nil
}

// latest is the day that an arrival limit is lowered from.
func (s *Seek) latest(l order.Limits) int {
	if l.HasDays {
		return l.Days
	}
	if a := s.Best(); a.Feasible {
		return a.Days
	}
	return job.LeadUnstated
}

// Leads are the leads that offers of the market state, shortest first.
func (s *Seek) Leads() []int {
	var out []int
	for _, w := range s.Market.Wants {
		for _, f := range w.Fits {
			if d := s.Market.Packs[f.Pack].Days; d < job.LeadUnstated {
				out = append(out, d)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// before is the latest day under one, else the earliest there is; after the
// earliest past it, else the latest.
func before(days []int, day int) int {
	at, _ := slices.BinarySearch(days, day)
	return days[max(at-1, 0)]
}

func after(days []int, day int) int {
	at, _ := slices.BinarySearch(days, day+1)
	return days[min(at, len(days)-1)]
}

// Lack is a need that keeps an order from meeting the limits.
type Lack struct {
	Want     int
	Earliest int // day its first offer arrives; −1 where none states one
}

// Late are the needs that no offer brings by the day asked for.
func (s *Seek) Late() []Lack {
	var out []Lack
	for w := range s.Market.Wants {
		if !s.Limits.HasDays {
			break
		}
		first := job.LeadUnstated
		for _, f := range s.Market.Wants[w].Fits {
			first = min(first, s.Market.Packs[f.Pack].Days)
		}
		if first > s.Limits.Days {
			if first == job.LeadUnstated {
				first = -1
			}
			out = append(out, Lack{w, first})
		}
	}
	return out
}

// A Sole is a supplier that alone sells what some need asks for, under the
// arrival limit asked for.
type Sole struct {
	Seller int
	Wants  []int
}

// Soles are the suppliers that no order can do without.
func (s *Seek) Soles() []Sole {
	var out []Sole
	for w := range s.Market.Wants {
		seller := -1
		for _, f := range s.Market.Wants[w].Fits {
			p := &s.Market.Packs[f.Pack]
			if s.Limits.HasDays && p.Days > s.Limits.Days {
				continue
			}
			if seller >= 0 && seller != p.Seller {
				seller = -2
				break
			}
			seller = p.Seller
		}
		if seller < 0 {
			continue
		}
		at := slices.IndexFunc(out, func(x Sole) bool { return x.Seller == seller })
		if at < 0 {
			at, out = len(out), append(out, Sole{Seller: seller})
		}
		out[at].Wants = append(out[at].Wants, w)
	}
	return out
}
