package job

import (
	"strconv"

	"lugworth/core/decision"
	"lugworth/core/money"
)

// The least to touch as result.json gives it.
type (
	// OutLeast are all choices that touch least.
	OutLeast struct {
		Proven   bool       `json:"proven"`
		DateTest string     `json:"date_test"` // what judged the days: longest-lead or P80
		Points   []OutTouch `json:"points"`
		Levers   []OutLever `json:"levers"` // of the first point
		Say      string     `json:"say,omitempty"`
	}
	// OutTouch is one of them. Matter, look and undo count from the worst down:
	// 10203 is 1 used up, 2 handed back, 3 out of use in their places.
	OutTouch struct {
		Accept    []string `json:"accept"`
		Total     string   `json:"total"`
		ReadyDays *string  `json:"ready_days"` // null where a lead is not stated
		Matter    string   `json:"matter"`
		Look      string   `json:"look"`
		Undo      string   `json:"undo"`
	}
	// OutLever is an option that touches nothing and spares something elsewhere.
	OutLever struct {
		Option  string       `json:"option"`
		Adds    string       `json:"adds"`
		Lifts   []OutLift    `json:"lifts"` // of the amp as found
		Parts   []OutLift    `json:"parts"` // of parts named or asked about for the other options
		Cheaper []OutCheaper `json:"cheaper"`
	}
	// OutLift is a verdict it makes kinder.
	OutLift struct {
		Subject  string `json:"subject"`
		Quantity string `json:"quantity"`
		From     string `json:"from"`
		To       string `json:"to"`
	}
	// OutCheaper is a part that may be less dear with it.
	OutCheaper struct {
		Option      string `json:"option"`
		Part        string `json:"part"`
		From        string `json:"from"`
		To          string `json:"to"`
		Saves       string `json:"saves"`
		NeedsReason bool   `json:"needs_reason"`
	}
)

func (r *Result) outLeast() *OutLeast {
	out := &OutLeast{DateTest: r.dateTest(), Points: []OutTouch{}, Levers: []OutLever{}}
	l, err := r.Least()
	if err != nil {
		out.Say = err.Error()
		return out
	}
	out.Proven = l.Proven
	for _, p := range l.Points {
		out.Points = append(out.Points, r.outTouch(p))
	}
	var first []string
	if len(l.Points) > 0 {
		first = l.Points[0].Accept
	}
	for _, v := range r.Levers(first) {
		out.Levers = append(out.Levers, outLever(v, r.Policy.Currency))
	}
	return out
}

func (r *Result) outTouch(p decision.Point) OutTouch {
	t := OutTouch{Accept: p.Accept, Total: r.Policy.Currency.Format(p.Total), Matter: strconv.Itoa(p.Matter), Look: strconv.Itoa(p.Look), Undo: strconv.Itoa(p.Undo)}
	if d := p.Day(); d != decision.UnknownDay {
		t.ReadyDays = text(strconv.Itoa(d))
	}
	return t
}

func outLever(v Lever, c money.Currency) OutLever {
	out := OutLever{Option: v.Option, Adds: c.Format(v.Adds), Lifts: outLifts(v.Lifts), Parts: outLifts(v.Parts), Cheaper: []OutCheaper{}}
	for _, x := range v.Cheaper {
		out.Cheaper = append(out.Cheaper, OutCheaper{x.Option, strconv.Itoa(x.Part), x.From, x.To, c.Format(x.Saves), x.NeedsReason})
	}
	return out
}

func outLifts(lifts []Lift) []OutLift {
	out := []OutLift{}
	for _, l := range lifts {
		out = append(out, OutLift{l.Subject, l.Quantity, l.From.Slug(), l.To.Slug()})
	}
	return out
}

// dateTest is what judges the day of the best choice and of the least to
// touch.
func (r *Result) dateTest() string {
	if r.Simulated() {
		return "P80"
	}
	return "longest-lead"
}
