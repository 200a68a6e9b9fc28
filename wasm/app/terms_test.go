package app

import (
	"strconv"
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/wasm/port"
)

func typeTerms(m Model, list string, pairs ...string) (Model, []port.Effect) {
	msg := port.Submitted{Where: port.Where{Act: "terms", ID: list}, Fresh: freshAs(700)}
	for i := 0; i < len(pairs); i += 2 {
		msg.Fields = append(msg.Fields, port.Field{Name: pairs[i], Value: pairs[i+1]})
	}
	return Update(m, msg)
}

func termsText(m Model) string {
	for _, f := range m.Shop.Files {
		if f.Name == termsFile {
			return string(f.Data)
		}
	}
	return ""
}

// Terms typed on the page are the file's: written once they are right, with
// every fault said beside its cell before.
func TestTypeTerms(t *testing.T) {
	m := opened(t, "drover")
	before := termsText(m)
	m, _ = press(m, "terms-open", "K", "", "")
	if m.Screen.Desk.Terms.List != "K" || m.Screen.Desk.Book != BookTerms {
		t.Fatalf("form %+v", m.Screen.Desk.Terms)
	}
	m, effects := typeTerms(m, "K", "currency", "dollars", "rate", "-1", "rate_date", "5 Jan", "tax_in_price", "", "tax_not_reclaimed", "", "min_order", "1,234", "fee0", "", "from1", "60", "fee1", "")
	for _, column := range []string{"currency", "rate", "rate_date", "tax_in_price", "tax_not_reclaimed", "min_order", "fee1"} {
		if m.Screen.Desk.Terms.Wrong[column] == "" {
			t.Errorf("nothing is said of %s", column)
		}
	}
	if termsText(m) != before || len(effects) > 0 {
		t.Fatal("faulty terms were written")
	}
	m, _ = typeTerms(m, "K", "currency", "eur", "rate", "1,10", "rate_date", "2026-03-01", "tax_in_price", "no", "tax_not_reclaimed", "20 %", "decimal", "point", "min_order", "10.00", "fee0", "9,50", "from1", "60.00", "fee1", "0")
	if len(m.Screen.Desk.Terms.Wrong) > 0 {
		t.Fatalf("right terms: %v", m.Screen.Desk.Terms.Wrong)
	}
	got := m.Shop.base.TermsOf("K")
	if got.Currency != "EUR" || got.Rate.String() != "1.1" || got.RateDate != "2026-03-01" || got.TaxNotReclaimed.String() != "20" || got.MinOrder.String() != "10" || len(got.Carriage) != 2 || got.Carriage[0].Fee.String() != "9.5" {
		t.Errorf("terms %+v", got)
	}
	if o, _ := m.Open.Books.Offer("K", "K-1002"); o == nil || o.Currency != "EUR" {
		t.Errorf("the list was not read again: %+v", o)
	}
	for _, line := range strings.Split(strings.TrimSpace(before), "\n")[1:] {
		if !strings.HasPrefix(line, "K,") && !strings.Contains(termsText(m), strings.TrimSpace(line)) {
			t.Errorf("the line %q is gone", line)
		}
	}
}

// A supplier without terms gets a row; a shop without the file gets a file.
func TestTermsOfANewSupplier(t *testing.T) {
	m, _ := taking(opened(t, "drover"), port.File{Name: "Holm.csv", Bytes: []byte("Number,Description,Price\nH-1,Fuse T2A,0.40\n")})
	m.Shop.Files = without(m.Shop.Files, termsFile)
	if names := strings.Join(m.Suppliers(), " "); !strings.Contains(names, "Holm") {
		t.Errorf("suppliers %q", names)
	}
	m, effects := typeTerms(m, "Holm", "currency", "DKK", "rate", "0.15", "tax_in_price", "yes", "tax_not_reclaimed", "0")
	if got := m.Shop.base.TermsOf("Holm"); got.Currency != "DKK" || !got.TaxInPrice || got.Line == 0 || len(effects) == 0 {
		t.Errorf("terms %+v, wrong %v", got, m.Screen.Desk.Terms.Wrong)
	}
}

func without(files []job.File, name string) (out []job.File) {
	for _, f := range files {
		if f.Name != name {
			out = append(out, f)
		}
	}
	return out
}

// However many steps a file has, the form keeps them all.
func TestTermsKeepEveryStep(t *testing.T) {
	m := opened(t, "drover")
	pairs := []string{"currency", "USD", "rate", "1", "tax_in_price", "no", "tax_not_reclaimed", "0", "fee0", "30"}
	for i := 1; i <= 7; i++ {
		pairs = append(pairs, "from"+strconv.Itoa(i), strconv.Itoa(100*i), "fee"+strconv.Itoa(i), strconv.Itoa(30-3*i))
	}
	m, _ = typeTerms(m, "K", pairs...)
	if got := m.Shop.base.TermsOf("K"); len(m.Screen.Desk.Terms.Wrong) > 0 || len(got.Carriage) != 8 || got.Carriage[7].Fee.String() != "9" {
		t.Errorf("%v, %d steps", m.Screen.Desk.Terms.Wrong, len(got.Carriage))
	}
}
