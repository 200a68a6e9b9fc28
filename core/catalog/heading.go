package catalog

import (
	"strconv"
	"strings"
)

// headingWords are the plain headings each field goes by, in English, German,
// French, Dutch and Spanish. Common practice of the trade, no source.
var headingWords = map[Field]string{
	FieldNumber: "sku|part|part no|part nr|part number|partnumber|number|no|nr|ref|reference|refs|order no|order code|order number|code|item no|item code|item number|stock code|cat no|catalog no|product code|product no|" +
		"artikel|artikelnr|artikel nr|artikelnummer|art nr|artnr|bestellnummer|bestellnr|bestell nr|best nr|teilenummer|teile nr|nummer|" +
		"ref article|code article|numero|no article|num article|" +
		"artikelcode|bestelnummer|bestelnr|onderdeelnummer|onderdeel|" +
		"referencia|codigo|codigo articulo|numero de pieza|no de articulo|cod",
	FieldText: "description|desc|descr|item|item description|name|product|product name|text|title|details|part description|" +
		"bezeichnung|beschreibung|artikelbezeichnung|benennung|produkt|produktname|artikelname|artikeltext|" +
		"designation|libelle|article|produit|intitule|" +
		"omschrijving|benaming|artikelomschrijving|productnaam|naam|" +
		"descripcion|nombre|producto|denominacion|articulo|detalle",
	FieldKind: "category|kind|group|part kind|family|type of part|" +
		"kategorie|gruppe|warengruppe|artikelgruppe|bauteil|categorie|famille|groupe|groep|productgroep|soort|categoria|grupo|familia",
	FieldValue: "value|capacitance|resistance|val|wert|kapazitat|widerstand|valeur|capacite|waarde|capaciteit|weerstand|valor|capacidad|resistencia|tube type|valve type|rohrentyp|rohre typ|type de tube|type de lampe|buistype|tipo de valvula",
	FieldVolts: "volts|volt|voltage|v|vdc|v dc|wv|wvdc|rated voltage|voltage rating|max voltage|" +
		"spannung|nennspannung|tension|tension nominale|tension de service|spanning|werkspanning|voltaje|tension nominal",
	FieldWatts: "watts|watt|w|wattage|power|power rating|leistung|belastbarkeit|nennleistung|puissance|vermogen|potencia",
	FieldTol:   "tolerance|tol|tol %|toleranz|tolerantie|tolerancia",
	FieldPrice: "price|unit price|price each|each|cost|unit cost|price ea|list price|net price|trade price|price per piece|price piece|" +
		"preis|einzelpreis|stuckpreis|preis stuck|nettopreis|listenpreis|stk preis|" +
		"prix|prix unitaire|pu|p u|pu ht|prix ht|tarif|" +
		"prijs|stukprijs|eenheidsprijs|nettoprijs|prijs per stuk|" +
		"precio|precio unitario|precio unidad|p unit|tarifa",
	FieldBreaks: "price breaks|breaks|quantity prices|quantity price|volume prices|volume pricing|quantity discount|bulk prices|bulk price|staffelpreise|staffelpreis|staffel|mengenpreise|mengenrabatt|mengenstaffel|" +
		"prix degressifs|prix degressif|degressif|prix par quantite|staffelprijzen|staffelprijs|staffelkorting|precios por cantidad|precio por cantidad|descuento por cantidad",
	FieldPer:  "price unit|price basis|price per pieces|priced per|price is for|pricing unit|preiseinheit|pe|preis je|preis per|preis pro|prijseenheid|prijs per|unite de prix|prix par|prix pour|unidad de precio|precio por",
	FieldCurr: "currency|curr|ccy|wahrung|devise|monnaie|valuta|munt|moneda|divisa",
	FieldPack: "pack|per|pack qty|pack size|packsize|pack of|multiple|order multiple|qty per pack|pieces per pack|sold in|unit of sale|bag|" +
		"vpe|ve|verpackungseinheit|packung|packungsgrosse|gebinde|verpackung|" +
		"conditionnement|lot|colisage|par|lot de|quantite par lot|" +
		"verpakking|verpakkingseenheid|per verpakking|aantal per verpakking|veelvoud|" +
		"paquete|embalaje|envase|unidades por paquete|multiplo",
	FieldMinimum: "moq|min|minimum|min qty|min order|minimum order|minimum quantity|min order qty|minimum order quantity|" +
		"mindestmenge|mindestabnahme|mindestbestellmenge|qte min|quantite minimum|quantite minimale|minimum de commande|" +
		"minimale afname|minimum afname|min afname|pedido minimo|cantidad minima|minimo",
	FieldStock: "stock|avail|available|availability|in stock|qty|quantity|on hand|stock qty|qty available|" +
		"bestand|lager|lagerbestand|verfugbar|verfugbarkeit|auf lager|" +
		"disponible|disponibilite|dispo|en stock|quantite|" +
		"voorraad|beschikbaar|beschikbaarheid|op voorraad|aantal|" +
		"existencias|disponibilidad|cantidad|existencia|almacen|menge|anzahl|qte|lagermenge|lagerstand",
	FieldLead: "lead|lead days|lead time|leadtime|delivery|delivery time|delivery days|days|lead time days|" +
		"lieferzeit|lieferfrist|lieferzeit tage|tage|delai|delai de livraison|delai jours|livraison|" +
		"levertijd|levertijd dagen|leveringstermijn|plazo|plazo de entrega|entrega|dias|lieferung|lieferzeit wochen|levering|lieferbar in|liefertermin|delai d expedition|plazo dias",
	FieldDate: "date|price date|updated|last updated|valid from|as of|datum|preisdatum|stand|gultig ab|date prix|date tarif|prijsdatum|fecha|fecha precio",
}

