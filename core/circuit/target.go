package circuit

import (
	"math"
	"strconv"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// A target is a reading as the circuit can be asked for it.
type target struct {
	reading amp.Reading
	kind    targetKind
	node    string // of readNode
	ref     string
	lead    string // electrode of a current
	amount  float64
	err     float64 // absolute: meter, last figure, and the way from its mains to the chart's
	state   State
	bench   bool   // at the chart's mains, in the working state: may be matched to
	why     string // it cannot be asked for
}

type targetKind uint8

const (
	notAsked targetKind = iota
	readNode
	readCurrent
	readWinding
	readOhms
)

func cutAt(at string) (ref, electrode string, ok bool) { return strings.Cut(at, ":") }

// The mains of two readings of one chart may differ by this much; each is
// carried to the chart's mains in proportion.
const oneChart = 0.02

// targetsOf makes a target of every reading, in their order.
func targetsOf(b *Bench, j *joints, chart float64) []target {
	out := make([]target, len(b.Readings))
	for i, r := range b.Readings {
		out[i] = targetOf(b, j, r, chart)
	}
	return out
}

func targetOf(b *Bench, j *joints, r amp.Reading, chart float64) target {
	t := target{reading: r, amount: r.Amount, err: readingError(b, r)}
	t.kind, t.why = t.find(j)
	if t.kind == readOhms || t.why != "" {
		return t
	}
	t.unload(j)
	ratio, why := tapRatio(b.Tap, r.Tap)
	if why == "" {
		why = t.setState(b, ratio)
	}
	if t.why = why; why != "" {
		return t
	}
	t.bench = mayMatch(&r) && t.kind != readWinding && ratio == 1 && math.Abs(float64(r.Mains)/chart-1) <= oneChart
	if t.bench && float64(r.Mains) != chart {
		k := chart / float64(r.Mains)
		t.amount *= k
		t.err = t.err*k + math.Abs(t.amount*(k-1))/2
		t.state.Mains = chart
	}
	return t
}

// readingError is the meter's error and half of the last figure, absolute.
func readingError(b *Bench, r amp.Reading) float64 {
	meter := r.Meter
	if !r.Stated {
		meter = b.Meter
	}
	return math.Abs(r.Amount)*meter + r.Step/2
}

// mayMatch reports whether a circuit may be matched to a reading: one of the
// chart as found, loaded, with the full mains on the amp.
func mayMatch(r *amp.Reading) bool {
	for _, s := range []string{amp.Check, amp.Final, amp.Soak, amp.LimiterIn, amp.NoLoad, amp.TubesOut, amp.Standby, amp.Highest, amp.Off} {
		if r.Has(s) {
			return false
		}
	}
	return r.Mains > 0
}

// find says what of the circuit was read.
func (t *target) find(j *joints) (targetKind, string) {
	ref, lead, part := cutAt(t.reading.At)
	t.ref, t.lead = ref, lead
	i, have := j.byRef[ref]
	switch t.reading.Quantity {
	case amp.Ohms:
		if !have {
			return notAsked, "no position " + ref + " in the sheet"
		}
		return readOhms, ""
	case amp.Volts:
		n, ok := j.node(t.reading.At)
		if !ok {
			return notAsked, t.reading.At + " is no node of the sheet"
		}
		t.node = n
		return readNode, ""
	case amp.Current:
		if have && !part {
			t.lead = "cathode"
		}
		if !have || !isOneOf(j.parts[i].Kind, tubeKinds...) || !isOneOf(t.lead, "plate", "screen", "cathode") {
			return notAsked, "only the currents of a tube's plate, screen or cathode can be compared"
		}
		return readCurrent, ""
	case amp.RMSVolts:
		if have && j.parts[i].Kind == "winding" {
			return readWinding, ""
		}
		return notAsked, t.reading.At + " is no winding of the sheet"
	}
	return notAsked, "a reading of " + t.reading.Quantity + " says nothing of the circuit at rest"
}

// setState puts the amp into the state the reading was taken in.
func (t *target) setState(b *Bench, ratio float64) string {
	r := &t.reading
	t.state = State{Name: "reading " + r.ID, Mains: float64(r.Mains), Ratio: ratio}
	switch {
	case r.Mains <= 0:
		return "no mains beside it"
	case r.Has(amp.LimiterIn):
		return "read behind a limiter: what the amp itself saw is not known"
	case r.Has(amp.Final), r.Has(amp.Soak):
		return "read after the work: of another state of the amp"
	case r.Has(amp.Highest):
		return "the highest seen from cold is no steady state"
	case t.kind == readWinding:
		if !r.Has(amp.NoLoad) && !r.Has(amp.TubesOut) {
			return "the volts of a loaded winding are not worked out"
		}
	case r.Has(amp.NoLoad), r.Has(amp.TubesOut):
		for _, p := range b.Sheet {
			if isOneOf(p.Kind, tubeKinds...) && len(p.Nodes) > 0 {
				t.state.Faults = append(t.state.Faults, Fault{Kind: Pulled, Ref: p.Ref})
			}
		}
	}
	t.state.Standby = r.Has(amp.Standby)
	return ""
}

// tapRatio is the volts of the tap as found over those of the tap in use.
func tapRatio(found, used string) (float64, string) {
	if used == "" || used == found {
		return 1, ""
	}
	f, ok1 := tapAmount(found)
	u, ok2 := tapAmount(used)
	if !ok1 || !ok2 {
		return 0, "read on another mains tap, and the taps' volts are not known"
	}
	return f / u, ""
}

func tapAmount(tap string) (float64, bool) {
	v, err := strconv.ParseFloat(tap, 64)
	return v, err == nil && v > 0 && v <= 1000
}

// chartMains is the mains at which most of what may be matched was read, the
// lower one of two; 0 if nothing was.
func chartMains(rs []amp.Reading) float64 {
	count := map[unit.Voltage]int{}
	var best unit.Voltage
	for i := range rs {
		r := &rs[i]
		if r.Quantity == amp.Ohms || !mayMatch(r) {
			continue
		}
		count[r.Mains]++
		if c := count[r.Mains]; c > count[best] || c == count[best] && r.Mains < best {
			best = r.Mains
		}
	}
	return float64(best)
}

// of asks a solution for the target.
func (t *target) of(s *Solution) (float64, bool) {
	if t.kind == readNode && t.node != chassisNode {
		return s.Node(t.node)
	}
	return t.at(&s.point)
}

// at reads the target off a point, whatever holds its node.
func (t *target) at(p *point) (float64, bool) {
	switch t.kind {
	case readNode:
		i, ok := p.net.byName[t.node]
		return p.x[max(i, 0)], ok
	case readCurrent:
		i, ok := p.net.byRef[t.ref]
		if !ok || p.net.parts[i].kind != isTube {
			return 0, false
		}
		at := p.tubeAt(p.net.parts[i].tube)
		switch t.lead {
		case "plate":
			return at.PlateAmps, true
		case "screen":
			return at.ScreenAmps, true
		}
		return at.Total, true
	}
	return 0, false
}
