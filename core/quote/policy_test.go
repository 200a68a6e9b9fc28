package quote

import (
	"slices"
	"strings"
	"testing"

	"lugworth/core/shop"
)

// TestPolicyOf: what the sheet's tax rows make of a bill.
func TestPolicyOf(t *testing.T) {
	tests := []struct {
		name, rows string
		on         []Class
	}{
		{"parts only", "tax_on,parts,s", []Class{Parts}},
		{"everything", "tax_on,all,s", []Class{Labor, Parts, Other, Fee}},
		{"nothing", "tax_on,none,s", nil},
		{"registered", "tax_on,all,s\nregistered,yes,s", []Class{Labor, Parts, Other, Fee}},
		{"not registered", "tax_on,all,s\nregistered,no,s", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			text := "key,value,source\ncurrency,USD,s\nrate,80.00,s\nfee,80.00,s\nmarkup,25,s\ntax,8.00,the tax row\n" +
				"subcontract_markup,10,s\nallowance,10,s\n" + tt.rows + "\n"
			sheet, err := shop.ReadSheet("shop.csv", []byte(text))
			if err != nil || len(sheet.Wrong) > 0 {
				t.Fatal(err, sheet.Wrong)
			}
			p, err := PolicyOf(sheet, "shop.csv")
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(p.Tax.On, tt.on) || p.Fee != 8000 || p.Currency.Code != "USD" || p.Tax.Source != "the tax row" ||
				p.Tax.Percent.Cmp(dec("8")) != 0 || p.SubMarkup.Cmp(dec("10")) != 0 || p.Allowance.Cmp(dec("10")) != 0 {
				t.Errorf("policy %+v, want tax on %v", p, tt.on)
			}
			if r := RateOf(sheet, "shop.csv"); r.Hour.Cmp(dec("80")) != 0 || r.Currency != p.Currency || r.Where != "shop.csv" {
				t.Errorf("rate %+v", r)
			}
		})
	}
	sheet, _ := shop.ReadSheet("shop.csv", []byte("key,value,source\ncurrency,USD,s\nfee,99999999999999999.5,s\n"))
	if _, err := PolicyOf(sheet, "shop.csv"); err == nil || !strings.Contains(err.Error(), "shop.csv: fee") {
		t.Errorf("a fee too large: %v", err)
	}
}
