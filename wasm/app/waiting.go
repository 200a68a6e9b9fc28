package app

import (
	"fmt"
	"strconv"
	"strings"

	"lugworth/core/job"
	"lugworth/wasm/port"
)

func init() {
	// placed notes that the order in force was sent to a supplier.
	pressed["placed"] = func(m *Model, e event) []port.Effect {
		if m.Open == nil {
			return nil
		}
		body, ok := m.Open.Result.Place(e.ID, e.Date)
		if !ok {
			return nil
		}
		id := m.nextPlaced(e.ID) + "-" + lastOf(e.NewID, 4) // two devices apart may both be at their first
		body["id"] = id
		return m.commit(e.Fresh, "order "+id+" noted as sent", change{job.KindPlaced, body})
	}
	// came takes down how many pieces of a line are here, all told.
	changed["came"] = func(m *Model, e event) []port.Effect {
		n, err := strconv.Atoi(strings.TrimSpace(e.Value))
		if err != nil || n < 0 {
			m.Screen.Toast = Toast{Say: fmt.Sprintf("%q is not a number of pieces", e.Value)}
			return nil
		}
		delete(m.Screen.Drafts, draftKey(e.Where))
		return m.commit(e.Fresh, "", set(job.KindArrived, e.ID, map[string]any{"pieces": strconv.Itoa(n), "at": e.Date}))
	}
	// all-came is the whole line in one press.
	pressed["all-came"] = func(m *Model, e event) []port.Effect {
		return m.commit(e.Fresh, "", set(job.KindArrived, e.ID, map[string]any{"pieces": e.Value, "at": e.Date}))
	}
}

// nextPlaced counts the orders to a supplier: K-1, K-2.
func (m *Model) nextPlaced(supplier string) string {
	n := 1
	for _, p := range m.Open.Job.Placed {
		if p.Supplier == supplier {
			n++
		}
	}
	return supplier + "-" + strconv.Itoa(n)
}
