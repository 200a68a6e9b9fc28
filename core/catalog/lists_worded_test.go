package catalog

// wordedLists are files whose traps are words: five languages, prices and
// packs in text, currencies, and files that are no lists. Every wanted line
// was held against the file by hand.
var wordedLists = []awkward{
	// Five languages.
	{file: "german.csv",
		offers: []string{
			"2 D-1: electrolytic 22 µF 450 V -10/+50 %; 3.1, 2.8 from 10; pack 1 min 1 stock 12 lead 0",
			"3 D-2: carbon film 4.7 kΩ 350 V 1 W ±5 %; 0.12, 0.09 from 10; pack 10 min 2 stock 100 lead 21",
			"4 D-3: film 22 nF 630 V; 0.75; pack 1 min 1 stock 0 lead 7",
			"5 D-4: choke 5 H; 1234.5; pack 1 min 1 stock -1 lead -1"}, notes: []string{`line 5, column "Lieferzeit": "KW 48" is not a word we know here`}},
	{file: "french.csv",
		offers: []string{
			"2 F-1: electrolytic 22 µF 450 V; 3.1; pack 1 min 1 stock -1 lead 5",
			"3 F-2: metal film 100 kΩ 1 W; 0.15; pack 10 min 2 stock 0 lead 14",
			"4 F-3: fuse 2 A T; 0.4; pack 5 min 1 stock 20 lead 2",
			"5 F-4: tube ; 1234.5; pack 1 min 1 stock -1 lead -1"}},
	{file: "dutch.csv",
		offers: []string{
			"2 N-1: film 22 nF 630 V ±10 %; 0.75; pack 1 min 1 stock -1 lead 3",
			"3 N-2: electrolytic 50+50 µF 500 V; 12.5; pack 1 min 1 stock 0 lead 21",
			"4 N-3: wirewound 300 Ω 5 W; 1.2; pack 5 min 1 stock 0 lead 0",
			"5 N-4: fuse 2 A T; 0.4; pack 10 min 1 stock 2 lead 3"}},
	{file: "spanish.csv",
		offers: []string{
			"2 S-1: electrolytic 22 µF 450 V; 3.1; pack 1 min 1 stock -1 lead 21",
			"3 S-2: metal film 100 kΩ 1 W; 0.15; pack 10 min 2 stock 0 lead 7",
			"4 S-3: fuse 2 A T; 0.4; pack 5 min 1 stock 10 lead 0",
			"5 S-4: tube ; no price; pack 1 min 1 stock -1 lead -1"}, notes: []string{`line 5, column "Precio unitario": "a consultar" gives no price`}},
	{file: "lead-words.csv",
		offers: []string{
			"2 A-1: fuse 1 A T; 0.36; pack 1 min 1 stock -1 lead 0",
			"3 A-2: fuse 2 A T; 0.36; pack 1 min 1 stock -1 lead 21",
			"4 A-3: fuse 3 A T; 0.36; pack 1 min 1 stock -1 lead 5",
			"5 A-4: fuse 4 A T; 0.36; pack 1 min 1 stock -1 lead 7",
			"6 A-5: fuse 5 A T; 0.36; pack 1 min 1 stock -1 lead -1",
			"7 A-6: fuse 6 A T; 0.36; pack 1 min 1 stock -1 lead -1",
			"8 A-7: fuse 7 A T; 0.36; pack 1 min 1 stock -1 lead 2"}, notes: []string{`line 7, column "Lieferzeit": "KW 48" is not a word we know here`}},
	{file: "small-marks.csv",
		offers: []string{
			"2 A-1: choke 5 H; 1234.5; pack 1 min 1 stock -1 lead -1",
			"3 A-2: choke 4 H; 1234.5; pack 1 min 1 stock -1 lead -1",
			"4 A-3: choke 3 H; 12; pack 1 min 1 stock -1 lead -1",
			"5 A-4: choke 2 H; 12.5; pack 1 min 1 stock -1 lead -1"}},
	// Prices by number of pieces.
	{file: "breaks-in-text.csv",
		offers: []string{
			"2 A-1: fuse 2 A T; 1.2, 0.95 from 25; pack 1 min 10 stock -1 lead -1",
			"3 A-2: fuse 1 A T; 1.5, 1.2 from 10; pack 1 min 1 stock -1 lead -1",
			"4 A-3: fuse 3 A T; 1.5, 1.2 from 10, 0.9 from 100; pack 1 min 1 stock -1 lead -1",
			"5 A-4: fuse 4 A T; 1.5, 1.2 from 10; pack 1 min 1 stock -1 lead -1",
			"8 A-7: fuse 7 A T; 1.2; pack 1 min 10 stock -1 lead -1"},
		aside: []string{
			`line 6, column "Price": "10+: 1.20; 5+: 1.40" is not a number`,
			`line 7, column "Price": "10 20 30" is not a number`}},
	{file: "breaks-column-text.csv",
		offers: []string{
			"2 A-1: fuse 2 A T; 0.4, 0.3 from 10, 0.2 from 100; pack 1 min 1 stock -1 lead -1",
			"3 A-2: fuse 1 A T; 0.4, 0.3 from 10, 0.2 from 100; pack 1 min 1 stock -1 lead -1",
			"4 A-3: fuse 3 A T; 0.4, 0.3 from 10; pack 1 min 1 stock -1 lead -1",
			"6 A-5: fuse 5 A T; 0.4; pack 1 min 1 stock -1 lead -1"},
		aside: []string{
			`line 5, column "Staffelpreise": "1+: 0,45" disagrees with what is said elsewhere`,
			`line 7, column "Staffelpreise": "ask us" is not a number; did you mean prices as in 10+: 1.20; 25+: 0.95?`}},
	{file: "break-ranges.csv",
		offers: []string{
			"2 A-1: fuse 2 A T; 0.4, 0.35 from 10, 0.3 from 25; pack 1 min 1 stock -1 lead -1",
			"3 A-2: fuse 1 A T; 0.4, 0.3 from 25; pack 1 min 1 stock -1 lead -1"}},
	{file: "break-numbers.csv",
		offers: []string{
			"2 A-1: fuse 2 A T; 0.4, 0.35 from 10, 0.3 from 100; pack 1 min 1 stock -1 lead -1",
			"3 A-2: fuse 1 A T; 0.4, 0.36 from 10, 0.31 from 100; pack 1 min 1 stock -1 lead -1"}},
	// Packs and what a price is for. By hand: 36.00 for 100 is 0.36 each; 1.00 for 3 is 0.333333..., rounded up.
	{file: "packs-in-text.csv",
		offers: []string{
			"3 A-2: fuse 1 A T; 0.36; pack 10 min 1 stock -1 lead -1",
			"4 A-3: fuse 3 A T; 0.36; pack 10 min 1 stock -1 lead -1",
			"6 A-5: resistor 100 kΩ 1 W; 0.07; pack 100 min 1 stock -1 lead -1",
			"7 A-6: fuse 6 A T; 0.333334; pack 3 min 1 stock -1 lead -1",
			"8 A-7: tube ; 60; pack 1 min 1 stock -1 lead -1"},
		aside: []string{
			`line 2, column "Desc": "pk of 10" names a pack, and nothing says what the price is for; did you mean a price for each piece or for the pack of 10?`,
			`line 5, column "Desc": "ve 5" names a pack, and nothing says what the price is for; did you mean a price for each piece or for the pack of 5?`}, notes: []string{`line 7, column "Price": "0.333334" is the price of a piece, rounded up to a millionth`}},
	{file: "price-unit.csv",
		offers: []string{
			"2 A-1: fuse 2 A T; 0.36; pack 10 min 1 stock -1 lead -1",
			"3 A-2: fuse 1 A T; 0.36; pack 10 min 1 stock -1 lead -1",
			"4 A-3: fuse 3 A T; 0.333334; pack 10 min 1 stock -1 lead -1",
			"5 A-4: fuse 4 A T; 0.36; pack 10 min 1 stock -1 lead -1"}, aside: []string{`line 6, column "Preiseinheit": "0" is not a number`}, notes: []string{`line 4, column "Preis": "0.333334" is the price of a piece, rounded up to a millionth`}},
	// Currencies.
	{file: "two-currencies.csv",
		offers: []string{
			"2 A-1: fuse 2 A T; 0.4; pack 1 min 1 stock -1 lead -1",
			"3 A-2: fuse 1 A T; no price; pack 1 min 1 stock -1 lead -1"}, notes: []string{`line 3, column "Price USD": "" gives no price`}},
	{file: "mixed-currencies.csv",
		offers: []string{
			"2 A-1: fuse 2 A T; 0.36; pack 1 min 1 stock -1 lead -1",
			"5 A-4: fuse 4 A T; 0.36; pack 1 min 1 stock -1 lead -1",
			"7 A-6: fuse 6 A T; 0.36; pack 1 min 1 stock -1 lead -1"},
		aside: []string{
			`line 3, column "Currency": "Euro" is in another currency than the terms say`,
			`line 4, column "Price": "£0.36" is in another currency than the terms say; did you mean a list in GBP?`,
			`line 6, column "Currency": "ducats" is not a word we know here; did you mean a code of ISO 4217, such as USD?`,
			`line 8, column "Price": "0.36 €" is in another currency than the terms say; did you mean a list in EUR?`}},
	// What is asked, and cans.
	{file: "asked-quantity.csv",
		offers: []string{
			"2 A-1: fuse 2 A T; 0.36; pack 1 min 1 stock 5 lead -1",
			"3 A-2: fuse 1 A T; 0.36; pack 1 min 1 stock 10 lead -1"},
		notes: []string{
			`line 1, column "Qty": "Qty" can be read in more than one way; did you mean stock or pieces in a pack or fewest pieces?`}},
	{file: "cans.csv",
		offers: []string{
			"2 A-1: electrolytic 40+20+20 µF 450 V; 38; pack 1 min 1 stock -1 lead -1",
			"3 A-2: electrolytic 50+50 µF 500 V; 9; pack 1 min 1 stock -1 lead -1",
			"4 A-3: electrolytic 32+32 µF 500 V; 14; pack 1 min 1 stock -1 lead -1",
			"5 A-4: electrolytic ; 4; pack 1 min 1 stock -1 lead -1",
			"6 A-5: electrolytic 16+16 µF 450 V; 12; pack 1 min 1 stock -1 lead -1",
			"7 A-6: electrolytic 20+20+20+10 µF 475 V; 41; pack 1 min 1 stock -1 lead -1"},
		notes: []string{
			`line 5, column "Desc": "50/50" is a marking that could not be read; did you mean 50 µF 50 V or 50+50 µF (sections)?`}},
	// Files that are no lists, and rows that are no goods.
	{file: "web-page.csv", err: "this is not a list: it is a web page; open it, and save its table as CSV"},
	{file: "xml.csv", err: "this is not a list: it is an XML document; ask the supplier for a CSV list"},
	{file: "empty-zip.csv", err: "this is not a text file: it is an empty ZIP file"},
	{file: "hostile.csv",
		offers: []string{
			"2 @A-1: fuse 2 A T; 0.36; pack 1 min 1 stock -1 lead -1",
			"3 +A-2: unknown ; 0.36; pack 1 min 1 stock -1 lead -1",
			"4 A-3: fuse 3 A T; 0.36; pack 1 min 1 stock -1 lead -1",
			"6 A-5: fuse 5 A T; 0.36; pack 1 min 1 stock -1 lead -1",
			"7 A-6: fuse ; 0.36; pack 1 min 1 stock -1 lead -1"},
		aside: []string{
			`line 5, column "Price": "=0.36" is not a number`,
			`line 8, column "Price": "999999999999999999999999999999" is out of range`}},
	{file: "totals.csv",
		offers: []string{
			"2 A-1: fuse 2 A T; 0.4; pack 1 min 1 stock 10 lead -1",
			"4 A-2: fuse 1 A T; 0.35; pack 1 min 1 stock 20 lead -1",
			"7 A-3: fuse 3 A T; 0.5; pack 1 min 1 stock 5 lead -1"},
		aside: []string{
			`line 3: "Subtotal" sums up other rows`,
			`line 5: "Zwischensumme" sums up other rows`,
			`line 6: "Total" sums up other rows`}},
	{file: "repeated-heading.csv",
		offers: []string{
			"2 A-1: fuse 2 A T; 0.36; pack 1 min 1 stock -1 lead -1",
			"4 A-2: fuse 1 A T; 0.36; pack 1 min 1 stock -1 lead -1"}, aside: []string{`line 3, column "Price": "Price" looks like a heading between rows`}},
	{file: "ragged.csv",
		offers: []string{
			"2 A-1: fuse 2 A T; 0.36; pack 1 min 1 stock -1 lead -1",
			"3 A-2: fuse 1 A T; 0.36; pack 1 min 1 stock 10 lead -1",
			"6 A-5: fuse 5 A T; 0.36; pack 1 min 1 stock 5 lead -1",
			"8 A-6: fuse 6 A T; 0.36; pack 1 min 1 stock 7 lead -1",
			"10 A-7: unknown ; 0.36; pack 1 min 1 stock 7 lead -1"},
		aside: []string{
			`line 4: "seen" is one cell more than there are headings`,
			`line 5: "A-4" looks like a heading between rows`},
		notes: []string{
			`line 2: "0.36" ends a row with fewer cells than headings`,
			`line 5: "A-4" ends a row with fewer cells than headings`,
			`line 9: "1" rows of empty cells were passed over`}},
	{file: "nul-cells.csv", offers: []string{"4 A-3: fuse 3 A T; 0.36; pack 1 min 1 stock -1 lead -1"},
		aside: []string{
			`line 2, column "Price": "0.\x0036" has a control character in it`,
			`line 3, column "Part": "\x00" has a control character in it`,
			`line 5, column "Desc": "Fuse\x01 T4A" has a control character in it`,
			`line 6, column "Desc": "Fuse\vT5A" has a control character in it`}},
}
