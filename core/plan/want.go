package plan

import (
	"fmt"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/catalog"
	"lugworth/core/unit"
)

// search is how a word of a need is looked for: the kinds that may serve, the
// unit of its value and how far a value may stray before it is another part.
// The widths only decide what is offered for judging; they are common
// practice, no source.
type search struct {
	kinds     []catalog.Kind
	unit      unit.Unit
	low, high float64
}

var searches = map[string]search{
	"electrolytic": {[]catalog.Kind{catalog.Electrolytic}, unit.Farad, 0.8, 1.5},
	"can":          {[]catalog.Kind{catalog.Electrolytic}, unit.Farad, 0.8, 1.5},
	"film":         {[]catalog.Kind{catalog.Film, catalog.Capacitor}, unit.Farad, 0.75, 1.25},
	"paper":        {[]catalog.Kind{catalog.Paper}, unit.Farad, 0.75, 1.25},
	"coupler":      {catalog.Couplers(), unit.Farad, 0.75, 1.25},
	"capacitor":    {append([]catalog.Kind{catalog.Electrolytic}, catalog.Couplers()...), unit.Farad, 0.75, 1.25},
	"mica":         {[]catalog.Kind{catalog.Mica}, unit.Farad, 0.9, 1.1},
	"ceramic":      {[]catalog.Kind{catalog.Ceramic}, unit.Farad, 0.8, 1.2},
	"resistor":     {catalog.Resistors(), unit.Ohm, 0.98, 1.02},
	"wirewound":    {[]catalog.Kind{catalog.Wirewound}, unit.Ohm, 0.98, 1.02},
	"fuse":         {[]catalog.Kind{catalog.Fuse}, unit.Ampere, 0.999, 1.001},
	"cord":         {kinds: []catalog.Kind{catalog.Cord}},
	"lead":         {kinds: []catalog.Kind{catalog.Cord}},
	"jack":         {kinds: []catalog.Kind{catalog.Jack}},
	"pot":          {[]catalog.Kind{catalog.Pot}, unit.Ohm, 0.8, 1.25},
	"choke":        {kinds: []catalog.Kind{catalog.Choke}},
	"tube":         {kinds: []catalog.Kind{catalog.Tube, catalog.Rectifier}},
	"rectifier":    {kinds: []catalog.Kind{catalog.Rectifier}},
}

// forms are words that narrow a search by how the part is built.
var forms = map[string]catalog.Form{"axial": catalog.Axial, "radial": catalog.Radial}

// classes are the safety classes of capacitors on the mains side.
var classes = map[string]bool{"X1": true, "X2": true, "Y1": true, "Y2": true}

// toTheLabel is how a need for a fuse leaves its value to the amp's label.
const toTheLabel = "to the label"

var counts = map[string]int{"single": 1, "pair": 2, "quartet": 4}

// ReadWant reads what a part should be, as a technician writes it:
//
//	"electrolytic 22uF" · "can 20/20/20uF" · "film or paper .02" · "tube 6V6GT pair" · "resistor 100k" · "fuse 2A T" · "cord"
//
// A need that starts with none of the known words searches nothing: it can
// only be met by an offer the technician names.
// Errors: the value cannot be read, or can be read two ways.
func ReadWant(text string) (catalog.Want, error) {
	var w catalog.Want
	var s search
	fields := strings.Fields(text)
	var rest []string
	for _, f := range fields {
		word := strings.ToLower(strings.Trim(f, ",;"))
		switch sr, known := searches[word]; {
		case known:
			w.Kinds = append(w.Kinds, sr.kinds...)
			if s.unit == unit.None {
				s = sr
			}
			if word == "can" {
				w.Form = catalog.Can
			}
		case word == "or" || word == "and" || word == "class":
		case classes[strings.ToUpper(word)]:
			w.Class = strings.ToUpper(word)
		case forms[word] != catalog.AnyForm:
			w.Form = forms[word]
		case counts[word] > 0:
			w.Count = counts[word]
		default:
			rest = append(rest, f)
		}
	}
	if len(w.Kinds) == 0 {
		return w, nil
	}
	return withValue(w, s, strings.Join(rest, " "))
}

func withValue(w catalog.Want, s search, value string) (catalog.Want, error) {
	if value == "" || value == toTheLabel {
		return w, nil
	}
	if s.unit == unit.None {
		if hasKind(w, catalog.Tube) || hasKind(w, catalog.Rectifier) {
			w.Tube = strings.ToUpper(value)
		}
		return w, nil
	}
	spec, err := unit.ReadSpec(value, s.unit)
	if err != nil {
		return w, fmt.Errorf("reading the need %q: %w", value, err)
	}
	if len(spec.Values) == 0 || spec.Unit != s.unit {
		return w, fmt.Errorf("reading the need %q: no value in %s", value, s.unit.Name())
	}
	w.Sections = len(spec.Values)
	w.ValueLow, w.ValueHigh = spec.Values[0]*s.low, spec.Values[0]*s.high
	return w, nil
}

func hasKind(w catalog.Want, k catalog.Kind) bool {
	for _, have := range w.Kinds {
		if have == k {
			return true
		}
	}
	return false
}

// Fits reports whether a part that is wanted can go into a position: the same
// kind of part. A want without a kind fits nowhere that is rated.
func Fits(w catalog.Want, p *amp.Position) bool {
	switch {
	case p.Role == amp.OutputTube || p.Role == amp.RectifierTube:
		return (hasKind(w, catalog.Tube) || hasKind(w, catalog.Rectifier)) && (w.Tube == "" || strings.EqualFold(w.Tube, p.Type))
	case p.Role == amp.LineFuse:
		return hasKind(w, catalog.Fuse)
	case p.Spec.Unit == unit.Farad:
		return wantsAny(w, catalog.Kind.IsCapacitor) && p.Role != amp.LineToChassis
	case p.Spec.Unit == unit.Ohm:
		return wantsAny(w, catalog.Kind.IsResistor)
	}
	return false
}
