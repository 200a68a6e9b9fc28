package amp

import (
	"strings"

	"lugworth/core/unit"
)

// marking reads value, rating and tolerance as one marking. Where they cannot
// be read the whole is zero: half a marking would read as a part without
// limits.
func marking(r *row, p *Position, k kind) unit.Spec {
	if p.Value == "" {
		if p.Rating != "" && k.unit != unit.None {
			r.problem("value", "", unit.Missing, "")
		}
		return unit.Spec{}
	}
	cells := []cell{
		{"value", valueText(p.Value, p.Kind)}, {"rating", ratingText(p.Rating, k.unit)}, {"tolerance", toleranceText(p.Tolerance)},
	}
	spec, err := unit.ReadSpec(joined(cells), k.unit)
	switch {
	case err == nil && k.unit != unit.None && unsaid(r, spec, k.unit):
	case err == nil:
		return spec
	case k.unit == unit.None: // a tube or a switch: its value may be words
		p.Remarks = append(p.Remarks, "value \""+joined(cells)+"\" is kept as words")
	default:
		column, err := blame(cells, k.unit, err)
		r.failed(err, column, r.text(column))
		if last := &r.bad[len(r.bad)-1]; last.Hint == "" {
			last.Hint = unit.LookAlike(last.Cell)
		}
	}
	return unit.Spec{}
}

// unsaid tells of a rating or tolerance cell that added nothing to the
// marking: words the reader stepped over.
func unsaid(r *row, s unit.Spec, u unit.Unit) bool {
	before := len(r.bad)
	rated := s.Volts > 0 || s.Watts > 0 || s.Surge > 0
	if text := r.text("rating"); text != "" && !rated && (u == unit.Farad || u == unit.Ohm) {
		r.problem("rating", text, unit.NotANumber, unit.LookAlike(text))
	}
	if text := r.text("tolerance"); text != "" && !s.Tolerance.Stated {
		r.problem("tolerance", text, unit.NotANumber, unit.LookAlike(text))
	}
	return len(r.bad) > before
}

type cell struct{ column, text string }

func joined(cells []cell) string {
	var words []string
	for _, c := range cells {
		if c.text != "" {
			words = append(words, c.text)
		}
	}
	return strings.Join(words, " ")
}

// blame finds the column that spoils a marking: the first with which what
// stands before it no longer reads.
func blame(cells []cell, u unit.Unit, whole error) (string, error) {
	for i, c := range cells {
		if c.text == "" {
			continue
		}
		if _, err := unit.ReadSpec(joined(cells[:i+1]), u); err != nil {
			return c.column, err
		}
	}
	return cells[0].column, whole
}

// valueText gives a bare value its unit where no other is ever meant: an
// electrolytic is marked in microfarads.
func valueText(text, kind string) string {
	if kind == "electrolytic" && strings.Trim(text, "0123456789.") == "" && text != "" {
		return text + " µF"
	}
	return text
}

// ratingText gives a bare rating the unit its kind is always rated in: volts
// for a capacitor or a fuse, watts for a resistor.
func ratingText(text string, u unit.Unit) string {
	if text == "" || strings.Trim(text, "0123456789.,/ ½¼") != "" {
		return text
	}
	switch u {
	case unit.Farad, unit.Ampere:
		return text + " V"
	case unit.Ohm:
		return text + " W"
	}
	return text
}

// toleranceText gives a bare tolerance its percent sign.
func toleranceText(text string) string {
	if text == "" || strings.Trim(text, "0123456789., ±+-/") != "" {
		return text
	}
	t := strings.TrimSpace(text)
	if strings.ContainsAny(t[:1], "0123456789.,") {
		t = "±" + t
	}
	return t + "%"
}
