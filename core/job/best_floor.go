package job

import (
	"lugworth/core/decision"
	"lugworth/core/money"
	"lugworth/core/plan"
	"lugworth/core/quote"
)

// A floor works out what choices come to at the least, by the same lines the
// bill uses, so that the search for the best choice need not price every one:
// labor of each task, shared set-ups and tasks counted once, parts under the
// state of the amp where that is known and at the cheapest offer anyone could
// take where it is not, what is sent out, and tax as far as it is sure.
// Anything it cannot tell counts as nothing.
type floor struct {
	r       *Result
	l       *ledger
	tasks   []int64 // by option: labor of its task, where no other finding names it
	charges []uint64
	shared  []int64
	base    int64
	slack   int64
	byActs  map[uint64]*decision.Floor
	any     *decision.Floor
	worth   [3]int64 // what a minor unit of labor, of parts, of others adds to the total, in millionths
}

// mostFloor is the most a line may come to for a floor to reckon with it: 300 of
// them, with tax, must not overflow.
const mostFloor money.Amount = 1 << 40

// newFloor returns nil where the policy lets a total fall as work is added.
func newFloor(r *Result, l *ledger) *floor {
	f := &floor{r: r, l: l, byActs: map[uint64]*decision.Floor{}}
	if !f.taxes() {
		return nil
	}
	n := len(r.Job.Options)
	f.tasks, f.charges = make([]int64, n), make([]uint64, n)
	f.set()
	f.work()
	return f
}

// taxes reads how much of each class the total grows by at the least. Tax
// that falls on parts only above some share of the bill is not sure, nor is
// the fee where it is credited.
func (f *floor) taxes() bool {
	p := f.r.Policy
	ppm, ok := millionths(p.Tax.Percent)
	if !ok || p.Fee < 0 || p.Fee > mostFloor {
		return false
	}
	for i := range f.worth {
		f.worth[i] = 1_000_000
	}
	fee := int64(0)
	if !p.FeeCredited {
		fee = 1_000_000
	}
	for _, c := range p.Tax.On {
		switch {
		case c == quote.Labor:
			f.worth[0] += ppm
		case c == quote.Parts && !p.Tax.HasShare:
			f.worth[1] += ppm
		case c == quote.Other:
			f.worth[2] += ppm
		case c == quote.Fee && fee > 0:
			fee += ppm
		}
	}
	if len(p.Tax.On) > 0 && ppm > 0 {
		f.slack = 500 // one rounding
		if p.Rounding == money.Down {
			f.slack = 999
		}
	}
	f.base = int64(p.Fee) * fee / 1000
	return true
}

// millionths is a percentage as a fraction in millionths, rounded down, as
// far as 100 %.
func millionths(percent money.Decimal) (int64, bool) {
	if percent.Sign() < 0 {
		return 0, false
	}
	if percent.Cmp(money.Whole(100)) >= 0 {
		return 1_000_000, true
	}
	ten, err := percent.Mul(money.Whole(10_000))
	if err != nil {
		return 0, true
	}
	n, err := ten.Round(money.Currency{}, money.Down)
	return int64(n), err == nil
}

// of is a sum in thousandths of the minor unit with the tax that is sure.
func (f *floor) of(class int, a money.Amount) int64 {
	if a < 0 || a > mostFloor {
		return 0
	}
	return int64(a) * f.worth[class] / 1000
}

// set lists the set-ups as charges.
func (f *floor) set() {
	for _, w := range f.l.setUps {
		f.shared = append(f.shared, f.of(0, w.amount))
	}
	for i := range f.l.rows {
		f.charges[i] = f.l.rows[i].setUps
	}
}

// work puts the labor of each task to its option, or, where several options
// may bring it together, among the charges.
func (f *floor) work() {
	bit := map[int]uint64{}
	for i := range f.l.rows {
		row := &f.l.rows[i]
		if row.bill {
			continue
		}
		amount := f.of(0, f.l.tasks[row.task].amount)
		switch {
		case !row.shared || f.apart(row.task):
			f.tasks[i] = amount
		case bit[row.task] != 0:
			f.charges[i] |= bit[row.task]
		case len(f.shared) < 64:
			bit[row.task] = 1 << len(f.shared)
			f.shared = append(f.shared, amount)
			f.charges[i] |= bit[row.task]
		}
	}
}

