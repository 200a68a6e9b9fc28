package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/decision"
	"lugworth/core/money"
	"lugworth/core/plan"
	"lugworth/core/quote"
	"lugworth/core/report"
	"lugworth/core/shop"
)

// mostTotals is how many totals the owner's page carries: all there are up to
// so many choices. Of more it knows the estimate's own and those one step away.
const mostTotals = 1 << 14

// OwnerPage is the page on which the owner ticks what is to be done, of a
// frozen estimate that is the choice in force as it stands.
//
// Errors: it cannot be opened, asks nothing or asks something else than the
// job does now, or its choice cannot be priced.
func (r *Result) OwnerPage(f FrozenRecord) (report.Owner, error) {
	z, bill, err := f.Reopen()
	if err != nil {
		return report.Owner{}, err
	}
	if len(f.Asked) == 0 || !SameAsked(f.Asked, r.Asked()) {
		return report.Owner{}, fmt.Errorf("estimate %s does not ask what stands open now: freeze it anew", z.Number)
	}
	c := bill.Currency
	seal := f.slip().Seal()
	s := r.sheet("", "")
	o := report.Owner{Shop: r.Books.Sheet.Name, ShopSays: r.shopSays(), Number: z.Number, Date: z.Date, Valid: heldWords(bill.Notes),
		Currency: c.Code, Decimals: c.Exponent, Terms: r.terms(bill), Cautions: r.Cautions(), Code: s.Code,
		Seal: fmt.Sprint(seal.Mark, seal.Factor, seal.Start)}
	o.Facts = append([][2]string{{"For", r.Job.Owner.Name}}, s.Facts...)
	o.Facts = append(o.Facts, [2]string{"The estimate", joinWords(z.Set, "at most "+c.Format(bill.Total)+" "+c.Code)}, [2]string{"Ready", waitWords(bill)},
		[2]string{"Agreed ceiling", strings.TrimSpace(strings.TrimPrefix(ceilingSaid(r.Job.Bounds.Ceiling, c.Code), "Agreed ceiling:"))})
	p := &ownerPage{r: r, out: &o, asked: f.Asked, accept: z.Accept}
	if err := p.reckon(bill.Total); err != nil {
		return o, err
	}
	p.questions(c, bill.Total)
	return o, nil
}

// heldWords is the note of a frozen estimate that says how long it holds.
func heldWords(notes []string) string {
	for _, n := range notes {
		if say, ok := strings.CutPrefix(n, "this estimate "); ok {
			return say
		}
	}
	return "to which day it holds is not stated"
}

// waitWords says how long parts take, without the numbers of a supplier.
func waitWords(b quote.Bill) string {
	switch {
	case b.ReadyDays == 0 && len(b.NoLead) == 0:
		return "nothing has to be waited for; time at the bench is not counted"
	case len(b.NoLead) == 0:
		return fmt.Sprintf("%d days after the order, as the estimate stands; time at the bench comes on top", b.ReadyDays)
	case b.ReadyDays == 0:
		return "not known: for some parts no time is stated; time at the bench comes on top"
	}
	return fmt.Sprintf("not before %d days after the order, and for some parts no time is stated; time at the bench comes on top", b.ReadyDays)
}

// An ownerPage is the owner's page on its way.
type ownerPage struct {
	r      *Result
	out    *report.Owner
	model  decision.Model
	asked  []Asked
	accept []string // of the estimate
	start  []int    // the estimate's choice, a number for each question
	order  []int    // of the questions, as the model has them
	ways   []map[int][]string
	room   []string // for one choice
}

// total is what one choice comes to, if it is to be had.
type total struct {
	sum money.Amount
	ok  bool
}

// reckon fills in what the page's script reads: the totals of all choices, or
// of those near the estimate's where there are too many.
func (p *ownerPage) reckon(estimate money.Amount) error {
	m, err := p.r.Model()
	if err != nil {
		return err
	}
	p.model = m
	for _, d := range m.Decisions {
		if i := slices.IndexFunc(p.asked, func(a Asked) bool { return a.Finding == d.Finding }); i >= 0 {
			p.order = append(p.order, i)
		}
	}
	p.ways = make([]map[int][]string, len(p.asked))
	if m.Limits.HasCeiling {
		p.out.Most = strconv.FormatInt(int64(m.Limits.Ceiling), 10)
	}
	all := 1
	for _, a := range p.asked {
		n := a.choices()
		if n == 0 {
			return fmt.Errorf("finding %s has more ways than a page can ask for", a.Finding)
		}
		p.start = append(p.start, a.choice(p.accept))
		all = min(all*n, mostTotals+1)
	}
	p.out.Start = dotted(p.start)
	if now := p.total(p.start); !now.ok || now.sum != estimate {
		return fmt.Errorf("the choice of the estimate does not come to its total today: freeze it anew")
	}
	p.near()
	if all <= mostTotals {
		p.table(all)
	}
	return nil
}

// table writes all totals, the first question's choices running fastest.
func (p *ownerPage) table(all int) {
	words := make([]string, all)
	ks := make([]int, len(p.asked))
	for at := range words {
		words[at] = p.total(ks).word()
		for i := range ks {
			if ks[i]++; ks[i] < p.asked[i].choices() {
				break
			}
			ks[i] = 0
		}
	}
	p.out.Table, p.out.Known = strings.Join(words, " "), ""
}

