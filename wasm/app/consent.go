package app

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/core/decision"
	"lugworth/core/job"
	"lugworth/core/money"
	"lugworth/core/quote"
	"lugworth/core/shop"
	"lugworth/wasm/port"
)

func init() {
	pressed["consent-open"] = func(m *Model, e event) []port.Effect {
		m.Screen.Dialog, m.Screen.Ask = "consent", ""
		return nil
	}
	// answer says of a finding left out whether that is a no, or still thought
	// about.
	pressed["answer"] = func(m *Model, e event) []port.Effect {
		if m.Screen.Answers == nil {
			m.Screen.Answers = map[string]string{}
		}
		m.Screen.Answers[e.ID] = e.Value
		return nil
	}
	submitted["consent"] = func(m *Model, e event) []port.Effect { return m.consent(e) }
}

// Heard is the consent as the page would record it now, without what the
// form adds.
func (m Model) Heard() decision.Consent {
	r := m.Open.Result
	c := decision.Consent{Currency: r.Policy.Currency.Code}
	if r.Force < 0 || r.Sets[r.Force].Err != "" {
		return c
	}
	s := r.Sets[r.Force]
	c.Choice, c.Accept, c.Total = s.Name, slices.Clone(s.Accept), r.Policy.Currency.Format(s.Bill.Total)
	for _, f := range r.Findings {
		if len(f.Options) == 0 || slices.ContainsFunc(f.Options, func(i int) bool { return slices.Contains(s.Accept, r.Options[i].Option.ID) }) {
			continue
		}
		if m.Answered(f.Finding.ID) == "no" {
			c.Declined = append(c.Declined, f.Finding.ID)
		} else {
			c.Open = append(c.Open, f.Finding.ID)
		}
	}
	if n := len(r.Job.Consents); n > 0 {
		c.Added = added(r.Policy.Currency, r.Job.Consents[n-1].Total, s.Bill.Total)
	}
	return c
}

// Answered is what was said of a finding that the choice leaves out: "no", or
// "think" until something else is said.
func (m Model) Answered(finding string) string {
	if a := m.Screen.Answers[finding]; a != "" {
		return a
	}
	if n := len(m.Open.Job.Consents); n > 0 && slices.Contains(m.Open.Job.Consents[n-1].Declined, finding) {
		return "no"
	}
	return "think"
}

// added is the total against the one agreed before, with its sign.
func added(c money.Currency, before string, now money.Amount) string {
	was, err := c.Read(before)
	if err != nil || was == now {
		return ""
	}
	if now > was {
		return "+" + c.Format(now-was)
	}
	return c.Format(now - was)
}

// consent records what the owner said, with the estimate it was said of
// frozen beside it. Neither can be undone: a later answer supersedes it.
func (m *Model) consent(e event) []port.Effect {
	if m.Open == nil || m.ReadOnly() != "" {
		return nil
	}
	f := e.form
	c := m.Heard()
	c.At, c.Who, c.Channel = e.At, strings.TrimSpace(f.Get("who")), f.Get("channel")
	c.Called, c.Received = strings.TrimSpace(f.Get("called")), strings.TrimSpace(f.Get("received"))
	c.Ceiling, c.Conditions = strings.TrimSpace(f.Get("ceiling")), strings.TrimSpace(f.Get("conditions"))
	for _, x := range f.Fields {
		if x.Name == "readback" && x.Checked {
			c.ReadBack = "yes"
		}
	}
	lacks := c.Lacks()
	currency := m.Open.Result.Policy.Currency
	if c.Ceiling != "" {
		most, err := currency.Read(c.Ceiling)
		total, _ := currency.Read(c.Total)
		switch {
		case err != nil:
			lacks = append(lacks, "a ceiling that can be read: "+err.Error())
		case c.Total != "" && most < total:
			lacks = append(lacks, "a choice under the ceiling: this one is "+c.Total)
		}
	}
	if c.Total == "" {
		lacks = append(lacks, "a choice that can be priced")
	}
	if len(lacks) > 0 {
		m.Screen.Ask = "Still wanted: " + strings.Join(lacks, "; ") + "."
		return nil
	}
	changes, number, err := m.frozenNow(e)
	if err != nil {
		m.Screen.Ask = err.Error()
		return nil
	}
	c.Estimate = number
	id := m.nextConsent()
	body := consentBody(c, id)
	m.closeDialog()
	m.Screen.Ask, m.Screen.Drafts, m.Screen.Answers = "", map[string]string{}, nil
	effects := m.commit(e.Fresh, "answer "+id+" recorded, of estimate "+number, append(changes, change{job.KindConsent, body})...)
	m.sealUndo()
	return effects
}

