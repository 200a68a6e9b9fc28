package job

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"lugworth/core/unit"
)

// VerdictText writes everything that was judged as lines to be read by eye:
// every verdict, the checks, the worked figures of findings, the date codes
// and the least values. Positions that come out alike share a line.
func (r *Result) VerdictText() string {
	p := page{}
	p.line(joinWords(r.Job.Title, r.Job.Number, "mains "+r.mainsWords()))
	for _, problem := range r.Problems {
		p.line("problem: " + problem.Error())
	}
	for _, g := range groupsOf(r.Rows()) {
		p.section(r.groupTitle(g[0]))
		p.table(verdictLines(g))
	}
	p.section("options")
	p.table(r.optionLines())
	p.section("least resistance for which a dissipation verdict holds, rounded up")
	p.table(r.leastLines())
	p.section("predictions held against check readings")
	p.table(r.checkLines())
	p.section("findings")
	p.table(r.findingLines())
	p.section("date codes")
	p.table(r.dateLines())
	return p.String()
}

// groupsOf cuts rows where set, option or part changes.
func groupsOf(rows []Row) [][]Row {
	var out [][]Row
	for i, row := range rows {
		if i == 0 || row.Set != rows[i-1].Set || row.Option != rows[i-1].Option || row.Part != rows[i-1].Part {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], row)
	}
	return out
}

func (r *Result) groupTitle(row Row) string {
	title := "as found"
	if row.Set != "" {
		title = row.Set
	}
	if row.Option != "" {
		title += ", " + row.Option
	}
	if row.Part != "" {
		title += ", " + row.Part
		if list, number, _ := strings.Cut(row.Part, " "); list != "" {
			if o, ok := r.Books.Offer(list, number); ok {
				title += " (" + o.Text + ")"
			}
		}
	}
	if !row.Offered {
		title += ": not offered"
	}
	return title
}

// verdictLines writes one line for each verdict; positions whose lines are
// the same but for the name stand together.
func verdictLines(rows []Row) [][]string {
	var out [][]string
	at := map[string]int{}
	for _, row := range rows {
		cells := verdictCells(row)
		key := strings.Join(cells[1:], "\x00")
		if i, ok := at[key]; ok {
			out[i][0] += " " + cells[0]
			continue
		}
		at[key] = len(out)
		out = append(out, cells)
	}
	return out
}

func verdictCells(row Row) []string {
	where := row.Scenario
	if row.Mains > 0 {
		where += ", " + plainVolts(row.Mains) + " V"
	}
	figure, bound, margin := "-", "-", "-"
	if row.HasFigure {
		figure = band(row.Interval, row.Unit)
	}
	if row.HasLimit {
		bound = "of " + amount(row.Bound, row.Unit)
	}
	if m, ok := row.Margin(); ok {
		margin = signed(100*m) + " %"
	}
	return []string{row.Subject, string(row.Quantity), where, figure, bound, margin, row.Kind.String(), row.Reason()}
}

// band prints an interval, one figure where both ends are the same.
func band(i unit.Interval, u unit.Unit) string {
	if math.Abs(i.High-i.Low) <= 1e-9*math.Abs(i.High) {
		return amount(i.High, u)
	}
	return decimal(i.Low, u) + " to " + amount(i.High, u)
}

// amount prints a figure in the unit of result.json, whole amperes as such.
func amount(v float64, u unit.Unit) string {
	if u == unit.Ampere && v >= 1 {
		return unit.FormatAmount(v, u, -1)
	}
	return decimal(v, u) + " " + symbol(u)
}

// signed prints one decimal with its sign; what rounds to zero has none.
func signed(v float64) string {
	s := fixed(v, 1)
	switch {
	case s == "-0.0":
		return "0.0"
	case v > 0 && s != "0.0":
		return "+" + s
	}
	return s
}

func (r *Result) optionLines() [][]string {
	var out [][]string
	for _, o := range r.Options {
		say := "may be offered"
		if o.Refused != "" {
			say = "not offered: " + o.Refused
		}
		if reason := r.Job.Reasons[o.Option.ID]; reason != "" {
			say += "; recorded reason: " + reason
		}
		for _, p := range o.Problems {
			say += "; " + p
		}
		out = append(out, []string{o.Option.ID, string(o.Option.Look), string(o.Option.Matter), string(o.Option.Undo), say})
	}
	return out
}

func (r *Result) leastLines() [][]string {
	var out [][]string
	for _, o := range r.Options {
		for _, c := range []struct {
			where string
			least []LeastOhms
		}{{"on the amp as found", o.Apart.Least}, {"beside the set in force", o.Beside.Least}} {
			for _, l := range c.least {
				out = append(out, []string{o.Option.ID, c.where, l.Subject, string(l.Quantity), leastSay(l)})
			}
		}
	}
	return out
}

// leastSay rounds up, never down: three figures as a resistor is marked.
func leastSay(l LeastOhms) string {
	return "at least " + strconv.FormatFloat(l.Up(), 'g', -1, 64) + " ohms"
}

// Up is the least value to the next of three figures, rounded up so that the
// value printed keeps the verdict.
func (l LeastOhms) Up() float64 {
	step := math.Pow(10, math.Floor(math.Log10(l.Ohms))-2)
	up := math.Ceil(l.Ohms/step-1e-9) * step
	return math.Round(up*1e6) / 1e6
}

func (r *Result) checkLines() [][]string {
	var out [][]string
	for _, c := range r.Checks {
		word := "disagrees"
		if c.Agrees {
			word = "agrees"
		}
		out = append(out, []string{c.Subject, string(c.Quantity), "at " + plainVolts(c.Mains) + " V", band(c.Interval, c.Unit), "measured " + amount(c.Measured, c.Unit), word})
	}
	return out
}

func (r *Result) findingLines() [][]string {
	var out [][]string
	for _, f := range r.Findings {
		for _, s := range f.Figures() {
			out = append(out, []string{f.Finding.ID, s})
		}
	}
	return out
}

func (r *Result) dateLines() [][]string {
	var out [][]string
	for _, d := range r.Dates {
		out = append(out, []string{d.On, d.Code, d.String()})
	}
	return out
}

// page collects lines; a section without lines leaves no title behind.
type page struct {
	strings.Builder
	title string
}

func (p *page) line(s string) { p.WriteString(strings.TrimRight(s, " ") + "\n") }

func (p *page) section(title string) { p.title = title }

// table writes rows in columns. The last column is not padded.
func (p *page) table(rows [][]string) {
	if len(rows) == 0 {
		return
	}
	if p.title != "" {
		p.line("\n" + p.title)
		p.title = ""
	}
	width := map[int]int{}
	for _, row := range rows {
		for i, cell := range row {
			width[i] = max(width[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range rows {
		var b strings.Builder
		for i, cell := range row {
			b.WriteString("  " + cell + strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell)))
		}
		p.line(b.String())
	}
}
