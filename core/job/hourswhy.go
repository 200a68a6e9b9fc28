package job

import (
	"fmt"
	"math"
	"strings"

	"lugworth/core/labor"
	"lugworth/core/unit"
	"lugworth/core/why"
)

var (
	ruleEnough = &why.Rule{
		Name: "hours that are enough", Says: "The hours that so many of ten such jobs do not go beyond: the moments of every line's beta, times what the shop's own jobs say of its estimates, matched by a shifted lognormal.",
		Formula: "mean (low + 4·likely + high)/6, variance (mean − low)(high − mean)/7, and the third moment, added up", Source: "method of moments, a textbook result; the shape of a line is an assumption",
	}
	ruleReady = &why.Rule{
		Name: "ready date", Says: "The job is played through with drawn lengths: waits beside each other, one thing at a time at the bench, whatever can begin first goes first, then the one with the longest chain behind it; shared set-ups last.",
		Formula: "the day by which that share of the draws is ready", Source: "sampling with seeds of the job; the rule is near the shortest schedule and not always it",
	}
	ruleCeiling = &why.Rule{
		Name: "chance that the ceiling holds", Says: "How probable it is that the hours, billed as they come, stay below those at which the ceiling is reached; parts, fee and work sent out as they stand.",
		Formula: "chance(hours ≤ hours at the ceiling)", Source: "the distribution of the hours, as hours that are enough",
	}
)

// WhyEnough is the reason of the hours that are enough in some of ten cases.
func (r *Result) WhyEnough(h Hours, say string, hours unit.Hours, accept []string) *why.Node {
	e, err := r.LaborOf(accept...)
	if err != nil {
		return nil
	}
	from := r.calibrationNodes()
	for _, l := range e.Lines {
		from = append(from, why.Given(l.ID+" "+l.Say, why.Text(fmt.Sprintf("%v / %v / %v h", l.Three.Low, l.Three.Mode, l.Three.High)), l.Where))
	}
	return why.Found(ruleEnough, say+", "+h.Method, why.Text(fmt.Sprintf("%.1f h", float64(hours))), from...)
}

// calibrationNodes are what the shop's own jobs taught.
func (r *Result) calibrationNodes() []*why.Node {
	f := r.fit()
	where := PastName
	if f.Jobs == 0 {
		where = "our own judgment, no source: no finished job is in " + PastName
	}
	given := func(label, format string, v ...any) *why.Node {
		return why.Given(label, why.Text(fmt.Sprintf(format, v...)), where)
	}
	return []*why.Node{
		given("finished jobs learned from", "%d; %d make it calibrated", f.Jobs, labor.CalibratedFrom),
		given("actual over estimate, the shop as a whole", "%.2f times (logarithm %+.2f, known to ±%.2f)", math.Exp(f.Bias), f.Bias, f.BiasSD),
		given("spread of the logarithm from job to job, from task to task", "%.2f, %.2f", f.JobSD, f.TaskSD),
	}
}

// WhyReady is the reason of a ready date.
func (r *Result) WhyReady(d *Dates, say string, day int, date string) *why.Node {
	s := r.Books.Sheet
	var from []*why.Node
	for _, key := range []string{"bench_hours", "open_days", "holidays", "answer_days", "carriage_days"} {
		if e, ok := s.Get(key); ok && e.Value != "" {
			from = append(from, why.Given(strings.ReplaceAll(key, "_", " "), why.Text(e.Value), fmt.Sprintf("shop.csv:%d", e.Line)))
		}
	}
	for _, w := range d.Waits {
		from = append(from, why.Given(w.Say, why.Text(fmt.Sprintf("%s; holds the date in %s of cases, %.1f days on average", w.Span(), percent(w.Share), w.Days)), ""))
	}
	from = append(from, why.Given(d.Bench.Say, why.Text(fmt.Sprintf("%.1f days on average, nights and closed days counted", d.Bench.Days)), ""))
	return why.Found(ruleReady, say+", "+d.Method, why.Text(date+", day "+fmt.Sprint(day)), append(from, r.calibrationNodes()...)...)
}

// WhyCeiling is the reason of the chance that the ceiling holds.
func (r *Result) WhyCeiling(c CeilingChance) *why.Node {
	from := []*why.Node{why.Given("hours at which the ceiling is reached", why.Text(fmt.Sprintf("%.2f h", max(c.Hours, 0))), "ceiling, parts, fee, tax and rate"),
		why.Given("the shop's own ratios", why.Text(c.Own), "order statistics: j/(n + 1) to (j + 1)/(n + 1)")}
	return why.Found(ruleCeiling, c.Method, why.Text(c.Says), append(from, r.calibrationNodes()...)...)
}

// Span is how long a wait is by itself: "1 to 4 days", "3 days".
func (w Wait) Span() string {
	if w.Low == w.High {
		return dayWords(w.Low)
	}
	return fmt.Sprintf("%d to %d days", w.Low, w.High)
}

// Hangs says what a ready date hangs on, the longest holds first: "the date
// hangs on the owner's answer in 62 % of cases". Waits that hold it in fewer
// than one case in twenty are left out.
func (d *Dates) Hangs() []string {
	var out []string
	for _, w := range d.Waits {
		if w.Share >= 0.05 {
			out = append(out, fmt.Sprintf("The date hangs on %s in %s of cases, %.1f days on average.", w.Say, percent(w.Share), w.Days))
		}
	}
	return out
}
