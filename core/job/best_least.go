package job

import (
	"cmp"
	"slices"
	"strconv"

	"lugworth/core/decision"
	"lugworth/core/limit"
	"lugworth/core/money"
	"lugworth/core/plan"
	"lugworth/core/rating"
	"lugworth/core/shop"
	"lugworth/core/stress"
)

// How much an option touches, counted from the worst down: one part used up
// weighs more than any number handed back short of a hundred, one thing that
// cannot be undone more than any number of solder joints. So 10203 of matter
// reads: 1 part used up, 2 handed back, 3 out of use in their places. Our own
// judgment. What an option does not state counts as the worst.
var (
	matterRank = map[shop.Matter]int{shop.Untouched: 0, shop.InPlace: 1, shop.Bagged: 100, shop.Consumed: 10_000}
	lookRank   = map[shop.Look]int{shop.AsMade: 0, shop.Close: 1, shop.Modern: 100}
	undoRank   = map[shop.Undo]int{shop.U0: 0, shop.U1: 1, shop.U2: 100, shop.U3: 10_000}
)

// touchOf ranks an option.
func touchOf(o *plan.Option) decision.Touch {
	return decision.Touch{Matter: rankOf(matterRank, o.Matter, shop.Consumed), Look: rankOf(lookRank, o.Look, shop.Modern), Undo: rankOf(undoRank, o.Undo, shop.U3)}
}

func rankOf[K comparable](ranks map[K]int, have, worst K) int {
	if n, ok := ranks[have]; ok {
		return n
	}
	return ranks[worst]
}

// Unstated names the options of a choice that do not say what becomes of the
// old part, how it looks or how it is undone: each counts as the worst.
func (r *Result) Unstated(accept []string) []string {
	var out []string
	for _, id := range accept {
		if i, ok := r.worlds.at[id]; ok {
			o := &r.Job.Options[i]
			_, m := matterRank[o.Matter]
			_, l := lookRank[o.Look]
			_, u := undoRank[o.Undo]
			if !m || !l || !u {
				out = append(out, id)
			}
		}
	}
	return out
}

// Least finds all choices that touch least, see [decision.Front].
func (r *Result) Least() (decision.Least, error) {
	m, err := r.Model()
	if err != nil {
		return decision.Least{}, err
	}
	return m.Least()
}

// A Lever is an option that touches nothing, can be undone at any time and
// changes what the rest of the amp must bear: the first thing to do, and what
// it spares elsewhere.
type Lever struct {
	Option  string
	Adds    money.Amount // to the choice it stands in
	Lifts   []Lift       // of the amp as found, by the lever alone
	Parts   []Lift       // of parts named or asked about for the other options
	Cheaper []Cheaper
}

// A Lift is a verdict that becomes kinder, judged where it decides.
type Lift struct {
	Subject, Quantity string // a position, or an option and the part for it; what it bears
	From, To          rating.Verdict
}

// A Cheaper is a part that may be less dear with the lever than without it:
// both are the cheapest that is inside its rating. Below the shop's reserve it
// needs the technician's recorded reason.
type Cheaper struct {
	Option      string
	Part        int
	From, To    string // "E E-81"
	Saves       money.Amount
	NeedsReason bool
}

// Levers lists the levers of a choice, in the order of the job's options:
// those it takes, and those it leaves out.
func (r *Result) Levers(accept []string) []Lever {
	var out []Lever
	for i := range r.Job.Options {
		o := &r.Job.Options[i]
		if r.worlds.acts[i].nothing() || touchOf(o) != (decision.Touch{}) {
			continue
		}
		with := r.inOrder(r.worlds.with(accept, o.ID))
		without := without(with, o.ID)
		l := Lever{Option: o.ID, Lifts: r.lifts(o.ID)}
		r.spares(&l, without, with)
		if r.stops == nil {
			before, err1 := r.Bill(without)
			after, err2 := r.Bill(with)
			if err1 == nil && err2 == nil {
				l.Adds = after.Total - before.Total
			}
		}
		if len(l.Lifts)+len(l.Parts)+len(l.Cheaper) > 0 {
			out = append(out, l)
		}
	}
	return out
}

// lifts are the verdicts of the amp as found that an option alone makes
// kinder.
func (r *Result) lifts(id string) []Lift {
	bare, on := r.worlds.under(nil), r.worlds.under([]string{id})
	after := worstKinds(append(append([]rating.Judgment(nil), r.standing(on)...), r.parts(on)...))
	before := append(append([]rating.Judgment(nil), r.standing(bare)...), r.parts(bare)...)
	was := worstKinds(before)
	var out []Lift
	said := map[subject]bool{}
	for _, j := range before {
		k := subject{j.Subject, string(j.Quantity)}
		if to, ok := after[k]; ok && !said[k] && rating.Less(was[k], to) {
			said[k] = true
			out = append(out, Lift{k.of, k.quantity, was[k], to})
		}
	}
	return out
}

// subject is what a verdict is about.
type subject struct{ of, quantity string }

