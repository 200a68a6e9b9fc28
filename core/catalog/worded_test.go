package catalog

import (
	"fmt"
	"strings"
	"testing"

	"lugworth/core/money"
)

// TestHeadingsInFiveLanguages: every field under a heading of each language.
// Common practice, no source.
func TestHeadingsInFiveLanguages(t *testing.T) {
	for _, tt := range []struct {
		field    Field
		headings string // English, German, French, Dutch, Spanish
	}{
		{FieldNumber, "Part number|Bestell-Nr.|Réf. article|Bestelnummer|Código"},
		{FieldText, "Description|Bezeichnung|Désignation|Omschrijving|Descripción"},
		{FieldValue, "Value|Wert|Valeur|Waarde|Valor"},
		{FieldVolts, "Rated voltage|Nennspannung|Tension de service|Werkspanning|Voltaje"},
		{FieldWatts, "Power rating|Belastbarkeit|Puissance|Vermogen|Potencia"},
		{FieldTol, "Tolerance|Toleranz|Tolérance|Tolerantie|Tolerancia"},
		{FieldPrice, "Unit price|Stückpreis|Prix unitaire|Prijs per stuk|Precio unitario"},
		{FieldCurr, "Currency|Währung|Devise|Valuta|Moneda"},
		{FieldPack, "Pack size|VPE|Conditionnement|Verpakking|Paquete"},
		{FieldMinimum, "MOQ|Mindestmenge|Quantité minimum|Minimum afname|Pedido mínimo"},
		{FieldStock, "In stock|Lagerbestand|En stock|Voorraad|Existencias"},
		{FieldLead, "Lead time|Lieferzeit|Délai de livraison|Levertijd|Plazo de entrega"},
		{FieldDate, "Price date|Preisdatum|Date prix|Prijsdatum|Fecha precio"},
		{FieldBreaks, "Price breaks|Staffelpreise|Prix dégressifs|Staffelprijzen|Precios por cantidad"},
		{FieldPer, "Price unit|Preiseinheit|Unité de prix|Prijseenheid|Unidad de precio"},
	} {
		for _, h := range strings.Split(tt.headings, "|") {
			if got, _ := headingField(h); got != tt.field {
				t.Errorf("heading %q is %q, want %q", h, got, tt.field)
			}
		}
	}
}

// TestBreakHeadings: headings that hold a price from a number of pieces on.
func TestBreakHeadings(t *testing.T) {
	for _, tt := range []struct {
		heading string
		from    int
	}{
		{"10+", 10}, {"1+", 1}, {"10-24", 10}, {"1 – 9", 1}, {"ab 10", 10}, {"Preis ab 10 Stück", 10}, {"à partir de 25", 25}, {"dès 100", 100}, {"vanaf 10 stuks", 10},
		{"desde 50", 50}, {"≥ 25", 25}, {">= 25", 25}, {"from 25", 25}, {"100 and up", 100}, {"Price 100", 100}, {"Staffelpreis 10", 10}, {"prix par 10", 10},
		{"Price per 100", 0}, {"Preis/100", 0}, {"10", 0}, {"24-10", 24}, {"10-2", 0}, {"1/2 W", 0}, {"Price", 0}, {"5-pin", 0},
	} {
		if got := breakFrom(tt.heading); got != tt.from {
			t.Errorf("%q holds from %d, want %d", tt.heading, got, tt.from)
		}
	}
}

