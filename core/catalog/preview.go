package catalog

import "lugworth/core/unit"

// A Preview is how a list would be read, before it is: the mapping with a
// reason for each column, the first rows as they stand, and the same rows as
// they would be read.
type Preview struct {
	Mapping Mapping
	Columns []Proposed // in the order of the file
	Rows    []Row      // the first rows as they stand, with their lines
	Offers  []Offer    // those of them that would be read
	Aside   []unit.Problem
	Notes   []unit.Problem
	Refused string // why the list cannot be read so, "" if it can
}

// Asks counts the columns a person should look at before the list is read.
func (p Preview) Asks() int {
	n := 0
	for _, c := range p.Columns {
		if c.Sure == Ask {
			n++
		}
	}
	return n
}

const previewRows = 20

// PreviewList reads the head of a list and its first rows. m may be nil; a
// mapping given is taken as said by a person. It answers for a list that
// ReadList refuses too, as long as it has rows of cells.
//
// Errors: not a text file, nothing in it, no headings.
func PreviewList(name, file string, data []byte, terms Terms, m *Mapping, fixes ...Fix) (Preview, error) {
	r, refused, err := openList(name, file, data, terms, m, fixes)
	if err != nil {
		return Preview{}, err
	}
	taken, sample := r.list.Mapping, r.sample()
	p := Preview{Mapping: taken, Columns: reasons(taken, sample, m)}
	if refused != nil {
		p.Refused = refused.Error()
		for _, cells := range sample[:min(previewRows, len(sample))] {
			p.Rows = append(p.Rows, Row{Cells: pairCells(taken.headings(), cells)})
		}
		return p, nil
	}
	r.prepare()
	r.Step(previewRows)
	l := r.List()
	p.Offers, p.Aside, p.Notes = l.Offers, l.Aside, l.Notes
	p.Rows = l.rows()
	return p, nil
}

// rows are the rows read and set aside as they stand, in the order of lines.
func (l List) rows() []Row {
	out := make([]Row, 0, len(l.Offers)+len(l.AsideRows))
	i := 0
	for _, o := range l.Offers {
		for i < len(l.AsideRows) && l.AsideRows[i].Line < o.Line {
			out = append(out, l.AsideRows[i])
			i++
		}
		out = append(out, Row{o.Line, o.Cells()})
	}
	return append(out, l.AsideRows[i:]...)
}

// reasons explains the mapping taken: where a person's says otherwise than the
// proposal, that is the reason.
func reasons(taken Mapping, sample [][]string, m *Mapping) []Proposed {
	_, out := Propose(taken.headings(), sample)
	for i, c := range taken.Columns {
		saved := m != nil && m.says(c)
		if saved || out[i].Column != c {
			out[i].Column = c
			out[i].Sure, out[i].Why, out[i].Could = Said, "this is how the supplier's columns were said to be read", nil
		}
	}
	return out
}

// says reports whether m has a column of this heading read this way.
func (m Mapping) says(c Column) bool {
	for _, o := range m.Columns {
		if plain(o.Heading) == plain(c.Heading) && o.Field == c.Field && o.From == c.From {
			return true
		}
	}
	return false
}

func (m Mapping) headings() []string {
	out := make([]string, len(m.Columns))
	for i, c := range m.Columns {
		out[i] = c.Heading
	}
	return out
}