// worstKinds is the least favorable verdict of each, rows that are only shown
// left out.
func worstKinds(js []rating.Judgment) map[subject]rating.Verdict {
	out := map[subject]rating.Verdict{}
	for _, j := range js {
		if j.Scenario == stress.Measured || j.Scenario == stress.Bench {
			continue
		}
		k := subject{j.Subject, string(j.Quantity)}
		if have, ok := out[k]; !ok || rating.Less(j.Kind, have) {
			out[k] = j.Kind
		}
	}
	return out
}

// spares holds the parts of the other options without and with a lever side
// by side: the verdicts of those that are named or asked about, and the
// cheapest that is inside its rating.
func (r *Result) spares(l *Lever, without, with []string) {
	off, on := r.worlds.under(without), r.worlds.under(with)
	for _, other := range without {
		o := &r.Job.Options[r.worlds.at[other]]
		for k := range o.Parts {
			was, is := off.scales.Line(o, k), on.scales.Line(o, k)
			before, after := was.Candidates(), is.Candidates()
			l.Parts = append(l.Parts, liftsOf(o, before, after)...)
			a, okA := cheapestRated(before)
			b, okB := cheapestRated(after)
			if !okA || !okB || b.Cost.Selling >= a.Cost.Selling {
				continue
			}
			if saves, err := (a.Cost.Selling - b.Cost.Selling).Times(int64(o.Parts[k].Qty)); err == nil {
				l.Cheaper = append(l.Cheaper, Cheaper{Option: other, Part: k, From: offerName(a), To: offerName(b), Saves: saves,
					NeedsReason: b.Kind == rating.BelowReserve && r.Job.Reasons[other] == ""})
			}
		}
	}
}

func offerName(c plan.Candidate) string { return c.Offer.List + " " + c.Offer.Number }

// liftsOf are the verdicts of parts named or asked about that become kinder.
func liftsOf(o *plan.Option, before, after []plan.Candidate) []Lift {
	was := map[string][]rating.Judgment{}
	for _, c := range before {
		if c.Named || c.Offer.List == KindTrial {
			was[offerName(c)] = c.Rows
		}
	}
	var out []Lift
	for _, c := range after {
		if rows, ok := was[offerName(c)]; ok {
			out = append(out, kinder(o.ID+" "+offerName(c), rows, c.Rows)...)
		}
	}
	return out
}

// kinder lists what one part is judged better in, over all its places.
func kinder(name string, before, after []rating.Judgment) []Lift {
	worst := func(js []rating.Judgment, q limit.Quantity) (v rating.Verdict, ok bool) {
		for _, j := range js {
			if j.Quantity == q && (!ok || rating.Less(j.Kind, v)) {
				v, ok = j.Kind, true
			}
		}
		return v, ok
	}
	var out []Lift
	var done []limit.Quantity
	for _, j := range before {
		if slices.Contains(done, j.Quantity) {
			continue
		}
		done = append(done, j.Quantity)
		from, _ := worst(before, j.Quantity)
		if to, ok := worst(after, j.Quantity); ok && rating.Less(from, to) {
			out = append(out, Lift{name, string(j.Quantity), from, to})
		}
	}
	return out
}

// cheapestRated is the cheapest candidate that is inside its own rating.
func cheapestRated(all []plan.Candidate) (best plan.Candidate, ok bool) {
	for _, c := range all {
		if !c.Offered() || !c.Judged || c.Cost.Err != nil || !c.Offer.Priced || rating.Less(c.Kind, rating.BelowReserve) {
			continue
		}
		if !ok || cmp.Or(cmp.Compare(c.Cost.Selling, best.Cost.Selling), plan.Cheapest(plan.Priced{Offer: c.Offer, Cost: c.Cost}, plan.Priced{Offer: best.Offer, Cost: best.Cost})) < 0 {
			best, ok = c, true
		}
	}
	return best, ok
}

// count reads a rank from the worst down.
func count(rank int) [3]int { return [3]int{rank / 10_000, rank / 100 % 100, rank % 100} }

// TouchCounts counts what a choice touches from the worst down: parts used up,
// handed back, out of use in their places; looks none, modern, close to as
// made; what cannot be undone, leaves a mark, is undone by solder or plug.
func TouchCounts(t decision.Touch) (matter, look, undo [3]int) {
	l := count(t.Look)
	return count(t.Matter), [3]int{0, l[0]*100 + l[1], l[2]}, count(t.Undo)
}

// TouchWords say what a choice touches: matter, look, undo.
func TouchWords(t decision.Touch) (matter, look, undo string) {
	m, l, u := TouchCounts(t)
	matter = orWords(listed(m, "used up", "handed back", "out of use in place"), "no original part removed")
	look = orWords(listed(l, "", "modern to the eye", "close to as made"), "looks as made")
	undo = orWords(listed(u, "not to be undone", "undone with a mark left", "undone by solder or plug"), "nothing to undo")
	return matter, look, undo
}

func listed(n [3]int, words ...string) string {
	var parts []string
	for i, k := range n {
		if k > 0 {
			parts = append(parts, strconv.Itoa(k)+" "+words[i])
		}
	}
	return joinWords(parts...)
}

func orWords(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}
