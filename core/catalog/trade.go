package catalog

import "strings"

// The word lists of the trade, plain (word.go) and in five languages. Common
// practice, no source. Longer phrases are tried first, so "carbon film" is
// found before "film".

type kindWord struct {
	words string
	kind  Kind
}

// accessories are goods that carry the name of a part but are none.
var accessories = strings.Split("tube socket|valve socket|tube base|valve base|valve holder|tube shield|valve shield|tube retainer|tube clamp|socket|sockel|fassung|"+
	"rohrenfassung|buisvoet|voet|support de lampe|zocalo|fuse holder|fuseholder|sicherungshalter|zekeringhouder|porte fusible|portafusible|"+
	"cap clamp|capacitor clamp|can clamp|clamp|capacitor clip|jack plate|jack nut|jack cover|pot knob|pot nut|pot shaft|cord grip|cord clamp|"+
	"capacitor insulator|insulator wafer|knob|knopf|bouton|knop|transformer|ubertrager|trafo|transfo|transformateur|transformador|transformator|"+
	"speaker|lautsprecher|luidspreker|haut parleur|altavoz|switch|schalter|schakelaar|interrupteur|interruptor|handle|griff|handvat|"+
	"grille|grill cloth|cloth|screw|screws|nut|washer|grommet|solder|hookup wire|cloth wire|wire|draht|draad|turret|eyelet|tag strip|tagstrip|tag board|fiber board|"+
	"pilot lamp|lamp|bulb|jewel|tester|book|tool|cleaner|spray|sleeving|heatshrink|heat shrink|standoff|bracket|foot|feet|corner|plug|stecker", "|")

// kindWords in order of trial; the first that stands in the text decides.
var kindWords = func() []kindWord {
	var out []kindWord
	for _, k := range []kindWord{
		{"carbon composition|carbon comp|carboncomp|kohlemasse|kohle masse|massewiderstand|kohlepress|koolmassa|carbone agglomere|agglomere|composicion de carbon", CarbonComp},
		{"carbon film|carbonfilm|kohleschicht|kohle schicht|kohleschichtwiderstand|koolfilm|koollaag|couche carbone|couche de carbone|pelicula de carbon", CarbonFilm},
		{"metal film|metalfilm|metallschicht|metallfilm|metallschichtwiderstand|metaalfilm|couche metallique|couche metal|pelicula metalica", MetalFilm},
		{"metal oxide|metaloxide|metalloxid|metalloxidwiderstand|metaaloxide|oxyde metallique|oxido metalico", MetalOxide},
		{"wirewound|wire wound|drahtwiderstand|drahtgewickelt|draadgewonden|bobine|bobinee|bobinado|cemented|ww resistor", Wirewound},
		{"electrolytic|electrolytics|electrolytique|elko|elektrolyt|elektrolytkondensator|elektrolytisch|elco|elektrolytische|condensateur chimique|chimique|electrochimique|electrolitico|lytic|becherelko|bekerelco", Electrolytic},
		{"silver mica|silvered mica|mica|glimmer|glimmerkondensator|micacondensator|condensateur mica", Mica},
		{"ceramic|keramik|keramikkondensator|keramisch|keramische|ceramique|ceramico|keramische condensator|keramikscheibe|disc cap|disk cap|scheibenkondensator", Ceramic},
		{"paper in oil|paper oil|oil paper|oil filled|waxed paper|wax paper|paper|papier|papel|papierkondensator|olpapier|olie", Paper},
		{"film|films|folie|folien|folienkondensator|foliecondensator|pelicula|polyester|polypropylene|polypropylen|polypropyleen|polyprop|polystyrene|polystyrol|polystyreen|polycarbonate|mkp|mkt|mkc|mks|fkp|fks", Film},
		{"rectifier|gleichrichter|gleichrichterrohre|redresseur|redresseuse|valve redresseuse|gelijkrichter|gelijkrichtbuis|rectificador|rectificadora|diode|diodes|diodo", Rectifier},
		{"fuse|fuses|sicherung|feinsicherung|schmelzsicherung|fusible|fusibles|zekering|glaszekering|buiszekering", Fuse},
		{"lead kit|mains lead|power lead|core lead|mains cord|power cord|line cord|cordset|cord set|cord|netzkabel|kaltgeratekabel|netsnoer|netkabel|cordon secteur|cable secteur|cable de red|mains cable|power cable|mains flex", Cord},
		{"jack|jacks|jack socket|klinke|klinkenbuchse|jackbus|jack plug|conector jack", Jack},
		{"pot|pots|potentiometer|poti|potmeter|potentiometre|potenciometro|volume control|tone control", Pot},
		{"choke|drossel|siebdrossel|smoorspoel|self de filtrage|bobine de filtrage|choque", Choke},
		{"resistor|resistors|widerstand|widerstande|resistance|weerstand|resistencia|res", Resistor},
		{"capacitor|capacitors|cap|caps|condenser|kondensator|kondensatoren|condensateur|condensator|condensador|kond", Capacitor},
		{"strain relief|zugentlastung|trekontlasting|arret de traction", Other},
		{"tube|tubes|valve|valves|rohre|rohren|elektronenrohre|buis|buizen|radiobuis|lampe|valvula|valvulas|tubo|pentode|triode|beam tetrode", Tube},
	} {
		for _, w := range strings.Split(k.words, "|") {
			out = append(out, kindWord{w, k.kind})
		}
	}
	return out
}()

