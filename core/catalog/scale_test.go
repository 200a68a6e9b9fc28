package catalog

import (
	"fmt"
	"strings"
	"testing"
)

// wideList makes rows as a large supplier's list has them, the same every
// time: 15 columns, about 120 bytes a row, no two descriptions alike, one
// quoted cell with doubled quotes in each row, values over the whole of E24
// in several spellings, so that nothing is helped by being read before.
func wideList(rows int) string {
	var b strings.Builder
	b.Grow(rows*128 + 200)
	b.WriteString("Part no,Description,Category,Value,Volts,Tolerance,Watts,Unit price,10+,100+,Pack,Minimum,Stock,Lead days,Sheet\r\n")
	for i := range rows {
		wideRow(&b, i)
	}
	return b.String()
}

var e24 = [...]float64{1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1}

var wideVolts = [...]string{"25", "63", "100", "160", "250", "350 V", "400", "450", "500V", "630", "1000"}

// wideRow writes the i-th row. Every part of it steps at its own pace.
func wideRow(b *strings.Builder, i int) {
	v := e24[i%24]
	price := 12 + i*37%9000
	fmt.Fprintf(b, "W%d-%05d,", i%7, i)
	switch i % 5 {
	case 0:
		fmt.Fprintf(b, "\"Film capacitor, axial, 5/8\"\" leads, drawer %d\",Capacitors,%.4gnF,%s,%d%%,", i, v*[]float64{1, 10, 100}[i/24%3], wideVolts[i/120%11], 5+i%2*5)
	case 1:
		fmt.Fprintf(b, "\"Electrolytic %guF %sV axial, 1\"\" can, shelf %d\",Capacitors,,,20%%,", v*10, wideVolts[i%5], i)
	case 2:
		fmt.Fprintf(b, "\"Metal film resistor %.4gk 1%%, 3\"\" tape, reel %d\",Resistors,,,,0.6", v*[]float64{1, 10, 100}[i/24%3], i)
	case 3:
		fmt.Fprintf(b, "\"Carbon comp, 1/2\"\" body, lot %d\",Resistors,%.4gK,350,10,1/2", i, v*10)
	default:
		fmt.Fprintf(b, "\"Wirewound, 2\"\" ceramic tube, box %d\",Resistors,%.4g ohm,,5,5W", i, v*100)
	}
	fmt.Fprintf(b, ",%d.%02d,%d.%02d,%d.%02d,%d,%d,%d,%d,sheets/w%05d.pdf\r\n", price/100, price%100, price*9/1000, price*9/10%100, price*8/1000, price*8/10%100,
		1+i%3*4, 1+i%2*4, i*31%400, 1+i%20, i)
}

// TestAllocations: a row costs at most six allocations, however long the list
// and however few of its descriptions are alike.
func TestAllocations(t *testing.T) {
	const rows = 20_000
	data := []byte(wideList(rows))
	terms := Terms{List: "W", Currency: "USD"}
	all := testing.AllocsPerRun(1, func() {
		if l, err := ReadList("W", "w.csv", data, terms, nil); err != nil || len(l.Offers) != rows {
			t.Fatal(len(l.Offers), err)
		}
	})
	once := testing.AllocsPerRun(1, func() {
		if _, err := ReadList("W", "w.csv", []byte(wideList(1)), terms, nil); err != nil {
			t.Fatal(err)
		}
	})
	if each := (all - once) / rows; each > 6 {
		t.Errorf("%.2f allocations a row, want at most 6", each)
	}
}

// TestAllocationsOfEuroPrices: a sign around each price costs nothing more.
func TestAllocationsOfEuroPrices(t *testing.T) {
	const rows = 10_000
	var b strings.Builder
	b.WriteString("Artikel;Omschrijving;Prijs;ab 10;Voorraad;Levertijd\n")
	for i := range rows {
		fmt.Fprintf(&b, "N-%d;Foliecondensator axiaal 22 nF 630 V nr %d;€ %d,%02d;%d,50 €;%d stuks;2-3 weken\n", i, i, 1+i%900, i%100, 1+i%900, i%500)
	}
	terms := Terms{List: "N", Currency: "EUR"}
	all := testing.AllocsPerRun(1, func() {
		if l, err := ReadList("N", "n.csv", []byte(b.String()), terms, nil); err != nil || len(l.Offers) != rows || l.Offers[5].Price.String() != "6.05" || l.Offers[5].StockPacks != 5 {
			t.Fatal(len(l.Offers), err)
		}
	})
	if each := all / rows; each > 6 {
		t.Errorf("%.2f allocations a row, want at most 6", each)
	}
}

// TestLinesAtScale: of 20,000 rows every 997th is bad in one of four ways and
// every 61st runs over two lines. Each bad row is told of under the line
// encoding/csv, the reader of the standard library, gives it, and all others
// are kept.
func TestLinesAtScale(t *testing.T) {
	var b strings.Builder
	rows := strings.Split(strings.TrimSuffix(wideList(20_000), "\r\n"), "\r\n")
	bad := map[string]bool{}
	for i, row := range rows {
		if i%61 == 60 {
			row = strings.Replace(row, ",\"", ",\"upper\r\nlower ", 1)
		}
		if i%997 == 996 {
			row = spoil(row, i/997%4)
			bad[strings.SplitN(row, ",", 2)[0]] = true
		}
		b.WriteString(row + "\r\n")
	}
	l := readWide(t, b.String())
	counts(t, l)
	if len(bad) != 20 || l.RowsAside != len(bad) || len(l.Offers) != 20_000-len(bad) {
		t.Fatalf("%d aside, %d kept, want %d and %d", l.RowsAside, len(l.Offers), len(bad), 20_000-len(bad))
	}
	cells, lines, ok := plainRows(b.String(), ',')
	if !ok {
		t.Fatal("encoding/csv refuses the text")
	}
	at := map[string]int{}
	for i, c := range cells {
		at[c[0]] = lines[i]
	}
	for _, r := range l.AsideRows {
		if n := r.Cells[0].Text; !bad[n] || at[n] != r.Line {
			t.Errorf("%s aside on line %d, want %d", n, r.Line, at[n])
		}
	}
	for _, o := range l.Offers {
		if at[o.Number] != o.Line {
			t.Fatalf("%s on line %d, want %d", o.Number, o.Line, at[o.Number])
		}
	}
}

// spoil makes a row of wideList bad: a price that is none, a cell too many, a
// pack of nothing, a price below zero.
func spoil(row string, how int) string {
	cells := strings.Split(row, ",")
	n := len(cells)
	switch how {
	case 0:
		cells[n-8] = "4.2O"
	case 1:
		cells = append(cells, "x")
	case 2:
		cells[n-5] = "0"
	default:
		cells[n-8] = "-1.00"
	}
	return strings.Join(cells, ",")
}