// fieldOrder is the order in which fields are tried, so that proposals do
// not depend on the order of a map.
var fieldOrder = []Field{FieldNumber, FieldText, FieldKind, FieldValue, FieldVolts, FieldWatts, FieldTol, FieldPrice, FieldBreaks, FieldPer,
	FieldCurr, FieldPack, FieldMinimum, FieldStock, FieldLead, FieldDate}

var headingIndex = func() map[string]Field {
	m := map[string]Field{}
	for _, f := range fieldOrder {
		for _, w := range strings.Split(headingWords[f], "|") {
			if _, taken := m[w]; !taken {
				m[w] = f
			}
		}
	}
	return m
}()

// besides are words that say more about a heading but not what it holds.
var besides = map[string]bool{"usd": true, "eur": true, "gbp": true, "cad": true, "aud": true, "chf": true, "jpy": true, "sek": true,
	"ex": true, "excl": true, "exkl": true, "inc": true, "incl": true, "inkl": true, "vat": true, "tax": true, "mwst": true, "ust": true,
	"btw": true, "iva": true, "tva": true, "ht": true, "ttc": true, "hors": true, "sin": true, "con": true, "zzgl": true, "netto": true, "brutto": true,
	"net": true, "gross": true, "pcs": true, "pieces": true, "pc": true, "stk": true, "st": true, "in": true, "dc": true, "max": true,
	"uf": true, "ohm": true, "euro": true, "dollar": true, "dollars": true, "pounds": true, "100": true, "1000": true, "10": true, "our": true}

// asked are headings that two shops use for two things, and what else each
// may be. Cells settle some of them; the others a person is asked for.
var asked = map[string][]Field{
	"qty": {FieldStock, FieldPack, FieldMinimum}, "quantity": {FieldStock, FieldPack, FieldMinimum}, "menge": {FieldStock, FieldPack, FieldMinimum}, "anzahl": {FieldStock, FieldPack, FieldMinimum},
	"aantal": {FieldStock, FieldPack, FieldMinimum}, "quantite": {FieldStock, FieldPack, FieldMinimum}, "qte": {FieldStock, FieldPack, FieldMinimum}, "cantidad": {FieldStock, FieldPack, FieldMinimum},
	"unit": {FieldPack, FieldPer}, "einheit": {FieldPack, FieldPer}, "eenheid": {FieldPack, FieldPer}, "unite": {FieldPack, FieldPer}, "unidad": {FieldPack, FieldPer}, "uom": {FieldPack, FieldPer},
	"delivery": {FieldLead, Ignored}, "livraison": {FieldLead, Ignored}, "entrega": {FieldLead, Ignored}, "lieferung": {FieldLead, Ignored}, "levering": {FieldLead, Ignored},
	"rating": {FieldVolts, FieldWatts}, "nennwert": {FieldValue, FieldVolts}, "stand": {FieldDate, Ignored},
	"type": {FieldNumber, FieldKind, FieldText}, "typ": {FieldNumber, FieldKind, FieldText}, "tipo": {FieldNumber, FieldKind, FieldText},
}

