package job

import (
	"errors"
	"maps"
	"reflect"

	"lugworth/core/decision"
	"lugworth/core/finding"
	"lugworth/core/labor"
	"lugworth/core/plan"
	"lugworth/core/quote"
	"lugworth/core/rating"
	"lugworth/core/stress"
	"lugworth/core/unit"
)

// A ground is what a Result rests on whatever is chosen: everything that
// comes from the facts of the amp, the findings, the options, the recorded
// reasons and the books. A yes or no changes none of it, so a Result may go
// on from the ground of the one before.
type ground struct {
	facts   *facts
	reasons map[string]string

	policy  quote.Policy
	stops   error // why nothing can be priced
	desk    *plan.Desk
	worlds  *worlds
	labor   laborBook
	draws   *labor.Sampler    // nil until a date is asked for
	ready   map[string]*Dates // by choice and what else a date rests on
	circuit *Circuit
	rests   circuitFacts
	misread []unit.Problem  // of the spreads
	tier    *stress.Circuit // nil where the circuit does not decide
	alone   []alone         // by option; nil lines until weighed

	untold, opened, worked, dated []unit.Problem // in the order a Result lists them

	found    []rating.Judgment
	checks   []Check
	findings []FindingResult
	dates    []finding.CodeReading

	trade *trade // what lines may be bought from; nil until asked for

	insights []Insight // once compared
	compared bool

	model    decision.Model
	modelErr error
}

// alone is one option weighed on the amp as found.
type alone struct {
	lines []plan.Line
	apart Change
	known bool
}

// facts marks jobs that hold the same facts and differ in what is chosen.
type facts struct{ _ byte }

// Again gives what Derive gives, sooner: what rests on facts and books alone
// is taken over from was, an earlier Result, where job and books come from
// those of was by [Job.After] and [Books.WithCopies] and no reason was
// recorded since. Elsewhere it takes over what the circuit gave, where sheet,
// chart and books are the same; where was is nil, it is Derive.
//
// It shares what it takes over with was; the two may not be asked at once
// from two goroutines. Facts and books changed in place go unseen: those are
// for Derive.
func Again(was *Result, j *Job, b *Books, now string) *Result {
	if was == nil {
		return Derive(j, b, now)
	}
	if !was.ground.holds(j) || !was.Books.alike(b) {
		return derive(newGround(j, b, was.ground), j, b, now)
	}
	was.ground.trim()
	return derive(was.ground, j, b, now)
}

// mostWorlds is how many states of the amp are kept from one Result to the
// next. A job has a handful; the best choice may look at thousands.
const mostWorlds = 64

// trim forgets the states but that of the amp as found where there are too
// many.
func (g *ground) trim() {
	if g.tier != nil {
		g.tier.Forget(mostWorlds)
	}
	if len(g.worlds.byKey) > mostWorlds {
		g.worlds.base.from = nil
		g.worlds.byKey = map[string]*world{"": g.worlds.base}
		g.model, g.modelErr, g.trade = decision.Model{}, nil, nil
	}
}

// holds reports whether a job has the facts and the reasons of the ground.
func (g *ground) holds(j *Job) bool {
	return j.facts != nil && j.facts == g.facts && maps.Equal(j.Reasons, g.reasons)
}

// Alike reports whether books answer every question alike, though rows were
// copied from them into a job meanwhile.
func (b *Books) Alike(o *Books) bool { return b == o || b != nil && o != nil && b.alike(o) }

// alike reports whether books answer every question alike. Copied rows count
// only where they stand in for a row no list has.
func (b *Books) alike(o *Books) bool {
	return b.index == o.index && b.shelf == o.shelf && reflect.DeepEqual(b.standIns, o.standIns)
}

// newGround works out what does not depend on any choice.
func newGround(j *Job, b *Books, was *ground) *ground {
	g := &ground{facts: j.facts, reasons: maps.Clone(j.Reasons), untold: b.untold(), alone: make([]alone, len(j.Options))}
	g.open(j, b, was)
	g.found = g.desk.Standing(g.worlds.found, true)
	g.checks = checks(g.worlds.found, &j.Amp)
	g.work(j, b)
	g.readDates(j)
	return g
}

// open sets up the desk everything is weighed at.
func (g *ground) open(j *Job, b *Books, was *ground) {
	cards := oneByOne(b.Cards)
	in := stress.Input{Amp: &j.Amp, Mains: j.Mains, Cards: cards}
	in.Meter, in.MeterKnown = b.Sheet.MeterPercent.Float()/100, b.Sheet.Has("meter_percent")
	trials, joints, problems := trialsOf(j)
	g.opened = problems
	g.desk = &plan.Desk{
		Amp: &j.Amp, Mains: j.Mains, Cards: cards, Reserve: reserveOf(b.Sheet),
		Shelf: b.Shelf, Offer: b.Offer, Lost: b.Lost, Cost: b.Cost, Reasons: j.Reasons, Trials: trials, Joints: joints,
	}
	g.desk.Brings = brings(j, g.desk)
	g.opened = append(g.opened, g.solved(j, b, cards, was)...)
	in.Circuit = g.tier
	g.worlds = newWorlds(j, g.desk, tested(in))
	g.labor = newLaborBook(j)
	policy, err := quote.PolicyOf(b.Sheet, "shop sheet")
	g.policy, g.stops = policy, errors.Join(b.stops(), err)
	if g.stops != nil {
		g.opened = append(g.opened, unit.Problem{Code: unit.Unusable, Say: g.stops.Error()})
	}
	g.opened = append(g.opened, j.checkOptions()...)
}

// work works out the figures of the findings.
func (g *ground) work(j *Job, b *Books) {
	known := finding.Facts{Meter: b.Sheet.MeterPercent.Float() / 100, MeterKnown: b.Sheet.Has("meter_percent"), About: j.Amp.About}
	for _, f := range j.Findings {
		res := FindingResult{Result: finding.Work(f, known)}
		for i := range j.Options {
			if j.Options[i].Finding == f.ID {
				res.Options = append(res.Options, i)
			}
		}
		g.worked = append(g.worked, res.Problems...)
		g.findings = append(g.findings, res)
	}
}

// readDates reads the date codes stamped on parts and holds them against the
// year the amp is said to be of.
func (g *ground) readDates(j *Job) {
	for _, d := range j.Amp.DateCodes {
		c, err := finding.ReadCode(d.Code)
		if err == nil {
			c, err = c.Against(j.Amp.About).Settle(d.Year)
		}
		if err != nil {
			g.dated = note(g.dated, "date code on "+d.On, err)
		}
		c.On = d.On
		g.dates = append(g.dates, c)
	}
}

// note adds a problem that stands somewhere.
func note(to []unit.Problem, where string, err error) []unit.Problem {
	if p, ok := unit.Located(err, where, 0, "", ""); ok {
		return append(to, p)
	}
	return to
}
