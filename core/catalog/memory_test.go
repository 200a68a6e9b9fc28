package catalog

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lugworth/core/money"
)

// tradeWords are what descriptions are made of here: words of several
// languages, figures in many spellings, tube types, signs and odds.
var tradeWords = strings.Fields(`axial Axial, electrolytic cap film/foil 22uF 450V 22 µF 500 V , 0.022 mfd .022 600V (can) [x2] X2 paper look paper-oil mica 500pF EL84 6V6GT pair quartet matched
	12AX7/ECC83 1N4007 diode fuse T2A 2A T slow 5x20 mm 100k 100K 1W 1/2W ½W 5% 10% ±10 % 20+20+20@450 20+20 @ 450V / 32 / 32 + 16 x 2 2x50uF 8-8-16 4k7 R47 1M5 220u/35V resistor wirewound 10W tube valve
	rectifier GZ34 socket clamp snap in disc ceramic chassis mount Elko becher pk of 10 pcs pack 25/25 25 each polypropylene MKP style class Y1 choke 4H 90mA pot 1M log jack 1/4" 3-core lead =2+2 'x' #12
	5881 7025 6L6WGB-STR ; | 22MFD 275VAC 250V~ 1000 12345 A-1002 set of 4 trio kap. 0,1µF 470 ohm 4.7 kΩ 1 MOhm 223K 223 cemented 600V. 450: lamp 80 83 U50 10er VE per 100`)

// What was read before changes nothing: a row read after thousands of others
// says what it says alone, also where there were too many words to remember.
func TestMemoryChangesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	shared := newSpecs()
	for i := range 3000 {
		var words []string
		for range r.IntN(9) {
			words = append(words, tradeWords[r.IntN(len(tradeWords))])
		}
		words = append(words, fmt.Sprintf("x%dq", r.IntN(20000)), fmt.Sprintf("y%d", r.IntN(20000)), fmt.Sprint(r.IntN(20000)))
		for range 4 {
			shared.word(fmt.Sprintf("z%d", r.IntN(1<<20))) // crowds out what is remembered
		}
		one := said{text: strings.Join(words, " "), kind: []string{"", "Tube", "Capacitors"}[r.IntN(3)], value: []string{"", "", "22uF", "EL84", "100k", "5mF"}[r.IntN(6)],
			volts: []string{"", "450", "45O", "275 VAC"}[r.IntN(4)], tolerance: []string{"", "10", "wide"}[r.IntN(3)]}
		other := one
		other.specs = shared
		var a, b Part
		stopA, notesA := one.part(&a)
		stopB, notesB := other.part(&b)
		packA, _ := one.specs.reading.pack()
		packB, _ := shared.reading.pack()
		if x, y := fmt.Sprintf("%+v %v %v %d", a, stopA, notesA, packA), fmt.Sprintf("%+v %v %v %d", b, stopB, notesB, packB); x != y {
			t.Fatalf("row %d, %q: alone %s\nafter others %s", i, one.text, x, y)
		}
	}
	if len(shared.words) > specsKept || len(shared.pairs) > specsKept {
		t.Errorf("%d words and %d pairs remembered, want at most %d", len(shared.words), len(shared.pairs), specsKept)
	}
}

// The order of an index, what it finds by number and what stands twice are
// held to the plain way: sorting all and looking at all. Numbers begin alike,
// lists come in several files, and there may be more lists than a byte counts.
func TestIndexAgainstThePlainWay(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for _, names := range []int{1, 3, 300} {
		var lists []List
		var all []*Offer
		for i := range max(names, 4) {
			l := List{Name: fmt.Sprintf("L%d", i%names), File: fmt.Sprintf("f%d", 9-i%10)}
			for line := range 40 {
				l.Offers = append(l.Offers, Offer{List: l.Name, File: l.File, Line: line + 2, Number: []string{"", "P-", "PART-000000-", "P-\x00"}[r.IntN(4)] + fmt.Sprint(r.IntN(30)),
					Price: money.Whole(int64(1 + r.IntN(2))), Priced: true, Pack: 1})
			}
			l.Offers[3].Number = ""
			lists = append(lists, l)
		}
		for i := range lists {
			for j := range lists[i].Offers {
				all = append(all, &lists[i].Offers[j])
			}
		}
		x := NewIndex(lists)
		first := map[[2]string]*Offer{}
		var doubles []Double
		for _, o := range all {
			k := [2]string{o.List, o.Number}
			switch f := first[k]; {
			case f == nil:
				first[k] = o
			case o.Number != "" && f.Price.Cmp(o.Price) != 0:
				doubles = append(doubles, Double{f, o})
			}
		}
		for k, o := range first {
			if got, ok := x.ByNumber(k[0], k[1]); ok != (k[1] != "") || ok && got != o {
				t.Fatalf("%d lists, %q: %+v, want %+v", names, k, got, o)
			}
		}
		if !slices.Equal(x.Doubles(), doubles) {
			t.Errorf("%d lists: %d doubles, want %d", names, len(x.Doubles()), len(doubles))
		}
		slices.SortStableFunc(all, compareOffers)
		if !slices.EqualFunc(x.All(), all, func(a, b *Offer) bool { return compareOffers(a, b) == 0 }) {
			t.Errorf("%d lists: another order", names)
		}
		if _, ok := x.ByNumber("L0", "no such"); ok {
			t.Error("found a number no list has")
		}
	}
}
