package circuit

import "lugworth/core/unit"

// powerBlocks are the mains and the high-voltage supplies.
func powerBlocks() []Block {
	return []Block{
		mainsBlock, fullWaveBlock, bridgeBlock, doublerBlock, halfWaveBlock, dropperBlock, standbyBlock,
	}
}

var mainsBlock = Block{
	Name: "mains", Says: "the primary of the mains transformer: one in every amp",
	Params: []Param{
		partBlank("volts", "nominal volts of the tap in use", unit.Volt, ""),
		partBlank("ohms", "ohms of primary and line together, as the transformer sees them", unit.Ohm, "2.5"),
		partBlank("hertz", "frequency", unit.Hertz, "60"),
		partBlank("heater", "watts of all heaters and lamps", unit.Watt, "20"),
	},
	rows: []blockRow{
		{ref: "MAINS#", kind: "mains", value: "{volts}", extra: "rs={ohms} hz={hertz} heater={heater}"},
	},
}

// filterParams are the blanks of what follows a reservoir.
func filterParams() []Param {
	return []Param{
		partBlank("reservoir", "first filter capacitor", unit.Farad, "22uF"),
		choiceBlank("smoothing", "what follows it", "dropper", "choke", "none"),
		partBlank("dropper", "dropping resistor, if there is one", unit.Ohm, "470"),
		partBlank("choke", "henries of the choke, if there is one", unit.Henry, "8H"),
		partBlank("choke ohms", "winding ohms of the choke", unit.Ohm, "180"),
		partBlank("smoother", "capacitor behind it", unit.Farad, "22uF"),
		spreadBlank(),
		nodeBlank("raw", "node of the first capacitor", "B1"),
		nodeBlank("out", "node behind choke or dropper", "B2"),
	}
}

// filterRows follow a reservoir.
var filterRows = []blockRow{
	{when: "smoothing=dropper", ref: "R#09", kind: "resistor", value: "{dropper}", tol: "{tolerance}", nodes: "a={raw} b={out}"},
	{when: "smoothing=dropper", ref: "C#09", kind: "electrolytic", value: "{smoother}", nodes: "plus={out} minus=0", extra: "role=smoothing"},
	{when: "smoothing=choke", ref: "L#09", kind: "choke", value: "{choke}", nodes: "a={raw} b={out}", extra: "dcr={choke ohms}"},
	{when: "smoothing=choke", ref: "C#09", kind: "electrolytic", value: "{smoother}", nodes: "plus={out} minus=0", extra: "role=smoothing"},
}

// highParams are the blanks of a high winding.
func highParams(volts, copper string) []Param {
	return []Param{
		partBlank("volts", "volts rms across the whole winding, no load", unit.Volt, volts),
		partBlank("copper", "ohms of the whole winding", unit.Ohm, copper),
	}
}

var fullWaveBlock = Block{
	Name: "full-wave supply", Says: "center-tapped winding, two rectifiers, first capacitor, then choke or dropper",
	Params: joinLists(highParams("", "120"), []Param{
		choiceBlank("rectifiers", "what rectifies", "tube", "silicon"),
		typeBlank("tube", "rectifier tube", "5AR4"),
		refBlank("socket", "reference of the rectifier tube", "V#"),
		typeBlank("diode", "silicon diode", "1N4007"),
	}, filterParams()),
	rows: joinLists([]blockRow{
		{ref: "T#", kind: "winding", value: "{volts}", nodes: "a=HTa# ct=0 b=HTb#", extra: "dcr={copper} role=high-winding"},
		{when: "rectifiers=tube", ref: "{socket}a", kind: "rectifier", typ: "{tube}", nodes: "plate=HTa# cathode={raw}"},
		{when: "rectifiers=tube", ref: "{socket}b", kind: "rectifier", typ: "{tube}", nodes: "plate=HTb# cathode={raw}"},
		{when: "rectifiers=silicon", ref: "D#01", kind: "diode", typ: "{diode}", nodes: "plate=HTa# cathode={raw}"},
		{when: "rectifiers=silicon", ref: "D#02", kind: "diode", typ: "{diode}", nodes: "plate=HTb# cathode={raw}"},
		{ref: "C#01", kind: "electrolytic", value: "{reservoir}", nodes: "plus={raw} minus=0", extra: "role=reservoir"},
	}, filterRows),
}

