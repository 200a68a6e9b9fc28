package order

import (
	"slices"
	"strings"
	"testing"

	"lugworth/core/money"
)

func currency(code string) money.Currency {
	c, err := money.CurrencyOf(code)
	if err != nil {
		panic(err)
	}
	return c
}

func offer(list, number, text, price string, pack, lead int) Offer {
	return Offer{List: list, Number: number, Text: text, Price: money.MustDecimal(price), Priced: true,
		Pack: pack, StockPacks: -1, LeadDays: lead, Where: strings.ToLower(list) + ".csv"}
}

// Two invented suppliers of one job, and a third that sells by the dozen.
var books = Books{
	Offers: []Offer{
		offer("K", "K-1501", "3-core lead kit", "9.50", 1, 2),
		offer("K", "K-1502", "Fuse slow 2A", "0.60", 5, 2),
		offer("K", "K-1002", "Axial electrolytic", "5.20", 1, 2),
		offer("K", "K-1101", "Film axial", "0.75", 10, 2),
		offer("K", "K-1201", "Axial electrolytic", "1.40", 1, 2),
		offer("K", "K-1401", "6V6GT matched pair", "54.00", 1, 2),
		offer("K", "K-1601", "Wirewound 5W", "1.20", 1, 2),
		offer("K", "K-20", "twenty", "20.00", 1, 2),
		offer("K", "K-50", "fifty", "50.00", 1, 2),
		offer("R", "R-2301", "PAPER-OIL LOOK .02 600V", "14.00", 1, -1),
		offer("R", "R-2302", "FILM 22n/400V", "0.40", 10, -1),
		{List: "R", Number: "R-9", Text: "price on request", Pack: 1, StockPacks: -1, LeadDays: -1},
		offer("R", "R-8", "no pack", "1.00", 0, -1),
		offer("R", "R-7", "first", "1.00", 1, -1),
		offer("R", "R-7", "second", "2.00", 1, -1),
	},
	Terms: []Terms{
		{List: "K", Currency: currency("USD"), MinOrder: 2000, Carriage: []Step{{0, 650}, {5000, 300}, {10000, 0}}},
		{List: "R", Currency: currency("USD")},
	},
}

func need(option, finding, list, number string, pieces int) Need {
	return Need{Option: option, Finding: finding, List: list, Number: number, Pieces: pieces}
}

func find(t *testing.T, b Buy, list, number string) Line {
	t.Helper()
	for _, basket := range b.Baskets {
		for _, l := range basket.Lines {
			if basket.Supplier == list && l.Number == number {
				return l
			}
		}
	}
	t.Fatalf("no line %s %s in %+v", list, number, b.Baskets)
	return Line{}
}

// player is the parts of nine accepted options of one job.
var player = []Need{
	need("T1", "A1", "K", "K-1501", 1), need("T1", "A1", "K", "K-1502", 2),
	need("T2b", "A2", "K", "K-1002", 3), need("T3/film", "A3", "K", "K-1101", 4),
	need("T4", "A4", "K", "K-1201", 3), need("T6", "A6", "K", "K-1401", 1), need("T6r", "A6r", "K", "K-1601", 1),
}

