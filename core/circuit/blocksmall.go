package circuit

import "lugworth/core/unit"

// smallBlocks are the stages before the output stage.
func smallBlocks() []Block {
	return []Block{triodeBlock, pentodeBlock, cathodyneBlock, longTailBlock, followerBlock, volumeBlock}
}

// inputRows lead a signal to the grid: through a capacitor to a leak of the
// stage's own, or, at the input jack, through a stopper behind the leak.
var inputRows = []blockRow{
	{when: "input=capacitor", ref: "C#01", kind: "film capacitor", value: "{couple}", nodes: "a={in} b=G#", extra: "role=coupler"},
	{when: "input=capacitor", ref: "R#01", kind: "resistor", value: "{leak}", tol: "{tolerance}", nodes: "a=G# b=0", extra: "role=grid-leak"},
	{when: "input=jack", ref: "R#01", kind: "resistor", value: "{leak}", tol: "{tolerance}", nodes: "a={in} b=0", extra: "role=grid-leak"},
	{when: "input=jack", ref: "R#02", kind: "resistor", value: "{stopper}", tol: "{tolerance}", nodes: "a={in} b=G#"},
}

// inputLets name the grid: one fed by a pot stands on the pot's wiper.
var inputLets = []blockLet{{"input=pot", "grid", "{in}"}, {"input=jack", "grid", "G#"}, {"input=capacitor", "grid", "G#"}}

func inputParams() []Param {
	return []Param{
		choiceBlank("input", "what leads to the grid", "capacitor", "jack", "pot"),
		partBlank("couple", "coupling capacitor", unit.Farad, "0.022uF"),
		partBlank("leak", "grid leak", unit.Ohm, "1M"),
		partBlank("stopper", "resistor from the jack to the grid", unit.Ohm, "68k"),
		nodeBlank("in", "node the signal comes from", "IN#"),
		nodeBlank("out", "node of the plate", "P#"),
		nodeBlank("feed", "node that feeds it", "B3"),
		partBlank("load", "plate load", unit.Ohm, "100k"),
		partBlank("cathode", "cathode resistor", unit.Ohm, "1.5k"),
		choiceBlank("bypassed", "capacitor across it", "yes", "no"),
		partBlank("bypass", "that capacitor", unit.Farad, "25uF"),
		spreadBlank(),
	}
}

// loadRows are plate load and cathode of one stage.
var loadRows = []blockRow{
	{ref: "R#03", kind: "resistor", value: "{load}", tol: "{tolerance}", nodes: "a={feed} b={out}", extra: "role=plate-load"},
	{ref: "R#04", kind: "resistor", value: "{cathode}", tol: "{tolerance}", nodes: "a=K# b=0"},
	{when: "bypassed=yes", ref: "C#02", kind: "electrolytic", value: "{bypass}", nodes: "plus=K# minus=0", extra: "role=cathode-bypass"},
}

var triodeBlock = Block{
	Name: "triode stage", Says: "one triode with plate load and cathode resistor",
	Params: joinLists([]Param{typeBlank("type", "triode", "12AX7"), refBlank("tube", "reference of the triode", "V#")}, inputParams()),
	lets:   inputLets,
	rows: joinLists([]blockRow{
		{ref: "{tube}", kind: "triode", typ: "{type}", nodes: "plate={out} grid={grid} cathode=K#"},
	}, inputRows, loadRows),
}

var pentodeBlock = Block{
	Name: "pentode stage", Says: "one small pentode with its screen feed",
	Params: joinLists([]Param{typeBlank("type", "pentode", "EF86"), refBlank("tube", "reference of the pentode", "V#")}, inputParams(), []Param{
		partBlank("screen", "resistor that feeds the screen", unit.Ohm, "1M"),
		partBlank("screen bypass", "capacitor at the screen", unit.Farad, "0.1uF"),
	}),
	lets: inputLets,
	rows: joinLists([]blockRow{
		{ref: "{tube}", kind: "pentode", typ: "{type}", nodes: "plate={out} screen=S# grid={grid} cathode=K#"},
		{ref: "R#05", kind: "resistor", value: "{screen}", tol: "{tolerance}", nodes: "a={feed} b=S#", extra: "role=screen-resistor"},
		{ref: "C#03", kind: "film capacitor", value: "{screen bypass}", nodes: "a=S# b=0"},
	}, inputRows, loadRows),
}

// cathodyneBlock takes its grid volts from the plate before it, or makes its
// own bias with a resistor above the cathode load.
var cathodyneBlock = Block{
	Name: "cathodyne splitter", Says: "one triode with equal loads in plate and cathode",
	Params: []Param{
		typeBlank("type", "triode", "12AX7"),
		refBlank("tube", "reference of the triode", "V#"),
		choiceBlank("input", "what leads to the grid", "capacitor", "direct"),
		partBlank("couple", "coupling capacitor", unit.Farad, "0.022uF"),
		partBlank("leak", "grid leak to the head of the cathode load", unit.Ohm, "1M"),
		partBlank("bias", "resistor above the cathode load", unit.Ohm, "1.5k"),
		partBlank("load", "each load", unit.Ohm, "56k"),
		spreadBlank(),
		nodeBlank("in", "node the signal comes from", "IN#"),
		nodeBlank("feed", "node that feeds it", "B3"),
		nodeBlank("out 1", "node of the plate", "OUT1"),
		nodeBlank("out 2", "node of the cathode", "OUT2"),
	},
	lets: []blockLet{
		{"input=direct", "grid", "{in}"}, {"input=direct", "foot", "{out 2}"},
		{"input=capacitor", "grid", "G#"}, {"input=capacitor", "foot", "J#"},
	},
	rows: []blockRow{
		{ref: "{tube}", kind: "triode", typ: "{type}", nodes: "plate={out 1} grid={grid} cathode={out 2}"},
		{when: "input=capacitor", ref: "C#01", kind: "film capacitor", value: "{couple}", nodes: "a={in} b=G#", extra: "role=coupler"},
		{when: "input=capacitor", ref: "R#01", kind: "resistor", value: "{leak}", tol: "{tolerance}", nodes: "a=G# b=J#", extra: "role=grid-leak"},
		{when: "input=capacitor", ref: "R#02", kind: "resistor", value: "{bias}", tol: "{tolerance}", nodes: "a={out 2} b=J#"},
		{ref: "R#03", kind: "resistor", value: "{load}", tol: "{tolerance}", nodes: "a={feed} b={out 1}", extra: "role=plate-load"},
		{ref: "R#04", kind: "resistor", value: "{load}", tol: "{tolerance}", nodes: "a={foot} b=0"},
	},
}

