package job

import (
	"math"
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/catalog"
	"lugworth/core/plan"
	"lugworth/core/tube"
	"lugworth/core/why"
)

// MostOriginal is the best score of one plan line.
const MostOriginal = 4

// RuleOriginal says how a part is scored for nearness to what stood there.
var RuleOriginal = &why.Rule{
	Name:    "nearness to the original",
	Says:    "How near a part to buy comes to what stands in the amp, by what the chart and the price list state; what is not stated counts as nothing. Of several places, the least near counts.",
	Formula: "same kind 2 (only the look of it 1) + same form 1 + same marked value 1; a tube of the same type 4, of a type the list names as the same 3",
	Source:  "common practice, no source",
}

// originals are what stands in the positions of the amp, as a price list
// would describe it; read once, when first asked for.
type originals struct {
	amp  *amp.Amp
	seen map[string]catalog.Part
}

// score is 0 to MostOriginal, by RuleOriginal. A line that goes into no
// position, as a cord or a jack, scores 0 whatever is bought.
func (os *originals) score(p *plan.Part, o *catalog.Offer) int {
	if len(p.For) == 0 {
		return 0
	}
	least := MostOriginal
	for _, ref := range p.For {
		least = min(least, near(os.at(ref), o.Part))
	}
	return least
}

// at is the part that stands in a position; zero where nothing tells.
func (os *originals) at(ref string) catalog.Part {
	if os.seen == nil {
		os.read()
	}
	return os.seen[ref]
}

// read reads the positions as the rows of one price list.
func (os *originals) read() {
	os.seen = make(map[string]catalog.Part, len(os.amp.Positions))
	rows := [][]string{{"Number", "Description", "Price"}}
	for i := range os.amp.Positions {
		p := &os.amp.Positions[i]
		os.seen[p.Ref] = catalog.Part{Spec: p.Spec}
		if p.Role == amp.OutputTube || p.Role == amp.RectifierTube {
			os.seen[p.Ref] = catalog.Part{Kind: catalog.Tube, Tube: p.Type}
			continue
		}
		rows = append(rows, []string{p.Ref, described(p), ""})
	}
	l, err := catalog.ReadList("amp", "amp", table(rows), catalog.Terms{}, nil)
	if err != nil {
		return // no position tells what stands in it
	}
	for i := range l.Offers {
		part := l.Offers[i].Part
		part.Spec = os.seen[l.Offers[i].Number].Spec
		os.seen[l.Offers[i].Number] = part
	}
}

// described puts a position in the words of a price list.
func described(p *amp.Position) string {
	text := strings.Join([]string{p.Kind, p.Type, p.Value, p.Rating}, " ")
	if slices.Contains(strings.Fields(strings.ToLower(p.Place+" "+p.Note)), "can") {
		text += " can"
	}
	return text
}

// near scores one part beside the one that stood there.
func near(was, now catalog.Part) int {
	if was.Tube != "" {
		return nearTube(was.Tube, now)
	}
	score := 0
	switch {
	case !tells(was.Kind):
	case now.Kind == was.Kind:
		score += 2
	case now.Look != "" && now.Look == was.Kind.String():
		score++
	}
	if was.Form != catalog.AnyForm && now.Form == was.Form {
		score++
	}
	if a, b := was.Spec.Value(), now.Spec.Value(); a > 0 && was.Spec.Unit == now.Spec.Unit && math.Abs(a-b) <= a/100 {
		score++
	}
	return score
}

// tells reports whether a kind says how a part is made.
func tells(k catalog.Kind) bool {
	return k != catalog.Unknown && k != catalog.Other && k != catalog.Capacitor && k != catalog.Resistor
}

func nearTube(was string, now catalog.Part) int {
	switch {
	case now.Tube == "":
		return 0
	case tube.Key(now.Tube) == tube.Key(was):
		return MostOriginal
	case slices.ContainsFunc(now.TubeAlso, func(t string) bool { return tube.Key(t) == tube.Key(was) }):
		return MostOriginal - 1
	}
	return 0
}
