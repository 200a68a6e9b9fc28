package job_test

import (
	"strings"
	"testing"

	"lugworth/core/catalog"
	"lugworth/core/job"
)

// A cell mended by hand counts in the file it was written for, is said, and
// is not made in the supplier's next file.
func TestFixesAreMadeInTheirOwnFile(t *testing.T) {
	first := []byte("Part,Desc,Volts,Price\nA-1,Electrolytic 22uF,45O,3.10\nA-2,Fuse T2A,,0.36\n")
	next := []byte("Part,Desc,Volts,Price\nA-9,Electrolytic 47uF,45O,4.10\n")
	fixes := catalog.WriteFixes([]catalog.ListFix{{List: "R", Hash: catalog.FileHash(first), Fix: catalog.Fix{Line: 2, Column: "Volts", Was: "45O", Cell: "450"}}})
	open := func(list []byte) *job.Books {
		return job.OpenBooks(nil, []job.File{{Name: "lists/R.csv", Data: list}, {Name: job.FixesName, Data: fixes}})
	}
	b := open(first)
	if len(b.Lists) != 1 || len(b.Lists[0].Offers) != 2 || b.Lists[0].RowsAside != 0 || len(b.Lists[0].Notes) != 1 || b.Lists[0].Notes[0].Code != catalog.Mended {
		t.Fatalf("lists %+v", b.Lists)
	}
	o, ok := b.Offer("R", "A-1")
	if !ok || o.Part.Spec.Volts < 449.9 || o.Part.Spec.Volts > 450.1 || o.Cells()[2].Text != "450" {
		t.Errorf("mended offer %+v", o)
	}
	b = open(next)
	said := false
	for _, p := range b.Problems {
		said = said || strings.Contains(p.Error(), "1 mended cells of fixes.csv were written for another file of list R")
	}
	if len(b.Lists) != 1 || b.Lists[0].RowsAside != 1 || !said {
		t.Errorf("in another file: %d lists, problems %v", len(b.Lists), b.Problems)
	}
}

// A list whose headings nobody could guess is read by what was said of its
// columns, from the shop's own book.
func TestColumnsAreRemembered(t *testing.T) {
	list := []byte("Code;Words;Trade;Retail\nA-1;Fuse T2A;0,30;0,60\n")
	m, _, err := catalog.Look("R.csv", list, catalog.Terms{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	m = m.With(1, catalog.FieldText).With(2, catalog.FieldPrice)
	for _, tt := range []struct {
		columns []byte
		offers  int
	}{{nil, 0}, {catalog.WriteMappings([]catalog.ListMapping{{List: "R", Mapping: m}}), 1}} {
		files := []job.File{{Name: "lists/R.csv", Data: list}}
		if tt.columns != nil {
			files = append(files, job.File{Name: job.ColumnsName, Data: tt.columns})
		}
		b := job.OpenBooks(nil, files)
		if got, ok := b.Offer("R", "A-1"); ok != (tt.offers == 1) || ok && got.Price.String() != "0.3" {
			t.Errorf("with %q: %+v, %v", tt.columns, got, b.Problems)
		}
	}
}
