package e2e

import (
	"os"
	"path/filepath"
	"testing"
)

const (
	holm = "Part;Desc;Price;Trade;25+;Pack;Lead;Stock\n" +
		"H-1;Film 22nF 630V axial;0,80;0,62;0,55;10;7;400\n" +
		"H-2;Film 47nF 630V;0,9O;0,72;0,65;10;7;yes\n" +
		"H-3;Electrolytic 22uF 500V axial;5,20;4,90;4,60;1;3;12\n" +
		"H-4;6V6GT matched pair;54,00;49,00;;1;3;2\n"
	odd = "Part;Desc;Price\nO-1;Film 22nF 630V;1,250\nO-2;Film 47nF 630V;2,500\n"
	// list K of the job with the pair of output tubes dearer and gone, the
	// wirewound out of the list, a cord new in it
	nextK = "SKU,Description,Value,Volts,Unit price USD,Pack,Stock,Lead days\n" +
		"K-1501,3-core lead kit,,,9.50,1,12,2\nK-1502,Fuse slow 2A,2A T,,0.60,5,40,2\nK-1001,Can 20+20+20,20/20/20uF,475,38.00,1,2,2\n" +
		"K-1002,Axial electrolytic,22uF,500,5.20,1,30,2\nK-1101,Film axial,.022,630,0.75,10,200,2\nK-1201,Axial electrolytic,25uF,50,1.40,1,50,2\n" +
		"K-1301,Carbon comp 1W 10%,100K,500,0.90,1,80,2\nK-1401,6V6GT matched pair,,,61.00,1,0,2\nK-1701,Cord 3-core,,,8.00,1,9,2\n"
)

// bringList brings a price list on the shop's books.
func (p *Page) bringList(name, text string) {
	p.t.Helper()
	path := filepath.Join(tempDir(p.t), name+".csv")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		p.t.Fatal(err)
	}
	p.Give(`#books [data-act="open-file"]`, path)
}

// A supplier's first list is asked what is in its columns, its terms are
// written, a row of it is mended; the next list of another says which quote it
// breaks. Both ways of holding the tablet.
func TestListsOfSuppliers(t *testing.T) {
	for _, size := range []struct {
		Size
		name string
	}{{Landscape, "wide"}, {Portrait, "tall"}} {
		t.Run(size.name, func(t *testing.T) {
			p := given(t, size.Size, "jobs/drover.txtar")
			see := func(state string) {
				t.Helper()
				p.Shot("lists-" + state + "-" + size.name)
				p.Accessible(state + " " + size.name)
			}
			p.books()
			p.bringList("Holm", holm)
			p.WaitText("h1", "What is in each column?")
			see("columns")
			p.Choose("#col-Holm-3-field", "price")
			p.Sees("#preview-Holm", "0.62", "0.55 from 25")
			p.Touch(`[data-act="coming-take"]`)
			p.Sees("#list-Holm", "4 rows: 4 read, 0 set aside")

			p.Touch(`[data-act="list-open"][data-id="Holm"]`)
			p.Touch(`[data-act="list-columns"]`)
			p.Choose("#col-Holm-2-field", "price")
			p.Sees("#preview-Holm", "is not a number; perhaps 0,90")
			p.Touch(`[data-act="coming-take"]`)
			p.WaitText("h1", "What does the new list change?")
			see("read-otherwise")
			p.Touch(`[data-act="coming-take"]`)
			p.Sees("#list-Holm", "4 rows: 3 read, 1 set aside", "Line 3, column Price")
			see("aside")
			p.TapText("#list-Holm button", "It is 0,90")
			p.Sees("#list-Holm", "4 rows: 4 read, 0 set aside")
			p.writeTerms(see)
			p.toLists()

			p.bringList("odd", odd)
			p.WaitText(".list-asked", "What does the mark in “1,250” mean?")
			see("mark")
			p.TapText(".list-asked button", "1.250")
			p.Sees("#preview-odd", "1.25")
			p.Touch(`[data-act="coming-drop"]`)

			p.Kept()
			p.bringList("K", nextK)
			p.WaitText("h1", "What does the new list change?")
			p.Sees("#broken-K", "It breaks 1 open quote", "67.50", "76.25", "+8.75", "no longer in the list")
			see("changes")
			p.Touch(`[data-act="coming-drop"]`)
			p.Sees("#list-K", "9 rows: 9 read")
		})
	}
}

// writeTerms writes the terms of Holm, wrongly at first.
func (p *Page) writeTerms(see func(string)) {
	p.t.Helper()
	p.Touch(`[data-act="terms-open"][data-id="Holm"]`)
	p.Wait(`document.querySelector("#terms-currency") !== null`)
	p.Fill("#terms-currency", "krone")
	p.TapText(".list-terms button", "Keep these terms")
	p.WaitText(".list-terms", "three letters")
	see("terms-wrong")
	for _, f := range [][2]string{{"currency", "DKK"}, {"rate", "0,15"}, {"rate_date", "2026-03-02"}, {"tax_not_reclaimed", "0"}, {"fee0", "49"}, {"from1", "500"}, {"fee1", "0"}} {
		p.Fill("#terms-"+f[0], f[1])
	}
	p.Choose("#terms-tax_in_price", "no")
	p.TapText(".list-terms button", "Keep these terms")
	p.Sees("#terms-Holm", "1 DKK = 0.15 USD", "2026-03-02", "49.00; 0.00 from 500.00")
	see("terms")
}