// TestPlayer: one basket, by hand:
//
//	K-1002 3 × 5.20 = 15.60      K-1501 1 × 9.50 = 9.50
//	K-1101 1 pack of 10 = 7.50   K-1502 1 pack of 5 = 3.00
//	K-1201 3 × 1.40 = 4.20       K-1601 1 × 1.20 = 1.20
//	K-1401 1 × 54.00             goods 95.00, carriage 3.00 from 50.00
func TestPlayer(t *testing.T) {
	b, err := Make(player, books)
	if err != nil {
		t.Fatal(err)
	}
	if len(b.Baskets) != 1 || len(b.Held) != 0 || len(b.Stock) != 0 {
		t.Fatalf("%d baskets, held %v, stock %v; want one basket only", len(b.Baskets), b.Held, b.Stock)
	}
	k := b.Baskets[0]
	if k.Goods != 9500 || k.Carriage != 300 || k.Total != 9800 || k.Short != 0 {
		t.Errorf("goods %d, carriage %d, total %d, short %d; want 9500, 300, 9800, 0", k.Goods, k.Carriage, k.Total, k.Short)
	}
	var numbers []string
	for _, l := range k.Lines {
		numbers = append(numbers, l.Number)
	}
	if !slices.IsSorted(numbers) || len(numbers) != 7 {
		t.Errorf("lines %v, want seven by number", numbers)
	}
	film := find(t, b, "K", "K-1101")
	if film.Packs != 1 || film.Pieces != 10 || film.Spare != 6 || film.PackPrice != 750 || film.Amount != 750 {
		t.Errorf("film line %+v, want 1 pack of 10 at 7.50, 6 spare", film)
	}
	if note := strings.Join(film.Notes, "; "); note != "4 of 10 used, 6 go to stock" {
		t.Errorf("film note %q", note)
	}
	if note := k.Notes; !slices.Equal(note, []string{"5.00 more in goods brings carriage down to 0.00"}) {
		t.Errorf("basket notes %q", note)
	}
}

// TestPooling: two findings that need one part share a pack.
func TestPooling(t *testing.T) {
	tests := []struct {
		name   string
		pieces []int
		shelf  int
		packs  int
		spare  int
		stock  int
		note   string
	}{
		{"4 + 6 fill a pack of ten", []int{4, 6}, 0, 1, 0, 0, ""},
		{"4 + 7 take two", []int{4, 7}, 0, 2, 9, 0, "11 of 20 used, 9 go to stock"},
		{"3 on the shelf save the second pack", []int{4, 7}, 3, 1, 2, 3, "3 from stock; 8 of 10 used, 2 go to stock"},
		{"one spare", []int{9}, 0, 1, 1, 0, "9 of 10 used, 1 goes to stock"},
		{"the shelf holds all", []int{4, 7}, 20, 0, 0, 11, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var needs []Need
			for i, n := range tt.pieces {
				needs = append(needs, need("T"+string(rune('1'+i)), "F"+string(rune('1'+i)), "K", "K-1101", n))
			}
			with := books
			with.Shelf = []Holding{{"K", "K-1101", tt.shelf}}
			b, err := Make(needs, with)
			if err != nil {
				t.Fatal(err)
			}
			if tt.stock > 0 && (len(b.Stock) != 1 || b.Stock[0].Pieces != tt.stock || b.Stock[0].Left != tt.shelf-tt.stock) {
				t.Errorf("stock %+v, want %d taken", b.Stock, tt.stock)
			}
			if tt.packs == 0 {
				if len(b.Baskets) != 0 {
					t.Errorf("baskets %+v, want none", b.Baskets)
				}
				return
			}
			l := find(t, b, "K", "K-1101")
			if l.Packs != tt.packs || l.Spare != tt.spare || len(l.Uses) != len(tt.pieces) || strings.Join(l.Notes, "; ") != tt.note {
				t.Errorf("line %+v, want %d packs, %d spare, note %q", l, tt.packs, tt.spare, tt.note)
			}
		})
	}
}

