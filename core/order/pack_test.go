package order

import (
	"strings"
	"testing"

	"lugworth/core/money"
)

// broken is an offer with further prices.
func broken(pack, least, stock int, price string, rows ...any) Offer {
	o := offer("K", "K-B", "with breaks", price, pack, 2)
	o.MinPacks, o.StockPacks = least, stock
	for i := 0; i < len(rows); i += 2 {
		o.Breaks = append(o.Breaks, PriceFrom{rows[i].(int), money.MustDecimal(rows[i+1].(string))})
	}
	return o
}

// A price that holds from so many pieces on holds for all of them.
func TestLinesByBreaks(t *testing.T) {
	for _, c := range []struct {
		say    string
		o      Offer
		pieces []int // one need each
		packs  int
		amount money.Amount
		note   string
	}{
		{"below the break", broken(1, 0, -1, "0.40", 10, "0.30"), []int{4}, 4, 160, ""},
		{"on it", broken(1, 0, -1, "0.40", 10, "0.30"), []int{10}, 10, 300, "0.3 a piece from 10 on"},
		{"pooled by two needs", broken(1, 0, -1, "0.40", 10, "0.30"), []int{6, 4}, 10, 300, "0.3 a piece from 10 on"},
		// 8 at 0.40 = 3.20, 10 at 0.30 = 3.00
		{"bought up to it", broken(1, 0, -1, "0.40", 10, "0.30"), []int{8}, 10, 300, "0.3 a piece from 10 on: 10 pieces come to 3.00, 8 would come to 3.20"},
		// 7 at 0.40 = 2.80 < 3.00
		{"not worth it", broken(1, 0, -1, "0.40", 10, "0.30"), []int{7}, 7, 280, ""},
		{"too few in stock to buy up", broken(1, 0, 9, "0.40", 10, "0.30"), []int{8}, 8, 320, ""},
		// packs of 5: a break at 12 pieces is reached by the third pack
		{"inside a pack", broken(5, 0, -1, "0.40", 12, "0.30"), []int{11}, 3, 450, "0.3 a piece from 12 on"},
		// two packs of 5 at 0.40 = 4.00; three at 0.30 = 4.50
		{"a pack short of it", broken(5, 0, -1, "0.40", 12, "0.30"), []int{10}, 2, 400, ""},
		{"the least packs reach it", broken(1, 12, -1, "0.40", 10, "0.30"), []int{2}, 12, 360, "0.3 a piece from 10 on"},
		{"a dearer row is meant", broken(1, 0, -1, "0.40", 10, "0.50"), []int{10}, 10, 500, "0.5 a piece from 10 on"},
		{"the last of equal rows counts", broken(1, 0, -1, "0.40", 10, "0.30", 10, "0.20"), []int{10}, 10, 200, "0.2 a piece from 10 on"},
		{"more than there is in stock is ordered and said", broken(1, 0, 3, "0.40", 5, "0.30"), []int{4}, 5, 150, "the supplier states 3 in stock, 5 ordered"},
	} {
		var needs []Need
		for _, n := range c.pieces {
			needs = append(needs, need("T", "A", "K", "K-B", n))
		}
		buy, err := Make(needs, Books{Offers: []Offer{c.o}, Terms: []Terms{{List: "K", Currency: currency("USD")}}})
		if err != nil {
			t.Fatal(c.say, err)
		}
		l := find(t, buy, "K", "K-B")
		if l.Packs != c.packs || l.Amount != c.amount || l.Spare != l.Pieces-l.Needed {
			t.Errorf("%s: %d packs for %d, want %d for %d", c.say, l.Packs, l.Amount, c.packs, c.amount)
		}
		if said := strings.Join(l.Notes, "; "); !strings.Contains(said, c.note) || c.note == "" && strings.Contains(said, "a piece from") {
			t.Errorf("%s: said %q, want %q", c.say, said, c.note)
		}
	}
}

