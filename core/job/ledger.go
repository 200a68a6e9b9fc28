package job

import (
	"slices"

	"lugworth/core/decision"
	"lugworth/core/labor"
	"lugworth/core/money"
	"lugworth/core/quote"
)

// A ledger prices many choices by adding whole minor units: what each task,
// set-up, part line and subcontract comes to is worked out once, by the rules
// the bill uses, and tax by the bill's own code. It gives what Bill gives, to
// the minor unit.
type ledger struct {
	r      *Result
	setUps []work
	tasks  []work
	rows   []ledgerRow
	worlds map[uint64]*world // by the bits of the options that change the circuit
	index  []int             // room for one choice; a ledger serves one caller at a time
	done   []int
}

// great is more than any line comes to. One above it is left to the bill,
// which counts overflow; below it as many lines as a job can hold add up.
const great money.Amount = 1 << 48

// work is one line of labor.
type work struct {
	amount money.Amount
	hours  float64
}

// ledgerRow is one option.
type ledgerRow struct {
	task   int
	shared bool   // another option names the same task
	acts   uint64 // its bit, if it changes the circuit
	setUps uint64 // bit set of ledger.setUps
	other  money.Amount
	lead   lead
	bill   bool // only the bill can say why it has no price
}

// lead is the longest stated lead, and what states none.
type lead struct {
	days   int
	noLead []string
}

func (l *lead) add(days int, what string) {
	if days < 0 {
		l.noLead = append(l.noLead, what)
		return
	}
	l.days = max(l.days, days)
}

// partsCost is what an option's parts come to under one state of the amp.
type partsCost struct {
	amount money.Amount
	lead   lead
	known  bool // false until worked out
	failed bool // a line cannot be priced: the bill says why
}

// newLedger returns the ledger of a job; ok is false where the job holds
// something only the bill can speak of: hours that fall, a task given twice
// with different hours, more set-ups or changes of the circuit than bits.
func newLedger(r *Result) (*ledger, bool) {
	if r.stops != nil {
		return nil, false
	}
	rate := quote.RateOf(r.Books.Sheet, "shop sheet")
	l := &ledger{r: r, rows: make([]ledgerRow, len(r.Job.Options)), worlds: map[uint64]*world{0: r.worlds.base}}
	acting := 0
	bit := map[string]uint64{}
	for i, s := range r.Job.SetUps {
		w, ok := workOf(s.Three, rate)
		if _, twice := bit[s.ID]; !ok || twice || i >= 64 || s.From != "" {
			return nil, false
		}
		bit[s.ID] = 1 << i
		l.setUps = append(l.setUps, w)
	}
	first := map[string]int{} // task → option that names it first
	index := map[string]int{}
	for i := range r.Job.Options {
		row := &l.rows[i]
		row.bill = r.unclear(&r.Job.Options[i]) != nil || len(r.Job.Options[i].In) > 0
		t := r.labor.tasks[r.Job.Options[i].ID]
		if was, ok := first[t.ID]; ok && !l.rows[was].bill {
			if !row.bill && !alike(r.labor.tasks[r.Job.Options[was].ID], t) {
				return nil, false
			}
			l.rows[was].shared, l.rows[i].shared = true, true
		} else {
			w, ok := workOf(t.Three, rate)
			if !ok && !row.bill {
				return nil, false
			}
			first[t.ID], index[t.ID] = i, len(l.tasks)
			l.tasks = append(l.tasks, w)
		}
		if !r.worlds.acts[i].nothing() {
			if acting == 64 {
				return nil, false
			}
			row.acts = 1 << acting
			acting++
		}
		row.task = index[t.ID]
		for _, s := range t.SetUps {
			b, ok := bit[s]
			if !ok && !row.bill {
				return nil, false
			}
			row.setUps |= b
		}
		if !l.sendOut(row, i) && !row.bill {
			return nil, false
		}
	}
	return l, true
}

func workOf(t labor.Three, rate labor.Rate) (work, bool) {
	a, err := t.Cost(rate)
	return work{a, float64(t.Expected())}, err == nil && t.Check() == nil && rate.Hour.Sign() >= 0 && a < great
}

