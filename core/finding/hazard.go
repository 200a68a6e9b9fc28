package finding

import (
	"strconv"
	"strings"

	"lugworth/core/amp"
)

// Level says how sure a hazard is.
type Level string

const (
	NoHazard Level = "none"    // a date rules it out
	Suspect  Level = "suspect" // may be
	Assume   Level = "assume"  // act as if it is
	Present  Level = "present" // it is what the part is
)

// A Hazard is something in the amp that harms whoever disturbs it.
type Hazard struct {
	Key    string // "oil", "asbestos", ...
	On     string // the part, where known
	Level  Level
	Say    string
	Source string
	Mark   string
}

// local ends every text on handling and disposal.
const local = " Disposal: as the local authority says."

// OilHazard says whether an oil-filled capacitor must be taken to hold
// chlorinated oil (PCB): dated to 1970 assume, to 1979 suspect, from 1980
// none; no readable date (0): assume. The years are those of one country;
// where the part was made elsewhere give 0.
//
// Source: Brookhaven National Laboratory, NSLS ESH Highlight 20 (2000),
// second-hand transcription; the rule for undated parts is our own.
func OilHazard(year int) Hazard {
	h := Hazard{Key: "oil", Source: "Brookhaven National Laboratory, NSLS ESH Highlight 20 (2000), second-hand transcription", Mark: "second-hand"}
	const care = " Do not open or heat it; if it leaks, do not touch."
	switch {
	case year <= 0:
		h.Level, h.Say = Assume, "Oil-filled, no readable date: assume PCB."+care+local
		h.Source, h.Mark = practice, "memory"
	case year <= 1970:
		h.Level, h.Say = Assume, "Oil-filled, dated "+strconv.Itoa(year)+": assume PCB."+care+local
	case year <= 1979:
		h.Level, h.Say = Suspect, "Oil-filled, dated "+strconv.Itoa(year)+": suspect PCB."+care+local
	default:
		h.Level, h.Say = NoHazard, "Oil-filled, dated "+strconv.Itoa(year)+": later than PCB was filled, where these years hold."
	}
	return h
}

// A material is a hazard known by words people write of it.
type material struct {
	key   string
	words []string
	level Level
	say   string
}

var materials = []material{
	{"asbestos", []string{"asbestos"}, Present,
		"Asbestos: leave it undisturbed; do not scrape, drill, sand or brush. Removal is for those licensed for it." + local},
	{"asbestos", []string{"heat shield paper", "heat pad", "heat paper", "fiber heat shield"}, Suspect,
		"May be asbestos: leave it undisturbed until a test says otherwise." + local},
	{"cadmium", []string{"cadmium"}, Present,
		"Cadmium plating: do not sand, file or heat it; wipe damp, wash hands." + local},
	{"selenium", []string{"selenium"}, Present,
		"Selenium rectifier: poisonous fumes when it burns out; ventilate, and do not cut or break it." + local},
	{"mercury", []string{"mercury vapor", "mercury vapour", "mercury rectifier", "mercury tube"}, Present,
		"Mercury inside: handle so that it cannot break; if it does, leave the room, ventilate and follow local advice." + local},
	{"radioactive", []string{"radioactive", "radium", "thoriated stabilizer"}, Present,
		"May hold a small radioactive source: do not break it." + local},
	{"beryllia", []string{"beryllia", "beryllium oxide"}, Present,
		"Beryllia ceramic: its dust harms the lungs; do not break, grind or machine it." + local},
	{"wax", []string{"wax filled", "potting wax", "halowax", "chlorinated wax"}, Suspect,
		"Old wax may be a chlorinated mixture: do not heat it in closed air; gloves." + local},
	{"mold", []string{"mold", "mould", "rodent", "mouse", "mice", "droppings"}, Present,
		"Mold or droppings: mask and gloves, damp cleaning, no dry brushing."},
}

// mercuryTypes are rectifier types known to hold mercury. Source: published
// sheets of type 83 (second-hand transcription), the rest from memory.
var mercuryTypes = []string{"82", "83", "866", "866A", "872A"}

