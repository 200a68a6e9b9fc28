package circuit

import "lugworth/core/unit"

// outputBlocks are output stages. The output transformer's primary is drawn
// as one choke from each plate to the supply; its secondary takes no part.
func outputBlocks() []Block { return []Block{fixedPairBlock, cathodePairBlock, singleBlock, quadBlock} }

// outputParams are the blanks that every output stage has.
func outputParams(typ, kind, screen, leak string) []Param {
	return []Param{
		typeBlank("type", "output tube", typ),
		choiceBlank("kind", "pentode or beam tube", kind, otherScreenKind(kind)),
		nodeBlank("feed", "node that feeds the plates", "B1"),
		nodeBlank("screen feed", "node that feeds the screens", "B2"),
		choiceBlank("screens", "resistor at each screen", "each", "none"),
		partBlank("screen", "screen resistor", unit.Ohm, screen),
		partBlank("leak", "grid leak", unit.Ohm, leak),
		partBlank("stopper", "grid stopper", unit.Ohm, "1.5k"),
		partBlank("couple", "coupling capacitor", unit.Farad, "0.1uF"),
		partBlank("primary", "henries of each primary winding", unit.Henry, "10H"),
		partBlank("primary ohms", "ohms of each primary winding", unit.Ohm, "120"),
		spreadBlank(),
	}
}

func otherScreenKind(kind string) string {
	if kind == "beam" {
		return "pentode"
	}
	return "beam"
}

// pairParams are the blanks of two tubes driven in opposite phase.
var pairParams = []Param{
	refBlank("tube 1", "reference of the first", "V#1"),
	refBlank("tube 2", "reference of the second", "V#2"),
	nodeBlank("drive 1", "node that drives the first", "OUT1"),
	nodeBlank("drive 2", "node that drives the second", "OUT2"),
}

// halfRows are one side of a push-pull stage with one tube: side is a or b.
func halfRows(side, n string) []blockRow {
	return []blockRow{
		{ref: "C#0" + n, kind: "film capacitor", value: "{couple}", nodes: "a={drive " + n + "} b=GL" + side + "#", extra: "role=coupler"},
		{ref: "R#0" + n, kind: "resistor", value: "{leak}", tol: "{tolerance}", nodes: "a=GL" + side + "# b={return}", extra: "role=grid-leak"},
		{ref: "R#1" + n, kind: "resistor", value: "{stopper}", tol: "{tolerance}", nodes: "a=GL" + side + "# b=G" + side + "#"},
		{when: "screens=each", ref: "R#2" + n, kind: "resistor", value: "{screen}", tol: "{tolerance}", nodes: "a={screen feed} b={screen " + n + "}", extra: "role=screen-resistor"},
		{ref: "T#0" + n, kind: "choke", value: "{primary}", nodes: "a={feed} b=P" + side + "#", extra: "dcr={primary ohms}"},
	}
}

// screenLets name the screens of n tubes.
func screenLets(n int) []blockLet {
	var out []blockLet
	for i := range n {
		s := string(rune('1' + i))
		out = append(out, blockLet{"screens=each", "screen " + s, "S" + string(rune('a'+i)) + "#"}, blockLet{"screens=none", "screen " + s, "{screen feed}"})
	}
	return out
}

var pairTubes = []blockRow{
	{ref: "{tube 1}", kind: "{kind}", typ: "{type}", nodes: "plate=Pa# screen={screen 1} grid=Ga# cathode={cathode 1}", extra: "role=output-tube matched={tube 2}"},
	{ref: "{tube 2}", kind: "{kind}", typ: "{type}", nodes: "plate=Pb# screen={screen 2} grid=Gb# cathode={cathode 2}", extra: "role=output-tube matched={tube 1}"},
}

var fixedPairBlock = Block{
	Name: "push-pull pair, fixed bias", Says: "two output tubes, grids fed from a bias supply",
	Params: joinLists(outputParams("6L6GC", "beam", "470", "220k"), pairParams, []Param{
		choiceBlank("sense", "resistor in each cathode for reading the current", "none", "each"),
		partBlank("sense ohms", "that resistor", unit.Ohm, "1 1%"),
		nodeBlank("return", "node of the bias", "BIAS"),
	}),
	lets: joinLists(screenLets(2), []blockLet{
		{"sense=none", "cathode 1", "0"}, {"sense=none", "cathode 2", "0"},
		{"sense=each", "cathode 1", "Ka#"}, {"sense=each", "cathode 2", "Kb#"},
	}),
	rows: joinLists(pairTubes, halfRows("a", "1"), halfRows("b", "2"), []blockRow{
		{when: "sense=each", ref: "R#31", kind: "resistor", value: "{sense ohms}", nodes: "a=Ka# b=0"},
		{when: "sense=each", ref: "R#32", kind: "resistor", value: "{sense ohms}", nodes: "a=Kb# b=0"},
	}),
}

