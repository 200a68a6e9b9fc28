package catalog

import "testing"

// TestKindFromWords: trade words in five languages. Common practice, no source.
func TestKindFromWords(t *testing.T) {
	tests := []struct {
		text string
		want Kind
	}{
		{"Axial electrolytic 22uF 500V", Electrolytic},
		{"Elko 22uF 450V", Electrolytic},
		{"Becherelko 32+32uF 500V", Electrolytic},
		{"Condensateur chimique 22uF", Electrolytic},
		{"Condensador electrolítico 22uF", Electrolytic},
		{"Foliecondensator 22nF 630V", Film},
		{"Folienkondensator 22nF", Film},
		{"Condensador de película 22nF", Film},
		{"Carbon film resistor 100K", CarbonFilm},
		{"Paper in oil .022 600V", Paper},
		{"Paper look .022 600V", Capacitor},
		{"Silver mica 500pF", Mica},
		{"Glimmerkondensator 500pF", Mica},
		{"Ceramic disc 470pF 1kV", Ceramic},
		{"Schichtdrehwiderstand 100k", Resistor}, // a compound on no list: the value tells
		{"Kohleschicht 100k 1W", CarbonFilm},
		{"Résistance couche métallique 100k", MetalFilm},
		{"Metal oxide 470R 2W", MetalOxide},
		{"Weerstand draadgewonden 300R 5W", Wirewound},
		{"Weerstand 100k", Resistor},
		{"Glaszekering T2A", Fuse},
		{"Feinsicherung T2A", Fuse},
		{"3-core lead kit", Cord},
		{"Netsnoer met trekontlasting", Cord},
		{"Strain relief for cord", Cord}, // the first word on the list decides
		{"Strain relief, black", Other},
		{"Jack 1/4\" insulated", Jack},
		{"Klinkenbuchse 6,3 mm", Jack},
		{"Potentiometer 1M log", Pot},
		{"Choke 4H 90mA", Choke},
		{"Siebdrossel 5H", Choke},
		{"Octal tube socket", Other},
		{"Socket for EL84", Other},
		{"Fuse holder", Other},
		{"Pot knob, cream", Other},
		{"Mains transformer 290-0-290", Other},
		{"Diode 1N4007", Rectifier},
		{"1N4007", Rectifier},
		{"GZ34", Rectifier},
		{"5U4GB", Rectifier},
		{"EZ81 Röhre", Rectifier},
		{"EL84 quartet", Tube},
		{"82R 10W", Resistor},
		{"100n 400V", Capacitor},
		{"220u/35V", Electrolytic},
		{"Odds and ends", Unknown},
	}
	for _, tt := range tests {
		var p Part
		stop, _ := (&said{text: tt.text}).part(&p)
		if p.Kind != tt.want || len(stop) > 0 {
			t.Errorf("%q is %v %v, want %v", tt.text, p.Kind, stop, tt.want)
		}
	}
}

// TestTubeTypes: what is a type and what is only a value or a size.
func TestTubeTypes(t *testing.T) {
	tests := []struct {
		text  string
		want  string
		also  int
		count int
	}{
		{"6V6GT matched pair", "6V6GT", 0, 2},
		{"6v6gt", "6V6GT", 0, 1},
		{"EL84 gepaard paar", "EL84", 0, 2},
		{"EL84 Quartett", "EL84", 0, 4},
		{"12AX7/ECC83", "12AX7", 1, 1},
		{"12AX7WA", "12AX7WA", 0, 1},
		{"6L6WGB pair", "6L6WGB", 0, 2},
		{"6SN7GTB", "6SN7GTB", 0, 1},
		{"6BQ5", "6BQ5", 0, 1},
		{"5881 pair", "5881", 0, 2},
		{"KT88 pair", "KT88", 0, 2},
		{"PCL86", "PCL86", 0, 1},
		{"E83CC", "E83CC", 0, 1},
		{"6U8A", "6U8A", 0, 1},
		{"4K7", "", 0, 0},
		{"2N2", "", 0, 0},
		{"1M5", "", 0, 0},
		{"5R6 5W", "", 0, 0},
		{"T2A", "", 0, 0},
		{"100K", "", 0, 0},
		{"22uF", "", 0, 0},
		{"1N4007", "", 0, 0},
		{"A-1002", "", 0, 0},
		{"MKP10", "", 0, 0},
	}
	for _, tt := range tests {
		var p Part
		(&said{text: tt.text}).part(&p)
		if p.Tube != tt.want || len(p.TubeAlso) != tt.also || p.Count != tt.count {
			t.Errorf("%q: tube %q, also %v, count %d; want %q, %d, %d", tt.text, p.Tube, p.TubeAlso, p.Count, tt.want, tt.also, tt.count)
		}
	}
}

