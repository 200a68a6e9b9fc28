package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// column is one figure of a table for people.
type column struct {
	head, key string
	unit      unit.Unit
}

var (
	nodeColumns = []column{{"volts", "volts", unit.Volt}, {"ripple p-p", "ripple_pp", unit.Volt}}
	partColumns = []column{{"volts", "volts", unit.Volt}, {"current", "amps", unit.Ampere}, {"watts", "watts", unit.Watt}}
	tubeColumns = []column{{"plate", "volts", unit.Volt}, {"plate current", "plate_amps", unit.Ampere}, {"screen current", "screen_amps", unit.Ampere},
		{"plate watts", "plate_watts", unit.Watt}, {"screen watts", "screen_watts", unit.Watt}}
	legColumns = []column{{"mean", "mean_amps", unit.Ampere}, {"peak", "peak_amps", unit.Ampere}}
)

// tellSolved writes an answer for people, in the order of the sheet.
func tellSolved(out io.Writer, sheet []amp.Position, a *solved) error {
	if !a.Solved {
		_, err := fmt.Fprintf(out, "not solved: %s\n", a.Reason)
		return err
	}
	fmt.Fprintf(out, "%s at %s mains\n", a.Scenario, unit.FormatAmount(a.Mains, unit.Volt, 1))
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	var tubes, parts []string
	for i := range sheet {
		ref := sheet[i].Ref
		if _, tube := a.Positions[ref]["plate_amps"]; tube {
			tubes = append(tubes, ref)
		} else {
			parts = append(parts, ref)
		}
	}
	tellTable(w, "node", a.nodeOrder(sheet), nodeColumns, a.Nodes)
	tellTable(w, "tube", tubes, tubeColumns, a.Positions)
	tellTable(w, "part", parts, partColumns, a.Positions)
	tellTable(w, "rectifier", parts, legColumns, a.Legs)
	if err := w.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(out, "\ngreatest sum of currents at a node %.1e A, power balance off by %.4f %%\n", a.Residual, a.Balance*100)
	return err
}

// nodeOrder lists the nodes that have volts as the sheet names them.
func (a *solved) nodeOrder(sheet []amp.Position) []string {
	var names []string
	seen := map[string]bool{}
	for i := range sheet {
		for _, n := range sheet[i].Nodes {
			if _, has := a.Nodes[n.Name]; has && !seen[n.Name] {
				seen[n.Name] = true
				names = append(names, n.Name)
			}
		}
	}
	return names
}

// tellTable writes one table of the rows that have figures.
func tellTable(w io.Writer, what string, rows []string, columns []column, of map[string]figures) {
	heads := []string{what}
	for _, c := range columns {
		heads = append(heads, c.head)
	}
	fmt.Fprintln(w, "\n"+strings.Join(heads, "\t"))
	for _, row := range rows {
		if of[row] == nil {
			continue
		}
		cells := []string{jsonText(row)}
		for _, c := range columns {
			cells = append(cells, of[row].tell(c))
		}
		fmt.Fprintln(w, strings.Join(cells, "\t"))
	}
}

// tell writes one figure, "-" where there is none.
func (f figures) tell(c column) string {
	v, ok := f[c.key]
	switch {
	case !ok:
		return "-"
	case v.band:
		return unit.FormatInterval(v.Interval, c.unit, 2)
	}
	return unit.FormatAmount(v.Expected, c.unit, 2)
}