// TestHeldBack: nothing is dropped, each need says why it is not ordered.
func TestHeldBack(t *testing.T) {
	undecided, over := need("T5", "A5", "K", "K-1601", 2), need("T3/film 400", "A3", "R", "R-2302", 4)
	undecided.Undecided = true
	over.Barred = "over: 445.2 V > 400 V"
	tests := []struct {
		need Need
		want string
	}{
		{undecided, "not decided"},
		{over, "over: 445.2 V > 400 V"},
		{need("T1", "A1", "K", "K-9", 1), `list K has no part "K-9"`},
		{need("T1", "A1", "R", "R-9", 1), `list R has no price for "R-9"`},
		{need("T1", "A1", "R", "R-8", 1), `r.csv: "R-8" comes in packs of 0, want 1 or more`},
		{need("T1", "A1", "R", "R-7", 1), `list R has part "R-7" on 2 lines; which one is not known`},
		{need("T1", "A1", ShopStock, "knob", 3), "2 on the shelf, 3 needed"},
	}
	with := books
	with.Shelf = []Holding{{ShopStock, "knob", 2}}
	for _, tt := range tests {
		b, err := Make([]Need{tt.need}, with)
		if err != nil {
			t.Fatal(err)
		}
		if len(b.Held) != 1 || b.Held[0].Reason != tt.want || len(b.Baskets) != 0 {
			t.Errorf("%s: held %+v, baskets %+v; want held: %s", tt.need.Number, b.Held, b.Baskets, tt.want)
		}
	}
	two := []Need{need("T1", "A1", ShopStock, "knob", 2), need("T2", "A2", ShopStock, "knob", 1)}
	if b, err := Make(two, with); err != nil || len(b.Held) != 1 || b.Held[0].Reason != "0 on the shelf, 1 needed" || b.Stock[0].Pieces != 2 {
		t.Errorf("two needs of two knobs: %+v, %v; want the first met and the second held", b, err)
	}
	b, err := Make([]Need{need("T1", "A1", ShopStock, "knob", 2)}, with)
	if err != nil || len(b.Stock) != 1 || b.Stock[0].Left != 0 || len(b.Baskets)+len(b.Held) != 0 {
		t.Errorf("the shop's own part: %+v, %v; want 2 from the shelf and nothing else", b, err)
	}
}

// TestTerms: minimum order, carriage steps, what is not stated.
func TestTerms(t *testing.T) {
	tests := []struct {
		name                   string
		need                   Need
		goods, carriage, short money.Amount
		stated                 bool
		note                   string
	}{
		{"below the least order", need("T1", "A1", "K", "K-1501", 1), 950, 650, 1050, true, "below the least order of 20.00 by 10.50"},
		{"the least order itself", need("T1", "A1", "K", "K-20", 1), 2000, 650, 0, true, "30.00 more in goods brings carriage down to 3.00"},
		{"the second step itself", need("T1", "A1", "K", "K-50", 1), 5000, 300, 0, true, "50.00 more in goods brings carriage down to 0.00"},
		{"first step", need("T1", "A1", "K", "K-1501", 3), 2850, 650, 0, true, "21.50 more in goods brings carriage down to 3.00"},
		{"in the second step", need("T1", "A1", "K", "K-1401", 1), 5400, 300, 0, true, "46.00 more"},
		{"free above the last", need("T1", "A1", "K", "K-1401", 2), 10800, 0, 0, true, ""},
		{"carriage not stated", need("T1", "A1", "R", "R-2301", 1), 1400, 0, 0, false, "carriage not stated"},
	}
	for _, tt := range tests {
		b, err := Make([]Need{tt.need}, books)
		if err != nil {
			t.Fatal(err)
		}
		got := b.Baskets[0]
		if got.Goods != tt.goods || got.Carriage != tt.carriage || got.Short != tt.short || got.CarriageStated != tt.stated ||
			got.Total != tt.goods+tt.carriage || !strings.Contains(strings.Join(got.Notes, "\n"), tt.note) {
			t.Errorf("%s: %+v; want goods %d, carriage %d, short %d, note %q", tt.name, got, tt.goods, tt.carriage, tt.short, tt.note)
		}
		if said := strings.Contains(strings.Join(got.Notes, "\n"), "below the least order"); said != (tt.short > 0) {
			t.Errorf("%s: below the least order is said: %v, notes %q", tt.name, said, got.Notes)
		}
	}
}

