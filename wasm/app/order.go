package app

import (
	"errors"
	"slices"
	"strconv"

	"lugworth/core/job"
	"lugworth/core/money"
	"lugworth/core/order"
	"lugworth/wasm/port"
)

// tagSeek is the tag of the moment in which a step of the search is done.
const tagSeek = "order-step"

func init() {
	// order-plan goes from a part held back to its option on Plan.
	pressed["order-plan"] = func(m *Model, e event) []port.Effect {
		pressed["plan-open"](m, e)
		m.Screen.Posture = "plan"
		m.closeDialog()
		return []port.Effect{port.SetHash{Hash: "plan"}}
	}
	// order-this buys as the cheapest order does, or as a point of the choice
	// that is named.
	pressed["order-this"] = func(m *Model, e event) []port.Effect { return m.orderThis(e) }
	pressed["order-planned"] = func(m *Model, e event) []port.Effect { return m.orderPlanned(e) }
	pressed["order-point"] = func(m *Model, e event) []port.Effect {
		if m.Screen.Buying.Point == e.ID {
			e.ID = ""
		}
		m.Screen.Buying.Point = e.ID
		return nil
	}
	pressed["order-front"] = func(m *Model, e event) []port.Effect {
		m.Screen.Buying.Original, m.Screen.Buying.Point = e.Value == "originality", ""
		return nil
	}
	pressed["order-line"] = func(m *Model, e event) []port.Effect {
		m.Screen.Buying.List, m.Screen.Buying.Number = e.ID, e.K
		m.Screen.Dialog = "supplier"
		return nil
	}
	pressed["order-take"] = func(m *Model, e event) []port.Effect { return m.orderTake(e) }
	pressed["order-parcels"] = func(m *Model, e event) []port.Effect { return m.limitParcels(e.Value) }
	pressed["order-days"] = func(m *Model, e event) []port.Effect { return m.limitDays(e.Value) }
	pressed["order-spares"] = func(m *Model, e event) []port.Effect { return m.buySpares(e) }
	elapsed[tagSeek] = func(m *Model, e event) []port.Effect {
		m.seeking = false
		if s, err := m.Seek(); s != nil && err == nil && m.Screen.Posture == "order" {
			s.work()
		}
		return nil
	}
}

// seekOn asks for the next step of the search, while Order is looked at and
// there is one.
func (m *Model) seekOn() []port.Effect {
	if m.seeking || m.Screen.Posture != "order" {
		return nil
	}
	if s, err := m.Seek(); s == nil || err != nil || s.idle() {
		return nil
	}
	m.seeking = true
	return []port.Effect{port.After{Tag: tagSeek}}
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

// Wanted is the order that "order this way" would record: that of a point, or
// the cheapest.
func (s *Seek) Wanted(key string) (order.Answer, bool) {
	if key != "" {
		p, ok := s.Point(key)
		return p.Answer, ok
	}
	a := s.Best()
	return a, a.Feasible
}

// orderThis records how an order differs from the plan.
func (m *Model) orderThis(e event) []port.Effect {
	s, err := m.Seek()
	if s == nil || err != nil {
		return nil
	}
	a, ok := s.Wanted(e.ID)
	if !ok {
		return nil
	}
	body := job.BuyBody{Swaps: s.Swaps(a)}
	if b, err := s.of.BuyOf(s.Ordering, a); err == nil {
		body.Spares = sparesOf(b)
	}
	m.Screen.Moved++
	return m.commit(e.Fresh, "ordered this way", buyChange(body))
}

// orderTake buys one need from another offer that passes, all else as it is.
func (m *Model) orderTake(e event) []port.Effect {
	s, err := m.Seek()
	w, err1 := strconv.Atoi(e.ID)
	pack, err2 := strconv.Atoi(e.K)
	if s == nil || errors.Join(err, err1, err2) != nil || w < 0 || w >= len(s.Wants) {
		return nil
	}
	if !slices.ContainsFunc(s.Market.Wants[w].Fits, func(f order.Fit) bool { return f.Pack == pack }) {
		return nil
	}
	plan := slices.Clone(s.Forced)
	plan[w] = pack
	body := job.BuyBody{Swaps: s.Swaps(order.Answer{Plan: plan}), Spares: m.Open.Job.Buying.Spares}
	m.Screen.Moved++
	m.closeDialog()
	return m.commit(e.Fresh, "ordered from "+s.Offers[pack].Offer.List, buyChange(body))
}

// orderPlanned takes every swap and every spare back.
func (m *Model) orderPlanned(e event) []port.Effect {
	m.Screen.Moved++
	return m.commit(e.Fresh, "ordered as planned", buyChange(job.BuyBody{}))
}

// sparesOf are the spares that make the order come to what it is worth: those
// that the least order asks for, or that still save after whole packs.
func sparesOf(b order.Buy) []job.Spare {
	var out []job.Spare
	for _, k := range b.Baskets {
		if s := k.TopUp.Spare; s != nil && (k.Short > 0 || PaysOff(k.TopUp)) {
			out = append(out, job.Spare{List: k.Supplier, Number: s.Number, Packs: strconv.Itoa(s.Packs)})
		}
	}
	return out
}

// PaysOff reports whether the spares of a top-up cost less than they save,
// whole packs counted.
func PaysOff(t order.TopUp) bool { return t.Spare != nil && Saved(t) > 0 }

// Saved is what the spares of a top-up save in the end: whole packs may cost
// more than the goods that are missing.
func Saved(t order.TopUp) money.Amount { return t.Saves + t.Amount - t.Spare.Amount }

// buySpares adds the spares that a basket proposes to what is bought.
func (m *Model) buySpares(e event) []port.Effect {
	r := m.Result()
	if r == nil {
		return nil
	}
	body := r.Job.Buying
	for _, b := range r.Buy.Baskets {
		if s := b.TopUp.Spare; b.Supplier == e.ID && s != nil {
			body.Spares = append(body.Spares[:len(body.Spares):len(body.Spares)], job.Spare{List: b.Supplier, Number: s.Number, Packs: strconv.Itoa(s.Packs)})
			return m.commit(e.Fresh, "spares added to the order to "+b.Supplier, buyChange(body))
		}
	}
	return nil
}

// buyChange is the record of how the order differs from the plan.
func buyChange(b job.BuyBody) change {
	swaps, spares := []any{}, []any{}
	for _, s := range b.Swaps {
		swaps = append(swaps, map[string]any{"option": s.Option, "part": s.Part, "list": s.List, "number": s.Number})
	}
	for _, s := range b.Spares {
		spares = append(spares, map[string]any{"list": s.List, "number": s.Number, "packs": s.Packs})
	}
	return change{job.KindBuy, map[string]any{"swaps": swaps, "spares": spares}}
}
