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

var formWords = []struct {
	words string
	form  Form
}{
	{"snap in|snapin|einrast", SnapIn},
	{"axial|axiaal|axiale|axiaux|ax", Axial},
	{"radial|radiaal|radiale|rad", Radial},
	{"can|twist lock|twist tab|twistlock|becher|becherelko|chassis elko|beker|bekercondensator|boitier alu|bote|lata", Can},
	{"disc|disk|scheibe|schijf|disque|disco", Disc},
	{"chassis mount|chassis", ChassisMount},
}

var dielectricWords = []struct{ words, says string }{
	{"paper in oil|paper oil|oil paper|olpapier", "paper-oil"},
	{"polypropylene|polypropylen|polypropyleen|polyprop|mkp|fkp", "polypropylene"},
	{"polyester|mkt|mks", "polyester"},
	{"polystyrene|polystyrol|polystyreen|fks", "polystyrene"},
	{"polycarbonate|mkc", "polycarbonate"},
}

var countWords = []struct {
	words string
	count int
}{
	{"quartet|quartett|quad|kwartet|quatuor|cuarteto|set of 4|set of four", 4},
	{"sextet|sextett|set of 6", 6}, {"octet|oktett|set of 8", 8}, {"trio", 3},
	{"pair|pairs|paar|paire|par|duo|duet|duett|set of 2|gepaart", 2},
}

// lookWords sell a part for how it looks.
var lookWords = wordSet("look|lookalike|style|styled|optik|aspect|uiterlijk|aspecto")

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
	kind  Kind
}

// phrases index the accessories and then kindWords by their first word, so
// that a description costs one look-up a word.
var phrases = func() map[string][]phrase {
	m := map[string][]phrase{}
	put := func(words string, k Kind) {
		first, _, _ := strings.Cut(words, " ")
		m[first] = append(m[first], phrase{words, phraseCount, k})
		phraseCount++
	}
	for _, w := range accessories {
		put(w, Other)
	}
	for _, k := range kindWords {
		put(k.words, k.kind)
	}
	return m
}()

var phraseCount int

// kindOf finds the kind the words of a description name, Unknown if none.
func kindOf(p string) Kind {
	kind, best := Unknown, -1
	for rest := p; rest != ""; {
		word, after, _ := strings.Cut(rest, " ")
		for _, f := range phrases[word] {
			if (best < 0 || f.order < best) && strings.HasPrefix(rest, f.words) && (len(rest) == len(f.words) || rest[len(f.words)] == ' ') {
				kind, best = f.kind, f.order
			}
		}
		rest = after
	}
	return kind
}
