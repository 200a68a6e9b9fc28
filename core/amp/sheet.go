package amp

import (
	"strconv"
	"strings"

	"lugworth/core/unit"
)

// sheetColumns are the headings of a circuit sheet, in the order written.
var sheetColumns = []string{"ref", "kind", "type", "value", "rating", "tolerance", "nodes", "place", "note", "extra"}

// ReadSheet reads a circuit sheet: columns ref, kind, type, value, rating,
// tolerance, nodes, place, note, extra in any order, one row a position (one
// a section of a tube, one a plate of a rectifier). nodes are role=name pairs
// parted by spaces, and the chassis is 0; extra are key=value pairs.
//
// Every problem is returned with its line and column. A row is set aside
// only where it cannot be split, has no reference or repeats one; any other
// row is kept with its problems, so that readings taken on it find it.
// Positions + rows set aside = rows of the file. A kind that no rule knows is
// kept, with a remark on the position.
func ReadSheet(file string, data []byte) ([]Position, []unit.Problem) {
	t := readTable(file, data, sheetColumns, []string{"ref", "kind", "nodes"})
	problems := t.problems
	var positions []Position
	var rows []*row
	seen := map[string]bool{}
	for _, r := range t.rows {
		p := position(r, true)
		switch {
		case p.Ref == "":
		case seen[p.Ref]:
			r.problem("ref", p.Ref, unit.Duplicate, "")
		default:
			seen[p.Ref] = true
			positions, rows = append(positions, p), append(rows, r)
		}
	}
	for i, r := range rows {
		if m := positions[i].Extra["matched"]; m != "" && !seen[m] {
			r.problem("extra", "matched="+m, unit.UnknownWord, "")
		}
	}
	for _, r := range t.rows {
		problems = append(problems, r.bad...)
	}
	return positions, problems
}

// NewPosition makes a position from named fields: the columns of a sheet,
// and "role". A record may leave the nodes out altogether: a part found on
// the bench need not be drawn yet. "id" serves as reference where "ref" is
// missing. The position is returned as far as it was understood, with every
// problem.
func NewPosition(fields map[string]string) (Position, []unit.Problem) {
	r := &row{cells: fields}
	p := position(r, false)
	p.Record = fields["record"]
	return p, r.bad
}

// position reads one row. Drawn says that every electrode must have its node.
func position(r *row, drawn bool) Position {
	p := Position{
		Ref: r.text("ref"), Kind: folded(r.text("kind")), Type: r.text("type"), Value: r.text("value"),
		Rating: r.text("rating"), Tolerance: r.text("tolerance"), Place: r.text("place"), Note: r.text("note"),
	}
	if p.Ref == "" {
		p.Ref = r.text("id")
	}
	switch {
	case p.Ref == "":
		r.problem("ref", "", unit.Missing, "")
	case strings.ContainsAny(p.Ref, ": \t\r\n"):
		r.problem("ref", p.Ref, unit.ExtraText, strings.Map(plainRef, p.Ref))
	}
	k, known := kinds[p.Kind]
	switch {
	case p.Kind == "":
		r.problem("kind", "", unit.Missing, "")
	case !known:
		k = anyLeads
		unknownKind(r, &p)
	}
	p.Nodes = nodes(r, k, drawn)
	p.Extra = extras(r)
	p.Role = role(r, &p, k)
	p.Spec = marking(r, &p, k)
	if drawn && p.Kind == "winding" {
		acrossAll(r, p.Spec)
	}
	return p
}

// acrossAll tells of a winding written side by side ("290-0-290"): a sheet
// gives the volts across the whole of it.
func acrossAll(r *row, s unit.Spec) {
	if len(s.Values) == 0 || len(s.Values) == 1 {
		return
	}
	hint := "the volts across the whole winding"
	if len(s.Values) == 3 && s.Values[1] == 0 {
		hint = strconv.FormatFloat(s.Values[0]+s.Values[2], 'f', -1, 64)
	}
	r.problem("value", r.text("value"), unit.ExtraText, hint)
}

func unknownKind(r *row, p *Position) {
	if near := nearest(p.Kind, kindWords); near != "" {
		r.problem("kind", r.text("kind"), unit.UnknownWord, near)
	}
	p.Remarks = append(p.Remarks, "kind \""+p.Kind+"\" is not one the rules know: kept and shown, not judged")
}

// plainRef drops the characters that part a reference from an electrode.
func plainRef(c rune) rune {
	if strings.ContainsRune(": \t\r\n", c) {
		return -1
	}
	return c
}

// role returns what the position does: as stated, else what every part of
// its kind does. It is never taken from where the part stands.
func role(r *row, p *Position, k kind) Role {
	field, extra := folded(r.text("role")), folded(p.Extra["role"])
	delete(p.Extra, "role") // it has its own field, and is written back from there
	if len(p.Extra) == 0 {
		p.Extra = nil
	}
	stated, column := field, "role"
	switch {
	case stated == "":
		stated, column = extra, "extra"
	case extra != "" && extra != field:
		r.problem("role", r.text("role"), unit.Duplicate, extra)
	}
	if stated == "" {
		return k.role
	}
	if !among(roleWords, stated) {
		if near := nearest(stated, roleWords); near != "" {
			r.problem(column, stated, unit.UnknownWord, near)
		}
		p.Remarks = append(p.Remarks, "role \""+stated+"\" is not one the rules know: kept and shown, not judged")
	}
	return Role(stated)
}
