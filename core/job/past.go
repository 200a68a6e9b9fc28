package job

import (
	"errors"
	"fmt"
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/labor"
	"lugworth/core/money"
	"lugworth/core/unit"
)

// PastName is the book of the shop's finished work.
const PastName = "past.csv"

// openPast reads the shop's finished work, one row a task, jobs in the order
// in which they were finished:
//
//	job        the job's number; its rows stand together
//	class      what the task library calls the task: couplers, filter can
//	estimated  expected hours of the estimate, above 0
//	actual     hours it took, above 0
//	note       free words
//
// Work whose scope changed on the way belongs in no row: it teaches nothing of
// the estimate. A row with any problem teaches nothing and is told of.
func (b *Books) openPast(f File) {
	t, err := catalog.ReadTable(f.Name, f.Data, "job", "class", "estimated", "actual")
	if err != nil {
		b.problem(f.Name, err)
		return
	}
	var rows []struct {
		Job       string `csv:"job"`
		Class     string `csv:"class"`
		Estimated string `csv:"estimated"`
		Actual    string `csv:"actual"`
		Note      string `csv:"note"`
	}
	if err := t.Bind(&rows); err != nil {
		b.problem(f.Name, err)
		return
	}
	b.Problems = append(b.Problems, t.Problems...)
	for i, r := range rows {
		p := pastReader{file: f.Name, line: t.Rows[i].Line}
		past := labor.Past{Job: p.word("job", r.Job), Class: p.word("class", r.Class),
			Estimate: p.hours("estimated", r.Estimated), Actual: p.hours("actual", r.Actual)}
		if len(p.problems) == 0 {
			b.Past = append(b.Past, past)
		}
		b.Problems = append(b.Problems, p.problems...)
	}
}

type pastReader struct {
	file     string
	line     int
	problems []unit.Problem
}

func (p *pastReader) wrong(column, cell string, code unit.Code) {
	p.problems = append(p.problems, unit.Problem{File: p.file, Line: p.line, Column: column, Cell: cell, Code: code})
}

func (p *pastReader) word(column, cell string) string {
	if strings.TrimSpace(cell) == "" {
		p.wrong(column, cell, unit.Missing)
	}
	return strings.TrimSpace(cell)
}

func (p *pastReader) hours(column, cell string) float64 {
	h, err := readHours(cell)
	if err != nil {
		var known unit.Problem
		code := unit.OutOfRange
		if errors.As(err, &known) {
			code = known.Code
		}
		p.wrong(column, cell, code)
	}
	return h.Float()
}

// readHours reads hours of finished work: above nothing, below a year.
func readHours(cell string) (money.Decimal, error) {
	h, err := money.ReadDecimal(strings.TrimSpace(cell), money.Point)
	if err != nil {
		return h, err
	}
	if h.Sign() <= 0 || h.Cmp(money.Whole(2000)) > 0 {
		return money.Decimal{}, fmt.Errorf("%q: hours of finished work are above 0 and at most 2000", cell)
	}
	return h, nil
}

// fitted is what the book of finished work says of the shop's estimates,
// worked out once.
func (b *Books) fitted() labor.Fit {
	if b.fit == nil {
		f := labor.Learn(b.Past)
		b.fit = &f
	}
	return *b.fit
}