// sealUndo takes what was just recorded out of what can be taken back.
func (m *Model) sealUndo() {
	m.Open.undo, m.Open.redo = nil, nil
	m.Screen.Toast.Undo = false
}

// consentBody writes the fields that hold something.
func consentBody(c decision.Consent, id string) map[string]any {
	body := map[string]any{"id": id}
	for k, v := range map[string]string{"at": c.At, "who": c.Who, "channel": c.Channel, "called": c.Called, "received": c.Received, "estimate": c.Estimate, "choice": c.Choice,
		"total": c.Total, "ceiling": c.Ceiling, "currency": c.Currency, "added": c.Added, "conditions": c.Conditions, "readback": c.ReadBack} {
		if v != "" {
			body[k] = v
		}
	}
	for k, v := range map[string][]string{"accept": c.Accept, "declined": c.Declined, "open": c.Open} {
		body[k] = list(v)
	}
	return body
}

func (m *Model) nextConsent() string {
	for n := 1; ; n++ {
		if id := fmt.Sprint("c", n); !m.Open.State.Known(job.KindConsent, id) {
			return id
		}
	}
}

// frozenNow returns the number of a frozen estimate that is the choice in
// force as it stands, line by line and word by word, and what must be recorded
// to make one where there is none.
func (m *Model) frozenNow(e event) ([]change, string, error) {
	r := m.Open.Result
	s := r.Sets[r.Force]
	bill := r.Promise(s, e.Date)
	written := func(number string) (string, error) {
		text, err := quote.Freeze(bill, quote.Stamp{Number: number, Date: e.Date, Rule: fmt.Sprint(job.RuleVersion), Sheet: r.Books.Sheet.Digest(), Set: s.Name, Accept: s.Accept}).JSON()
		return string(text), err
	}
	for _, f := range slices.Backward(m.Open.Job.Frozen) {
		z, _, err := f.Reopen()
		if err != nil || !job.SameAsked(f.Asked, r.Asked()) {
			continue
		}
		if text, err := written(z.Number); err == nil && text == f.Estimate {
			return nil, f.ID, nil
		}
	}
	number := m.nextFrozen()
	text, err := written(number)
	if err != nil {
		return nil, "", err
	}
	return append(m.bookChanges(), set(job.KindFrozen, number, map[string]any{"set": s.Name, "at": e.At, "estimate": text, "asked": r.Asked()})), number, nil
}

// atMost says the ceiling as the form holds it: what is recorded is what was
// read back.
func (m Model) atMost(c decision.Consent) string {
	ceiling := strings.TrimSpace(m.Draft("draft", "consent", "ceiling", m.Open.Job.Bounds.Ceiling))
	if ceiling == "" {
		return ", and no more"
	}
	if most, err := m.Open.Result.Policy.Currency.Read(ceiling); err == nil {
		ceiling = m.Open.Result.Policy.Currency.Format(most)
	}
	return ", and " + ceiling + " " + c.Currency + " at most without asking you again"
}

// ReadBack is what is read to the owner before it is recorded.
func (m Model) ReadBack() []string {
	r := m.Open.Result
	c := m.Heard()
	var out []string
	if c.Total == "" {
		return []string{"No choice is in force, or it cannot be priced: there is nothing to agree to yet."}
	}
	out = append(out, "You agree to this, "+c.Total+" "+c.Currency+" as it stands now"+m.atMost(c)+":")
	for _, o := range r.Options {
		if slices.Contains(c.Accept, o.Option.ID) {
			out = append(out, o.Option.Finding+": "+o.Option.Say)
		}
	}
	for _, f := range r.Findings {
		switch {
		case slices.Contains(c.Declined, f.Finding.ID):
			say := "Not done: " + f.Finding.ID + ", " + string(f.Finding.Seen)
			if f.Finding.Pile == shop.Must {
				say += ". Without it the amp is not released for use"
			}
			out = append(out, say)
		case slices.Contains(c.Open, f.Finding.ID):
			out = append(out, "You think about: "+f.Finding.ID+", "+string(f.Finding.Seen))
		}
	}
	return append(out, "Nothing beyond it is done or charged without asking you first. Is that right?")
}
