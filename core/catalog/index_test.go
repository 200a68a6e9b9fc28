package catalog

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lugworth/core/money"
)

func scenarioLists(t testing.TB) []List {
	t.Helper()
	var out []List
	for _, l := range []struct{ name, text string }{{"U", minimumList}, {"R", commaList}, {"K", pointList}, {"E", latinList}} {
		got, err := ReadList(l.name, l.name+".csv", []byte(l.text), Terms{List: l.name}, nil)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, got)
	}
	return out
}

func numbers(os []*Offer) string {
	var s []string
	for _, o := range os {
		s = append(s, o.Number)
	}
	return strings.Join(s, " ")
}

func TestFind(t *testing.T) {
	x := NewIndex(scenarioLists(t))
	tests := []struct {
		name string
		want Want
		got  string
	}{
		{"filter of 18 to 33 µF, any volts", Want{Kinds: []Kind{Electrolytic}, ValueLow: 18e-6, ValueHigh: 33e-6, Sections: 1}, "E-77 K-1002 R-2201 R-2401"},
		{"the same for 475 V", Want{Kinds: []Kind{Electrolytic}, ValueLow: 18e-6, ValueHigh: 33e-6, Sections: 1, MinVolts: 475}, "E-77 K-1002"},
		{"a can of three", Want{Kinds: []Kind{Electrolytic}, Sections: 3}, "K-1001"},
		{"both ends count", Want{Kinds: Couplers(), ValueLow: 20e-9, ValueHigh: 22e-9}, "K-1101 R-2301 R-2302"},
		{"coupler of 0.1 µF", Want{Kinds: Couplers(), ValueLow: 90e-9, ValueHigh: 110e-9}, "E-81 E-82"},
		{"a resistor with watts", Want{Kinds: Resistors(), ValueLow: 80, ValueHigh: 330, MinWatts: 5}, "K-1601 U-130"},
		{"a tube by type", Want{Tube: "el84"}, "U-120"},
		{"a tube by type and count", Want{Tube: "EL84", Count: 2}, ""},
		{"words", Want{Words: []string{"Insulated"}}, "U-160"},
		{"kinds twice", Want{Kinds: []Kind{Cord, Cord}}, "K-1501"},
		{"form", Want{Kinds: []Kind{Electrolytic}, Form: Can}, "K-1001 U-101"},
		{"nothing asked", Want{Kinds: []Kind{Mica}}, ""},
	}
	for _, tt := range tests {
		if got := numbers(x.Find(tt.want)); got != tt.got {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.got)
		}
	}
	if len(x.All()) != 21 {
		t.Errorf("%d offers in all, want 21", len(x.All()))
	}
}

func TestByNumber(t *testing.T) {
	x := NewIndex(scenarioLists(t))
	if o, ok := x.ByNumber("K", "K-1002"); !ok || o.Line != 5 {
		t.Errorf("K-1002: %v %v, want line 5", o, ok)
	}
	for _, miss := range []struct{ list, number string }{{"R", "K-1002"}, {"K", "k-1002"}, {"K", ""}} {
		if o, ok := x.ByNumber(miss.list, miss.number); ok {
			t.Errorf("ByNumber(%q, %q) found %v, want nothing", miss.list, miss.number, o.Number)
		}
	}
}

