package job

import (
	"strconv"

	"lugworth/core/plan"
	"lugworth/core/rating"
	"lugworth/core/unit"
)

// The documented form of a Result. Every number is a decimal string, compared
// as a number to the last place printed; a figure that is not there is null.
// Later releases add sections and change none.
type (
	// Output is result.json.
	Output struct {
		Format   int          `json:"format"`
		Rules    int          `json:"rules"`
		Chain    string       `json:"chain"`
		Job      string       `json:"job"`
		Pick     string       `json:"pick"`
		Problems []string     `json:"problems"`
		Sets     []OutSet     `json:"sets"`
		Best     *OutBest     `json:"best"`
		Least    *OutLeast    `json:"least"`
		Verdicts []OutVerdict `json:"verdicts"`
		Stresses []OutStress  `json:"stresses"`
		Checks   []OutCheck   `json:"checks"`
		Findings []OutFinding `json:"findings"`
		Dates    []OutDate    `json:"dates"`
		Ready    []OutReady   `json:"ready,omitempty"`
		Circuit  *OutCircuit  `json:"circuit,omitempty"`
		Orders   []OutOrder   `json:"orders"`
		Held     []OutHeld    `json:"held"`
		Ordering *OutOrdering `json:"ordering,omitempty"` // only where a search was run: see OutOrdering
	}
	// OutSet is one named choice.
	OutSet struct {
		Name              string   `json:"name"`
		Accept            []string `json:"accept"`
		Hours             string   `json:"hours"`
		SpreadIndependent string   `json:"spread_independent"`
		SpreadLinked      string   `json:"spread_linked"`
		Labor             string   `json:"labor"`
		Parts             string   `json:"parts"`
		Other             string   `json:"other"`
		Fee               string   `json:"fee"`
		Tax               string   `json:"tax"`
		Total             string   `json:"total"`
		WithAllowance     string   `json:"with_allowance"`
		ReadyDays         string   `json:"ready_days"`
		DateTest          string   `json:"date_test"`
		FitsCeiling       bool     `json:"fits_ceiling"`
		FitsDate          bool     `json:"fits_date"`
		Error             string   `json:"error,omitempty"`
	}
	// OutBest is the choice worth most inside ceiling and date.
	OutBest struct {
		Accept   []string `json:"accept"`
		Total    string   `json:"total"`
		Value    string   `json:"value"`
		RunnerUp []string `json:"runner_up"`
		Say      string   `json:"say"`
	}
	// OutVerdict is one judgment.
	OutVerdict struct {
		Set           string   `json:"set"`
		Option        string   `json:"option"`
		Part          string   `json:"part"`
		Subject       string   `json:"subject"`
		Quantity      string   `json:"quantity"`
		Scenario      string   `json:"scenario"`
		Mains         string   `json:"mains"`
		Low           *string  `json:"low"`
		High          *string  `json:"high"`
		Worst         *string  `json:"worst"`
		Limit         *string  `json:"limit"`
		Wanted        *string  `json:"wanted"`
		Unit          string   `json:"unit"`
		System        string   `json:"system"`
		Source        string   `json:"source"`
		Mark          string   `json:"mark"`
		MarginPercent *string  `json:"margin_percent"`
		Kind          string   `json:"kind"`
		Tier          int      `json:"tier"`
		Offered       bool     `json:"offered"`
		Reason        string   `json:"reason"`
		Contributors  []string `json:"contributors"`
	}
	// OutStress is one figure without its judgment.
	OutStress struct {
		Set      string `json:"set"`
		Subject  string `json:"subject"`
		Quantity string `json:"quantity"`
		Scenario string `json:"scenario"`
		Mains    string `json:"mains"`
		Low      string `json:"low"`
		Expected string `json:"expected"`
		High     string `json:"high"`
		Unit     string `json:"unit"`
		Tier     int    `json:"tier"`
	}
	// OutCheck is a prediction held against a reading at another mains.
	OutCheck struct {
		Subject  string `json:"subject"`
		Quantity string `json:"quantity"`
		Mains    string `json:"mains"`
		Low      string `json:"low"`
		High     string `json:"high"`
		Measured string `json:"measured"`
		Unit     string `json:"unit"`
		Agrees   bool   `json:"agrees"`
	}
	// OutFinding is one finding with its figures in words.
	OutFinding struct {
		ID      string   `json:"id"`
		Basis   string   `json:"basis"`
		Pile    string   `json:"pile"`
		Figures []string `json:"figures"`
		Closed  string   `json:"closed_by,omitempty"`
	}
	// OutDate is one date code with every date it can mean.
	OutDate struct {
		On      string   `json:"on"`
		Code    string   `json:"code"`
		Choices []string `json:"choices"`
		Asks    bool     `json:"asks"`
		Say     string   `json:"say"`
	}
	// OutOrder is one basket.
	OutOrder struct {
		Supplier string    `json:"supplier"`
		Currency string    `json:"currency"`
		Lines    []OutLine `json:"lines"`
		Goods    string    `json:"goods"`
		Carriage string    `json:"carriage"`
		Total    string    `json:"total"`
		Notes    []string  `json:"notes"`
	}
	// OutLine is one line of a basket.
	OutLine struct {
		Part      string `json:"part"`
		Packs     int    `json:"packs"`
		Pieces    int    `json:"pieces"`
		PackPrice string `json:"pack_price"`
		Amount    string `json:"amount"`
		Used      int    `json:"used"`
		Spare     int    `json:"spare"`
	}
	// OutHeld is a part held back.
	OutHeld struct {
		Option string `json:"option"`
		Part   string `json:"part"`
		Reason string `json:"reason"`
	}
)