var bridgeBlock = Block{
	Name: "bridge supply", Says: "plain winding, four silicon diodes, first capacitor, then choke or dropper",
	Params: joinLists(highParams("", "40"), []Param{typeBlank("diode", "silicon diode", "1N4007")}, filterParams()),
	rows: joinLists([]blockRow{
		{ref: "T#", kind: "winding", value: "{volts}", nodes: "a=ACa# b=ACb#", extra: "dcr={copper} role=high-winding"},
		{ref: "D#01", kind: "diode", typ: "{diode}", nodes: "plate=ACa# cathode={raw}"},
		{ref: "D#02", kind: "diode", typ: "{diode}", nodes: "plate=ACb# cathode={raw}"},
		{ref: "D#03", kind: "diode", typ: "{diode}", nodes: "plate=0 cathode=ACa#"},
		{ref: "D#04", kind: "diode", typ: "{diode}", nodes: "plate=0 cathode=ACb#"},
		{ref: "C#01", kind: "electrolytic", value: "{reservoir}", nodes: "plus={raw} minus=0", extra: "role=reservoir"},
	}, filterRows),
}

var doublerBlock = Block{
	Name: "doubler supply", Says: "plain winding, two diodes and two stacked capacitors, then choke or dropper",
	Params: joinLists(highParams("", "12"), []Param{
		typeBlank("diode", "silicon diode", "1N4007"),
		partBlank("share", "resistor across each capacitor", unit.Ohm, "220k"),
	}, filterParams()),
	rows: joinLists([]blockRow{
		{ref: "T#", kind: "winding", value: "{volts}", nodes: "a=ACa# b=MID#", extra: "dcr={copper} role=high-winding"},
		{ref: "D#01", kind: "diode", typ: "{diode}", nodes: "plate=ACa# cathode={raw}"},
		{ref: "D#02", kind: "diode", typ: "{diode}", nodes: "plate=0 cathode=ACa#"},
		{ref: "C#01", kind: "electrolytic", value: "{reservoir}", nodes: "plus={raw} minus=MID#", extra: "role=reservoir"},
		{ref: "C#02", kind: "electrolytic", value: "{reservoir}", nodes: "plus=MID# minus=0", extra: "role=reservoir"},
		{ref: "R#01", kind: "resistor", value: "{share}", tol: "{tolerance}", nodes: "a={raw} b=MID#"},
		{ref: "R#02", kind: "resistor", value: "{share}", tol: "{tolerance}", nodes: "a=MID# b=0"},
	}, filterRows),
}

var halfWaveBlock = Block{
	Name: "half-wave supply", Says: "plain winding, series resistor, one rectifier, first capacitor, then choke or dropper",
	Params: joinLists(highParams("", "120"), []Param{
		partBlank("series", "resistor before the rectifier", unit.Ohm, "47"),
		typeBlank("diode", "silicon diode", "1N4007"),
	}, filterParams()),
	rows: joinLists([]blockRow{
		{ref: "T#", kind: "winding", value: "{volts}", nodes: "a=ACa# b=0", extra: "dcr={copper} role=high-winding"},
		{ref: "R#01", kind: "resistor", value: "{series}", tol: "{tolerance}", nodes: "a=ACa# b=ACr#"},
		{ref: "D#01", kind: "diode", typ: "{diode}", nodes: "plate=ACr# cathode={raw}"},
		{ref: "C#01", kind: "electrolytic", value: "{reservoir}", nodes: "plus={raw} minus=0", extra: "role=reservoir"},
	}, filterRows),
}

var dropperBlock = Block{
	Name: "dropper", Says: "one more dropping resistor and filter capacitor",
	Params: []Param{
		partBlank("dropper", "dropping resistor", unit.Ohm, "10k"),
		partBlank("smoother", "capacitor behind it", unit.Farad, "22uF"),
		spreadBlank(),
		nodeBlank("in", "node it takes from", "B2"),
		nodeBlank("out", "node it feeds", "B3"),
	},
	rows: []blockRow{
		{ref: "R#01", kind: "resistor", value: "{dropper}", tol: "{tolerance}", nodes: "a={in} b={out}"},
		{ref: "C#01", kind: "electrolytic", value: "{smoother}", nodes: "plus={out} minus=0", extra: "role=smoothing"},
	},
}

var standbyBlock = Block{
	Name: "standby switch", Says: "parts the supply from the stages while the heaters come up",
	Params: []Param{
		nodeBlank("in", "node of the supply", "B1"),
		nodeBlank("out", "node it feeds", "B1s"),
	},
	rows: []blockRow{{ref: "SW#01", kind: "switch", nodes: "a={in} b={out}", extra: "opens=standby"}},
}

// concat joins lists into a new one.
func joinLists[T any](lists ...[]T) []T {
	var out []T
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}
