package catalog

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/sorted"
	"lugworth/core/unit"
)

// FileHash names the bytes of a file, so that a fix is made in the file it
// was written for and in no other.
func FileHash(data []byte) string {
	h := sha256.Sum256(data)
	return hex.EncodeToString(h[:8])
}

// A ListFix is a Fix with the list and the file it was written for.
type ListFix struct {
	List string
	Hash string // FileHash of the file
	Fix
}

// fixColumns are the headings of fixes.csv.
var fixColumns = []string{"list", "file_hash", "line", "column", "was", "cell"}

// ReadFixes reads fixes.csv, the book of cells mended by hand:
//
//	list,file_hash,line,column,was,cell
//	R,9f86d081884c7d65,14,Volts,45O,450
//
// A row without a column replaces the whole line. A row that cannot be used
// is left out and told of.
func ReadFixes(file string, data []byte) ([]ListFix, []unit.Problem) {
	t, err := ReadTable(file, data, fixColumns...)
	if err != nil {
		return nil, []unit.Problem{asProblem(file, err)}
	}
	at := make([]int, len(fixColumns))
	for i, c := range fixColumns {
		at[i] = index(t.Headings, c)
	}
	var out []ListFix
	problems := t.Problems
	for _, row := range t.Rows {
		cell := func(i int) string { return row.Cells[at[i]] }
		line, err := strconv.Atoi(strings.TrimSpace(cell(2)))
		if err != nil || line < 1 {
			problems = append(problems, unit.Problem{File: file, Line: row.Line, Column: "line", Cell: cell(2), Code: unit.NotANumber})
			continue
		}
		out = append(out, ListFix{strings.TrimSpace(cell(0)), strings.TrimSpace(cell(1)),
			Fix{Line: line, Column: cell(3), Was: cell(4), Cell: cell(5)}})
	}
	return out, problems
}

// WriteFixes writes fixes.csv, by list, file and line.
func WriteFixes(fixes []ListFix) []byte {
	fixes = slices.Clone(fixes)
	sorted.By(fixes, func(a, b ListFix) int {
		if d := strings.Compare(a.List+"\x00"+a.Hash, b.List+"\x00"+b.Hash); d != 0 {
			return d
		}
		return a.Line - b.Line
	})
	var b strings.Builder
	writeRow(&b, fixColumns, ",")
	for _, f := range fixes {
		writeRow(&b, []string{f.List, f.Hash, strconv.Itoa(f.Line), f.Column, f.Was, f.Cell}, ",")
	}
	return []byte(b.String())
}

// writeRow writes one row of RFC 4180.
func writeRow(b *strings.Builder, cells []string, comma string) {
	for i, c := range cells {
		if i > 0 {
			b.WriteString(comma)
		}
		if strings.ContainsAny(c, comma+"\"\r\n") || c != strings.TrimSpace(c) {
			c = `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
		}
		b.WriteString(c)
	}
	b.WriteString("\r\n")
}

// FixesFor returns the fixes written for this file of this list, and those
// written for another file of the same list, which are not made.
func FixesFor(fixes []ListFix, list string, data []byte) (mine []Fix, other []ListFix) {
	hash := FileHash(data)
	for _, f := range fixes {
		switch {
		case f.List != list:
		case f.Hash == hash:
			mine = append(mine, f.Fix)
		default:
			other = append(other, f)
		}
	}
	return mine, other
}
