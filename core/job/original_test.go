package job_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/order"
)

// What stood there, by the chart: C5 to C8 paper .02 400 V, C9 to C11
// electrolytic 25 µF, C1a to C1c electrolytic 20 µF in a can, V3 and V4 6V6GT.
func TestNearnessToTheOriginal(t *testing.T) {
	list := "SKU,Description,Value,Volts,Price,Pack\nM-10,3-core lead kit,,,9.50,1\nM-11,Fuse slow 2A,2A T,,0.60,5\nM-60,Wirewound 5W,300R,,1.20,1\n" +
		"M-50,6V6GT matched pair,,,36.00,1\n" + // same type 4
		"M-20,Axial electrolytic,22uF,500,5.20,1\n" + // same kind 2
		"M-30,Film axial,.022,630,1.60,1\n" + // another kind, another value 0
		"M-32,Film axial,.02,630,1.60,1\n" + // same value 1
		"M-33,Paper in oil,.02,600,9.00,1\n" + // same kind 2, same value 1
		"M-34,PAPER-OIL LOOK .02 600V,,,14.00,1\n" + // look 1, same value 1
		"M-40,Axial electrolytic,25uF,50,1.80,1\n" + // same kind 2, same value 1
		"M-41,Axial electrolytic,22uF,50,1.70,1\n" // same kind 2
	terms := "list,currency,rate,tax_in_price,tax_not_reclaimed\nM,USD,1,no,0\nN,EUR,1.1,no,0\nP,USD,1,no,0\n"
	j, b := marten(t, job.File{Name: "lists/M.csv", Data: []byte(list)}, job.File{Name: "terms.csv", Data: []byte(terms)})
	o := ordering(t, job.Derive(j, b, ""))
	var got []string
	for _, w := range o.Market.Wants {
		for _, f := range w.Fits {
			if id := o.Market.Packs[f.Pack].ID; strings.HasPrefix(id, "M") {
				got = append(got, fmt.Sprint(w.ID, " ", id, " ", f.Score))
			}
		}
	}
	slices.Sort(got)
	want := []string{"T1 0 M M-10 0", "T1 1 M M-11 2", "T2b 0 M M-20 2", "T3/film 0 M M-30 0", "T3/film 0 M M-32 1", "T3/film 0 M M-33 3",
		"T3/film 0 M M-34 2", "T4 0 M M-20 2", "T4 0 M M-40 3", "T4 0 M M-41 2", "T6 0 M M-50 4", "T6r 0 M M-60 0"}
	if !slices.Equal(got, want) {
		t.Errorf("scores\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	free, near := cheapest(t, o, order.Limits{}), cheapest(t, o, order.Limits{Score: 14})
	// T1 2, T2b 2, T3 3, T4 3, T6 4
	if near.Score != 14 || near.Cost <= free.Cost || free.Score >= 14 {
		t.Errorf("free %d with score %d, nearest %d with score %d", free.Cost, free.Score, near.Cost, near.Score)
	}
	if a := cheapest(t, o, order.Limits{Score: 15}); a.Feasible {
		t.Errorf("score 15 of 14: %+v", a)
	}
}
