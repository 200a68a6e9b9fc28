package order

import (
	"fmt"
	"io"

	"github.com/gocarina/gocsv"
)

// Rows are bound to their columns by the tags of Row, in both directions; the
// supplier's own columns are laid over that.

// sheetOf returns the cells of each row by field.
func sheetOf(rows []Row) ([]map[Field]string, error) {
	if len(rows) == 0 {
		return nil, nil
	}
	var w recordWriter
	if err := gocsv.MarshalCSV(rows, &w); err != nil {
		return nil, fmt.Errorf("order rows: %w", err)
	}
	var sheet []map[Field]string
	for _, record := range w.records[1:] {
		cells := map[Field]string{}
		for i, head := range w.records[0] {
			cells[Field(head)] = record[i]
		}
		sheet = append(sheet, cells)
	}
	return sheet, nil
}

// recordWriter keeps records instead of printing them.
type recordWriter struct{ records [][]string }

func (w *recordWriter) Write(record []string) error {
	w.records = append(w.records, append([]string(nil), record...))
	return nil
}
func (w *recordWriter) Flush()       {}
func (w *recordWriter) Error() error { return nil }

// recordReader hands out records that are read already.
type recordReader struct{ records [][]string }

func (r *recordReader) Read() ([]string, error) {
	if len(r.records) == 0 {
		return nil, io.EOF
	}
	next := r.records[0]
	r.records = r.records[1:]
	return next, nil
}

func (r *recordReader) ReadAll() ([][]string, error) {
	all := r.records
	r.records = nil
	return all, nil
}
