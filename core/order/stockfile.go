package order

import (
	"strconv"
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/unit"
)

// stockRow is stock.csv as it stands in the file.
type stockRow struct {
	List   string `csv:"list"`
	Number string `csv:"number"`
	Pieces string `csv:"pieces"`
}

// ReadStock reads stock.csv, what lies on the shop's own shelf: so many pieces
// of a supplier's part.
//
//	list,number,pieces
//	K,K-1101,6
//
// A part may stand in several rows; they add up. A row that cannot be read is
// left out and told of: those pieces are then ordered.
func ReadStock(file string, data []byte) ([]Holding, []unit.Problem) {
	t, err := catalog.ReadTable(file, data, "list", "number", "pieces")
	if err != nil {
		return nil, located(file, err)
	}
	var rows []stockRow
	if err := t.Bind(&rows); err != nil {
		return nil, located(file, err)
	}
	var out []Holding
	problems := t.Problems
	for i, row := range rows {
		h := Holding{List: strings.TrimSpace(row.List), Number: strings.TrimSpace(unguard(row.Number))}
		wrong := func(column, cell string, code unit.Code, hint string) {
			problems = append(problems, unit.Problem{File: file, Line: t.Rows[i].Line, Column: column, Cell: cell, Code: code, Hint: hint})
		}
		n, err := strconv.Atoi(strings.TrimSpace(row.Pieces))
		switch {
		case h.List == "":
			wrong("list", row.List, unit.Missing, "")
		case h.Number == "":
			wrong("number", row.Number, unit.Missing, "")
		case err != nil || n > mostPieces:
			wrong("pieces", row.Pieces, unit.NotANumber, "a whole number of pieces")
		case n < 0:
			wrong("pieces", row.Pieces, unit.Negative, "")
		default:
			h.Pieces = n
			out = append(out, h)
		}
	}
	return out, problems
}