// headingField says what a heading holds and how surely: 3 the heading is
// known, 2 it is known once besides are set aside, 1 one of its words is.
func headingField(heading string) (Field, int) {
	p := plain(heading)
	if f, ok := headingIndex[p]; ok {
		return f, 3
	}
	words := strings.Fields(p)
	kept := words[:0:0]
	for _, w := range words {
		if !besides[w] {
			kept = append(kept, w)
		}
	}
	if len(kept) < len(words) {
		if f, ok := headingIndex[strings.Join(kept, " ")]; ok {
			return f, 2
		}
	}
	if hasWord(p, "total") || hasWord(p, "line") || hasWord(p, "subtotal") || hasWord(p, "rrp") {
		return Ignored, 0 // a sum of something is not a price each
	}
	for _, f := range []Field{FieldPrice, FieldLead, FieldStock, FieldPack, FieldText, FieldVolts, FieldTol} {
		for _, w := range kept {
			if len(w) > 2 && headingIndex[w] == f {
				return f, 1
			}
		}
	}
	return Ignored, 0
}

// breakFrom reads a heading that holds a price from some number of pieces
// on: "10+", "price 25", "ab 100", "from 10", "100 up", "10-24", "≥ 25",
// "Preis ab 10 Stück". 0 if it is none; 1 is the price of the first piece.
func breakFrom(heading string) int {
	raw := strings.TrimSpace(heading)
	p := plain(raw)
	marked := strings.HasSuffix(raw, "+") || strings.HasPrefix(raw, "≥") || strings.HasPrefix(raw, ">")
	if rest, ok := strings.CutPrefix(p, "prix par "); ok {
		p, marked = rest, true // of one, by tens; were it of ten, it would seem dear and be looked at
	}
	for _, lead := range []string{"price", "unit price", "preis", "stuckpreis", "einzelpreis", "staffelpreis", "staffel", "prix", "prijs", "precio"} {
		if rest, ok := strings.CutPrefix(p, lead+" "); ok && priceFor(heading) == 1 {
			p, marked = rest, true
		}
	}
	for _, w := range []string{"ab ", "from ", "a partir de ", "des ", "vanaf ", "desde ", "qty ", "break "} {
		if rest, ok := strings.CutPrefix(p, w); ok {
			p, marked = rest, true
		}
	}
	for _, w := range []string{" and up", " and more", " or more", " up", " off", " plus", " und mehr", " et plus", " en meer", " o mas"} {
		if rest, ok := strings.CutSuffix(p, w); ok {
			p, marked = rest, true
		}
	}
	if marked {
		for _, w := range []string{" pcs", " pc", " pieces", " stuck", " stk", " st", " stuks", " piezas", " unidades", " uds", " price"} {
			p = strings.TrimSuffix(p, w)
		}
	}
	if first, last, ok := strings.Cut(p, " "); ok && strings.ContainsAny(raw, "-–") && digits(first) && digits(last) && len(last) >= len(first) {
		p, marked = first, true // "10-24"
	}
	n, ok := pieces(p)
	if !marked || !ok {
		return 0
	}
	return n
}

// pieces reads a whole number of pieces in figures.
func pieces(s string) (int, bool) {
	n, err := strconv.Atoi(s)
	return n, err == nil && n >= 1 && n <= 1_000_000 && digits(s)
}

// priceFor reads from a price heading how many pieces the price is for:
// "Price per 100" is 100, "Preis/1000" 1000, any other 1.
func priceFor(heading string) int {
	p := plain(strings.ReplaceAll(heading, "/", " per "))
	for _, n := range []int{1000, 100, 10} {
		for _, per := range []string{"per ", "je ", "pro ", "pour ", "por ", "les ", "for "} {
			if hasWord(p, per+strconv.Itoa(n)) {
				return n
			}
		}
	}
	return 1
}