func alike(a, b labor.Task) bool {
	return a.Three.Low.Cmp(b.Three.Low) == 0 && a.Three.Mode.Cmp(b.Three.Mode) == 0 && a.Three.High.Cmp(b.Three.High) == 0 && slices.Equal(a.SetUps, b.SetUps)
}

// sendOut adds what an option sends out.
func (l *ledger) sendOut(row *ledgerRow, option int) bool {
	p := l.r.Policy
	for _, s := range l.r.Job.Options[option].Other {
		price, err1 := money.Selling(s.Price, p.SubMarkup, p.Currency, p.Rounding)
		carriage, err2 := s.Carriage.Round(p.Currency, p.Rounding)
		if err1 != nil || err2 != nil || s.Price.Sign() < 0 || s.Carriage.Sign() < 0 || max(price, carriage) >= great {
			return false
		}
		row.other += price + carriage
		row.lead.add(s.Days, s.Say)
	}
	return true
}

// parts returns what an option's parts come to in a world.
func (l *ledger) parts(option int, w *world) *partsCost {
	if w.costs == nil {
		w.costs = make([]partsCost, len(l.rows))
	}
	c := &w.costs[option]
	if c.known {
		return c
	}
	c.known = true
	o := &l.r.Job.Options[option]
	for _, line := range l.r.worlds.linesOf(o.ID, w) {
		if line.Chosen == nil || line.Chosen.Cost.Err != nil || line.Qty < 1 {
			c.failed = true
			return c
		}
		a, err := line.Chosen.Cost.Selling.Times(int64(line.Qty))
		if err != nil || a < 0 || a >= great {
			c.failed = true
			return c
		}
		c.amount += a
		c.lead.add(line.Chosen.Offer.LeadDays, line.Chosen.Offer.Number)
	}
	return c
}

// price is a decision.Pricer. What it cannot price it leaves to the bill,
// which says why.
func (l *ledger) price(accept []string) (decision.Price, error) {
	p, ok := l.sum(accept)
	if ok {
		return p, nil
	}
	return l.r.billed(accept)
}

func (l *ledger) sum(accept []string) (decision.Price, bool) {
	var s sums
	at, acts := l.index[:0], uint64(0)
	s.done = l.done[:0]
	for _, id := range accept {
		i, ok := l.r.worlds.at[id]
		if !ok {
			return decision.Price{}, false
		}
		at = append(at, i)
		acts |= l.rows[i].acts
	}
	w, ok := l.worlds[acts]
	if !ok {
		w = l.r.worlds.under(accept)
		l.worlds[acts] = w
	}
	l.index = at
	var sent []string
	for _, i := range at {
		row, parts := &l.rows[i], l.parts(i, w)
		if parts.failed {
			return decision.Price{}, false
		}
		s.setUps |= row.setUps
		s.do(row, l.tasks)
		s.parts += parts.amount
		s.other += row.other
		s.days = max(s.days, parts.lead.days, row.lead.days)
		s.noLead = append(s.noLead, parts.lead.noLead...)
		sent = append(sent, row.lead.noLead...)
	}
	labor, hours := s.labor, 0.0
	for i, w := range l.setUps {
		if s.setUps>>i&1 == 1 {
			labor += w.amount
			hours += w.hours
		}
	}
	l.done = s.done
	for _, t := range s.done {
		hours += l.tasks[t].hours
	}
	total, err := l.r.Policy.Reckon(labor, s.parts, s.other)
	return decision.Price{Total: total, Hours: hours, ReadyDays: s.days, NoLead: append(s.noLead, sent...)}, err == nil
}

// sums is one choice on its way to a total.
type sums struct {
	setUps              uint64
	labor, parts, other money.Amount
	days                int
	noLead              []string
	done                []int
}

// do counts a task once.
func (s *sums) do(row *ledgerRow, tasks []work) {
	if row.shared && slices.Contains(s.done, row.task) {
		return
	}
	s.done = append(s.done, row.task)
	s.labor += tasks[row.task].amount
}
