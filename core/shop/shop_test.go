package shop

import (
	"slices"
	"strings"
	"testing"

	"lugworth/core/money"
)

const goodSheet = `key,value,source
name,"Bench, the",own
currency,GBP,own

rate,60.00,own policy
fee,60.00,own policy
markup,20 %,own policy
reserve,5,own policy
tax_on,none,not registered
date_test,longest-lead,own policy
house_color,green,a key of another release
`

func read(t *testing.T, text string) Sheet {
	t.Helper()
	s, err := ReadSheet("shop.csv", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestReadSheet(t *testing.T) {
	s := read(t, goodSheet)
	if s.Name != "Bench, the" || s.Currency.Code != "GBP" || s.Rate.String() != "60" || s.Markup.String() != "20" ||
		s.Reserve.String() != "5" || s.TaxOn != TaxOnNone || s.DateTest != LongestLead {
		t.Errorf("%+v", s)
	}
	if !slices.Equal(s.Unknown, []string{"house_color"}) || len(s.Wrong)+len(s.Missing)+len(s.Unsourced) > 0 {
		t.Errorf("unknown %v, wrong %v, missing %v, unsourced %v", s.Unknown, s.Wrong, s.Missing, s.Unsourced)
	}
	if e, ok := s.Get("rate"); !ok || e != (Entry{"rate", "60.00", "own policy", 5}) {
		t.Errorf("rate: %+v", e)
	}
	if s.Has("tax") || !s.Has("rate") {
		t.Errorf("has tax %v, rate %v; want false, true", s.Has("tax"), s.Has("rate"))
	}
}

func TestWrongValues(t *testing.T) {
	tests := []struct{ row, want string }{
		{"rate,sixty,own", `column "value": "sixty" is not a number`},
		{"rate,-1,own", `column "value": "-1" is negative`},
		{"currency,QQQ,own", `column "value": "QQQ" is not a word we know here; did you mean a code of ISO 4217, such as USD?`},
		{"tax_on,labor,own", `column "value": "labor" is not a word we know here; did you mean none or parts or all?`},
		{"tax,800,own", `column "value": "800" is out of range; did you mean at most 100 percent?`},
		{"quarter,perhaps,own", `column "value": "perhaps" is not a word we know here; did you mean yes or no?`},
		{"rounding,up,own", `column "value": "up" is not a word we know here; did you mean half up or half even or down?`},
		{"valid_days,soon,own", `column "value": "soon" is out of range; did you mean 0 to 3650 whole days?`},
		{"rate,\"1,5\",own", `column "value": "1,5" is not a number`},
		{",5,own", `column "key": "" is missing`},
	}
	for _, tt := range tests {
		s := read(t, "key,value,source\n"+tt.row+"\n")
		if len(s.Wrong) != 1 || !strings.HasPrefix(s.Wrong[0].Error(), "shop.csv: line 2, "+tt.want) {
			t.Errorf("%s: %v, want %s", tt.row, s.Wrong, tt.want)
		}
	}
	s := read(t, "key,value,source\nrate,60,a\nrate,70,b\n")
	if len(s.Wrong) != 1 || s.Wrong[0].Line != 3 || s.Rate.String() != "60" {
		t.Errorf("a key twice: %v, rate %s; want line 3 wrong, 60", s.Wrong, s.Rate)
	}
	if !slices.Equal(s.Missing, []string{"name", "currency", "fee", "markup", "reserve"}) {
		t.Errorf("missing %v", s.Missing)
	}
	if _, err := ReadSheet("shop.csv", []byte("key,value\nrate,60\n")); err == nil {
		t.Error("a sheet without sources was read")
	}
}

// TestWriteBack: what was read is written byte for byte, and a change touches
// one row only.
func TestWriteBack(t *testing.T) {
	for _, text := range []string{
		goodSheet, "\xEF\xBB\xBF" + goodSheet, strings.ReplaceAll(goodSheet, "\n", "\r\n"), strings.TrimSuffix(goodSheet, "\n"),
		"key;value;source\nname;B\xE4nk;own\n", "key,value,source\n", "key,value,source\n\n\n",
	} {
		if got := string(read(t, text).Write()); got != text {
			t.Errorf("wrote %q, want %q", got, text)
		}
	}
	changed := read(t, goodSheet).Set("rate", "65.00", "new policy")
	want := strings.Replace(goodSheet, "rate,60.00,own policy", "rate,65.00,new policy", 1)
	if got := string(changed.Write()); got != want || changed.Rate.String() != "65" {
		t.Errorf("wrote %q, rate %s", got, changed.Rate)
	}
	added := read(t, strings.TrimSuffix(goodSheet, "\n")).Set("tax", "8", "check with your local authority")
	if got, want := string(added.Write()), goodSheet+"tax,8,check with your local authority\n"; got != want || added.Tax.String() != "8" {
		t.Errorf("wrote %q, want %q", got, want)
	}
	empty := Sheet{}.Set("name", "New bench", "own")
	if got := string(empty.Write()); got != "key,value,source\nname,New bench,own\n" {
		t.Errorf("a new sheet is %q", got)
	}
	semicolon := read(t, "key;value;source\nname;Old;own\n").Set("name", "New; bench", "own")
	if semicolon.Name != "New; bench" {
		t.Errorf("name %q in a semicolon sheet", semicolon.Name)
	}
}

func TestDigest(t *testing.T) {
	a := read(t, goodSheet)
	same := read(t, strings.ReplaceAll(goodSheet, "\n", "\r\n"))
	if a.Digest() != same.Digest() || len(a.Digest()) != 64 {
		t.Errorf("line ends changed the digest: %s %s", a.Digest(), same.Digest())
	}
	for _, other := range []Sheet{a.Set("rate", "60.01", "own policy"), a.Set("rate", "60.00", "other"), a.Set("tax", "8", "own")} {
		if other.Digest() == a.Digest() {
			t.Errorf("a change did not change the digest")
		}
	}
}

// TestSellingPrice: landed × (1 + mark-up), rounded half up once. By hand,
// with 20 %: 17.40 → 20.88; 0.432 → 0.5184; 3.612 → 4.3344; 1.118 → 1.3416;
// 1.32 → 1.584; 0.0041666 → 0.00499992, which is nothing.
func TestSellingPrice(t *testing.T) {
	s := read(t, goodSheet)
	for _, tt := range []struct{ landed, want string }{
		{"17.40", "20.88"}, {"62.40", "74.88"}, {"0.432", "0.52"}, {"3.612", "4.33"}, {"1.118", "1.34"}, {"1.32", "1.58"}, {"0.0041666", "0.00"},
	} {
		got, err := SellingPrice(s, money.MustDecimal(tt.landed))
		if err != nil || s.Currency.Format(got) != tt.want {
			t.Errorf("SellingPrice(%s) = %s, %v; want %s", tt.landed, s.Currency.Format(got), err, tt.want)
		}
	}
	// With 25 % and dollars: 0.75 → 0.9375 → 0.94; 5.20 → 6.50; 14.00 → 17.50.
	s = s.Set("markup", "25", "own").Set("currency", "USD", "own")
	for _, tt := range []struct{ landed, want string }{{"0.75", "0.94"}, {"5.20", "6.50"}, {"14.00", "17.50"}} {
		got, err := SellingPrice(s, money.MustDecimal(tt.landed))
		if err != nil || s.Currency.Format(got) != tt.want {
			t.Errorf("SellingPrice(%s) = %s, %v; want %s", tt.landed, s.Currency.Format(got), err, tt.want)
		}
	}
	if _, err := SellingPrice(Sheet{}, money.One); err == nil {
		t.Error("a sheet without a mark-up gave a price")
	}
}