// TestFindAgainstScan compares the index with looking at every offer.
func TestFindAgainstScan(t *testing.T) {
	l, err := ReadList("X", "x.csv", []byte(bigList(3000)), Terms{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	x := NewIndex([]List{l})
	for i := range 60 {
		low := 1e-9 * float64(1+i*i)
		w := Want{Kinds: []Kind{Kind(1 + i%5), Film}, ValueLow: low, ValueHigh: low * 3, MinVolts: float64(i * 10)}
		var want []*Offer
		for j := range l.Offers {
			if w.answers(&l.Offers[j]) {
				want = append(want, &l.Offers[j])
			}
		}
		slices.SortFunc(want, compareOffers)
		if got := x.Find(w); numbers(got) != numbers(want) {
			t.Errorf("%+v: %d found, want %d", w, len(got), len(want))
		}
	}
}

// TestLanded: landed = price × rate × (1 + tax not reclaimed), not rounded.
func TestLanded(t *testing.T) {
	d := money.MustDecimal
	tests := []struct {
		price, rate, tax string
		inPrice          bool
		want             string
	}{
		{"14.50", "1", "20", false, "17.4"},         // 14.50 × 1.20
		{"0.36", "1", "20", false, "0.432"},         // 0.36 × 1.20
		{"4.20", "0.86", "20", true, "3.612"},       // 4.20 × 0.86, the tax is in it
		{"4.20", "0.86", "20", false, "4.3344"},     // 4.20 × 0.86 × 1.20
		{"1.30", "0.86", "0", false, "1.118"},       // 1.30 × 0.86
		{"0.0001", "1", "17.5", false, "0.0001175"}, // nothing is rounded
	}
	for _, tt := range tests {
		o := Offer{Price: d(tt.price), Priced: true, Currency: "EUR"}
		got, err := Landed(o, Terms{Currency: "EUR", Rate: d(tt.rate), TaxInPrice: tt.inPrice, TaxNotReclaimed: d(tt.tax)})
		if err != nil || got.String() != tt.want {
			t.Errorf("Landed(%s × %s, %s %%, in price %v) = %s, %v; want %s", tt.price, tt.rate, tt.tax, tt.inPrice, got, err, tt.want)
		}
	}
	for _, bad := range []Offer{{Currency: "EUR"}, {Priced: true, Price: d("1"), Currency: "USD"}} {
		if got, err := Landed(bad, Terms{Currency: "EUR", Rate: d("1")}); err == nil {
			t.Errorf("Landed(%+v) = %s, want an error", bad, got)
		}
	}
}

func TestReadTerms(t *testing.T) {
	const head = "list,currency,rate,tax_in_price,tax_not_reclaimed,decimal,pack_column,lead_column,min_order,carriage\n"
	good := head + "K,usd,1,no,0,point,Pack,Lead days,10.00,9.50; 0 from 60.00\nE,EUR,0.86,yes,20 %,comma,,,,\n"
	terms, problems := ReadTerms("terms.csv", []byte(good))
	if len(problems) > 0 || len(terms) != 2 {
		t.Fatalf("%d terms, problems %v", len(terms), problems)
	}
	k, e := terms[0], terms[1]
	if k.Currency != "USD" || k.PackColumn != "Pack" || k.MinOrder.String() != "10" || len(k.Carriage) != 2 ||
		k.Carriage[0].Fee.String() != "9.5" || k.Carriage[1].From.String() != "60" || !k.Carriage[1].Fee.IsZero() {
		t.Errorf("K: %+v", k)
	}
	if !e.TaxInPrice || e.TaxNotReclaimed.String() != "20" || e.Decimal != money.Comma || e.Carriage != nil || e.Rate.String() != "0.86" {
		t.Errorf("E: %+v", e)
	}
	tests := []struct{ row, want string }{
		{"K,QQQ,1,no,0,,,,,", `column "currency": "QQQ" is not a word we know here; did you mean a code of ISO 4217, such as USD?`},
		{"K,USD,,no,0,,,,,", `column "rate": "" is missing`},
		{"K,USD,0,no,0,,,,,", `column "rate": "0" is out of range`},
		{"K,USD,1,maybe,0,,,,,", `column "tax_in_price": "maybe" is not a word we know here; did you mean yes or no?`},
		{"K,USD,1,no,-5,,,,,", `column "tax_not_reclaimed": "-5" is negative`},
		{"K,USD,1,no,0,dot,,,,", `column "decimal": "dot" is not a word we know here; did you mean point or comma or a blank cell?`},
		{"K,USD,1,no,0,,,,,9 from 60", `column "carriage": "9 from 60" is out of range; did you mean steps that rise, as in "9.50; 0 from 60.00"?`},
		{",USD,1,no,0,,,,,", `column "list": "" is missing`},
	}
	for _, tt := range tests {
		terms, problems := ReadTerms("t.csv", []byte(head+tt.row+"\n"))
		if want := "t.csv: line 2, " + tt.want; len(terms) != 0 || len(problems) != 1 || problems[0].Error() != want {
			t.Errorf("%s: %d terms, %v; want %s", tt.row, len(terms), problems, want)
		}
	}
	if _, problems := ReadTerms("t.csv", []byte("list,rate\nK,1\n")); len(problems) != 1 || problems[0].Column != "currency" {
		t.Errorf("no currency column: %v", problems)
	}
	if terms, problems := ReadTerms("t.csv", []byte(good+"K,USD,1,no,0,,,,,\n")); len(terms) != 2 || len(problems) != 1 {
		t.Errorf("a list twice: %d terms, %v", len(terms), problems)
	}
}

func BenchmarkFind(b *testing.B) {
	l, err := ReadList("X", "x.csv", []byte(bigList(100_000)), Terms{}, nil)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("build", func(b *testing.B) {
		for b.Loop() {
			NewIndex([]List{l})
		}
	})
	x := NewIndex([]List{l})
	for _, volts := range []float64{450, 1000} {
		b.Run(fmt.Sprintf("find-%.0fV", volts), func(b *testing.B) {
			for b.Loop() {
				x.Find(Want{Kinds: []Kind{Electrolytic}, ValueLow: 20e-6, ValueHigh: 24e-6, MinVolts: volts})
			}
		})
	}
}
