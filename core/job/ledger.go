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
	byBill bool              // set-ups are states of access: how often one is opened only the bill can tell
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
	bit, ok := l.access(rate)
	if !ok {
		return nil, false
	}
	first := map[string]int{} // task → option that names it first
	index := map[string]int{}
	for i := range r.Job.Options {
		row := &l.rows[i]
		row.bill = r.unclear(&r.Job.Options[i]) != nil
		l.byBill = l.byBill || len(r.Job.Options[i].In) > 0
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
		for _, s := range l.needed(t) {
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

// access lists the set-ups with the bits a task that needs one brings: its
// own, and of a state of access those of the states before it. Each is paid
// for once at the least.
func (l *ledger) access(rate labor.Rate) (map[string]uint64, bool) {
	own, from := map[string]uint64{}, map[string]string{}
	for i, s := range l.r.Job.SetUps {
		w, ok := workOf(s.Three, rate)
		if _, twice := own[s.ID]; !ok || twice || i >= 64 {
			return nil, false
		}
		own[s.ID], from[s.ID] = 1<<i, s.From
		l.setUps = append(l.setUps, w)
		l.byBill = l.byBill || s.From != ""
	}
	bits := map[string]uint64{labor.Closed: 0}
	for _, s := range l.r.Job.SetUps {
		at := s.ID
		for range l.r.Job.SetUps {
			bits[s.ID] |= own[at]
			at = from[at]
		}
	}
	return bits, true
}

// needed are the set-ups a task surely takes: of several states it may be done
// in, none.
func (l *ledger) needed(t labor.Task) []string {
	if len(t.In) == 0 {
		return t.SetUps
	}
	var out []string
	for _, s := range l.r.Job.SetUps {
		if s.From == "" && slices.Contains(t.SetUps, s.ID) || len(t.In) == 1 && t.In[0] == s.ID {
			out = append(out, s.ID)
		}
	}
	return out
}

func workOf(t labor.Three, rate labor.Rate) (work, bool) {
	a, err := t.Cost(rate)
	return work{a, float64(t.Expected())}, err == nil && t.Check() == nil && rate.Hour.Sign() >= 0 && a < great
}

func alike(a, b labor.Task) bool {
	return a.Three.Low.Cmp(b.Three.Low) == 0 && a.Three.Mode.Cmp(b.Three.Mode) == 0 && a.Three.High.Cmp(b.Three.High) == 0 &&
		slices.Equal(a.SetUps, b.SetUps) && slices.Equal(a.In, b.In) && slices.Equal(a.After, b.After)
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
	if l.rows[option].bill {
		c.failed = true
		return c
	}
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
	if !l.byBill {
		if p, ok := l.sum(accept); ok {
			return p, nil
		}
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