// Hazards returns the hazards that words about a part name, in a fixed
// order. year dates the part where it matters, 0 if nothing does. Words are
// only a hint: a part nobody described is not cleared by it.
func Hazards(words string, year int) []Hazard {
	text := spaced(words)
	var out []Hazard
	if namesOil(text) {
		out = append(out, OilHazard(year))
	}
	seen := map[string]bool{}
	for _, m := range materials {
		if seen[m.key] || !m.named(text) {
			continue
		}
		seen[m.key] = true
		out = append(out, Hazard{Key: m.key, Level: m.level, Say: m.say, Source: practice, Mark: "memory"})
	}
	return out
}

func (m material) named(text string) bool { return names(text, m.words...) }

// namesOil is true of words that say oil-filled; one made to look so is not.
func namesOil(text string) bool {
	return names(text, "oil", "motor run") && !names(text, "oil look")
}

// spaced returns the words in lower case with one space around each, so that
// "mold" is not found in "molded".
func spaced(words string) string {
	fields := strings.FieldsFunc(strings.ToLower(words), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9')
	})
	return " " + strings.Join(fields, " ") + " "
}

// names reports whether a spaced text holds any of the words, or its plural.
// The words are in lower case without marks. It is asked of every finding at
// every change of mind, so it makes no text of its own.
func names(text string, words ...string) bool {
	for _, w := range words {
		for rest := text; ; {
			i := strings.Index(rest, w)
			if i < 0 {
				break
			}
			after := strings.TrimPrefix(rest[i+len(w):], "s")
			if i > 0 && rest[i-1] == ' ' && strings.HasPrefix(after, " ") {
				return true
			}
			rest = rest[i+1:]
		}
	}
	return false
}

// PartHazards returns the hazards of one position, by its kind, type, place
// and note, and of the amp's years where they bear on it: selenium words,
// mercury types, oil. The date of an oil-filled part is a year written in its
// note; the amp's own age is no proof of it.
func PartHazards(p amp.Position) []Hazard {
	year := 0
	if from, to, ok := Years(p.Note); ok && from == to {
		year = from
	}
	out := Hazards(strings.Join([]string{p.Kind, p.Type, p.Value, p.Place, p.Note}, " "), year)
	if p.Kind == "rectifier" {
		for _, t := range mercuryTypes {
			if strings.EqualFold(p.Type, t) && !holds(out, "mercury") {
				out = append(out, Hazards("mercury rectifier", 0)...)
			}
		}
	}
	for i := range out {
		out[i].On = p.Ref
	}
	return out
}

// Era returns the hazards an amp's age alone gives reason to look for.
// from is the first year it can have been made, 0 if not known: then all.
//
// Source: common practice, no source; the years are from memory.
func Era(from int) []Hazard {
	var out []Hazard
	add := func(until int, key string, level Level, say string) {
		if from <= until {
			out = append(out, Hazard{Key: key, Level: level, Say: say, Source: practice, Mark: "memory"})
		}
	}
	add(1945, "wax", Suspect, "Wax of these years may be a chlorinated mixture: do not heat it in closed air; gloves."+local)
	add(1979, "oil", Suspect, "Look for oil-filled capacitors: read the date on each; undated counts as PCB."+local)
	add(1980, "asbestos", Suspect, "Heat pads, liners and old cloth cords may be asbestos: leave them undisturbed."+local)
	add(1980, "cadmium", Suspect, "Plated chassis may be cadmium: do not sand or file."+local)
	add(2006, "lead", Assume, "Solder holds lead: ventilate, wash hands, do not eat at the bench."+local)
	return out
}

func holds(hs []Hazard, key string) bool {
	for _, h := range hs {
		if h.Key == key {
			return true
		}
	}
	return false
}

// oilYear is the year of a date code where it means but one, else a year
// written in place of a code, else 0.
func oilYear(c *CodeReading, text string) int {
	if c != nil {
		if d, ok := c.Sure(); ok {
			return d.Year
		}
		return 0
	}
	if from, to, ok := Years(text); ok && from == to {
		return from
	}
	return 0
}
