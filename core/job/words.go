package job

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/decision"
	"lugworth/core/plan"
	"lugworth/core/quote"
	"lugworth/core/shop"
)

// Spoken returns a bill whose parts are named in plain words instead of the
// supplier's. Sums and numbers stay as they are.
func (r *Result) Spoken(b quote.Bill) quote.Bill {
	b.Lines = slices.Clone(b.Lines)
	for i, l := range b.Lines {
		if o, ok := r.Books.Offer(l.List, l.ID); ok && l.Class == quote.Parts {
			b.Lines[i].Say = PartWords(o)
		}
	}
	return b
}

// Promise returns the bill of a choice as it is frozen: in plain words, and
// with the day to which it holds, which a later sheet must not move.
func (r *Result) Promise(s SetResult, date string) quote.Bill {
	b := r.Spoken(s.Bill)
	if w := validWords(date, r.Books.Sheet.ValidDays); w != "" {
		b.Notes = append(slices.Clone(b.Notes), "this estimate "+w)
	}
	return b
}

// PartWords names a part in plain words, whatever language its list is in:
//
//	"Elco 33µF 500V axiaal" → "Electrolytic capacitor, axial, 33 µF 500 V"
//
// A part no word of ours fits keeps the words of its row.
func PartWords(o *catalog.Offer) string {
	p, what := o.Part, ""
	switch {
	case p.Tube != "":
		return "Tube " + p.Tube + countWords(p.Count)
	case p.Kind == catalog.Capacitor, p.Kind == catalog.Resistor, p.Kind == catalog.Fuse:
		what = capital(p.Kind.String())
	case p.Kind.IsCapacitor():
		what = capital(p.Kind.String()) + " capacitor"
	case p.Kind.IsResistor():
		what = capital(p.Kind.String()) + " resistor"
	}
	spec := p.Spec
	if what == "" || len(spec.Values) == 0 {
		return o.Text
	}
	spec.Tolerance.Stated = false
	if p.Kind == catalog.Fuse {
		spec.Volts, spec.Speed = 0, ""
		return joinWords(what, spec.Canonical(), speeds[p.Spec.Speed])
	}
	return joinWords(what, p.Form.String(), joinClass(spec.Canonical(), p.Class))
}

var speeds = map[string]string{"T": "slow", "F": "fast"}

func joinClass(spec, class string) string {
	if class == "" {
		return spec
	}
	return spec + ", class " + class
}

func countWords(n int) string {
	switch n {
	case 0, 1:
		return ""
	case 2:
		return ", matched pair"
	case 4:
		return ", matched quartet"
	}
	return fmt.Sprintf(", set of %d", n)
}

// shopSays are rows of the sheet that name the shop to its customers.
func (r *Result) shopSays() []string {
	var out []string
	for _, k := range []string{"address", "phone", "email", "registration"} {
		if e, ok := r.Books.Sheet.Get(k); ok && e.Value != "" {
			out = append(out, e.Value)
		}
	}
	return out
}

func receiptWords(r *Result) string {
	c := r.Job.Receipt
	w := joinWords(c.Date, c.Accessories)
	if c.Number != "" {
		w = joinWords("no. "+c.Number, w)
	}
	if c.Received != "" {
		w = joinWords(w, "received by "+c.Received)
	}
	return w
}

func (r *Result) mainsWords() string {
	m := r.Job.Mains
	if !m.Declared() {
		return "range not declared"
	}
	w := plainVolts(m.Low) + " to " + plainVolts(m.High) + " V"
	if m.Measured > 0 {
		w += ", measured " + plainVolts(m.Measured) + " V"
	}
	return w
}

func readyWords(b quote.Bill) string {
	if b.ReadyDays == 0 && len(b.NoLead) > 0 {
		return "How long the parts take is not known: no lead time is stated for " + strings.Join(b.NoLead, ", ") + "; time at the bench comes on top"
	}
	w := fmt.Sprintf("Parts and work sent out: %d days after the order; time at the bench comes on top", b.ReadyDays)
	if b.ReadyDays == 0 {
		w = "Nothing has to be waited for; time at the bench is not counted"
	}
	if len(b.NoLead) > 0 {
		w += "; no lead time is stated for " + strings.Join(b.NoLead, ", ")
	}
	return w
}

