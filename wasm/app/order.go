package app

import (
	"lugworth/core/order"
	"lugworth/wasm/port"
)

func init() {
	// order-plan goes from a part held back to its option on Plan.
	pressed["order-plan"] = func(m *Model, e event) []port.Effect {
		pressed["plan-open"](m, e)
		m.Screen.Posture = "plan"
		m.closeDialog()
		return []port.Effect{port.SetHash{Hash: "plan"}}
	}
}

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