// apart reports whether the options that name a task exclude each other.
func (f *floor) apart(task int) bool {
	finding := ""
	for i := range f.l.rows {
		o := &f.r.Job.Options[i]
		if f.l.rows[i].task != task {
			continue
		}
		if o.Both || finding != "" && o.Finding != finding {
			return false
		}
		finding = o.Finding
	}
	return true
}

// under is decision.Model.Floor.
func (f *floor) under(moving []string, known bool) *decision.Floor {
	acts := uint64(0)
	for _, id := range moving {
		if i, ok := f.r.worlds.at[id]; ok {
			acts |= f.l.rows[i].acts
		}
	}
	if !known {
		if f.any == nil {
			f.any = f.make(nil)
		}
		return f.any
	}
	have, ok := f.byActs[acts]
	if !ok {
		w, met := f.l.worlds[acts]
		if !met {
			w = f.r.worlds.under(moving)
			f.l.worlds[acts] = w
		}
		have = f.make(w)
		f.byActs[acts] = have
	}
	return have
}

// make lists the shares under one state of the amp, or under any.
func (f *floor) make(w *world) *decision.Floor {
	out := &decision.Floor{Base: f.base, Slack: f.slack, Shared: f.shared}
	for _, at := range f.modelOrder() {
		out.Shares = append(out.Shares, f.share(at, w))
	}
	return out
}

// modelOrder lists the options as the decision model does: by finding.
func (f *floor) modelOrder() []int {
	var out []int
	for k := range f.r.Job.Findings {
		for i := range f.r.Job.Options {
			if f.r.Job.Options[i].Finding == f.r.Job.Findings[k].ID {
				out = append(out, i)
			}
		}
	}
	return out
}

func (f *floor) share(i int, w *world) decision.Share {
	row := &f.l.rows[i]
	s := decision.Share{Cost: f.tasks[i] + f.of(2, row.other), Shared: f.charges[i], Days: row.lead.days, NoLead: len(row.lead.noLead) > 0, Steady: f.steady(i), Moves: row.acts != 0}
	if w == nil {
		for k := range f.r.Job.Options[i].Parts {
			f.whichever(&s, &f.r.Job.Options[i], k)
		}
		return s
	}
	for _, line := range f.r.worlds.linesOf(f.r.Job.Options[i].ID, w) {
		s.Barred = s.Barred || line.Chosen != nil && !line.Chosen.Offered()
	}
	c := f.l.parts(i, w)
	if !c.failed {
		s.Cost += f.of(1, c.amount)
		s.Days, s.NoLead = max(s.Days, c.lead.days), s.NoLead || len(c.lead.noLead) > 0
	}
	return s
}

// steady reports whether an option takes the same offers whatever state the
// amp is in.
func (f *floor) steady(i int) bool {
	if len(f.r.worlds.moves) == 0 {
		return true
	}
	for _, p := range f.r.Job.Options[i].Parts {
		if p.Number == "" {
			return false
		}
	}
	return true
}

// whichever adds what a part comes to at the least whatever state the amp is
// in: the offer the technician named, else the cheapest there is.
func (f *floor) whichever(s *decision.Share, o *plan.Option, k int) {
	p := &o.Parts[k]
	var c plan.Cost
	switch {
	case p.Qty < 1:
		return
	case p.Number != "":
		offer, ok := f.r.desk.Offer(p.List, p.Number)
		if !ok {
			return
		}
		c = f.r.desk.Cost(offer)
		s.Days, s.NoLead = max(s.Days, offer.LeadDays), s.NoLead || offer.LeadDays < 0
	case len(p.Want.Kinds) == 0 && p.Want.Tube == "":
		return
	default:
		shelf := f.r.desk.Shelf(p.Want)
		if len(shelf) == 0 || !shelf[0].Offer.Priced {
			return
		}
		c = shelf[0].Cost
	}
	if a, err := c.Selling.Times(int64(p.Qty)); err == nil && c.Err == nil {
		s.Cost += f.of(1, a)
	}
}