// K: carriage 6.50, 3.00 from 50.00, none from 100.00, least order 20.00.
func TestTopUps(t *testing.T) {
	for _, c := range []struct {
		say                     string
		number                  string
		pieces                  int
		amount, carriage, saves money.Amount
		spare                   string
		packs                   int
		costs                   money.Amount
	}{
		// 96.00 + 3.00 = 99.00; 100.00 + 0 = 100.00: not worth it
		{"one short of nothing", "K-1002", 18, 0, 0, 0, "", 0, 0}, // 93.60 + 3.00 = 96.60
		// 98.80 + 3.00 = 101.80; 1.20 of spares: 100.00, saves 1.80; one more at 5.20
		{"worth it", "K-1002", 19, 120, 0, 180, "K-1002", 1, 520},
		// 46.80 + 6.50 = 53.30; 3.20 of spares: 50.00 + 3.00 = 53.00, saves 0.30
		{"the middle step", "K-1002", 9, 320, 300, 30, "K-1002", 1, 520},
		// 15.60, least 20.00: 4.40 of spares are asked for: 20.00 + 6.50 = 26.50 against 22.10
		{"the least order", "K-1002", 3, 440, 650, -440, "K-1002", 1, 520},
		{"past all steps", "K-1002", 20, 0, 0, 0, "", 0, 0},
	} {
		buy, err := Make([]Need{need("T", "A", "K", c.number, c.pieces)}, books)
		if err != nil {
			t.Fatal(err)
		}
		b := buy.Baskets[0]
		u := b.TopUp
		if u.Amount != c.amount || u.Carriage != c.carriage || u.Saves != c.saves {
			t.Errorf("%s: %+v, want %d to carriage %d, saving %d", c.say, u, c.amount, c.carriage, c.saves)
		}
		switch {
		case c.spare == "":
			if u.Spare != nil {
				t.Errorf("%s: spare %+v, want none", c.say, u.Spare)
			}
		case u.Spare == nil || u.Spare.Number != c.spare || u.Spare.Packs != c.packs || u.Spare.Amount != c.costs:
			t.Errorf("%s: spare %+v, want %d packs of %s for %d", c.say, u.Spare, c.packs, c.spare, c.costs)
		}
		if got := b.Goods + b.Carriage; got != b.Total || b.Least() != b.Total-c.saves {
			t.Errorf("%s: total %d is not goods and carriage %d, or least %d is not %d", c.say, b.Total, got, b.Least(), b.Total-c.saves)
		}
	}
}

// Spares that are bought stand on the part's own line, as one order file
// holds a part once.
func TestExtras(t *testing.T) {
	with := books
	with.Extras = []Extra{{"K", "K-1002", 1}, {"K", "K-1501", 2}}
	buy, err := Make([]Need{need("T", "A", "K", "K-1002", 19)}, with)
	if err != nil {
		t.Fatal(err)
	}
	b, l := buy.Baskets[0], find(t, buy, "K", "K-1002")
	if len(b.Lines) != 1 || l.Packs != 20 || l.Extra != 1 || l.Spare != 1 || l.Amount != 10400 || b.Carriage != 0 || b.TopUp.Amount != 0 {
		t.Errorf("%+v", b)
	}
	with.Extras = []Extra{{"K", "K-1002", 0}}
	if _, err := Make([]Need{need("T", "A", "K", "K-1002", 19)}, with); err == nil {
		t.Error("no packs of spares are taken for some")
	}
}

// Price reckons what a search says, by another way.
func TestPriceOfAPlan(t *testing.T) {
	m := Market{
		Sellers: []Seller{{ID: "K", Carriage: []Fee{{0, 650}, {5000, 0}}}, {ID: "R", MinGoods: 500, Factor: Factor{12, 1}}},
		Packs:   []Pack{{ID: "a", Pieces: 1, Stock: -1, Prices: []Break{{1, 1000}}}, {ID: "b", Seller: 1, Pieces: 10, Stock: 1, Prices: []Break{{1, 400}}}},
		Wants:   []Want{{ID: "x", Pieces: 4, Fits: []Fit{{Pack: 0}}}, {ID: "y", Pieces: 4, Fits: []Fit{{Pack: 1}}}, {ID: "z", Pieces: 4, Fits: []Fit{{Pack: 1}}}},
	}
	// K 40.00 + 6.50 = 46.50; R 8 of 10 pieces: 4.00, least 5.00, × 1.2 = 6.00; in tenths of a cent
	cost, baskets, err := m.Price([]int{0, 1, 1})
	if err != nil || cost != 52500 || len(baskets) != 2 || baskets[1].TopUp != 100 {
		t.Errorf("%d, %+v, %v", cost, baskets, err)
	}
	goods, used, err := m.Without([]int{0, 1, 1}, 0)
	if err != nil || goods[0] != 0 || used[0] || goods[1] != 400 {
		t.Errorf("without x: %v %v %v", goods, used, err)
	}
	m.Wants[2].Pieces = 7
	if _, _, err := m.Price([]int{0, 1, 1}); err == nil {
		t.Error("11 pieces of 10 in stock are priced")
	}
}