// JSON writes the whole result in its documented form.
func (r *Result) JSON() ([]byte, error) { return r.Output().JSON() }

// Output puts the result in its documented form.
func (r *Result) Output() Output {
	o := Output{Format: 1, Rules: RuleVersion, Chain: "no chain", Job: r.Job.Number, Pick: r.Job.Pick, Problems: []string{}}
	if r.Job.Chain {
		o.Chain = "chain"
	}
	if r.Job.Broken {
		o.Chain = "broken chain"
	}
	for _, p := range r.Problems {
		o.Problems = append(o.Problems, p.Error())
	}
	for _, s := range r.Sets {
		o.Sets = append(o.Sets, r.outSet(s))
	}
	o.Best, o.Least = r.outBest(), r.outLeast()
	for _, row := range r.Rows() {
		o.Verdicts = append(o.Verdicts, row.out())
		if row.Part == "" && row.Option == "" && row.HasFigure {
			o.Stresses = append(o.Stresses, row.stress())
		}
	}
	for _, c := range r.Checks {
		o.Checks = append(o.Checks, OutCheck{c.Subject, string(c.Quantity), plainVolts(c.Mains), decimal(c.Low, c.Unit), decimal(c.High, c.Unit), decimal(c.Measured, c.Unit), symbol(c.Unit), c.Agrees})
	}
	o.Findings = r.outFindings()
	for _, d := range r.Dates {
		out := OutDate{On: d.On, Code: d.Code, Asks: d.Asks(), Say: d.String()}
		for _, c := range d.Choices {
			out.Choices = append(out.Choices, c.String()+": "+string(c.Fit))
		}
		o.Dates = append(o.Dates, out)
	}
	o.Orders, o.Held = r.outOrders()
	o.Ready = r.outReady()
	o.Circuit = r.outCircuit()
	return o
}

func (r *Result) outSet(s SetResult) OutSet {
	if s.Err != "" {
		return OutSet{Name: s.Name, Accept: s.Accept, DateTest: string(r.Books.Sheet.DateTest), Error: s.Err}
	}
	c := r.Policy.Currency
	b := s.Bill
	return OutSet{
		Name: s.Name, Accept: s.Accept, Hours: fixed(float64(b.Hours), 2), SpreadIndependent: fixed(float64(b.Independent), 2),
		SpreadLinked: fixed(float64(b.Linked), 2), Labor: c.Format(b.Labor), Parts: c.Format(b.Parts), Other: c.Format(b.Other), Fee: c.Format(b.Fee),
		Tax: c.Format(b.Tax), Total: c.Format(b.Total), WithAllowance: c.Format(b.WithAllowance), ReadyDays: strconv.Itoa(s.ReadyDays),
		DateTest: string(r.Books.Sheet.DateTest), FitsCeiling: s.FitsCeiling, FitsDate: s.FitsDate, Error: s.Err,
	}
}

func (r *Result) outBest() *OutBest {
	b, err := r.Best()
	if err != nil {
		return &OutBest{Say: err.Error()}
	}
	out := &OutBest{Accept: b.Accept, Total: r.Policy.Currency.Format(b.Total), Value: strconv.Itoa(b.Value), Say: b.Say}
	if b.RunnerUp != nil {
		out.RunnerUp = b.RunnerUp.Accept
	}
	return out
}

func (r *Result) outFindings() []OutFinding {
	var out []OutFinding
	for _, f := range r.Findings {
		of := OutFinding{ID: f.Finding.ID, Basis: string(f.Finding.Basis), Pile: string(f.Finding.Pile), Figures: f.Figures()}
		for _, c := range r.Closed {
			if c.Finding == f.Finding.ID {
				of.Closed = c.By
			}
		}
		out = append(out, of)
	}
	return out
}

func (r *Result) outOrders() ([]OutOrder, []OutHeld) {
	var out []OutOrder
	for _, b := range r.Buy.Baskets {
		o := OutOrder{Supplier: b.Supplier, Currency: b.Currency.Code, Goods: b.Currency.Format(b.Goods), Carriage: b.Currency.Format(b.Carriage), Total: b.Currency.Format(b.Total), Notes: b.Notes}
		for _, l := range b.Lines {
			o.Lines = append(o.Lines, OutLine{Part: l.Number, Packs: l.Packs, Pieces: l.Pieces, PackPrice: b.Currency.Format(l.PackPrice), Amount: b.Currency.Format(l.Amount), Used: l.Needed - l.FromStock, Spare: l.Spare})
		}
		out = append(out, o)
	}
	var held []OutHeld
	for _, h := range r.Buy.Held {
		held = append(held, OutHeld{Option: h.Need.Option, Part: h.Need.List + " " + h.Need.Number, Reason: h.Reason})
	}
	return out, held
}

