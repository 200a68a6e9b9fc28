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

// originals remembers what stands in the positions of the amp, as a list
// would describe it.
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
	if have, ok := os.seen[ref]; ok {
		return have
	}
	part := catalog.Part{}
	if p, ok := os.amp.Find(ref); ok {
		part = stood(p)
	}
	os.seen[ref] = part
	return part
}

// stood reads a position as a row of a price list would be read.
func stood(p *amp.Position) catalog.Part {
	if p.Role == amp.OutputTube || p.Role == amp.RectifierTube {
		return catalog.Part{Kind: catalog.Tube, Tube: p.Type}
	}
	text := strings.Join([]string{p.Kind, p.Type, p.Value, p.Rating}, " ")
	if slices.Contains(strings.Fields(strings.ToLower(p.Place+" "+p.Note)), "can") {
		text += " can"
	}
	o, err := trialOffer(Trial{ID: p.Ref, Text: text})
	if err != nil {
		return catalog.Part{Spec: p.Spec}
	}
	o.Part.Spec = p.Spec
	return o.Part
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
