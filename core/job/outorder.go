package job

import (
	"encoding/json"

	"lugworth/core/money"
	"lugworth/core/order"
)

type (
	// OutOrdering is the section "ordering" of result.json: the cheapest order
	// of the set in force and what is proven of it. It is left out where no set
	// is in force. Amounts are exact decimals of the shop's currency, with the
	// supplier's factor on them; lower is what no order costs less than, equal
	// to cost where proven.
	OutOrdering struct {
		Currency string     `json:"currency"`
		Feasible bool       `json:"feasible"`
		Reason   string     `json:"reason"` // why there is no order
		Cost     *string    `json:"cost"`
		Lower    *string    `json:"lower"`
		Proven   bool       `json:"proven"`
		Parcels  int        `json:"parcels"`
		LeadDays *int       `json:"lead_days"` // null where some row states none
		Planned  *string    `json:"planned"`   // cost of the order as the plan lines name it
		Later    string     `json:"later"`     // by how much it arrives after the plan, "" where it does not
		Swaps    []OutSwap  `json:"swaps"`
		TopUps   []OutTopUp `json:"top_ups"`
		Assumed  []string   `json:"assumed"`
	}
	// OutSwap is a plan line bought from another offer than it names.
	OutSwap struct {
		Option string `json:"option"`
		Part   string `json:"part"`
		From   string `json:"from"` // list and number the plan names
		To     string `json:"to"`
	}
	// OutTopUp is spares that pay for themselves, or that a least order asks
	// for, in the supplier's currency.
	OutTopUp struct {
		Supplier string `json:"supplier"`
		Currency string `json:"currency"`
		Amount   string `json:"amount"`
		Carriage string `json:"carriage"` // comes down to
		Saves    string `json:"saves"`
		Part     string `json:"part"` // what does it with the least money, "" where none can
		Packs    int    `json:"packs"`
		Adds     string `json:"adds"` // what those packs cost
	}
)

// JSON writes the whole result in its documented form.
func (o Output) JSON() ([]byte, error) {
	data, err := json.MarshalIndent(o, "", " ")
	if err != nil {
		return nil, err
	}
	return append(data, '\n'), nil
}

// OutOrdering puts an answer of the set in force in its documented form.
// Whoever asks has run the search; nil without a set in force.
func (r *Result) OutOrdering(a order.Answer) *OutOrdering {
	o, err := r.Ordering()
	if r.Force < 0 {
		return nil
	}
	out := &OutOrdering{Currency: r.Policy.Currency.Code, Swaps: []OutSwap{}, TopUps: []OutTopUp{}, Assumed: []string{}}
	if err != nil {
		out.Reason = err.Error()
		return out
	}
	out.Assumed = append(out.Assumed, o.Assumed...)
	exact := func(v int64) *string { return text(order.Exact(v, a.Places+r.Policy.Currency.Exponent)) }
	out.Feasible, out.Reason, out.Proven, out.Parcels = a.Feasible, a.Why, a.Proven, a.Parcels
	p := o.Planned()
	if p.Feasible {
		out.Planned = exact(p.Cost)
	}
	out.Lower = exact(a.Lower)
	if !a.Feasible {
		return out
	}
	out.Cost = exact(a.Cost)
	out.Later = o.Arrival(a).After(o.Arrival(p))
	if a.Days < LeadUnstated {
		out.LeadDays = &a.Days
	}
	for _, s := range o.Swaps(a) {
		t := find(o.takes, s)
		out.Swaps = append(out.Swaps, OutSwap{s.Option, s.Part, t.need.List + " " + t.need.Number, s.List + " " + s.Number})
	}
	r.outTopUps(out, o, a)
	return out
}

func (r *Result) outTopUps(out *OutOrdering, o *Ordering, a order.Answer) {
	buy, err := r.BuyOf(o, a)
	if err != nil {
		out.Reason = err.Error()
		return
	}
	for i := range buy.Baskets {
		b := &buy.Baskets[i]
		if b.TopUp.Amount == 0 {
			continue
		}
		f := func(v money.Amount) string { return b.Currency.Format(v) }
		t := OutTopUp{Supplier: b.Supplier, Currency: b.Currency.Code, Amount: f(b.TopUp.Amount), Carriage: f(b.TopUp.Carriage), Saves: f(b.TopUp.Saves)}
		if s := b.TopUp.Spare; s != nil {
			t.Part, t.Packs, t.Adds = s.Number, s.Packs, f(s.Amount)
		}
		out.TopUps = append(out.TopUps, t)
	}
}
