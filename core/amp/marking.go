package amp

import (
	"strings"

	"lugworth/core/unit"
)

// marking reads value, rating and tolerance as one marking. Each is added in
// turn, so that a problem names the column it stands in. Where one cannot be
// read the whole is zero: half a marking would read as a part without limits.
func marking(r *row, p *Position, k kind) unit.Spec {
	if p.Value == "" {
		if p.Rating != "" && k.unit != unit.None {
			r.problem("value", "", unit.Missing, "")
		}
		return unit.Spec{}
	}
	text := ""
	var spec unit.Spec
	for _, c := range []struct{ column, text string }{
		{"value", p.Value}, {"rating", ratingText(p.Rating, k.unit)}, {"tolerance", toleranceText(p.Tolerance)},
	} {
		if c.text == "" {
			continue
		}
		text = strings.TrimSpace(text + " " + c.text)
		var err error
		if spec, err = unit.ReadSpec(text, k.unit); err != nil {
			if k.unit == unit.None { // a tube or a switch: its value may be words
				p.Remarks = append(p.Remarks, c.column+" \""+c.text+"\" is kept as words")
				return unit.Spec{}
			}
			r.failed(err, c.column, r.text(c.column))
			return unit.Spec{}
		}
	}
	return spec
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
