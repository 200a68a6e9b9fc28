package view

import (
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/circuit"
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
	Suspects  []suspect
	Unexplain string // why no set of parts explains the chart, "" if one does or nothing needs to be explained

	Windows []circuit.Window
	Pairs   []pairDiffers
	Choices []idleChoice
	Curves  []draw.Curves
}

// A nextReading is a place nobody has read, and what reading it would settle.
type nextReading struct{ At, Quantity, Say string }

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
	Now       bool   // as the amp stands
	Strip     draw.Strip
	Dial      string // "19.6 to 20.9 V across R20"
	Say       string // why there is no figure, or what to mind
}

// sightOf gathers what the open job gives.
func sightOf(m app.Model) sight {
	a := &m.Open.Job.Amp
	s := sight{Volts: readVolts(a), Missing: "no circuit is worked out yet"}
	s.Spreads, _ = circuit.ReadSpreads(func(key string) (value, source string, ok bool) {
		e, ok := m.Open.Books.Sheet.Get(key)
		return e.Value, e.Source, ok
	})
	if len(a.Positions) > 0 {
		s.Wrong = circuit.Check(a.Positions, nil)
	}
	for _, r := range s.Wrong {
		if r.Severity == circuit.Stops {
			s.Missing = "the sheet is not whole"
		}
		if r.Node != "" && r.Severity == circuit.Stops {
			v := s.Volts[r.Node]
			v.Wrong = "not in order"
			s.Volts[r.Node] = v
		}
	}
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
