package circuit

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/sorted"
)

// An Inquiry asks which parts of an amp have drifted or failed.
type Inquiry struct {
	Bench
	From  Values  // the amp as it should be: nil is the sheet as marked
	Slack float64 // how much of the spread table is no fault: 0 meets readings to the meter's error
	Most  int     // parts in a set at most; 0 is 3
}

// A Suspect is one part and what is wrong with it.
type Suspect struct {
	Ref      string
	Property Property  // that drifted; 0 for a failure
	Fault    FaultKind // that happened; 0 for a drift
	Value    float64   // drifted to, or ohms of a leak
	Part     float64   // of what it should be; 0 where that says nothing
}

// An Account is one way to explain every reading: the smallest sets of parts
// found that lead to the same readings, within the meter's error.
type Account struct {
	Sets  [][]Suspect // each alone explains the readings; the best first
	Off   float64     // root of the mean square of what is left, in parts of the meter's error
	reads []float64
}

// An Inquest is the answer to an inquiry: accounts, the best first, or why there is none.
type Inquest struct {
	Accounts    []Account
	Fine        bool          // the amp as it should be explains every reading already
	Compared    int           // readings that could be compared
	Contradicts []amp.Reading // readings but for which a set would do
	Say         string
}

// Suspects finds the smallest sets of drifted or failed parts that explain
// all readings within the meter's error, and says so where there is none: it
// never stretches a set to fit. Drift of any ohms, winding, tube or rectifier
// and failures (open, short, leak, pulled) are tried, first alone, then in
// pairs and threes grown from those that leave least unexplained.
func Suspects(n *Net, q Inquiry) (*Inquest, error) {
	if q.Spreads == nil {
		q.Spreads = DefaultSpreads()
	}
	if q.Most == 0 {
		q.Most = 3
	}
	d, err := newDetective(n, q)
	if err != nil {
		return nil, err
	}
	out := &Inquest{Compared: len(d.ts)}
	switch {
	case len(d.ts) == 0:
		out.Say = "no reading can be compared with the circuit"
		return out, nil
	case d.meets(d.base):
		out.Fine, out.Say = true, "the amp as it should be explains every reading"
		return out, nil
	}
	d.investigate(out, q.Most)
	if len(out.Accounts) == 0 {
		out.Say = fmt.Sprintf("no explanation: no set of %d parts or fewer leads to these readings", q.Most)
		for _, i := range d.odd {
			out.Contradicts = append(out.Contradicts, d.ts[i].reading)
		}
	}
	return out, nil
}

// investigate tries sets of one part, then two, then three; the first size
// that explains is the answer.
func (d *detective) investigate(out *Inquest, most int) {
	var grown []theory
	for size := 1; size <= most; size++ {
		tried := d.singles()
		if size > 1 {
			tried = d.grow(grown)
		}
		var good []theory
		for _, t := range tried {
			if d.meets(t.reads) {
				good = append(good, t)
			}
		}
		if len(good) > 0 {
			out.Accounts = d.accounts(good)
			return
		}
		grown = best(tried, beamWidth)
		if size == 1 {
			d.findOdd(tried)
		}
	}
}

// best keeps the theories that leave least unexplained.
func best(ts []theory, n int) []theory {
	ts = slices.Clone(ts)
	sorted.By(ts, func(a, b theory) int { return cmp.Compare(a.off, b.off) })
	return ts[:min(n, len(ts))]
}

// accounts groups theories that lead to the same readings.
func (d *detective) accounts(good []theory) []Account {
	sorted.By(good, func(a, b theory) int { return cmp.Compare(a.off, b.off) })
	var out []Account
	for _, t := range good {
		at := slices.IndexFunc(out, func(a Account) bool { return d.same(a.reads, t.reads) })
		if at < 0 {
			out = append(out, Account{Off: t.off, reads: t.reads})
			at = len(out) - 1
		}
		out[at].Sets = append(out[at].Sets, d.suspects(&t))
	}
	return out
}

// same reports whether two sets of readings agree within the meter's error.
func (d *detective) same(a, b []float64) bool {
	for i := range a {
		if math.Abs(a[i]-b[i]) > d.meter[i] {
			return false
		}
	}
	return true
}

// suspects names the parts of a theory, in the order of the sheet.
func (d *detective) suspects(t *theory) []Suspect {
	var out []Suspect
	for i, c := range t.charges {
		s := Suspect{Ref: c.ref, Property: c.property, Fault: c.fault}
		switch {
		case c.fault == Leak:
			s.Value = math.Exp(t.x[i])
		case c.fault == 0:
			v := d.from[c.knob]
			s.Value = c.moved(v, t.x[i])
			if v != 0 {
				s.Part = s.Value / v
			}
		}
		out = append(out, s)
	}
	sorted.By(out, func(a, b Suspect) int { return cmp.Compare(d.order[a.Ref], d.order[b.Ref]) })
	return out
}

var faultWords = map[FaultKind]string{Open: "open", Short: "shorted", Leak: "leaking", Pulled: "dead or pulled"}

// String says what is wrong: "R303 resistance × 1.31", "C601 leaking".
func (s Suspect) String() string {
	if s.Fault != 0 {
		return s.Ref + " " + faultWords[s.Fault]
	}
	if s.Part == 0 {
		return fmt.Sprintf("%s %s %.3g", s.Ref, s.Property.words(), s.Value)
	}
	return fmt.Sprintf("%s %s × %.3g", s.Ref, s.Property.words(), s.Part)
}

// Says names a whole set.
func Says(set []Suspect) string {
	var words []string
	for _, s := range set {
		words = append(words, s.String())
	}
	return strings.Join(words, ", ")
}
