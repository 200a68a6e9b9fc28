package catalog

import (
	"strings"
	"testing"
)

const termsText = "list,currency,rate,tax_in_price,tax_not_reclaimed,note\nK,USD,1,no,0,\"our, oldest\"\n\nbad,XX,one,maybe,,\nR,EUR,1.10,no,20,x"

// What nobody writes in stays byte for byte; what is written reads back.
func TestTermsBook(t *testing.T) {
	b, err := OpenTermsBook("terms.csv", []byte(termsText))
	if err != nil || string(b.Write()) != termsText {
		t.Fatalf("%v\n%q", err, b.Write())
	}
	if got := strings.Join(b.Lists(), " "); got != "K bad R" {
		t.Errorf("lists %q", got)
	}
	if c, ok := b.Get("R", "rate"); c != "1.10" || !ok {
		t.Errorf("rate of R: %q %v", c, ok)
	}
	tests := []struct {
		list  string
		cells []TermsCell
		want  string
	}{
		{"R", []TermsCell{{"rate", "1.15"}}, strings.Replace(termsText, "R,EUR,1.10,no,20,x", "R,EUR,1.15,no,20,x\r\n", 1)},
		{"K", []TermsCell{{"currency", "EUR"}, {"rate_date", ""}}, strings.Replace(termsText, "K,USD", "K,EUR", 1)},
		{"N", []TermsCell{{"currency", "GBP"}, {"rate", "1.25"}, {"tax_in_price", "no"}, {"tax_not_reclaimed", "0"}}, termsText + "\r\nN,GBP,1.25,no,0\r\n"},
		{"K", []TermsCell{{"carriage", "9.50; 0 from 60.00"}},
			strings.Replace(strings.Replace(termsText, "claimed,note", "claimed,note,carriage", 1), `oldest"`, `oldest",9.50; 0 from 60.00`, 1)},
	}
	for _, tt := range tests {
		n := b.Set(tt.list, tt.cells...)
		if got := string(n.Write()); got != tt.want {
			t.Errorf("%s %v:\n%q, want\n%q", tt.list, tt.cells, got, tt.want)
		}
		terms, _ := ReadTerms("terms.csv", n.Write())
		found := false
		for _, x := range terms {
			found = found || x.List == tt.list
		}
		if !found || string(b.Write()) != termsText {
			t.Errorf("%s %v: does not read back, or the book before was changed", tt.list, tt.cells)
		}
	}
	if p := b.Problems("terms.csv", "bad"); len(p) != 4 || p[0].Line != 4 {
		t.Errorf("problems of the bad row: %v, want currency, rate, tax_in_price and tax_not_reclaimed of line 4", p)
	}
	if p := b.Problems("terms.csv", "K"); len(p) > 0 {
		t.Errorf("problems of K: %v", p)
	}
}

func TestNewTermsBook(t *testing.T) {
	b, err := OpenTermsBook("terms.csv", nil)
	if err != nil {
		t.Fatal(err)
	}
	b = b.Set("Møller", TermsCell{"currency", "DKK"}, TermsCell{"rate", "0.15"}, TermsCell{"tax_in_price", "no"}, TermsCell{"tax_not_reclaimed", "0"}, TermsCell{"rate_date", "2026-01-05"})
	terms, problems := ReadTerms("terms.csv", b.Write())
	if len(problems) > 0 || len(terms) != 1 || terms[0].List != "Møller" || terms[0].Rate.String() != "0.15" || terms[0].RateDate != "2026-01-05" {
		t.Errorf("%+v %v", terms, problems)
	}
}
