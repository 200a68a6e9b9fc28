package amp

import (
	"errors"
	"strings"

	"lugworth/core/unit"
)

// readMains reads the mains at the moment of the reading. Only a resistance,
// or anything read with the power off, does without.
func readMains(w *row, r *Reading, previous []Reading) {
	text := w.text("mains")
	if text == "" {
		if r.Quantity != Ohms && !r.Has(Off) {
			w.problem("mains", "", unit.Missing, SameAsLast(previous))
		}
		return
	}
	v, err := unit.Read(text, unit.Volt)
	switch {
	case err != nil:
		w.failed(err, "mains", text)
	case v < 0:
		w.problem("mains", text, unit.Negative, SameAsLast(previous))
	case v == 0 && !r.Has(Off), v > 1000:
		w.problem("mains", text, unit.OutOfRange, SameAsLast(previous))
	default:
		r.Mains, r.MainsStep = unit.Voltage(v), unit.Voltage(stepOf(text, v))
	}
}

// SameAsLast offers the mains of the latest powered reading: "same as last:
// 117.0 V", "" if there is none. previous is oldest first.
func SameAsLast(previous []Reading) string {
	for i := len(previous) - 1; i >= 0; i-- {
		if v := previous[i].Mains; v > 0 {
			return "same as last: " + unit.FormatAmount(float64(v), unit.Volt, 1)
		}
	}
	return ""
}

// readMeter reads the meter's stated error and its input resistance.
func readMeter(w *row, r *Reading) {
	if text := w.text("meter_percent"); text != "" {
		v, err := unit.Read(strings.Trim(text, "±% "), unit.None)
		switch {
		case err != nil:
			w.failed(err, "meter_percent", text)
		case v < 0:
			w.problem("meter_percent", text, unit.Negative, "")
		case v >= 100:
			w.problem("meter_percent", text, unit.OutOfRange, "")
		default:
			r.Meter, r.Stated = v/100, true
		}
	}
	if text := w.text("meter_ohms"); text != "" {
		v, err := meterOhms(text)
		switch {
		case err != nil:
			w.failed(err, "meter_ohms", text)
		case v <= 0:
			w.problem("meter_ohms", text, unit.OutOfRange, "")
		default:
			r.Ohms = v
		}
	}
}

// meterOhms reads an input resistance. M is a million here: the old use of M
// for a thousand is one of drawings, and no meter is marked that way.
func meterOhms(text string) (float64, error) {
	v, err := unit.Read(text, unit.Ohm)
	var asks unit.Ambiguous
	if errors.As(err, &asks) {
		for _, c := range asks.Choices {
			v = max(v, c.Spec.Value())
		}
		return v, nil
	}
	return v, err
}
