package catalog

// Look returns how a list would be read and its first rows, without reading
// it. It answers for a list that ReadList refuses too, as long as it has rows
// of cells: a person can then say which column holds what.
//
// Errors: not a text file, nothing in it, no headings.
func Look(file string, data []byte, terms Terms, m *Mapping) (Mapping, [][]string, error) {
	r, _, err := openList("", file, data, terms, m, nil)
	if err != nil {
		return Mapping{}, nil, err
	}
	return r.list.Mapping, r.sample(), nil
}

// Fields are the fields a column may be read as, in the order a page lists
// them; Ignored stands last.
var Fields = []Field{FieldNumber, FieldText, FieldKind, FieldValue, FieldVolts, FieldWatts, FieldTol, FieldPrice, FieldBreak, FieldBreaks, FieldPer,
	FieldCurr, FieldPack, FieldMinimum, FieldStock, FieldLead, FieldDate, Ignored}

// With returns the mapping with column i read as f. Every field but a further
// price has one column: the one that had it before is then not read.
func (m Mapping) With(i int, f Field) Mapping {
	m.Columns = append([]Column(nil), m.Columns...)
	if i < 0 || i >= len(m.Columns) {
		return m
	}
	if f == Ignored {
		m.Columns[i].Field, m.Columns[i].From = Ignored, 0
		return m
	}
	from := 0
	if f == FieldBreak {
		from = max(2, m.Columns[i].From)
	}
	m.give(f, i, from)
	return m
}
