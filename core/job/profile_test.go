package job_test

import (
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/order"
)

// A supplier's form, kept in profiles.csv, is what its order is written in:
// an order is exported, read back by the same form, and is the same order.
func TestOrdersAreWrittenBySuppliersForms(t *testing.T) {
	list := "SKU,Description,Value,Volts,Price,Pack,Stock,Lead days\n-12V,\"3-core lead, \"\"red\"\" 2 µF\",,,9.50,1,12,2\n'=2+2,Fuse slow 2A,2A T,,0.60,5,40,2\nM-60,Wirewound 5W,300R,,1.20,1,9,2\nM-50,6V6GT matched pair,,,36.00,1,3,2\n"
	profiles := "list,heading,field,delimiter,decimal,header,bom,part_as_is,reference_max\nM,Artikelnr.,part,semicolon,comma,yes,yes,yes,7\nM,Menge,packs\nM,Stück,pieces\nM,Preis,pack price\nM,Summe,amount\nM,Text,text\nM,Unser Zeichen,reference\n"
	j, b := marten(t, job.File{Name: "lists/M.csv", Data: []byte(list)}, job.File{Name: "profiles.csv", Data: []byte(profiles)})
	r := job.Derive(j, b, "")
	files, warnings, err := r.OrderFiles()
	if err != nil {
		t.Fatal(err)
	}
	data := ""
	for _, f := range files {
		if f.Name == "order-M.csv" {
			data = string(f.Data)
		}
	}
	want := "\uFEFFArtikelnr.;Menge;Stück;Preis;Summe;Text;Unser Zeichen\r\n" +
		"-12V;1;1;9,50;9,50;\"3-core lead, \"\"red\"\" 2 µF\";TB-0203\r\n"
	if !strings.HasPrefix(data, want) || !strings.Contains(data, "=2+2;1;5;3,00;3,00;Fuse slow 2A;TB-0203\r\n") {
		t.Errorf("written %q\nwant %q and more", data, want)
	}
	said := strings.Join(warnings, "\n")
	for _, w := range []string{`"-12V" starts with a minus sign`, `"=2+2" is written as it is`, `reference "TB-0203 A1" is longer than 7 characters`} {
		if !strings.Contains(said, w) {
			t.Errorf("not warned of %s: %s", w, said)
		}
	}
	p := b.ProfileOf("M")
	rows, err := order.ReadOrder([]byte(data), p)
	if err != nil {
		t.Fatal(err)
	}
	again, _, err := order.WriteRows(rows, p)
	if err != nil || string(again) != data {
		t.Errorf("read back and written again %q, %v", again, err)
	}
	if got := b.ProfileOf("N"); got.Delimiter != ',' || !got.Header {
		t.Errorf("a supplier without a form: %+v", got)
	}
}