// TestReadBreaks: prices by number of pieces in one cell, written out by hand.
func TestReadBreaks(t *testing.T) {
	for _, tt := range []struct {
		cell string
		mark money.Mark
		want string
	}{
		{"10+: 1.20; 25+: 0.95", money.Point, "10 1.2, 25 0.95"},
		{"1-9 1.50 / 10-24 1.20", money.Point, "1 1.5, 10 1.2"},
		{"1,50 (ab 10: 1,20, ab 25: 1,00)", money.Comma, "1 1.5, 10 1.2, 25 1"},
		{"1.50, 1.20 from 10", money.Point, "1 1.5, 10 1.2"},
		{"10 pcs: $1.20 | 100 pcs: $1.00", money.Point, "10 1.2, 100 1"},
		{"ab 10 Stück 1,20; ab 100 Stück 0,90", money.Comma, "10 1.2, 100 0.9"},
		{"1,20 dès 10", money.Comma, "10 1.2"},
		{"10 @ 1.20", money.Point, "10 1.2"},
		{"1-9: 1.50\n10-: 1.20", money.Point, "1 1.5, 10 1.2"},
		{"1.50", money.Point, "1 1.5"},
		{"25+: 0.95; 10+: 1.20", money.Point, ""}, // falls
		{"10+: 1.20; 10+: 0.95", money.Point, ""}, // twice
		{"10 20 30", money.Point, ""},
		{"10+: 1.2O", money.Point, ""},
		{"10+: £1.20", money.Point, ""}, // another currency
		{"0+: 1.20", money.Point, ""},
		{"10+: -1.20", money.Point, ""},
		{"", money.Point, ""},
	} {
		breaks, ok := readBreaks(tt.cell, "USD", tt.mark)
		var got []string
		for _, b := range breaks {
			got = append(got, fmt.Sprintf("%d %s", b.Pieces, b.Price))
		}
		if strings.Join(got, ", ") != tt.want || ok != (tt.want != "") {
			t.Errorf("%q: %v %v, want %q", tt.cell, got, ok, tt.want)
		}
	}
}

// TestPieceOf: the price of one of n, exact where it comes out even, else the
// least millionth that pays for them all.
func TestPieceOf(t *testing.T) {
	for _, tt := range []struct {
		price string
		n     int
		want  string
		even  bool
	}{
		{"36.00", 100, "0.36", true}, {"7.00", 1000, "0.007", true}, {"1.00", 3, "0.333334", false}, {"1.00", 8, "0.125", true}, {"0.01", 7, "0.001429", false},
		{"2.00", 12, "0.166667", false}, {"3.60", 10, "0.36", true}, {"1.20", 25, "0.048", true}, {"5", 1, "5", true}, {"100", 300, "0.333334", false},
	} {
		got, even, code := pieceOf(money.MustDecimal(tt.price), tt.n)
		if got.String() != tt.want || even != tt.even || code != "" {
			t.Errorf("%s for %d: %s %v %s, want %s %v", tt.price, tt.n, got, even, code, tt.want, tt.even)
		}
	}
}

// TestStockWords and lead words in five languages; −1 is "some, or not
// stated". Five working days are a week: 5 · 7 / 5.
func TestStockAndLeadWords(t *testing.T) {
	for _, tt := range []struct {
		cell   string
		pieces int
		known  bool
	}{
		{"auf Lager", -1, true}, {"12 auf Lager", 12, true}, {"op voorraad", -1, true}, {"en stock", -1, true}, {"in stock: 12", 12, true}, {"> 100", 100, true}, {"mehr als 10", 10, true},
		{"noch 3", 3, true}, {"ca. 50", 50, true}, {"nicht lieferbar", 0, true}, {"rupture de stock", 0, true}, {"niet op voorraad", 0, true}, {"agotado", 0, true}, {"sur commande", 0, true},
		{"1.000 Stück", 1000, true}, {"perhaps", -1, false}, {"1-5", -1, false}, {"-3", -1, false}, {"2.5", -1, false},
	} {
		if n, known := readStock(tt.cell); n != tt.pieces || known != tt.known {
			t.Errorf("stock %q: %d %v, want %d %v", tt.cell, n, known, tt.pieces, tt.known)
		}
	}
	for _, tt := range []struct {
		cell  string
		days  int
		known bool
	}{
		{"sofort", 0, true}, {"2-3 Wochen", 21, true}, {"sous 5 jours", 5, true}, {"5 working days", 7, true}, {"3-5 Werktage", 7, true}, {"2 werkdagen", 3, true}, {"binnen 3 dagen", 3, true},
		{"dentro de 2 semanas", 14, true}, {"innerhalb von 10 Tagen", 10, true}, {"Lieferzeit 1 Woche", 7, true}, {"24/48h", 2, true}, {"KW 48", -1, false}, {"soon", -1, false}, {"auf Anfrage", -1, true},
		{"en stock", -1, true}, {"-3", -1, false}, {"1 mois", 31, true},
	} {
		if n, known := readLead(tt.cell); n != tt.days || known != tt.known {
			t.Errorf("lead %q: %d %v, want %d %v", tt.cell, n, known, tt.days, tt.known)
		}
	}
}