func ceilingSaid(ceiling, currency string) string {
	if ceiling == "" {
		return ""
	}
	return "Agreed ceiling: " + ceiling + " " + currency
}

// oldParts says what becomes of what comes out, by finding.
func (r *Result) oldParts(accept []string) []string {
	says := []struct {
		matter shop.Matter
		say    string
	}{
		{shop.Bagged, "Returned to you in a bag, marked with the finding"}, {shop.InPlace, "Stays in place, out of use"},
		{shop.Consumed, "Used up by the work"}, {shop.Untouched, "Stays as it is"},
	}
	var out []string
	for _, s := range says {
		var ids []string
		for _, o := range r.Options {
			if o.Option.Matter == s.matter && slices.Contains(accept, o.Option.ID) && !slices.Contains(ids, o.Option.Finding) {
				ids = append(ids, o.Option.Finding)
			}
		}
		if len(ids) > 0 {
			out = append(out, s.say+": "+strings.Join(ids, ", ")+".")
		}
	}
	return out
}

// terms are the shop's terms and the notes of the bill.
func (r *Result) terms(b quote.Bill) []string {
	out := []string{"The total is the most this work can cost. Nothing beyond it is done or charged without asking you first; what you answer is written down."}
	if b.Fee != 0 {
		out = append(out, "The bench fee covers taking in, first tests and the chart of readings. It is due whether or not the work goes ahead.")
	}
	out = append(out, "If you decline all of it, the amp is put back as it came; old faults stay, and a finding marked must keeps it out of use.")
	for _, n := range b.Notes {
		out = append(out, capital(n)+".")
	}
	return out
}

// consentWords are the agreements on record, oldest first, each with all its
// fields.
func (r *Result) consentWords() []string {
	var out []string
	s := r.Job.State
	for _, id := range s.IDs(KindConsent) {
		var c decision.Consent
		if s.Decode(KindConsent, id, &c) == nil && c.Who != "" {
			out = append(out, c.Words())
			continue
		}
		body := map[string]any{} // of a file that says it in other fields
		if s.Decode(KindConsent, id, &body) != nil {
			continue
		}
		var words []string
		for _, f := range s.Fields(KindConsent, id) {
			if w := fieldWords(body[f]); w != "" && f != "id" {
				words = append(words, strings.ReplaceAll(f, "_", " ")+": "+w)
			}
		}
		out = append(out, strings.Join(words, "; "))
	}
	return out
}

func fieldWords(v any) string {
	switch v := v.(type) {
	case string:
		return v
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case []any:
		var words []string
		for _, x := range v {
			words = append(words, fieldWords(x))
		}
		return strings.Join(words, ", ")
	}
	return ""
}

var looks = map[shop.Look]string{shop.AsMade: "Looks as made", shop.Close: "Looks close to as made", shop.Modern: "Looks plainly modern"}

var matters = map[shop.Matter]string{shop.Untouched: "no original part is removed", shop.InPlace: "the old part stays in place, out of use",
	shop.Bagged: "the old part is returned", shop.Consumed: "the old part is used up"}

func lookWords(o *plan.Option) string { return joinWords(looks[o.Look], matters[o.Matter]) }

var undos = map[shop.Undo]string{shop.U0: "undone at any time (U0)", shop.U1: "can be undone, by solder or plug (U1)",
	shop.U2: "can be undone but leaves a mark (U2)", shop.U3: "cannot be undone (U3)"}

func undoWords(o *plan.Option) string { return undos[o.Undo] }

func orNone(s string) string {
	if s == "" {
		return "none found"
	}
	return s
}

func joinWords(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), ", ")
}

func capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
