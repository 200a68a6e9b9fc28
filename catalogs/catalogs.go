// Package catalogs holds the data the program ships with, as plain files:
// tube cards with the source of each value, and the cautions shown with the
// work. Each file can be replaced by the user's own.
package catalogs

import _ "embed"

// Cards is the card file of the shipped tubes and rectifiers, as
// core/tube.ReadCards reads it. Every value names the sheet it comes from
// and how well that sheet is known: all are second-hand or from memory, none
// was read in the original.
//
//go:embed cards.csv
var Cards []byte

// Cautions is the file of cautions: columns id, when, says, source, mark.
//
//go:embed cautions.csv
var Cautions []byte