// sharedCathode are the rows of a resistor that makes the bias.
var sharedCathode = []blockRow{
	{ref: "R#40", kind: "resistor", value: "{cathode}", tol: "{cathode tolerance}", nodes: "a=K# b=0", extra: "role=cathode-resistor"},
	{ref: "C#40", kind: "electrolytic", value: "{bypass}", nodes: "plus=K# minus=0", extra: "role=cathode-bypass"},
}

func cathodeParams(ohms string) []Param {
	return []Param{
		partBlank("cathode", "cathode resistor", unit.Ohm, ohms),
		partBlank("cathode tolerance", "its tolerance", unit.None, "5%"),
		partBlank("bypass", "capacitor across it", unit.Farad, "100uF"),
	}
}

var cathodePairBlock = Block{
	Name: "cathode-biased pair", Says: "two output tubes with one cathode resistor",
	Params: joinLists(outputParams("6V6GT", "beam", "470", "220k"), pairParams, cathodeParams("250")),
	lets: joinLists(screenLets(2), []blockLet{
		{"", "return", "0"}, {"", "cathode 1", "K#"}, {"", "cathode 2", "K#"},
	}),
	rows: joinLists(pairTubes, halfRows("a", "1"), halfRows("b", "2"), sharedCathode),
}

var singleBlock = Block{
	Name: "single-ended stage", Says: "one output tube with its cathode resistor",
	Params: joinLists(outputParams("6V6GT", "beam", "470", "470k"), []Param{
		refBlank("tube 1", "reference of the tube", "V#"),
		nodeBlank("drive 1", "node that drives it", "OUT1"),
	}, cathodeParams("470")),
	lets: joinLists(screenLets(1), []blockLet{{"", "return", "0"}}),
	rows: joinLists([]blockRow{
		{ref: "{tube 1}", kind: "{kind}", typ: "{type}", nodes: "plate=Pa# screen={screen 1} grid=Ga# cathode=K#", extra: "role=output-tube"},
	}, halfRows("a", "1"), sharedCathode),
}

// quadBlock has two tubes on each side; a side shares coupler and grid leak.
var quadBlock = Block{
	Name: "quad", Says: "four output tubes in push-pull, fixed or cathode bias",
	Params: joinLists(outputParams("EL34", "pentode", "1k", "150k"), []Param{
		choiceBlank("bias", "how the bias is made", "fixed", "cathode"),
		nodeBlank("return", "node of the bias, where it is fixed", "BIAS"),
		refBlank("tube 1", "reference of the first, side 1", "V#1"),
		refBlank("tube 2", "reference of the second, side 2", "V#2"),
		refBlank("tube 3", "reference of the third, side 1", "V#3"),
		refBlank("tube 4", "reference of the fourth, side 2", "V#4"),
		nodeBlank("drive 1", "node that drives side 1", "OUT1"),
		nodeBlank("drive 2", "node that drives side 2", "OUT2"),
	}, cathodeParams("62")),
	lets: joinLists(screenLets(4), []blockLet{
		{"bias=fixed", "k", "0"}, {"bias=cathode", "k", "K#"}, {"bias=cathode", "return", "0"},
	}),
	rows: joinLists([]blockRow{
		{ref: "{tube 1}", kind: "{kind}", typ: "{type}", nodes: "plate=Pa# screen={screen 1} grid=Ga# cathode={k}", extra: "role=output-tube"},
		{ref: "{tube 2}", kind: "{kind}", typ: "{type}", nodes: "plate=Pb# screen={screen 2} grid=Gb# cathode={k}", extra: "role=output-tube"},
		{ref: "{tube 3}", kind: "{kind}", typ: "{type}", nodes: "plate=Pa# screen={screen 3} grid=Gc# cathode={k}", extra: "role=output-tube"},
		{ref: "{tube 4}", kind: "{kind}", typ: "{type}", nodes: "plate=Pb# screen={screen 4} grid=Gd# cathode={k}", extra: "role=output-tube"},
	}, halfRows("a", "1"), halfRows("b", "2"), []blockRow{
		{ref: "R#13", kind: "resistor", value: "{stopper}", tol: "{tolerance}", nodes: "a=GLa# b=Gc#"},
		{ref: "R#14", kind: "resistor", value: "{stopper}", tol: "{tolerance}", nodes: "a=GLb# b=Gd#"},
		{when: "screens=each", ref: "R#23", kind: "resistor", value: "{screen}", tol: "{tolerance}", nodes: "a={screen feed} b=Sc#", extra: "role=screen-resistor"},
		{when: "screens=each", ref: "R#24", kind: "resistor", value: "{screen}", tol: "{tolerance}", nodes: "a={screen feed} b=Sd#", extra: "role=screen-resistor"},
		{when: "bias=cathode", ref: "R#40", kind: "resistor", value: "{cathode}", tol: "{cathode tolerance}", nodes: "a=K# b=0", extra: "role=cathode-resistor"},
		{when: "bias=cathode", ref: "C#40", kind: "electrolytic", value: "{bypass}", nodes: "plus=K# minus=0", extra: "role=cathode-bypass"},
	}),
}