// TestThousandVolts: "1.000 V" in a list with decimal commas is a thousand
// volts; where the list does not say, it is asked.
func TestThousandVolts(t *testing.T) {
	for _, tt := range []struct {
		cell string
		mark money.Mark
		want string
	}{
		{"1.000 V", money.Comma, "1000 "}, {"1,000", money.Point, "1000 "}, {"1.000 V", money.Point, "1 "}, {"1.000", money.Either, "0 ambiguous 1000 or 1.000"}, {"0.500", money.Either, "0.5 "},
		{"1.600V", money.Comma, "1600 "}, {"450", money.Either, "450 "}, {"1.5 kV", money.Either, "1500 "},
	} {
		s := newSpecs()
		s.mark = tt.mark
		r := s.rating(tt.cell, 1)
		if got := strings.TrimRight(fmt.Sprintf("%g %s %s", r.amount, r.code, r.hint), " ") + " "; strings.TrimSpace(got) != strings.TrimSpace(tt.want) {
			t.Errorf("%q: %q, want %q", tt.cell, got, tt.want)
		}
	}
}

// TestPackPrice: one answer for the list settles all rows that name a pack in
// words only. 3.60 for a pack of 10 is 0.36 each.
func TestPackPrice(t *testing.T) {
	const text = "Part,Desc,Price\nA-1,Fuse T2A pk of 10,3.60\nA-2,Fuse T1A,0.36\n"
	for _, tt := range []struct{ price, want string }{
		{"", "A-2 0.36 × 1"}, {"each", "A-1 3.6 × 10, A-2 0.36 × 1"}, {"pack", "A-1 0.36 × 10, A-2 0.36 × 1"},
	} {
		m := ProposeMapping([]string{"Part", "Desc", "Price"}, nil)
		m.PackPrice = tt.price
		l, err := ReadList("X", "x.csv", []byte(text), Terms{Currency: "USD"}, &m)
		if err != nil {
			t.Fatal(err)
		}
		counts(t, l)
		var got []string
		for _, o := range l.Offers {
			got = append(got, fmt.Sprintf("%s %s × %d", o.Number, o.Price, o.Pack))
		}
		if strings.Join(got, ", ") != tt.want {
			t.Errorf("%q: %v, want %s", tt.price, got, tt.want)
		}
	}
}

// FuzzCells: whatever stands in a cell, what is read of it makes sense.
func FuzzCells(f *testing.F) {
	for _, s := range []string{"10+: 1.20; 25+: 0.95", "1-9 1.50 / 10-24 1.20", "1,50 (ab 10: 1,20)", "pk of 10", "2-3 Wochen", "12 auf Lager", "1.000 V", "2x50uF", "20 + 20 @ 450", "≥", "1 × ", "٣+: 1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, cell string) {
		for _, mark := range []money.Mark{money.Either, money.Point, money.Comma} {
			breaks, ok := readBreaks(cell, "USD", mark)
			if ok != (len(breaks) > 0) {
				t.Fatalf("%q: %v %v", cell, breaks, ok)
			}
			for i, b := range breaks {
				if b.Pieces < 1 || b.Price.Sign() <= 0 || i > 0 && b.Pieces <= breaks[i-1].Pieces {
					t.Fatalf("%q: %v", cell, breaks)
				}
			}
		}
		if n, _ := readStock(cell); n < -1 {
			t.Fatalf("%q: stock %d", cell, n)
		}
		if n, _ := readLead(cell); n < -1 {
			t.Fatalf("%q: lead %d", cell, n)
		}
		if n := breakFrom(cell); n < 0 || n > 1_000_000 {
			t.Fatalf("%q: from %d", cell, n)
		}
		var p Part
		(&said{text: cell}).part(&p)
		if p.Words != plain(cell) {
			t.Fatalf("%q: words %q, want %q", cell, p.Words, plain(cell))
		}
	})
}