// TestMarking: the figures of a description, and nothing else, reach the
// value reader.
func TestMarking(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"CAP AXIAL 22MFD 450V", "22MFD 450V"},
		{"Carbon comp 1W 10%", "1W 10%"},
		{"Film 22 nF, 400 V", "22nF 400V"},
		{"Can 20+20+20@450", "20+20+20 450V"},
		{"Fuse T2A (per 5, price each)", "T2A"},
		{"Jack 1/4\" insulated", ""},
		{"Elco 0,1µF 630V axiaal", "0,1µF 630V"},
		{"3-core lead", ""},
		{"Glaszekering T3,15A 5x20", "T3,15A"},
		{"10 pcs 100k 1/2W", "100k 1/2W"},
		{"=2+2", ""},
		{"Resistor 1 M 1 W", "1M 1W"},
	} {
		m := readMarking(tt.text)
		if got := m.text(); got != tt.want {
			t.Errorf("marking of %q is %q, want %q", tt.text, got, tt.want)
		}
	}
}

// TestCans: multi-section cans in the spellings of lists. Common practice, no
// source; "50/50" alone is two sections to some and a value with its volts to
// others, and is asked.
func TestCans(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"Can 40+20+20/450", "40+20+20 µF 450 V"},
		{"2x50uF 500V axial electrolytic", "50+50 µF 500 V"},
		{"electrolytic 50/50uF 500V", "50+50 µF 500 V"},
		{"50+50 µF 500 V can", "50+50 µF 500 V"},
		{"can 3x20uF 475V", "20+20+20 µF 475 V"},
		{"2 x 32 µF / 500 V Becher-Elko", "32+32 µF 500 V"},
		{"Elko 2×50µF/500V", "50+50 µF 500 V"},
		{"Elko 16 + 16 µF 450 V", "16+16 µF 450 V"},
		{"Elko 32 / 32 µF 450 V", "32+32 µF 450 V"},
		{"Becherelko 2x100µF 500V= 85°C", "100+100 µF 500 V"},
		{"electrolytic 100+50+50@350", "100+50+50 µF 350 V"},
		{"can 20-20-20 450V", "20+20+20 µF 450 V"},
		{"Elko 50/50", ""},
		{"electrolytic 22uF 450V 10 x 30 mm", "22 µF 450 V"},
		{"Film 22nF 400V 5x20mm", "22 nF 400 V"},
		{"Glass fuse T2A 5 x 20 mm", "2 A T"},
	} {
		var p Part
		(&said{text: tt.text}).part(&p)
		if got := p.Spec.Canonical(); got != tt.want {
			t.Errorf("%q is %q, want %q", tt.text, got, tt.want)
		}
	}
}

// TestHeadings: headings in five languages and what they are taken for.
func TestHeadings(t *testing.T) {
	for _, tt := range []struct {
		heading string
		want    Field
	}{
		{"SKU", FieldNumber}, {"Bestellnr.", FieldNumber}, {"Réf. article", FieldNumber}, {"Bestelnummer", FieldNumber}, {"Código", FieldNumber},
		{"Bezeichnung", FieldText}, {"Désignation", FieldText}, {"Omschrijving", FieldText}, {"Descripción", FieldText},
		{"Unit price USD", FieldPrice}, {"Einzelpreis (EUR)", FieldPrice}, {"Prix unitaire HT", FieldPrice}, {"Prijs EUR", FieldPrice}, {"Precio unitario", FieldPrice},
		{"Line total", Ignored}, {"RRP", Ignored}, {"Total price", Ignored},
		{"VPE", FieldPack}, {"Conditionnement", FieldPack}, {"MOQ", FieldMinimum},
		{"Verfügbarkeit", FieldStock}, {"Voorraad", FieldStock}, {"Lieferzeit (Tage)", FieldLead}, {"Délai de livraison", FieldLead},
		{"Spannung", FieldVolts}, {"Toleranz", FieldTol}, {"Belastbarkeit", FieldWatts}, {"Wert", FieldValue}, {"Price date", FieldDate},
		{"Picture", Ignored}, {"", Ignored},
	} {
		if got, _ := headingField(tt.heading); got != tt.want {
			t.Errorf("heading %q is %q, want %q", tt.heading, got, tt.want)
		}
	}
}

// TestPriceHeadings: "Price 100" is the price from 100 pieces on, "Price per
// 100" the price of a hundred; a mix-up would be a hundredfold.
func TestPriceHeadings(t *testing.T) {
	for _, tt := range []struct {
		heading   string
		from, per int
	}{
		{"Price", 0, 1}, {"10+", 10, 1}, {"Price 100", 100, 1}, {"Price 100+", 100, 1}, {"ab 25", 25, 1}, {"from 10", 10, 1},
		{"Price per 100", 0, 100}, {"Preis/1000", 0, 1000}, {"Prix pour 10", 0, 10}, {"Preis je 100 Stk", 0, 100}, {"2nd price", 0, 1}, {"100 mm", 0, 1},
	} {
		if from, per := breakFrom(tt.heading), priceFor(tt.heading); from != tt.from || per != tt.per {
			t.Errorf("%q: from %d, per %d; want %d, %d", tt.heading, from, per, tt.from, tt.per)
		}
	}
}