// A Row is one judgment with the choice and the part it belongs to.
type Row struct {
	Set, Option, Part string
	Offered           bool
	rating.Judgment
}

// Rows lists every judgment: the amp as found, every candidate on the amp as
// found, each named set, and every candidate beside the set in force.
func (r *Result) Rows() []Row {
	var rows []Row
	for _, j := range r.Found {
		rows = append(rows, Row{Judgment: j, Offered: true})
	}
	for _, o := range r.Options {
		for _, j := range o.Apart.After {
			rows = append(rows, Row{Option: o.Option.ID, Judgment: j, Offered: o.Apart.Offered()})
		}
		rows = append(rows, candidateRows("", o.Option.ID, o.Alone, false)...)
	}
	for i, s := range r.Sets {
		for _, j := range s.Standing {
			rows = append(rows, Row{Set: s.Name, Judgment: j, Offered: true})
		}
		if i != r.Force {
			for _, l := range s.Lines {
				rows = append(rows, candidateRows(s.Name, l.Option, []plan.Line{l}, true)...)
			}
			continue
		}
		for _, o := range r.Options {
			rows = append(rows, candidateRows(s.Name, o.Option.ID, o.Lines, false)...)
		}
	}
	return rows
}

// candidateRows lists the judgments of lines; chosen leaves out candidates
// the plan does not take.
func candidateRows(set, option string, lines []plan.Line, chosen bool) []Row {
	var rows []Row
	for i := range lines {
		l := &lines[i]
		if chosen {
			if l.Chosen != nil {
				rows = append(rows, rowsOf(set, option, l.Chosen)...)
			}
			continue
		}
		cs := l.Candidates()
		for k := range cs {
			rows = append(rows, rowsOf(set, option, &cs[k])...)
		}
	}
	return rows
}

func rowsOf(set, option string, c *plan.Candidate) []Row {
	var rows []Row
	for _, j := range c.Rows {
		rows = append(rows, Row{Set: set, Option: option, Part: c.Offer.List + " " + c.Offer.Number, Offered: c.Offered(), Judgment: j})
	}
	return rows
}

func (r Row) out() OutVerdict {
	v := OutVerdict{Set: r.Set, Option: r.Option, Part: r.Part, Subject: r.Subject, Quantity: string(r.Quantity), Scenario: r.Scenario,
		Mains: plainVolts(r.Mains), Unit: symbol(r.Unit), Kind: r.Kind.Slug(), Tier: r.Tier, Offered: r.Offered, Reason: r.Reason(), Contributors: r.Contributors()}
	if r.HasFigure {
		v.Low, v.High, v.Worst = text(decimal(r.Low, r.Unit)), text(decimal(r.High, r.Unit)), text(decimal(r.Worst, r.Unit))
	}
	if r.Wanted > 0 {
		v.Wanted = text(decimal(r.Wanted, r.Unit))
	}
	if r.HasLimit {
		v.Limit, v.System, v.Source, v.Mark = text(decimal(r.Bound, r.Unit)), r.Limit.System.String(), r.Limit.Source, r.Limit.Mark.String()
	}
	if m, ok := r.Margin(); ok {
		v.MarginPercent = text(fixed(100*m, 1))
	}
	return v
}

func (r Row) stress() OutStress {
	return OutStress{r.Set, r.Subject, string(r.Quantity), r.Scenario, plainVolts(r.Mains), decimal(r.Low, r.Unit), decimal(r.Expected, r.Unit), decimal(r.High, r.Unit), symbol(r.Unit), r.Tier}
}

func text(s string) *string { return &s }

func plainVolts(v unit.Voltage) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(float64(v), 'f', -1, 64)
}

// symbol is the unit figures are printed in: microfarads, milliamperes, else
// the base unit.
func symbol(u unit.Unit) string {
	switch u {
	case unit.Farad:
		return "µF"
	case unit.Ampere:
		return "mA"
	}
	return u.String()
}

// decimal prints a figure in the unit of symbol, to the places the trade
// uses: volts to one, watts to two.
func decimal(v float64, u unit.Unit) string {
	switch u {
	case unit.Farad:
		return fixed(v*1e6, 1)
	case unit.Ampere:
		return fixed(v*1e3, 1)
	case unit.Watt:
		return fixed(v, 2)
	case unit.Volt:
		return fixed(v, 2)
	}
	return strconv.FormatFloat(v, 'g', 6, 64)
}

// fixed prints that many decimals. A figure that is a hair below its decimal
// value, as products of floats are, prints as that value: 7.245 as 7.25.
func fixed(v float64, places int) string { return strconv.FormatFloat(v*(1+1e-12), 'f', places, 64) }