// TestSupplierRules: least packs, stated stock, a pack price rounded once.
func TestSupplierRules(t *testing.T) {
	o := offer("K", "X", "x", "0.333", 3, 2) // 3 · .333 = .999, a pack 1.00
	o.MinPacks, o.StockPacks = 4, 3
	b, err := Make([]Need{need("T1", "A1", "K", "X", 2)}, Books{Offers: []Offer{o}, Terms: books.Terms})
	if err != nil {
		t.Fatal(err)
	}
	l := find(t, b, "K", "X")
	if l.Packs != 4 || l.Pieces != 12 || l.PackPrice != 100 || l.Amount != 400 {
		t.Errorf("line %+v, want 4 packs of 3 at 1.00", l)
	}
	want := []string{"2 of 12 used, 10 go to stock", "the supplier sells at least 4 packs", "the supplier states 3 in stock, 4 ordered"}
	if !slices.Equal(l.Notes, want) {
		t.Errorf("notes %q, want %q", l.Notes, want)
	}
}

func TestMakeRefuses(t *testing.T) {
	tests := []struct {
		name  string
		need  Need
		books Books
		want  string
	}{
		{"no pieces", need("T1", "A1", "K", "K-1501", 0), books, "need K-1501 of T1: 0 pieces"},
		{"no terms", need("T1", "A1", "K", "K-1501", 1), Books{Offers: books.Offers}, "order to K: no terms for that supplier"},
		{"terms twice", need("T1", "A1", "K", "K-1501", 1), Books{Terms: []Terms{{List: "K"}, {List: "K"}}}, "terms of K are given twice"},
		{"shelf below zero", need("T1", "A1", "K", "K-1501", 1), Books{Shelf: []Holding{{"K", "X", -1}}}, "shelf: -1 pieces"},
	}
	for _, tt := range tests {
		if _, err := Make([]Need{tt.need}, tt.books); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %q", tt.name, err, tt.want)
		}
	}
}

// TestEveryPieceIsAccounted: over many needs, pieces needed = from stock +
// ordered − spare + held, and goods are the sum of the printed lines.
func TestEveryPieceIsAccounted(t *testing.T) {
	numbers := []string{"K-1101", "K-1502", "K-1002", "K-none"}
	for seed := range 200 {
		var needs []Need
		total := 0
		for i := range 1 + seed%7 {
			n := need("T", "F", "K", numbers[(seed+i*i)%4], 1+(seed*7+i*3)%13)
			n.Undecided = (seed+i)%5 == 0
			total += n.Pieces
			needs = append(needs, n)
		}
		with := books
		with.Shelf = []Holding{{"K", "K-1101", seed % 9}, {"K", "K-1002", seed % 4}}
		b, err := Make(needs, with)
		if err != nil {
			t.Fatal(err)
		}
		if got := accounted(t, b); got != total {
			t.Fatalf("seed %d: %d pieces needed, %d accounted for: %+v", seed, total, got, b)
		}
	}
}

func accounted(t *testing.T, b Buy) int {
	pieces := 0
	for _, h := range b.Held {
		pieces += h.Need.Pieces
	}
	for _, s := range b.Stock {
		pieces += s.Pieces
	}
	for _, basket := range b.Baskets {
		var goods money.Amount
		for _, l := range basket.Lines {
			pieces += l.Pieces - l.Spare
			goods += l.Amount
			if l.Spare >= l.Pack || l.Pieces != l.Pack*l.Packs || l.Amount != l.PackPrice*money.Amount(l.Packs) {
				t.Errorf("line %+v: spare must be under a pack, pieces and amount must follow the packs", l)
			}
		}
		if goods != basket.Goods || basket.Total != basket.Goods+basket.Carriage {
			t.Errorf("basket %s: lines %d, goods %d, carriage %d, total %d", basket.Supplier, goods, basket.Goods, basket.Carriage, basket.Total)
		}
	}
	return pieces
}
