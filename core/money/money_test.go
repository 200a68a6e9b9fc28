package money

import (
	"errors"
	"math"
	"testing"

	"lugworth/core/unit"
)

func currency(t *testing.T, code string) Currency {
	t.Helper()
	c, err := CurrencyOf(code)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestCurrency(t *testing.T) {
	tests := []struct {
		code   string
		amount Amount
		text   string
	}{
		{"USD", 47157, "471.57"},
		{"usd", -5, "-0.05"},
		{"GBP", 0, "0.00"},
		{"JPY", 1200, "1200"},
		{"KWD", 1234, "1.234"},
		{"CLF", 12345, "1.2345"},
		{"EUR", math.MinInt64, "-92233720368547758.08"},
		{"EUR", math.MaxInt64, "92233720368547758.07"},
	}
	for _, tt := range tests {
		c := currency(t, tt.code)
		if got := c.Format(tt.amount); got != tt.text {
			t.Errorf("%s.Format(%d) = %q, want %q", c.Code, tt.amount, got, tt.text)
		}
		if got, err := c.Read(tt.text); err != nil || got != tt.amount {
			t.Errorf("%s.Read(%q) = %d, %v, want %d", c.Code, tt.text, got, err, tt.amount)
		}
	}
	for _, code := range []string{"", "XXQ", "US", "D G", "DOLLAR"} {
		if _, err := CurrencyOf(code); err == nil {
			t.Errorf("CurrencyOf(%q): no error", code)
		}
	}
	for _, text := range []string{"1.234", "x", "", "1,50"} {
		if got, err := currency(t, "USD").Read(text); err == nil {
			t.Errorf("USD.Read(%q) = %d, no error", text, got)
		}
	}
	if got := (Sum{47157, currency(t, "USD")}).String(); got != "471.57 USD" {
		t.Errorf("Sum prints %q", got)
	}
}

// TestExponentTables keeps the four lists apart.
func TestExponentTables(t *testing.T) {
	seen := map[string]bool{}
	for _, list := range []string{noDecimals, twoDecimals, threeDecimals, fourDecimals} {
		for i := 1; i+3 < len(list)+1 && i < len(list); i += 4 {
			code := list[i : i+3]
			if seen[code] || list[i+3] != ' ' {
				t.Errorf("%q comes twice or is cut", code)
			}
			seen[code] = true
		}
	}
	if len(seen) < 150 {
		t.Errorf("%d currencies, want more than 150", len(seen))
	}
}

func TestSelling(t *testing.T) {
	tests := []struct {
		name                             string
		price, rate, unrecovered, markup string
		code                             string
		landed                           string
		want                             string
	}{
		// 9.50 × 1.25 = 11.875, half up 11.88.
		{"lead kit", "9.50", "1", "0", "25", "USD", "9.5", "11.88"},
		// 4.20 × 0.86 = 3.612; × 1.2 = 4.3344.
		{"euro list, tax in the price", "4.20", "0.86", "0", "20", "GBP", "3.612", "4.33"},
		// 1.30 × 0.86 = 1.118; × 1.2 = 1.3416.
		{"second euro row", "1.30", "0.86", "0", "20", "GBP", "1.118", "1.34"},
		// 52.00 × 1.2 = 62.40; × 1.2 = 74.88.
		{"quartet", "52.00", "1", "20", "20", "GBP", "62.4", "74.88"},
		// 0.36 × 1.2 = 0.432; × 1.2 = 0.5184. Rounded first it would be 0.43 → 0.516.
		{"fuse", "0.36", "1", "20", "20", "GBP", "0.432", "0.52"},
		// 14.50 × 1.2 = 17.40; × 1.2 = 20.88.
		{"can", "14.50", "1", "20", "20", "GBP", "17.4", "20.88"},
		// 1250 × 1.1 = 1375; × 1.15 = 1581.25: yen have no decimals.
		{"yen", "1250", "1", "10", "15", "JPY", "1375", "1581"},
		// 1.2345 × 1.10 = 1.35795: dinars have three decimals.
		{"dinar", "1.2345", "1", "0", "10", "KWD", "1.2345", "1.358"},
	}
	for _, tt := range tests {
		c := currency(t, tt.code)
		landed, err := Landed(MustDecimal(tt.price), MustDecimal(tt.rate), MustDecimal(tt.unrecovered))
		if err != nil || landed.String() != tt.landed {
			t.Errorf("%s: landed %s, %v, want %s", tt.name, landed, err, tt.landed)
		}
		got, err := Selling(landed, MustDecimal(tt.markup), c, HalfUp)
		if err != nil || c.Format(got) != tt.want {
			t.Errorf("%s: selling %s, %v, want %s", tt.name, c.Format(got), err, tt.want)
		}
	}
	for _, bad := range [][2]string{{"0", "0"}, {"-1", "0"}, {"1", "-5"}} {
		if _, err := Landed(One, MustDecimal(bad[0]), MustDecimal(bad[1])); err == nil {
			t.Errorf("Landed at rate %s, tax %s: no error", bad[0], bad[1])
		}
	}
}

func TestRound(t *testing.T) {
	tests := []struct {
		text           string
		up, even, down Amount // minor units of a currency with two decimals
	}{
		{"0.005", 1, 0, 0},
		{"0.015", 2, 2, 1},
		{"-0.005", -1, 0, 0},
		{"-0.025", -3, -2, -2},
		{"2.344999", 234, 234, 234},
		{"2.5", 250, 250, 250},
		{"7", 700, 700, 700},
	}
	c := Currency{"USD", 2}
	for _, tt := range tests {
		for r, want := range map[Rounding]Amount{HalfUp: tt.up, HalfEven: tt.even, Down: tt.down} {
			if got, err := MustDecimal(tt.text).Round(c, r); err != nil || got != want {
				t.Errorf("%s rounded %v = %d, %v, want %d", tt.text, r, got, err, want)
			}
		}
	}
	// Hours .5/.7/1.5 at 80: (0.5 + 4·0.7 + 1.5)·80 = 384; a sixth is 64.00.
	if got, err := MustDecimal("384").RoundOver(6, c, HalfUp); err != nil || got != 6400 {
		t.Errorf("384/6 = %d, %v", got, err)
	}
	// 100/6 = 16.666…
	if got, err := MustDecimal("100").RoundOver(6, c, HalfUp); err != nil || got != 1667 {
		t.Errorf("100/6 = %d, %v", got, err)
	}
	if _, err := One.RoundOver(0, c, HalfUp); err == nil {
		t.Error("one over zero: no error")
	}
}

func TestTax(t *testing.T) {
	tests := []struct {
		amount  Amount
		percent string
		r       Rounding
		want    Amount
	}{
		// 36.64 × 8 % = 2.9312.
		{3664, "8.00", HalfUp, 293},
		// 110.89 × 8 % = 8.8712.
		{11089, "8", HalfUp, 887},
		// 109.63 × 8 % = 8.7704.
		{10963, "8", HalfUp, 877},
		// 0.50 × 5 % = 0.025: the tie.
		{50, "5", HalfUp, 3},
		{50, "5", HalfEven, 2},
		{50, "5", Down, 2},
		// A refund is taxed like the sale.
		{-50, "5", HalfUp, -3},
		// 10.00 × 8.875 % = 0.8875.
		{1000, "8.875", HalfUp, 89},
	}
	for _, tt := range tests {
		if got, err := Tax(tt.amount, MustDecimal(tt.percent), tt.r); err != nil || got != tt.want {
			t.Errorf("Tax(%d, %s, %v) = %d, %v, want %d", tt.amount, tt.percent, tt.r, got, err, tt.want)
		}
	}
	// 120.00 with 20 % inside: net 100.00. 20 % of the gross would be 24.00.
	// 9.99 with 20 % inside: 9.99/1.2 = 8.325, half up 8.33; tax 1.66.
	for gross, want := range map[Amount]Amount{12000: 2000, 999: 166, 0: 0, -12000: -2000} {
		if got, err := TaxInside(gross, MustDecimal("20"), HalfUp); err != nil || got != want {
			t.Errorf("TaxInside(%d, 20) = %d, %v, want %d", gross, got, err, want)
		}
	}
	if _, err := TaxInside(100, MustDecimal("-5"), HalfUp); err == nil {
		t.Error("TaxInside at a negative rate: no error")
	}
}

func TestAllocate(t *testing.T) {
	tests := []struct {
		total   Amount
		weights []int64
		want    []Amount
	}{
		// 10.00 over three: 3.33⅓ each; the odd cent goes to the first.
		{1000, []int64{1, 1, 1}, []Amount{334, 333, 333}},
		{-1000, []int64{1, 1, 1}, []Amount{-334, -333, -333}},
		// 1.00 by 1:2:0 = 33⅓, 66⅔, 0: the cent goes to the larger remainder.
		{100, []int64{1, 2, 0}, []Amount{33, 67, 0}},
		{0, []int64{5, 5}, []Amount{0, 0}},
	}
	for _, tt := range tests {
		got, err := Allocate(tt.total, tt.weights)
		if err != nil || len(got) != len(tt.want) {
			t.Fatalf("Allocate(%d, %v) = %v, %v", tt.total, tt.weights, got, err)
		}
		for i := range got {
			if got[i] != tt.want[i] {
				t.Errorf("Allocate(%d, %v) = %v, want %v", tt.total, tt.weights, got, tt.want)
			}
		}
	}
	for _, bad := range [][]int64{nil, {0, 0}, {1, -1}, {math.MaxInt64, math.MaxInt64, math.MaxInt64}} {
		if _, err := Allocate(100, bad); err == nil {
			t.Errorf("Allocate over %v: no error", bad)
		}
	}
}

func TestOverflow(t *testing.T) {
	top := Amount(math.MaxInt64)
	checks := map[string]error{}
	_, checks["plus"] = top.Plus(1)
	_, checks["minus"] = Amount(math.MinInt64).Minus(1)
	_, checks["minus least"] = Amount(0).Minus(math.MinInt64)
	_, checks["times"] = top.Times(2)
	_, checks["total"] = Total(top, 1, -5)
	_, checks["muldiv"] = MulDiv(math.MinInt64, -1, 1, HalfUp)
	_, checks["mul"] = Whole(math.MaxInt64).Mul(Whole(10))
	_, checks["mul decimals"] = Decimal{1, 18}.Mul(Decimal{1, 1})
	_, checks["add"] = Whole(math.MaxInt64).Add(MustDecimal("0.1"))
	_, checks["neg"] = Whole(math.MinInt64).Neg()
	_, checks["round"] = Whole(math.MaxInt64).Round(Currency{"USD", 2}, HalfUp)
	for name, err := range checks {
		if !errors.Is(err, ErrOverflow) {
			t.Errorf("%s: %v, want overflow", name, err)
		}
	}
	// Only the result must fit: (2^62 × 1000)/1000.
	if v, err := MulDiv(1<<62, 1000, 1000, Down); err != nil || v != 1<<62 {
		t.Errorf("MulDiv = %d, %v", v, err)
	}
}

func TestReadDecimal(t *testing.T) {
	tests := []struct {
		text string
		mark Mark
		want string
		code unit.Code
	}{
		{"3,10", Comma, "3.1", ""},
		{"3,10", Either, "3.1", ""},
		{"0.75", Point, "0.75", ""},
		{".75", Point, "0.75", ""},
		{"-0,5", Either, "-0.5", ""},
		{"−5", Either, "-5", ""},
		{"1,234", Either, "", unit.AmbiguousText},
		{"1.234", Either, "", unit.AmbiguousText},
		{"0.750", Either, "0.75", ""},
		{"1,234", Point, "1234", ""},
		{"1,234", Comma, "1.234", ""},
		{"1,234.50", Either, "1234.5", ""},
		{"1,234.50", Point, "1234.5", ""},
		{"1.234,50", Either, "1234.5", ""},
		{"1.234,50", Comma, "1234.5", ""},
		{"1 234,50", Comma, "1234.5", ""},
		{"1\u00a0234,50", Either, "1234.5", ""},
		{"1 234,567", Either, "1234.567", ""},
		{"1'234.50", Point, "1234.5", ""},
		{"1,234,567", Either, "1234567", ""},
		{"12.345.678,90", Comma, "12345678.9", ""},
		{"1,23,456", Point, "", unit.NotANumber},
		{"12,50", Point, "", unit.NotANumber},
		{"1.5", Comma, "", unit.NotANumber},
		{"1.234.50", Either, "", unit.NotANumber},
		{"1,234.50", Comma, "", unit.NotANumber},
		{"4S.00", Point, "", unit.NotANumber},
		{"1e3", Point, "", unit.NotANumber},
		{"NaN", Point, "", unit.NotANumber},
		{"--5", Point, "", unit.NotANumber},
		{".", Either, "", unit.NotANumber},
		{"", Either, "", unit.Empty},
		{"  ", Either, "", unit.Empty},
		{"9223372036854775807", Point, "9223372036854775807", ""},
		{"-9223372036854775808", Point, "-9223372036854775808", ""},
		{"9223372036854775808", Point, "", unit.OutOfRange},
		{"0.0000000000000000001", Point, "", unit.OutOfRange},
		{"0.10000000000000000000000000", Point, "0.1", ""},
	}
	for _, tt := range tests {
		d, err := ReadDecimal(tt.text, tt.mark)
		var p unit.Problem
		errors.As(err, &p)
		if p.Code != tt.code || err == nil && d.String() != tt.want {
			t.Errorf("ReadDecimal(%q, %v) = %s, %v, want %q %q", tt.text, tt.mark, d, err, tt.want, tt.code)
		}
	}
	_, err := ReadDecimal("1,234", Either)
	if want := `"1,234" can be read in more than one way; did you mean 1234 or 1.234?`; err == nil || err.Error() != want {
		t.Errorf("error %v, want %s", err, want)
	}
	_, err = ReadDecimal("4,2O", Comma)
	if want := `"4,2O" is not a number; did you mean 4,20?`; err == nil || err.Error() != want {
		t.Errorf("error %v, want %s", err, want)
	}
}

func TestReadPrice(t *testing.T) {
	tests := []struct{ text, want, sign string }{
		{"$38.00", "38", "$"},
		{"4.20 EUR", "4.2", "EUR"},
		{"US$ 5", "5", "US$"},
		{"£14.50", "14.5", "£"},
		{"12,-", "12", ""},
		{"38.00", "38", ""},
	}
	for _, tt := range tests {
		d, sign, err := ReadPrice(tt.text, Either)
		if err != nil || d.String() != tt.want || sign != tt.sign {
			t.Errorf("ReadPrice(%q) = %s, %q, %v, want %s, %q", tt.text, d, sign, err, tt.want, tt.sign)
		}
	}
	for _, text := range []string{"on request", "45O", "$5 USD", "€", ""} {
		if d, sign, err := ReadPrice(text, Either); err == nil {
			t.Errorf("ReadPrice(%q) = %s, %q, no error", text, d, sign)
		}
	}
}

func FuzzReadDecimal(f *testing.F) {
	for _, s := range []string{"1,234.50", "1 234,50", "-0,5", "1'234", "9223372036854775808"} {
		f.Add(s, uint8(0))
	}
	f.Fuzz(func(t *testing.T, text string, m uint8) {
		d, err := ReadDecimal(text, Mark(m%3))
		if err != nil {
			return
		}
		if back, err := ReadDecimal(d.String(), Point); err != nil || back != d {
			t.Errorf("ReadDecimal(%q) = %s, which reads as %s, %v", text, d, back, err)
		}
	})
}

func BenchmarkTaxes(b *testing.B) {
	percent := MustDecimal("20")
	b.ReportAllocs()
	for range b.N {
		for a := range Amount(100) {
			_, _ = Tax(a*997, percent, HalfUp)
		}
	}
}