var longTailBlock = Block{
	Name: "long-tailed pair", Says: "two triodes with one tail, the second driven through the cathodes",
	Params: []Param{
		typeBlank("type", "triode", "12AX7"),
		refBlank("tube 1", "reference of the first triode", "V#a"),
		refBlank("tube 2", "reference of the second triode", "V#b"),
		partBlank("couple", "coupling capacitor", unit.Farad, "0.022uF"),
		partBlank("leak", "grid leaks", unit.Ohm, "1M"),
		partBlank("bias", "resistor above the tail", unit.Ohm, "470"),
		partBlank("tail", "tail resistor", unit.Ohm, "10k"),
		partBlank("foot", "resistor below the tail, where feedback comes in", unit.Ohm, "4.7k"),
		partBlank("load 1", "plate load of the first", unit.Ohm, "82k"),
		partBlank("load 2", "plate load of the second", unit.Ohm, "100k"),
		spreadBlank(),
		nodeBlank("in", "node the signal comes from", "IN#"),
		nodeBlank("feed", "node that feeds it", "B3"),
		nodeBlank("out 1", "node of the first plate", "OUT1"),
		nodeBlank("out 2", "node of the second plate", "OUT2"),
	},
	rows: []blockRow{
		{ref: "{tube 1}", kind: "triode", typ: "{type}", nodes: "plate={out 1} grid=Ga# cathode=K#"},
		{ref: "{tube 2}", kind: "triode", typ: "{type}", nodes: "plate={out 2} grid=Gb# cathode=K#"},
		{ref: "C#01", kind: "film capacitor", value: "{couple}", nodes: "a={in} b=Ga#", extra: "role=coupler"},
		{ref: "C#02", kind: "film capacitor", value: "{couple}", nodes: "a=Gb# b=F#"},
		{ref: "R#01", kind: "resistor", value: "{leak}", tol: "{tolerance}", nodes: "a=Ga# b=J#", extra: "role=grid-leak"},
		{ref: "R#02", kind: "resistor", value: "{leak}", tol: "{tolerance}", nodes: "a=Gb# b=J#", extra: "role=grid-leak"},
		{ref: "R#03", kind: "resistor", value: "{bias}", tol: "{tolerance}", nodes: "a=K# b=J#"},
		{ref: "R#04", kind: "resistor", value: "{tail}", tol: "{tolerance}", nodes: "a=J# b=F#"},
		{ref: "R#05", kind: "resistor", value: "{foot}", tol: "{tolerance}", nodes: "a=F# b=0"},
		{ref: "R#06", kind: "resistor", value: "{load 1}", tol: "{tolerance}", nodes: "a={feed} b={out 1}", extra: "role=plate-load"},
		{ref: "R#07", kind: "resistor", value: "{load 2}", tol: "{tolerance}", nodes: "a={feed} b={out 2}", extra: "role=plate-load"},
	},
}

var followerBlock = Block{
	Name: "cathode follower", Says: "one triode, grid straight on the plate before it, output at the cathode",
	Params: []Param{
		typeBlank("type", "triode", "12AX7"),
		refBlank("tube", "reference of the triode", "V#"),
		partBlank("load", "cathode load", unit.Ohm, "100k"),
		spreadBlank(),
		nodeBlank("in", "node of the plate before it", "IN#"),
		nodeBlank("feed", "node that feeds it", "B3"),
		nodeBlank("out", "node of the cathode", "K#"),
	},
	rows: []blockRow{
		{ref: "{tube}", kind: "triode", typ: "{type}", nodes: "plate={feed} grid={in} cathode={out}"},
		{ref: "R#01", kind: "resistor", value: "{load}", tol: "{tolerance}", nodes: "a={out} b=0"},
	},
}

var volumeBlock = Block{
	Name: "volume control", Says: "coupling capacitor and a pot whose wiper feeds the next stage",
	Params: []Param{
		partBlank("couple", "coupling capacitor", unit.Farad, "0.022uF"),
		partBlank("pot", "whole track of the pot", unit.Ohm, "1M"),
		partBlank("turn", "part of the track between the hot end and the wiper, 0 to 1", unit.None, "0.5"),
		partBlank("tolerance", "tolerance of the pot", unit.None, "20%"),
		nodeBlank("in", "node the signal comes from", "IN#"),
		nodeBlank("out", "node of the wiper", "W#"),
	},
	rows: []blockRow{
		{ref: "C#01", kind: "film capacitor", value: "{couple}", nodes: "a={in} b=H#", extra: "role=coupler"},
		{ref: "VR#01", kind: "pot", value: "{pot}", tol: "{tolerance}", nodes: "a=H# wiper={out} b=0", extra: "turn={turn}"},
	},
}