// near writes the estimate's total and those of one tick more or less.
func (p *ownerPage) near() {
	words := []string{p.out.Start + ":" + p.total(p.start).word()}
	for i, a := range p.asked {
		ks := slices.Clone(p.start)
		for _, k := range steps(a, p.start[i]) {
			ks[i] = k
			words = append(words, dotted(ks)+":"+p.total(ks).word())
		}
	}
	slices.Sort(words)
	p.out.Known = strings.Join(slices.Compact(words), " ")
}

// steps are the choices of one finding that are a tick away: one of the ways
// that exclude each other in place of the one there is, or one that may stand
// beside more or less.
func steps(a Asked, from int) []int {
	var out []int
	row := len(a.Ways) + 1
	for one := range row {
		if one != from%row {
			out = append(out, from-from%row+one)
		}
	}
	for i := range a.Beside {
		out = append(out, row*(from/row^1<<i)+from%row)
	}
	return out
}

func (t total) word() string {
	if !t.ok {
		return "-"
	}
	return strconv.FormatInt(int64(t.sum), 36)
}

func dotted(ks []int) string {
	words := make([]string, len(ks))
	for i, k := range ks {
		words[i] = strconv.Itoa(k)
	}
	return strings.Join(words, ".")
}

// total is what a choice comes to. It is not to be had where the amp would be
// over a limit with it, or where it cannot be priced.
func (p *ownerPage) total(ks []int) total {
	accept := p.picked(ks)
	if p.model.Refused(accept, true) != "" {
		return total{}
	}
	price, err := p.model.Price(accept)
	return total{price.Total, err == nil}
}

// picked are the options of a choice, in the order of the model, until the
// next is picked.
func (p *ownerPage) picked(ks []int) []string {
	p.room = p.room[:0]
	for _, i := range p.order {
		k := ks[i]
		ways, ok := p.ways[i][k]
		if !ok {
			ways, _ = p.model.Order(p.asked[i].taken(k)) // of one finding, of the model's own options
			if p.ways[i] == nil {
				p.ways[i] = map[int][]string{}
			}
			p.ways[i][k] = ways
		}
		p.room = append(p.room, ways...)
	}
	return p.room
}

// questions puts each finding into the owner's words.
func (p *ownerPage) questions(c money.Currency, now money.Amount) {
	for i, a := range p.asked {
		at := slices.IndexFunc(p.r.Findings, func(f FindingResult) bool { return f.Finding.ID == a.Finding })
		f := p.r.Findings[at]
		q := report.Question{ID: a.Finding, Pile: string(pileOf(f)), Head: string(f.Finding.Seen), No: noMeans(f)}
		if w := joinWords(placeWords(f), basisWords(f.Finding.Basis)); w != "" {
			q.Notes = append(q.Notes, capital(w))
		}
		for n, id := range append(slices.Clone(a.Ways), a.Beside...) {
			k := n + 1
			if n >= len(a.Ways) {
				k = (len(a.Ways) + 1) << (n - len(a.Ways))
			}
			q.Ways = append(q.Ways, p.way(c, i, k, p.r.Options[p.r.worlds.at[id]].Option, now))
		}
		for _, x := range f.Options {
			if o := &p.r.Options[x]; barred(o) && o.Option.Chance == 0 {
				q.NotOffered = append(q.NotOffered, "Not offered beside the choice of the estimate: "+o.Option.Say)
			}
		}
		p.out.Questions = append(p.out.Questions, q)
	}
}

func placeWords(f FindingResult) string {
	if f.Finding.Place == "" {
		return ""
	}
	return "at the " + string(f.Finding.Place)
}

// way is one way with what it would come to in the estimate's choice.
func (p *ownerPage) way(c money.Currency, at, k int, o *plan.Option, now money.Amount) report.Way {
	w := report.Way{ID: o.ID, Say: o.Say, Beside: o.Both, Needs: o.Needs, About: []string{capital(joinWords(lookWords(o), undoWords(o)))}}
	for _, say := range []string{o.Consequence, o.Disclosure} {
		if say != "" {
			w.About = append(w.About, say)
		}
	}
	a := p.asked[at]
	if slices.Contains(p.accept, o.ID) {
		w.Change = "in the estimate"
		return w
	}
	ks := slices.Clone(p.start)
	row := len(a.Ways) + 1
	if k < row {
		ks[at] += k - ks[at]%row
	} else {
		ks[at] += k
	}
	if t := p.total(ks); t.ok {
		w.Change = "With the rest as the estimate stands: at most " + c.Format(t.sum) + " " + c.Code + " in all, " + byMoney(c, t.sum-now)
	} else {
		w.Change = "Not offered with the rest as the estimate stands: ask the shop"
	}
	return w
}

// noMeans is what a no means; one to a must keeps the amp from use.
func noMeans(f FindingResult) string {
	say := string(f.Finding.No)
	if say == "" {
		say = "What a no means is not written down yet."
	}
	if pileOf(f) == shop.Must && !strings.Contains(say, "for use") {
		say = stop(say) + " After a no the amp is not released for use."
	}
	return say
}

func stop(s string) string {
	if strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}
