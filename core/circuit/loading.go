package circuit

import (
	"math"
)

// A meter of finite resistance draws current and reads low: at a node fed
// over R by R ÷ (R + its own). Where nothing but one chain of resistors feeds
// the node (a grid over its leak) that is known and put back; elsewhere the
// least resistor on the node, which no node can be weaker than by itself,
// adds to the reading's error.
func (t *target) unload(j *joints) {
	meter := t.reading.Ohms
	if t.kind != readNode || meter <= 0 || t.node == chassisNode {
		return
	}
	if ohms, only := j.feedOhms(t.node); only {
		t.amount *= 1 + ohms/meter
		t.err *= 1 + ohms/meter
		return
	}
	if ohms := j.weakest(t.node); !math.IsInf(ohms, 0) {
		t.err += math.Abs(t.amount) * ohms / (ohms + meter)
	}
}

// feedOhms is the resistance of the only chain between a node that draws
// nothing and one that is fed otherwise.
func (j *joints) feedOhms(node string) (sum float64, only bool) {
	from := -1
	for at := node; ; {
		if len(j.ways[at]) > 0 || len(j.pull[at]) > 0 || at == chassisNode {
			return sum, sum > 0
		}
		var next []way
		for _, w := range j.every[at] {
			if w.part != from {
				next = append(next, w)
			}
		}
		if len(next) != 1 || j.parts[next[0].part].Kind != "resistor" {
			return 0, false
		}
		sum += j.parts[next[0].part].Spec.Value()
		from, at = next[0].part, next[0].far
	}
}

// weakest is the smallest resistance on a node; nothing where a choke, a
// winding or a capacitor's own supply stands on it.
func (j *joints) weakest(node string) float64 {
	least := math.Inf(1)
	for _, w := range j.ways[node] {
		p := &j.parts[w.part]
		ohms := p.Spec.Value()
		if p.Kind != "resistor" {
			ohms = 0
		}
		least = min(least, ohms)
	}
	for _, p := range j.pull[node] {
		if k := j.parts[p.part].Kind; isOneOf(k, rectifierKinds...) || isOneOf(k, "winding", "pot") {
			least = 0
		}
	}
	return least
}