// groups of phrases: of each, the phrase that stands first in its list decides.
type group uint8

const (
	kinds group = iota
	forms
	dielectrics
	together // how many tubes are in the piece
	looks    // sell a part for how it looks
	packing  // may say how many pieces are sold together
	classes  // of interference suppression; the last one named decides
	groups
)

var formWords = []groupWords{
	{"snap in|snapin|einrast", int(SnapIn)},
	{"axial|axiaal|axiale|axiaux|ax", int(Axial)},
	{"radial|radiaal|radiale|rad", int(Radial)},
	{"can|twist lock|twist tab|twistlock|becher|becherelko|chassis elko|beker|bekercondensator|boitier alu|bote|lata", int(Can)},
	{"disc|disk|scheibe|schijf|disque|disco", int(Disc)},
	{"chassis mount|chassis", int(ChassisMount)},
}

var dielectricNames = [...]string{"", "paper-oil", "polypropylene", "polyester", "polystyrene", "polycarbonate"}

var dielectricWords = []groupWords{
	{"paper in oil|paper oil|oil paper|olpapier", 1},
	{"polypropylene|polypropylen|polypropyleen|polyprop|mkp|fkp", 2},
	{"polyester|mkt|mks", 3},
	{"polystyrene|polystyrol|polystyreen|fks", 4},
	{"polycarbonate|mkc", 5},
}

var countWords = []groupWords{
	{"quartet|quartett|quad|kwartet|quatuor|cuarteto|set of 4|set of four", 4},
	{"sextet|sextett|set of 6", 6}, {"octet|oktett|set of 8", 8}, {"trio", 3},
	{"pair|pairs|paar|paire|par|duo|duet|duett|set of 2|gepaart", 2},
}

var lookWords = []groupWords{{"look|lookalike|style|styled|optik|aspect|uiterlijk|aspecto", 1}}

var classWords = []groupWords{{"x1|x2|y1|y2", 1}}

type groupWords struct {
	words string
	value int
}

// anyWord reports whether one of the words, parted by bars, stands in text.
func anyWord(text, words string) bool {
	for words != "" {
		w, rest, _ := strings.Cut(words, "|")
		if hasWord(text, w) {
			return true
		}
		words = rest
	}
	return false
}

// phrase is one entry of a word list under its first word; order is its
// place in the list, and the lowest that stands in a text decides.
type phrase struct {
	words string
	order int
	group group
	value int
}

// phrases index all word lists by the first word of each phrase, so that a
// description costs one look-up a word. Accessories come before the kinds.
var phrases = func() map[string][]phrase {
	m := map[string][]phrase{}
	order := 0
	put := func(words string, g group, value int) {
		first, _, _ := strings.Cut(words, " ")
		m[first] = append(m[first], phrase{words, order, g, value})
		order++
	}
	for _, w := range accessories {
		put(w, kinds, int(Other))
	}
	for _, k := range kindWords {
		put(k.words, kinds, int(k.kind))
	}
	for g, list := range [groups][]groupWords{forms: formWords, dielectrics: dielectricWords, together: countWords, looks: lookWords, packing: packingWords, classes: classWords} {
		for _, e := range list {
			for _, w := range strings.Split(e.words, "|") {
				put(w, group(g), e.value)
			}
		}
	}
	return m
}()
