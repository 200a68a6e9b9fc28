package job

import (
	"fmt"
	"slices"

	"lugworth/core/catalog"
	"lugworth/core/order"
	"lugworth/core/plan"
	"lugworth/core/sorted"
)

// An Ordering is the order of the set in force as a market that can be
// searched: every need with all the offers it may be bought from.
//
//	the plan line's own offer                                   always fits
//	every other offer of the lists that passes as well as it    fits where the technician named none
//	pieces on the shop's shelf                                  supplier 0: no price, no carriage, no lead
//
// Amounts are minor units of the shop's currency once the supplier's factor,
// rate · (1 + tax not reclaimed), is on them, exact to 10^-Places. Rounding
// is for display only and moves an order by half a minor unit a parcel at
// most.
type Ordering struct {
	Market  order.Market
	Wants   []Wanted     // of Market.Wants
	Offers  []Sold       // of Market.Packs
	Sellers []Sender     // of Market.Sellers
	Held    []order.Held // lines that are not ordered at all, with the reason
	Assumed []string     // what the books leave open and what is taken in its place

	result  *Result
	takes   []taken
	planned []int // by want: the pack of the plan line
}

// A Wanted is one need: the plan lines it serves, all from one offer.
type Wanted struct {
	Lines []Served
	Named bool // the technician named the offer: nothing else may serve
	takes []int
}

// A Served is one plan line.
type Served struct {
	Option, Finding, Part string // Part is the index among the option's parts
	Say                   string // what the need asks for
	Pieces                int
}

// A Sold is one offer of the market.
type Sold struct {
	Offer *catalog.Offer
	Shelf bool // from the shop's own shelf
}

// A Sender is one supplier of the market.
type Sender struct {
	List       string
	Terms      order.Terms
	NoCarriage bool // carriage is not stated and counts as nothing
}

// LeadUnstated is the lead of a pack whose row states none: an arrival limit
// never counts it as in time, and an Answer of so many days or more has no
// known lead.
const LeadUnstated = 100_000

// Ordering returns the market of the set in force. It is made once and asks
// for nothing to be searched.
//
// Errors: no set is in force, its options contradict each other, terms or
// prices that cannot be counted in.
func (r *Result) Ordering() (*Ordering, error) {
	if r.ordering == nil && r.orderingErr == nil {
		r.ordering, r.orderingErr = r.makeOrdering()
	}
	return r.ordering, r.orderingErr
}

func (r *Result) makeOrdering() (*Ordering, error) {
	if r.Force < 0 {
		return nil, fmt.Errorf("no choice is in force: pick one first")
	}
	takes, err := r.takes()
	if err != nil {
		return nil, err
	}
	plain, err := r.fill(takes, nil)
	if err != nil {
		return nil, err
	}
	if r.trade == nil {
		r.trade = newTrade(r.Job)
	}
	o := &Ordering{result: r, takes: takes, Held: plain.Held}
	b := marketBuilder{o: o, trade: r.trade, left: r.onShelf(), shelf: map[int]int{}, wants: map[string]int{}}
	return o, b.build()
}

// Candidate weighs an offer for a need: its verdict, and what it costs a
// piece. Of a need that serves several lines it is that for the first.
func (o *Ordering) Candidate(want, pack int) plan.Candidate {
	r, line := o.result, o.takes[o.Wants[want].takes[0]].line
	if offer := o.Offers[pack].Offer; offer != line.Chosen.Offer {
		return line.Weigh(plan.Priced{Offer: offer, Cost: r.Books.Cost(offer)})
	}
	return *line.Chosen
}

// PlannedPack is the offer that the plan lines of a need name.
func (o *Ordering) PlannedPack(want int) int { return o.planned[want] }

// Search sets a search up over the market.
func (o *Ordering) Search(lim order.Limits) (*order.Search, error) {
	return order.NewSearch(o.Market, lim)
}

// Planned is the order as the plan lines name it, priced as every other
// answer is, with the spares that pay for themselves. It is proven: there is
// one way to do it.
func (o *Ordering) Planned() order.Answer {
	m := o.Market
	m.Wants = slices.Clone(m.Wants)
	m.Packs = slices.Clone(m.Packs)
	for i := range m.Wants {
		p := o.planned[i]
		m.Packs[p].Stock = o.shelfStock(p)
		m.Wants[i].Fits = slices.DeleteFunc(slices.Clone(m.Wants[i].Fits), func(f order.Fit) bool { return f.Pack != p })
	}
	return settled(m)
}

// shelfStock keeps the shop's own stock, and lifts a supplier's: the plan is
// ordered even where the supplier states too little.
func (o *Ordering) shelfStock(pack int) int {
	if o.Offers[pack].Shelf {
		return o.Market.Packs[pack].Stock
	}
	return -1
}

// settled searches a market to its end.
func settled(m order.Market) order.Answer {
	s, err := order.NewSearch(m, order.Limits{})
	if err != nil {
		return order.Answer{Why: err.Error()}
	}
	for !s.Step() {
	}
	return s.Answer()
}

// BuyOf fills the baskets of an answer: lines, spares, carriage and top-ups,
// as the page draws them and the order files hold them. Recorded spares are
// not in it.
func (r *Result) BuyOf(o *Ordering, a order.Answer) (order.Buy, error) {
	if !a.Feasible || len(a.Plan) != len(o.Wants) {
		return order.Buy{}, fmt.Errorf("there is no order to fill baskets from: %s", a.Why)
	}
	takes := slices.Clone(o.takes)
	for w, pack := range a.Plan {
		for _, i := range o.Wants[w].takes {
			takes[i].instead(o.Offers[pack].Offer)
		}
	}
	return r.fill(takes, nil)
}

// Swaps lists the lines that an answer buys elsewhere than the plan names, as
// a record of kind buy takes them.
func (o *Ordering) Swaps(a order.Answer) []Swap {
	var out []Swap
	for w, pack := range a.Plan {
		to := o.Offers[pack].Offer
		for _, i := range o.Wants[w].takes {
			if t := &o.takes[i]; to.List != t.need.List || to.Number != t.need.Number {
				out = append(out, Swap{Option: t.need.Option, Part: t.part, List: to.List, Number: to.Number})
			}
		}
	}
	return out
}

// Arrival is the longest lead of an answer; Planned().Days beside it says what the
// day by the longest lead counts with.
func (o *Ordering) Arrival(a order.Answer) Arrival {
	var out Arrival
	for p, n := range a.Packs {
		if n > 0 && !o.Offers[p].Shelf {
			out.with(o.Offers[p].Offer.LeadDays)
		}
	}
	return out
}

// lead reports whether an offer is the row that counts of its number.
func (r *Result) lead(o *catalog.Offer) bool {
	have, ok := r.Books.Offer(o.List, o.Number)
	return ok && have == o
}

// listsOf names the suppliers of offers once, in order.
func listsOf(offers []Sold) []string {
	var out []string
	for _, s := range offers {
		if !s.Shelf && !slices.Contains(out, s.Offer.List) {
			out = append(out, s.Offer.List)
		}
	}
	sorted.By(out, func(a, b string) int {
		if a < b {
			return -1
		}
		return 1
	})
	return out
}
