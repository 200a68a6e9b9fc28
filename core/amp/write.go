package amp

import (
	"bytes"
	"encoding/csv"
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
		rows = append(rows, []string{r.At, r.Quantity, number(r.Amount, r.Step), r.Unit.String(),
			mainsText(r), strings.Join(r.State, " "), r.When, percentText(r), ohmsText(r), r.Tap})
	}
	return csvText(rows)
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
