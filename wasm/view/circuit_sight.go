package view

import (
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/rating"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
)

// A sight is all that the views of the circuit are drawn from. What is not
// there is zero, and the views say what is wanted.
type sight struct {
	Missing   string           // why the circuit is not solved, "" if it is
	Wrong     []circuit.Remark // what is wrong with the sheet
	Mains     unit.Voltage     // of the chart the circuit was matched to
	Doubt     string
	Residuals []circuit.Residual
	Volts     map[string]nodeVolts
	Spreads   []circuit.SpreadRow
	Next      []nextReading
	NoNext    string   // why nothing can be ranked
	Settles   []string // what would settle verdicts that are open
	Suspects  []suspect
	Asked     bool   // whether the parts that would explain the chart were asked for
	Unexplain string // why no set of parts explains the chart, "" if one does

	Windows []circuit.Window
	Pairs   []pairDiffers
	Choices []idleChoice

	FitAsked      bool // whether choices were asked for
	Fitted, ToFit int  // types worked out, of all
	Curves        []draw.Curves
}

// A nextReading is a place nobody has read, and what reading it would settle.
type nextReading struct {
	At, Quantity, Say string
	Live              bool // the meter goes to a live node
}

// A suspect is one smallest set of parts that explains the whole chart.
type suspect struct {
	Refs []string
	Say  string // how far each would be off
	Also string // other sets that predict the same readings
}

// A pairDiffers is how far the tubes of one stage differ, as read and as
// predicted.
type pairDiffers struct {
	Refs string
	Read string // "1.2 mA, 3.4 %"
	Band string // "between 0.4 and 7.1 % at 127 V"
}

// An idleChoice is one tube type with one way of biasing it, held against the
// limit that decides.
type idleChoice struct {
	Key, Name string // "6V6GT with R20 300 Ω"
	Type      string
	Kind      draw.Kind // of everything that is judged; the strip shows the plate's watts
	Now       bool      // as the amp stands
	Strip     draw.Strip
	Dial      string // "19.6 to 20.9 V across R20"
	Say       string // why there is no figure, or what to mind
}

// sightOf gathers what the result of the open job holds.
func sightOf(m app.Model) sight {
	a, c := &m.Open.Job.Amp, m.Open.Result.Circuit
	s := sight{Volts: readVolts(a), Spreads: c.Spreads, Wrong: c.Remarks, Residuals: c.Residuals()}
	if len(c.Missing) > 0 {
		s.Missing = c.Missing[0]
		if n := len(c.Missing) - 1; n > 0 {
			s.Missing += "; and " + count(n, "further reason")
		}
	}
	if c.Calibration != nil {
		s.Mains, s.Doubt = c.Calibration.Mains, c.Calibration.Doubt
	}
	for _, r := range s.Wrong {
		if r.Severity == circuit.Stops && r.Node != "" {
			v := s.Volts[r.Node]
			v.Wrong = "not in order"
			s.Volts[r.Node] = v
		}
	}
	return s
}

// charted adds what to read next, and what was asked about parts that would
// explain the chart.
func (s sight) charted(m app.Model) sight {
	next, say := m.NextReadings()
	s.NoNext = say
	for _, n := range next {
		s.Next = append(s.Next, nextReading{At: n.At, Quantity: n.Quantity, Live: n.Live, Say: n.How + joined(" ", ".", gainSays(n))})
	}
	s.Settles = settles(m)
	q, why, asked := m.Work().Inquest()
	s.Asked, s.Unexplain = asked, why
	if q == nil {
		return s
	}
	if len(q.Accounts) == 0 && !q.Fine {
		s.Unexplain = unexplained(q)
	}
	for _, a := range q.Accounts {
		s.Suspects = append(s.Suspects, suspectOf(a))
	}
	return s
}

// settles are the readings that open verdicts ask for, of the amp as found and
// under the choice in force, each once.
func settles(m app.Model) []string {
	var out []string
	for _, all := range [][]rating.Judgment{m.Open.Result.Found, m.Open.Result.Standing} {
		for _, j := range all {
			if say := capital(j.ToSettle); say != "" && j.Kind != rating.Within && !slices.Contains(out, say) {
				out = append(out, say)
			}
		}
	}
	return out
}

// gainSays is what a reading would do for a verdict.
func gainSays(n circuit.Measure) string {
	if n.Gain <= 0 {
		return ""
	}
	return "It would narrow the " + string(n.Figure.Quantity) + " of " + n.Figure.Ref + " by " + unit.FormatAmount(100*n.Gain, unit.Percent, 1) + " of its limit either way"
}

// unexplained says why no set of parts will do, and without which reading one
// would.
func unexplained(q *circuit.Inquest) string {
	say := orWords(strings.TrimPrefix(q.Say, "no explanation: "), "no set of parts explains every reading")
	var at []string
	for _, r := range q.Contradicts {
		at = append(at, r.At+" "+r.Quantity+", "+asRead(r))
	}
	if len(at) > 0 {
		say += "; one would do without the reading of " + strings.Join(at, ", or of ")
	}
	return say
}

// suspectOf is one account as it is listed: its best set, and the others that
// predict the same readings.
func suspectOf(a circuit.Account) suspect {
	var x suspect
	for _, p := range a.Sets[0] {
		x.Refs = append(x.Refs, p.Ref)
	}
	x.Say = circuit.Says(a.Sets[0])
	var also []string
	for _, set := range a.Sets[1:] {
		also = append(also, circuit.Says(set))
	}
	x.Also = strings.Join(also, ", or ")
	return x
}

// drawn adds the volts of every node, where the circuit was matched at all:
// one that the readings speak against is drawn with what it gives.
func (s sight) drawn(m app.Model) sight {
	w := m.Work()
	if w.Calibration == nil {
		return s
	}
	var specimens []circuit.Values
	for _, e := range w.Calibration.Explained {
		specimens = append(specimens, e.Values)
	}
	reckoned{net: w.Net, specimens: specimens, bench: w.Calibration.Mains, owner: m.Open.Job.Mains, ratio: w.Ratio}.volts(s.Volts)
	return s
}

// unloaded are states in which a reading says nothing of the amp at work.
var unloaded = []string{amp.NoLoad, amp.Highest, amp.TubesOut, amp.Standby, amp.Off, amp.LimiterIn}

// readVolts are the volts read at each node, the latest of the chart.
func readVolts(a *amp.Amp) map[string]nodeVolts {
	out := map[string]nodeVolts{}
	for _, r := range a.Readings {
		if r.Quantity != amp.Volts || r.Has(amp.Check) || slices.ContainsFunc(unloaded, r.Has) {
			continue
		}
		node := placeNode(a, r.At)
		v := out[node]
		v.Read = asRead(r)
		out[node] = v
	}
	return out
}

// placeNode is the node a reading is taken at: named itself, or as the
// electrode of a part.
func placeNode(a *amp.Amp, at string) string {
	ref, electrode, ok := strings.Cut(at, ":")
	if !ok {
		return at
	}
	if p, there := a.Find(ref); there {
		if n, has := p.Node(electrode); has {
			return n
		}
	}
	return at
}
