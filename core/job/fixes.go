package job

import (
	"fmt"

	"lugworth/core/catalog"
	"lugworth/core/unit"
)

// Books of how price lists are read: cells mended by hand, and which column
// holds what.
const (
	FixesName   = "fixes.csv"
	ColumnsName = "columns.csv"
)

// fixesFor are the fixes of one list that were written for this very file.
// Those of another file of the same supplier are not made, and said: there the
// line holds another row.
func (b *Books) fixesFor(list string, f File) []catalog.Fix {
	mine, other := catalog.FixesFor(b.Fixes, list, f.Data)
	if len(other) > 0 {
		b.Problems = append(b.Problems, unit.Problem{File: f.Name, Code: unit.Unusable,
			Say: fmt.Sprintf("%d mended cells of %s were written for another file of list %s and are not made in this one", len(other), FixesName, list)})
	}
	return mine
}
