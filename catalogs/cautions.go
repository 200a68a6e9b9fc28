package catalogs

import (
	"encoding/csv"
	"fmt"
	"strings"
)

// A Caution is one line shown with the work it belongs to. It never hides a
// verdict, and never takes the place of local code or licensed practice.
type Caution struct {
	ID     string // stable: "stored-charge"
	When   string // the finding, part or reading it belongs to; "always"
	Says   string
	Source string
	Mark   string // "", "second-hand" or "memory", as for limits
}

// ReadCautions reads a cautions file in its order.
// Errors: a file that is no CSV, other headings, an ID that stands twice or
// is missing, a caution without words or source.
func ReadCautions(data []byte) ([]Caution, error) {
	rows, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("reading cautions: %w", err)
	}
	if len(rows) == 0 || strings.Join(rows[0], ",") != "id,when,says,source,mark" {
		return nil, fmt.Errorf("reading cautions: the headings are not id,when,says,source,mark")
	}
	seen := map[string]bool{}
	cautions := make([]Caution, 0, len(rows)-1)
	for i, r := range rows[1:] {
		c := Caution{r[0], r[1], r[2], r[3], r[4]}
		if c.ID == "" || seen[c.ID] || c.When == "" || c.Says == "" || c.Source == "" {
			return nil, fmt.Errorf("reading cautions: entry %d, %q: ID, when, words and source are all needed, and an ID only once", i+1, c.ID)
		}
		seen[c.ID] = true
		cautions = append(cautions, c)
	}
	return cautions, nil
}
