package circuit

import "lugworth/core/unit"

// biasBlocks are negative supplies, and what moves them.
func biasBlocks() []Block { return []Block{biasBlock, tremoloBlock} }

var biasBlock = Block{
	Name: "bias supply", Says: "half wave, negative, set by a range resistor or a pot",
	Params: []Param{
		choiceBlank("source", "where it takes its volts", "winding", "node"),
		partBlank("volts", "volts rms of its own winding, no load", unit.Volt, "50"),
		partBlank("copper", "ohms of its own winding", unit.Ohm, "30"),
		nodeBlank("from", "node it takes from: its own winding's, or one end of the high winding", "BW#"),
		partBlank("series", "resistor before the rectifier", unit.Ohm, "470"),
		typeBlank("diode", "silicon diode", "1N4007"),
		partBlank("reservoir", "first capacitor", unit.Farad, "47uF"),
		partBlank("feed", "resistor behind it", unit.Ohm, "4.7k"),
		choiceBlank("set by", "what sets the volts", "range resistor", "pot"),
		partBlank("pot", "whole track of the pot", unit.Ohm, "10k"),
		partBlank("turn", "part of the track between its feed end and the wiper, 0 to 1", unit.None, "0.5"),
		partBlank("range", "resistor to the chassis", unit.Ohm, "27k"),
		partBlank("smoother", "capacitor at the output", unit.Farad, "47uF"),
		spreadBlank(),
		nodeBlank("out", "node of the bias", "BIAS"),
	},
	rows: []blockRow{
		{when: "source=winding", ref: "T#", kind: "winding", value: "{volts}", nodes: "a={from} b=0", extra: "dcr={copper}"},
		{ref: "R#01", kind: "resistor", value: "{series}", tol: "{tolerance}", nodes: "a={from} b=BD#"},
		{ref: "D#01", kind: "diode", typ: "{diode}", nodes: "plate=NEG# cathode=BD#"},
		{ref: "C#01", kind: "electrolytic", value: "{reservoir}", nodes: "plus=0 minus=NEG#", extra: "role=bias-capacitor"},
		{when: "set by=range resistor", ref: "R#02", kind: "resistor", value: "{feed}", tol: "{tolerance}", nodes: "a=NEG# b={out}"},
		{when: "set by=range resistor", ref: "R#03", kind: "resistor", value: "{range}", tol: "{tolerance}", nodes: "a={out} b=0"},
		{when: "set by=pot", ref: "R#02", kind: "resistor", value: "{feed}", tol: "{tolerance}", nodes: "a=NEG# b=BT#"},
		{when: "set by=pot", ref: "VR#01", kind: "pot", value: "{pot}", tol: "{tolerance}", nodes: "a=BT# wiper={out} b=BB#", extra: "turn={turn}"},
		{when: "set by=pot", ref: "R#03", kind: "resistor", value: "{range}", tol: "{tolerance}", nodes: "a=BB# b=0"},
		{ref: "C#02", kind: "electrolytic", value: "{smoother}", nodes: "plus=0 minus={out}", extra: "role=bias-capacitor"},
	},
}

// tremoloBlock has its plate coupled to a pot that also loads the bias: its
// direct volts move with the pot, which is why it stands here.
var tremoloBlock = Block{
	Name: "tremolo on the bias", Says: "phase-shift oscillator whose pot feeds the bias node",
	Params: []Param{
		typeBlank("type", "triode", "12AX7"),
		refBlank("tube", "reference of the triode", "V#"),
		partBlank("load", "plate load", unit.Ohm, "220k"),
		partBlank("cathode", "cathode resistor", unit.Ohm, "2.7k"),
		partBlank("bypass", "capacitor across it", unit.Farad, "25uF"),
		partBlank("shift", "first capacitor of the phase shift; the others are as large", unit.Farad, "0.02uF"),
		partBlank("leak", "resistors of the phase shift", unit.Ohm, "1M"),
		partBlank("couple", "capacitor to the pot", unit.Farad, "0.1uF"),
		partBlank("pot", "whole track of the intensity pot", unit.Ohm, "250k"),
		partBlank("turn", "part of the track between the hot end and the wiper, 0 to 1", unit.None, "0.5"),
		partBlank("into", "resistor from the wiper to the bias", unit.Ohm, "220k"),
		spreadBlank(),
		nodeBlank("feed", "node that feeds it", "B3"),
		nodeBlank("bias", "node it moves", "BIAS"),
	},
	rows: []blockRow{
		{ref: "{tube}", kind: "triode", typ: "{type}", nodes: "plate=P# grid=G# cathode=K#"},
		{ref: "R#01", kind: "resistor", value: "{load}", tol: "{tolerance}", nodes: "a={feed} b=P#", extra: "role=plate-load"},
		{ref: "R#02", kind: "resistor", value: "{cathode}", tol: "{tolerance}", nodes: "a=K# b=0"},
		{ref: "C#01", kind: "electrolytic", value: "{bypass}", nodes: "plus=K# minus=0", extra: "role=cathode-bypass"},
		{ref: "C#02", kind: "film capacitor", value: "{shift}", nodes: "a=P# b=X#"},
		{ref: "R#03", kind: "resistor", value: "{leak}", tol: "{tolerance}", nodes: "a=X# b=0"},
		{ref: "C#03", kind: "film capacitor", value: "{shift}", nodes: "a=X# b=Y#"},
		{ref: "R#04", kind: "resistor", value: "{leak}", tol: "{tolerance}", nodes: "a=Y# b=0"},
		{ref: "C#04", kind: "film capacitor", value: "{shift}", nodes: "a=Y# b=G#"},
		{ref: "R#05", kind: "resistor", value: "{leak}", tol: "{tolerance}", nodes: "a=G# b=0", extra: "role=grid-leak"},
		{ref: "C#05", kind: "film capacitor", value: "{couple}", nodes: "a=P# b=W#", extra: "role=coupler"},
		{ref: "VR#01", kind: "pot", value: "{pot}", tol: "{tolerance}", nodes: "a=W# wiper=Z# b=0", extra: "turn={turn}"},
		{ref: "R#06", kind: "resistor", value: "{into}", tol: "{tolerance}", nodes: "a=Z# b={bias}"},
	},
}
