package circuit

import (
	"strconv"
	"strings"

	"lugworth/core/unit"
)

// A SpreadRow is one assumption about how far a part may be from its marking
// or a tube from its type.
type SpreadRow struct {
	Key    string // of the shop sheet: "spread_resistor", ...
	Says   string
	Amount float64 // fraction, or volts for shifts
	Volts  bool
	Source string
}

// Spreads is the table of assumptions, in the order shown.
type Spreads []SpreadRow

const judgment = "our own judgment, no source"

// Keys of the spread table.
const (
	spreadResistor     = "spread_resistor"
	spreadPot          = "spread_pot"
	spreadTurn         = "spread_turn"
	spreadElectrolytic = "spread_electrolytic"
	spreadCapacitor    = "spread_capacitor"
	spreadHenries      = "spread_henries"
	spreadCopper       = "spread_copper"
	spreadWinding      = "spread_winding"
	spreadSource       = "spread_source"
	spreadHeaterLoad   = "spread_heater_load"
	spreadPerveance    = "spread_perveance"
	spreadShiftSmall   = "spread_shift_small"
	spreadShiftOutput  = "spread_shift_output"
	spreadShare        = "spread_share"
	spreadConduct      = "spread_conduct"
)

// DefaultSpreads returns the built-in table. Nothing in it was measured or
// published: it is what the program assumes until the shop knows better.
func DefaultSpreads() Spreads {
	row := func(key, says string, amount float64) SpreadRow {
		return SpreadRow{Key: key, Says: says, Amount: amount, Source: judgment}
	}
	volts := func(key, says string, amount float64) SpreadRow {
		r := row(key, says, amount)
		r.Volts = true
		return r
	}
	return Spreads{
		row(spreadResistor, "a resistor without a marked tolerance, old or new, from its marking", 0.20),
		row(spreadPot, "the whole track of a pot without a marked tolerance", 0.20),
		row(spreadTurn, "where a pot stands, of the whole track, when nothing states it", 0.10),
		row(spreadElectrolytic, "an electrolytic without a marked tolerance", 0.20),
		row(spreadCapacitor, "another capacitor without a marked tolerance", 0.20),
		row(spreadHenries, "the inductance of a choke or output transformer", 0.30),
		row(spreadCopper, "the ohms of a winding nobody measured", 0.20),
		row(spreadWinding, "the volts of a winding nobody measured", 0.10),
		row(spreadSource, "the ohms of the mains and the primary", 0.30),
		row(spreadHeaterLoad, "the watts the heaters draw", 0.15),
		row(spreadPerveance, "the current of a tube nobody read, from its type's", 0.20),
		volts(spreadShiftSmall, "the grid volts of a small tube nobody read, from its type's", 0.3),
		volts(spreadShiftOutput, "the grid volts of an output tube nobody read, from its type's", 1.2),
		row(spreadShare, "how a tube nobody read parts its current between plate and screen", 0.25),
		row(spreadConduct, "the current of a rectifier at a given drop, from its type's", 0.20),
	}
}

// ReadSpreads returns the table with the rows the shop's sheet states: get
// looks a key up ("spread_resistor", percent; shifts in volts). What cannot
// be read keeps its built-in amount and is a problem.
func ReadSpreads(get func(key string) (value, source string, ok bool)) (Spreads, []unit.Problem) {
	table := DefaultSpreads()
	var problems []unit.Problem
	for i := range table {
		value, source, ok := get(table[i].Key)
		if !ok || value == "" {
			continue
		}
		amount, err := spreadAmount(value, table[i].Volts)
		if err != "" {
			problems = append(problems, unit.Problem{Column: table[i].Key, Cell: value, Code: unit.NotANumber, Hint: err})
			continue
		}
		table[i].Amount, table[i].Source = amount, source
		if source == "" {
			table[i].Source = "the shop's sheet, which gives no source"
		}
	}
	return table, problems
}

// spreadAmount reads "20", "20 %", "±20%" as 0.2 and "1.2 V" as 1.2.
func spreadAmount(text string, volts bool) (float64, string) {
	cut, most, hint := "±% ", 100.0, "percent, 0 to 100"
	if volts {
		cut, most, hint = "±V ", 10, "volts, 0 to 10"
	}
	v, err := strconv.ParseFloat(strings.Trim(text, cut), 64)
	if err != nil || !(v >= 0 && v <= most) {
		return 0, hint
	}
	if volts {
		return v, ""
	}
	return v / 100, ""
}

// row returns one row of the table; the built-in one where the table lacks it.
func (s Spreads) row(key string) SpreadRow {
	for _, r := range s {
		if r.Key == key {
			return r
		}
	}
	for _, r := range DefaultSpreads() {
		if r.Key == key {
			return r
		}
	}
	return SpreadRow{Key: key, Says: "nothing is assumed", Source: judgment}
}
