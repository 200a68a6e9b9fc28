package app

import "lugworth/core/order"

// Ordered reports whether the order in force asks a supplier for anything.
func (m Model) Ordered() bool {
	r := m.Result()
	if r == nil {
		return false
	}
	for _, b := range r.Buy.Baskets {
		if len(b.Lines) > 0 {
			return true
		}
	}
	return false
}

// Parcels is the number of suppliers that something is ordered from.
func Parcels(b order.Buy) int {
	n := 0
	for _, k := range b.Baskets {
		if len(k.Lines) > 0 {
			n++
		}
	}
	return n
}
