package order

import (
	"fmt"
	"strings"
)

// Guard makes a cell harmless in a spreadsheet, which would take a first
// = + @ tab or carriage return for the start of a formula (the weakness is
// CWE-1236, improper neutralization of formula elements in a CSV file): it
// gets an apostrophe in front. A cell that truly starts with an apostrophe
// gets one more, so that unguard always gives the cell back.
//
// A first minus sign is left alone: part numbers begin with it, and an order
// for the wrong number is worse. Write warns instead.
func Guard(cell string) string {
	if cell != "" && strings.IndexByte("=+@\t\r'", cell[0]) >= 0 {
		return "'" + cell
	}
	return cell
}

// unguard takes one leading apostrophe off.
func unguard(cell string) string { return strings.TrimPrefix(cell, "'") }

// asIs reports whether the column is written without the guard.
func (p Profile) asIs(f Field) bool { return f == PartField && p.PartAsIs }

// warning says what a spreadsheet may make of a cell that is not guarded, or
// "".
func (p Profile) warning(c Column, cell string) string {
	if cell == "" {
		return ""
	}
	switch {
	case cell[0] == '-':
		return fmt.Sprintf("%s %q starts with a minus sign: written as it is, a spreadsheet may read it as a formula", c.Field, cell)
	case p.asIs(c.Field) && Guard(cell) != cell && cell[0] != '\'':
		return fmt.Sprintf("%s %q is written as it is: a spreadsheet may read it as a formula", c.Field, cell)
	}
	return ""
}
