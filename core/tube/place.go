package tube

import (
	"strings"

	"lugworth/core/limit"
	"lugworth/core/unit"
)

// place reads the value cell for what its quantity is and returns what puts
// it on the card. Problems go to c.
func (c *cell) place(v Value) func(*Card) {
	name := strings.ToLower(strings.Join(strings.Fields(v.Quantity), " "))
	switch {
	case name == "heating":
		return c.heating(v)
	case name == "gm low", name == "gm high":
		return c.gm(v, name == "gm high")
	}
	if q, end, ok := limited(name); ok {
		return c.limit(v, q, end)
	}
	return c.other(v, strings.HasPrefix(name, "law."))
}

// limited returns the limit a quantity name stands for and which end it
// states: "low", "high", or "" where the name leaves it open.
func limited(name string) (limit.Quantity, string, bool) {
	for _, end := range []string{"", "low", "high"} {
		base, has := name, end == ""
		if !has {
			base, has = strings.CutSuffix(name, " "+end)
		}
		if _, known := limit.UnitOf(limit.Quantity(base)); has && known {
			return limit.Quantity(base), end, true
		}
	}
	return "", "", false
}

// heating reads how a rectifier comes up.
func (c *cell) heating(v Value) func(*Card) {
	how := map[string]string{Direct: Direct, Slow: Slow, "indirect": Slow, Solid: Solid}[strings.ToLower(v.Text)]
	if how == "" && v.Text != "" {
		c.bad("value", v.Text, unit.UnknownWord, "direct, slow or solid")
	}
	return func(card *Card) {
		card.Heating = how
		card.Values = append(card.Values, v)
	}
}

// gm reads one end of the transconductance of one tube.
func (c *cell) gm(v Value, high bool) func(*Card) {
	v = c.measured(v, unit.Siemens)
	return func(card *Card) {
		card.Values = append(card.Values, v)
		if high {
			card.GmHigh = v.Amount
		} else {
			card.GmLow = v.Amount
		}
	}
}

// measured reads a positive number in the unit its quantity has.
func (c *cell) measured(v Value, want unit.Unit) Value {
	s := c.scale(v, want)
	n, ok := number(v.Text)
	c.mustBeNumber(v, ok)
	if ok && n <= 0 {
		c.bad("value", v.Text, unit.Negative, "")
	}
	v.Amount, v.Number, v.Unit = n*s.of, ok, want
	return v
}

// scale reads the unit cell of a quantity whose unit is known; an empty one
// is the plain unit.
func (c *cell) scale(v Value, want unit.Unit) scale {
	s, ok := scaleOf(v.UnitText)
	switch {
	case !ok:
		c.bad("unit", v.UnitText, unit.UnknownUnit, want.String())
	case v.UnitText == "" && asks[want]:
		c.bad("unit", "", unit.Missing, asked[want])
	case v.UnitText == "":
		return scale{want, 1}
	case s.unit != want:
		c.bad("unit", v.UnitText, unit.WrongUnit, want.String())
	}
	return s
}

// asks are the units no sheet prints plain: "32" is never 32 F, nor "65" 65 A,
// and a limit a thousand times too wide would let anything pass.
var asks = map[unit.Unit]bool{unit.Farad: true, unit.Ampere: true, unit.Siemens: true}

var asked = map[unit.Unit]string{unit.Farad: "µF", unit.Ampere: "mA", unit.Siemens: "mA/V"}

func (c *cell) mustBeNumber(v Value, ok bool) {
	if !ok && v.Text != "" {
		c.bad("value", v.Text, unit.NotANumber, unit.LookAlike(v.Text))
	}
}

// limit reads a limit. One number is the high end, "6.3 ±10%" both; a heater
// voltage alone is what the heater wants, and limits nothing.
func (c *cell) limit(v Value, q limit.Quantity, end string) func(*Card) {
	want, _ := limit.UnitOf(q)
	l := limit.Limit{Subject: c.row.Type, Quantity: q, Unit: want, System: v.System, Source: v.Source, Mark: v.Mark}
	if middle, part, ok := within(v.Text); ok && end == "" {
		s := c.scale(v, want)
		if middle <= 0 {
			c.bad("value", v.Text, unit.Negative, "")
		}
		l.Low, l.High, l.HasLow, l.HasHigh = middle*s.of*(1-part), middle*s.of*(1+part), true, true
		return func(card *Card) { card.Limits = append(card.Limits, l) }
	}
	v = c.measured(v, want)
	switch {
	case end == "" && q == limit.HeaterVolts:
		return func(card *Card) { card.Values = append(card.Values, v) }
	case end == "low":
		l.Low, l.HasLow = v.Amount, true
	default:
		l.High, l.HasHigh = v.Amount, true
	}
	return func(card *Card) { c.join(card, l, end) }
}

// join adds a limit; the second of a low and a high row of one source
// completes the first. Ends that cross stay two limits: no value holds both.
func (c *cell) join(card *Card, l limit.Limit, end string) {
	for i := range card.Limits {
		old := &card.Limits[i]
		if end == "" || old.Quantity != l.Quantity || old.System != l.System || old.Source != l.Source || old.Mark != l.Mark {
			continue
		}
		if l.HasLow && !old.HasLow && l.Low <= old.High {
			old.Low, old.HasLow = l.Low, true
			return
		}
		if l.HasHigh && !old.HasHigh && l.High >= old.Low {
			old.High, old.HasHigh = l.High, true
			return
		}
	}
	card.Limits = append(card.Limits, l)
}

// other keeps a row that limits nothing. A law constant must be a number; so
// must a cell that looks like one with a letter in it.
func (c *cell) other(v Value, law bool) func(*Card) {
	n, ok := number(v.Text)
	if law || (!ok && unit.LookAlike(v.Text) != "") {
		c.mustBeNumber(v, ok)
	}
	if s, known := scaleOf(v.UnitText); known && ok {
		v.Amount, v.Number, v.Unit = n*s.of, true, s.unit
	} else if ok && law {
		v.Amount, v.Number = n, true // "A/V^1.5": the law says what it counts in
	}
	return func(card *Card) { card.Values = append(card.Values, v) }
}
