package circuit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/sorted"
)

// Severity says what a remark does to the circuit.
type Severity uint8

// From the worst.
const (
	Stops  Severity = iota // the circuit cannot be solved until it is mended
	Doubts                 // it can, and figures may be wrong
	Tells                  // worth knowing
)

func (s Severity) String() string {
	return [...]string{"cannot be solved", "doubtful", "note"}[s]
}

// A Remark says in words what is wrong with a sheet, or missing from it.
type Remark struct {
	Severity Severity
	Refs     []string // positions concerned
	Node     string   // node concerned, if there is one
	Say      string
}

func (r Remark) String() string { return r.Severity.String() + ": " + r.Say }

// Check looks a sheet over before it is solved and says what a technician
// would: a grid that nothing holds, a plate without a feed, a rectifier
// without its capacitor. laws may be nil, and no type is then asked about.
// The worst come first, then the order of the sheet.
//
// It looks only at what is connected with what; that a part stands the wrong
// way round shows in the volts: see CheckVolts.
func Check(sheet []amp.Position, laws Laws) []Remark {
	w := wire(sheet)
	rules := []func(*wiring) []Remark{
		nothingDrawn, twiceNamed, unknownKinds, valuesMissing, tubesKnown(laws), mainsThere,
		windingsReturn, rectifiersFilled, coupledBias,
		gridsHeld, cathodesHeld, platesFed, nodesHeld, loneLeads, nearNames,
	}
	var out []Remark
	for _, rule := range rules {
		for _, r := range rule(w) {
			if !spokenOf(out, r) {
				out = append(out, r)
			}
		}
	}
	sorted.By(out, func(a, b Remark) int { return cmp.Compare(a.Severity, b.Severity) })
	return out
}

// said reports whether a node that stops the circuit was spoken of: a plate
// without a feed is also a node with one lead, and once is enough.
func spokenOf(before []Remark, r Remark) bool {
	return r.Node != "" && slices.ContainsFunc(before, func(b Remark) bool { return b.Node == r.Node })
}

// CheckVolts looks a solved sheet over: volts gives the mean volts of a node.
// It finds electrolytics that stand the wrong way round; half a volt is
// forgiven, as cathode bypass capacitors see it in a cold amp.
func CheckVolts(sheet []amp.Position, volts func(node string) (float64, bool)) []Remark {
	var out []Remark
	for i := range sheet {
		p := &sheet[i]
		if p.Kind != "electrolytic" {
			continue
		}
		plus, okPlus := nodeVolts(p, "plus", volts)
		minus, okMinus := nodeVolts(p, "minus", volts)
		if okPlus && okMinus && plus < minus-0.5 {
			out = append(out, Remark{Severity: Doubts, Refs: []string{p.Ref},
				Say: fmt.Sprintf("%s stands the wrong way round: its plus lead is %.1f V below its minus lead", p.Ref, minus-plus)})
		}
	}
	return out
}

func nodeVolts(p *amp.Position, role string, volts func(string) (float64, bool)) (float64, bool) {
	name, ok := p.Node(role)
	if !ok || name == chassisNode {
		return 0, ok
	}
	return volts(name)
}

func nothingDrawn(w *wiring) []Remark {
	switch {
	case len(w.names) == 0:
		return []Remark{{Say: "no part has a node: the sheet says what stands in the amp and not how it is connected"}}
	case len(w.leads[chassisNode]) == 0:
		return []Remark{{Say: "no lead goes to the chassis, node 0: every volt is measured against it"}}
	}
	return nil
}

func twiceNamed(w *wiring) []Remark {
	var out []Remark
	seen := map[string]bool{}
	for i := range w.sheet {
		ref := w.sheet[i].Ref
		if seen[ref] {
			out = append(out, Remark{Refs: []string{ref}, Say: fmt.Sprintf("two parts are called %s: give one of them another reference", ref)})
		}
		seen[ref] = true
	}
	return out
}

// unknownKinds tells of drawn parts that the circuit leaves out.
func unknownKinds(w *wiring) []Remark {
	var out []Remark
	for i := range w.sheet {
		p := &w.sheet[i]
		if len(p.Nodes) == 0 || slices.Contains(amp.Kinds(), p.Kind) {
			continue
		}
		out = append(out, Remark{Severity: Doubts, Refs: []string{p.Ref},
			Say: fmt.Sprintf("%s is of a kind, %q, that the circuit does not know: it is left out, as if its leads were cut", p.Ref, p.Kind)})
	}
	return out
}

// loneLeads tells of nodes on which one lead stands alone.
func loneLeads(w *wiring) []Remark {
	var out []Remark
	for _, n := range w.names {
		on := w.leads[n]
		if n == chassisNode || len(on) != 1 || w.idle(on[0].part) {
			continue
		}
		say := fmt.Sprintf("only one lead stands on node %s: %s. Is a part missing, or the name misspelled?", n, on[0])
		out = append(out, Remark{Severity: Doubts, Refs: []string{on[0].part.Ref}, Node: n, Say: say})
	}
	return out
}

// nearNames tells of two nodes whose names a hand mixes up: B1 and b1, GO
// and G0.
func nearNames(w *wiring) []Remark {
	var out []Remark
	first := map[string]string{}
	alike := strings.NewReplacer("O", "0", "I", "1")
	for _, n := range w.names {
		key := alike.Replace(strings.ToUpper(n))
		if other, ok := first[key]; ok {
			out = append(out, Remark{Severity: Doubts, Say: fmt.Sprintf("nodes %s and %s are two nodes here: if one is meant, write it one way", other, n)})
			continue
		}
		first[key] = n
	}
	return out
}
