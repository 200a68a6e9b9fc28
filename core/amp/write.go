package amp

import (
	"bytes"
	"encoding/csv"
	"math"
	"strconv"
	"strings"

	"lugworth/core/unit"
)

// WriteSheet writes positions as a circuit sheet that ReadSheet reads back
// the same. A role that does not follow from the kind goes into extra.
func WriteSheet(positions []Position) []byte {
	rows := [][]string{sheetColumns}
	for i := range positions {
		p := &positions[i]
		rows = append(rows, []string{p.Ref, p.Kind, p.Type, p.Value, p.Rating, p.Tolerance,
			nodeText(p.Nodes), p.Place, p.Note, extraText(p)})
	}
	return csvText(rows)
}

func nodeText(nodes []Node) string {
	pairs := make([]string, len(nodes))
	for i, n := range nodes {
		pairs[i] = n.Role + "=" + n.Name
	}
	return strings.Join(pairs, " ")
}

func extraText(p *Position) string {
	var pairs []string
	if p.Role != kinds[p.Kind].role {
		pairs = append(pairs, "role="+strings.ReplaceAll(string(p.Role), " ", "-"))
	}
	for _, k := range keys(p.Extra) {
		pairs = append(pairs, k+"="+p.Extra[k])
	}
	return strings.Join(pairs, " ")
}

// WriteReadings writes readings as a chart that ReadReadings reads back the
// same, in base units, with as many decimals as were written.
func WriteReadings(readings []Reading) []byte {
	rows := [][]string{chartColumns}
	for _, r := range readings {
		value, u := amountText(r)
		rows = append(rows, []string{r.At, r.Quantity, value, u,
			mainsText(r), strings.Join(r.State, " "), r.When, percentText(r), ohmsText(r), r.Tap})
	}
	return csvText(rows)
}

// PositionFields returns a position as the fields of a record, which
// NewPosition reads back the same; empty fields are left out.
func PositionFields(p Position) map[string]string {
	role := p.Role
	p.Role = kinds[p.Kind].role // the record has a field for the role
	return filled(map[string]string{
		"ref": p.Ref, "kind": p.Kind, "type": p.Type, "value": p.Value, "rating": p.Rating, "tolerance": p.Tolerance,
		"nodes": nodeText(p.Nodes), "place": p.Place, "note": p.Note, "extra": extraText(&p), "role": string(role),
	})
}

// ReadingFields returns a reading as the fields of a record, which NewReading
// reads back the same; empty fields are left out, and so is the id.
func ReadingFields(r Reading) map[string]string {
	value, u := amountText(r)
	return filled(map[string]string{
		"at": r.At, "quantity": r.Quantity, "value": value, "unit": u, "mains": mainsText(r), "state": strings.Join(r.State, " "),
		"when": r.When, "meter_percent": percentText(r), "meter_ohms": ohmsText(r), "tap": r.Tap,
	})
}

func filled(fields map[string]string) map[string]string {
	for k, v := range fields {
		if v == "" {
			delete(fields, k)
		}
	}
	return fields
}

// amountText writes an amount with its unit, a current below one ampere in
// milliamperes as it is spoken of.
func amountText(r Reading) (value, u string) {
	if r.Unit == unit.Ampere && r.Step > 0 && math.Abs(r.Amount) < 1 {
		return number(r.Amount*1e3, r.Step*1e3), "mA"
	}
	return number(r.Amount, r.Step), r.Unit.String()
}

func mainsText(r Reading) string {
	if r.Mains == 0 {
		return ""
	}
	return number(float64(r.Mains), float64(r.MainsStep))
}

func percentText(r Reading) string {
	if !r.Stated {
		return ""
	}
	return number(r.Meter*100, 0)
}

func ohmsText(r Reading) string {
	if r.Ohms == 0 {
		return ""
	}
	return number(r.Ohms, 0) + " " + unit.Ohm.String()
}

// number writes v without an exponent, to the decimals of step, and in full
// where no step is known.
func number(v, step float64) string {
	decimals := -1
	if step > 0 {
		decimals = 0
		for s := step; s < 0.9999999 && decimals < 15; s *= 10 {
			decimals++
		}
	}
	return strconv.FormatFloat(v, 'f', decimals, 64)
}

func csvText(rows [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	if err := w.WriteAll(rows); err != nil {
		panic("amp: writing to memory failed: " + err.Error())
	}
	return b.Bytes()
}
