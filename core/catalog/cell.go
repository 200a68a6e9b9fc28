package catalog

import (
	"errors"
	"strconv"
	"strings"

	"lugworth/core/money"
	"lugworth/core/unit"
)

// unguard takes off the apostrophe that an order file puts before a cell
// which a spreadsheet program might take for a formula.
func unguard(s string) string {
	if len(s) > 1 && s[0] == '\'' && strings.IndexByte("=+@\t\r'", s[1]) >= 0 {
		return s[1:]
	}
	return s
}

// currencySigns are the signs and short forms found in price cells and the
// currencies each may mean. Common practice, no source.
var currencySigns = []struct{ sign, codes string }{
	{"US$", "USD"}, {"C$", "CAD"}, {"A$", "AUD"}, {"NZ$", "NZD"}, {"$", "USD CAD AUD NZD SGD HKD MXN"},
	{"£", "GBP"}, {"€", "EUR"}, {"¥", "JPY CNY"}, {"Fr.", "CHF"}, {"kr.", "SEK NOK DKK ISK"}, {"kr", "SEK NOK DKK ISK"},
	{"zł", "PLN"}, {"Kč", "CZK"}, {"₹", "INR"},
	{"USD", "USD"}, {"EUR", "EUR"}, {"GBP", "GBP"}, {"CAD", "CAD"}, {"AUD", "AUD"}, {"CHF", "CHF"}, {"JPY", "JPY"},
	{"SEK", "SEK"}, {"NOK", "NOK"}, {"DKK", "DKK"}, {"NZD", "NZD"}, {"PLN", "PLN"},
}

// currencyNames are words for currencies in a currency column. Common
// practice, no source; a bare "dollar" is left to the terms.
var currencyNames = func() map[string]string {
	m := map[string]string{}
	for code, words := range map[string]string{"EUR": "euro|euros", "GBP": "pound|pounds|pound sterling|sterling|pfund|livre|livres|livre sterling|pond|libra|libras", "USD": "us dollar|us dollars|dollar us|dolar|dolares",
		"CHF": "swiss franc|franken|schweizer franken|franc suisse", "JPY": "yen", "SEK": "kronor", "CAD": "canadian dollar", "AUD": "australian dollar"} {
		for _, w := range strings.Split(words, "|") {
			m[w] = code
		}
	}
	return m
}()

// askWords stand where a price would: the part can be had, at a price to ask for.
var askWords = wordSet("poa|ask|call|quote|on request|price on request|on application|tba|tbc|tbd|n a|na|none|sold out|discontinued|" +
	"anfrage|auf anfrage|sur demande|nous consulter|op aanvraag|aanvraag|consultar|a consultar|bajo pedido")

func wordSet(list string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Split(list, "|") {
		m[w] = true
	}
	return m
}

// readPrice reads a price cell of a list in currency. priced is false for a
// blank cell and for "on request" in any of its forms.
func readPrice(cell, currency string, mark money.Mark) (price money.Decimal, priced bool, code unit.Code, hint string) {
	if d, ok := plainPrice(cell, mark); ok {
		return d, true, "", ""
	}
	t := strings.TrimSpace(unguard(cell))
	if strings.IndexAny(t, "0123456789") < 0 && (strings.Trim(t, "-–—. ") == "" || askWords[plain(t)]) {
		return money.Decimal{}, false, "", ""
	}
	t, other := stripCurrency(t, currency)
	if other != "" {
		return money.Decimal{}, false, WrongCurrency, "a list in " + strings.ReplaceAll(other, " ", " or ")
	}
	if d, ok := plainPrice(t, mark); ok {
		return d, true, "", ""
	}
	t = tidyNumber(t)
	d, err := money.ReadDecimal(t, mark)
	if err != nil {
		code, hint = codeOf(err, cell)
		return money.Decimal{}, false, code, hint
	}
	switch d.Sign() {
	case -1:
		return d, false, unit.Negative, ""
	case 0:
		return d, false, NoCharge, "a blank cell, for no price"
	}
	return d, true, "", ""
}

// stripCurrency takes a currency sign or code off either end. other names
// what the sign means if that is not the currency of the list.
func stripCurrency(t, currency string) (rest, other string) {
	if strings.Trim(t, "0123456789.,") == "" {
		return t, ""
	}
	for _, c := range currencySigns {
		rest, ok := cutEnd(t, c.sign)
		if !ok {
			continue
		}
		if currency != "" && !strings.Contains(c.codes, currency) {
			return t, c.codes
		}
		return strings.TrimSpace(rest), ""
	}
	return t, ""
}

func cutEnd(t, sign string) (string, bool) {
	n := len(t) - len(sign)
	switch {
	case n < 0:
	case sameLetter(t[0], sign[0]) && strings.EqualFold(t[:len(sign)], sign):
		return t[len(sign):], true
	case sameLetter(t[len(t)-1], sign[len(sign)-1]) && strings.EqualFold(t[n:], sign):
		return t[:n], true
	}
	return t, false
}

// sameLetter: the same byte, or the same letter in the other case. It spares
// most signs a closer look.
func sameLetter(a, b byte) bool {
	return a == b || a^0x20 == b && (a|0x20 >= 'a' && a|0x20 <= 'z') || a >= 0x80 && b >= 0x80
}

// tidyNumber takes off what stands around a number in price cells: "each",
// and ",-" for no cents.
func tidyNumber(t string) string {
	if strings.Trim(t, "0123456789.") == "" {
		return t
	}
	for _, w := range []string{" each", " ea.", " ea", "/ea", "/st", "/stk", "/pc", " p/st", " p.p.", "/pce"} {
		if rest, ok := cutSuffixFold(t, w); ok {
			t = strings.TrimSpace(rest)
		}
	}
	for _, w := range []string{",-", ".-", ",--", ".--", ",–", ".–", ",—"} {
		t = strings.TrimSuffix(t, w)
	}
	return t
}

func cutSuffixFold(t, w string) (string, bool) {
	if n := len(t) - len(w); n >= 0 && strings.EqualFold(t[n:], w) {
		return t[:n], true
	}
	return t, false
}

// codeOf takes the code and hint out of an error of the unit and money readers.
func codeOf(err error, cell string) (unit.Code, string) {
	var p unit.Problem
	if errors.As(err, &p) {
		return p.Code, p.Hint
	}
	if a, ok := asAmbiguous(err); ok {
		return unit.AmbiguousText, choices(a)
	}
	return unit.NotANumber, lettersAsDigits(cell)
}

func asAmbiguous(err error) (unit.Ambiguous, bool) {
	var a unit.Ambiguous
	if errors.As(err, &a) {
		return a, true
	}
	var p *unit.Ambiguous
	if errors.As(err, &p) {
		return *p, true
	}
	return a, false
}

func choices(a unit.Ambiguous) string {
	say := make([]string, len(a.Choices))
	for i, c := range a.Choices {
		say[i] = c.Say
	}
	return strings.Join(say, " or ")
}

var lookAlikes = strings.NewReplacer("O", "0", "o", "0", "l", "1", "I", "1")

// lettersAsDigits returns "450" for "45O": the same text with letters that
// are often typed for digits, "" if that makes no number either.
func lettersAsDigits(s string) string {
	t := lookAlikes.Replace(strings.TrimSpace(s))
	if t == s || !digits(strings.NewReplacer(".", "", ",", "").Replace(t)) {
		return ""
	}
	return t
}

// pieceWords stand behind a count.
var pieceWords = wordSet("pc|pcs|piece|pieces|pce|ea|each|stk|st|stuck|stuks|stuk|pieces|piece|u|ud|uds|unidades|unidad|pieza|piezas|pack|bag|vpe|ve|off|per bag|per pack|" +
	"in stock|on hand|available|left|auf lager|lagernd|verfugbar|lieferbar|am lager|en stock|disponible|disponibles|op voorraad|voorradig|beschikbaar|en existencia|en existencias|" +
	"pcs in stock|stuck auf lager|stk auf lager|pieces en stock|stuks op voorraad|unidades en stock")

// readCount reads a whole number of pieces: "10", "10 pcs", "pack of 10",
// "per 5", "1,000". ok is false for anything else, fractions included.
func readCount(cell string) (n int, ok bool) {
	if n, ok := small(cell); ok {
		return n, true
	}
	p := plain(cell)
	raw := strings.TrimSpace(unguard(cell))
	if p == "each" || p == "ea" || p == "single" || p == "st" || p == "stk" || p == "stuck" || p == "stuk" || p == "piece" {
		return 1, true
	}
	for _, w := range []string{"pack of ", "pk of ", "pkt of ", "per ", "bag of ", "box of ", "set of ", "ve ", "vpe ", "lot de ", "sachet de ", "par ", "pak van ", "zak van ", "verpakt per ", "paquete de ", "bolsa de ", "beutel ", "je ", "a "} {
		if rest, cut := strings.CutPrefix(p, w); cut {
			p, raw = rest, rest
		}
	}
	if n, ok := packEr(p); ok {
		return n, true
	}
	if n, ok := groupedCount(raw); ok {
		return n, true
	}
	head, tail, _ := strings.Cut(p, " ")
	if tail != "" && !pieceWords[tail] {
		if digits(strings.ReplaceAll(p, " ", "")) && thousands(raw) {
			head = strings.ReplaceAll(p, " ", "")
		} else {
			return 0, false
		}
	} else if tail == "" && !digits(raw) && !strings.HasSuffix(raw, "x") && head != raw {
		if raw != head+"." && raw != head+".0" {
			return 0, false // signs such as "-3" or "2.7" are not counts
		}
	}
	n, err := strconv.Atoi(strings.TrimSuffix(head, "x"))
	return n, err == nil && n >= 0 && n <= 10_000_000
}

// groupedCount reads "1.000 Stück".
func groupedCount(raw string) (int, bool) {
	end := strings.IndexFunc(raw, func(r rune) bool { return !strings.ContainsRune("0123456789.,' \u00a0", r) })
	if end < 1 || !pieceWords[plain(raw[end:])] || !thousands(strings.TrimSpace(raw[:end])) {
		return 0, false
	}
	return pieces(strings.ReplaceAll(plain(raw[:end]), " ", ""))
}

// thousands reports whether t is digits in groups of three behind the first.
func thousands(t string) bool {
	parts := strings.FieldsFunc(t, func(r rune) bool { return strings.ContainsRune(",. '\u00a0", r) })
	for i, p := range parts {
		if !digits(p) || i > 0 && len(p) != 3 || len(p) > 3 {
			return false
		}
	}
	return len(parts) > 1
}

var (
	inStock = wordSet("yes|y|ja|j|oui|o|si|s|true|available|in stock|stock|ex stock|from stock|auf lager|ab lager|am lager|lagernd|lagerware|vorratig|verfugbar|sofort verfugbar|sofort lieferbar|" +
		"en stock|disponible|dispo|disponible de suite|op voorraad|uit voorraad|uit voorraad leverbaar|direct leverbaar|voorradig|beschikbaar|leverbaar|lieferbar|en existencia|en existencias|hay|" +
		"ok|few|a few|last few|plenty|low|low stock|many|limited|einige|wenige|viele|quelques|derniers|enkele|weinig|veel|pocos|muchos|entrega inmediata")
	outStock = wordSet("no|n|nein|non|nee|false|none|sold out|out of stock|out|backorder|back order|on back order|on order|ausverkauft|vergriffen|nicht lieferbar|nicht verfugbar|nicht auf lager|nicht vorratig|derzeit nicht lieferbar|" +
		"epuise|rupture|rupture de stock|en rupture|en rupture de stock|indisponible|non disponible|sur commande|uitverkocht|niet op voorraad|niet voorradig|niet leverbaar|op bestelling|agotado|sin stock|sin existencias|no disponible|bajo pedido|" +
		"auf bestellung|bestellware|discontinued|obsolete|eol|end of life|abgekundigt|auslauf")
)

// stockLead are words before a count in a stock cell. After "more than" there
// are at least so many.
var stockLead = []string{"in stock ", "stock ", "auf lager ", "lager ", "bestand ", "en stock ", "op voorraad ", "voorraad ", "available ", "ca ", "about ", "approx ", "env ", "environ ", "circa ", "ongeveer ", "aprox ",
	"more than ", "over ", "mehr als ", "uber ", "plus de ", "meer dan ", "mas de ", "min ", "noch ", "only ", "nur ", "nog ", "reste ", "quedan ", "yes ", "ja ", "oui ", "si "}

// readStock reads a stock cell as pieces: -1 when the row says that there is
// some, or says nothing, without a number. known is false for a word that is
// on neither list.
func readStock(cell string) (pieces int, known bool) {
	t := strings.TrimSpace(unguard(cell))
	p := plain(t)
	switch {
	case p == "" && strings.HasPrefix(t, "✓"), p == "" && t == "", inStock[p]:
		return -1, true
	case outStock[p]:
		return 0, true
	}
	if n, ok := readCount(strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(strings.TrimPrefix(t, ">"), "≥"), "+"))); ok {
		return n, true
	}
	for _, w := range stockLead {
		if rest, ok := strings.CutPrefix(p, w); ok {
			if n, ok := readCount(rest); ok {
				return n, true
			}
		}
	}
	return -1, false
}

// leadUnits are days per unit of time; a month counts its longest, 31 days.
var leadUnits = map[string]int{
	"d": 1, "day": 1, "days": 1, "tag": 1, "tage": 1, "tagen": 1, "jour": 1, "jours": 1, "j": 1, "dag": 1, "dagen": 1, "dia": 1, "dias": 1,
	"w": 7, "wk": 7, "wks": 7, "week": 7, "weeks": 7, "woche": 7, "wochen": 7, "wo": 7, "semaine": 7, "semaines": 7, "sem": 7, "weken": 7, "semana": 7, "semanas": 7,
	"month": 31, "months": 31, "monat": 31, "monate": 31, "monaten": 31, "mois": 31, "maand": 31, "maanden": 31, "mes": 31, "meses": 31,
}

// workDays are words for days on which work is done: five of them are a week.
var workDays = wordSet("wd|working|business|werktag|werktage|werktagen|arbeitstag|arbeitstage|arbeitstagen|arb|werk|werkdag|werkdagen|ouvre|ouvres|ouvrable|ouvrables|habil|habiles|laborable|laborables")

var leadWords = map[string]int{"next day": 1, "tomorrow": 1, "24h": 1, "24 h": 1, "24 hours": 1, "24 stunden": 1, "24 heures": 1, "24 uur": 1, "24 horas": 1, "48h": 2, "48 h": 2, "48 hours": 2, "48 stunden": 2, "48 heures": 2, "48 uur": 2, "48 horas": 2,
	"24 48h": 2, "24 48 h": 2, "24 48 stunden": 2, "24 48 heures": 2,
	"same day": 0, "today": 0, "heute": 0, "morgen": 1, "demain": 1, "manana": 1,
	"sofort": 0, "sofort lieferbar": 0, "immediate": 0, "immediately": 0, "at once": 0, "immediat": 0, "de suite": 0, "tout de suite": 0, "direct": 0, "direct leverbaar": 0, "per direct": 0, "inmediata": 0, "inmediato": 0, "entrega inmediata": 0}

// readLead reads days to arrival: "3", "35 days", "2-3 weeks" (the longer),
// "2 Wochen", "5 Werktage" (a week: seven days). -1 for a blank cell and for
// words without a number, with known false if the words say nothing about
// time. "sofort" is sent at once: 0, the carrier's days come on top.
func readLead(cell string) (days int, known bool) {
	p := plain(unguard(cell))
	if n, ok := leadWords[p]; ok {
		return n, true
	}
	if p == "" || inStock[p] || askWords[p] || outStock[p] {
		return -1, true
	}
	n, per, work := -1, 1, false
	for rest := splitDigits(p); rest != ""; {
		var w string
		w, rest, _ = strings.Cut(rest, " ")
		if v, err := strconv.Atoi(w); err == nil && v <= 10_000 {
			n = max(n, v)
		} else if u, ok := leadUnits[w]; ok {
			per = u
		} else if workDays[w] {
			work = true
		} else if !leadFill[w] {
			return -1, false
		}
	}
	if n < 0 || strings.HasPrefix(strings.TrimSpace(cell), "-") {
		return -1, false
	}
	if work && per == 1 {
		return (n*7 + 4) / 5, true
	}
	return n * per, true
}

var leadFill = wordSet("ca|about|approx|to|bis|a|tot|up|ungefahr|etwa|env|environ|within|in|innerhalb|von|binnen|sous|dans|de|en|dentro|max|maximal|min|circa|ongeveer|aprox|" +
	"lieferzeit|lieferbar|delivery|delai|livraison|levertijd|leverbaar|plazo|entrega|lead|time")

// splitDigits puts a blank between a digit and a letter: "3wks" is "3 wks".
func splitDigits(p string) string {
	var b strings.Builder
	for i := 0; i < len(p); i++ {
		if i > 0 && p[i] >= 'a' && p[i-1] <= '9' && p[i-1] >= '0' {
			b.WriteByte(' ')
		}
		b.WriteByte(p[i])
	}
	return b.String()
}

// toleranceLetters are the letters of IEC 60062 for symmetrical tolerances in
// percent. From memory, not compared with the standard's text.
var toleranceLetters = map[string]float64{"B": 0.1, "C": 0.25, "D": 0.5, "F": 1, "G": 2, "J": 5, "K": 10, "M": 20, "N": 30}

var toleranceSigns = strings.NewReplacer("%", "", "±", "", "+/-", "", "+-", "", " ", "", ",", ".", "\u00a0", "", "−", "-", "–", "-")

// readTolerance reads "10", "±10 %", "10%", "K", "-20+80", "-10/+50 %".
func readTolerance(cell string) (unit.Tolerance, bool) {
	t := strings.ToUpper(strings.TrimSpace(unguard(cell)))
	t = toleranceSigns.Replace(t)
	if v, ok := toleranceLetters[t]; ok {
		return unit.Tolerance{Minus: v / 100, Plus: v / 100, Stated: true}, true
	}
	t = strings.ReplaceAll(t, "/", "")
	if minus, plus, ok := twoSided(t); ok {
		return unit.Tolerance{Minus: minus / 100, Plus: plus / 100, Stated: true}, true
	}
	v, ok := percent(t)
	return unit.Tolerance{Minus: v / 100, Plus: v / 100, Stated: ok}, ok
}

func twoSided(t string) (minus, plus float64, ok bool) {
	i, j := strings.IndexByte(t, '-'), strings.IndexByte(t, '+')
	switch {
	case i < 0 || j < 0 || min(i, j) != 0:
		return 0, 0, false
	case i < j:
		minus, ok = percent(t[1:j])
		p, ok2 := percent(t[j+1:])
		return minus, p, ok && ok2
	}
	plus, ok = percent(t[1:i])
	m, ok2 := percent(t[i+1:])
	return m, plus, ok && ok2
}

func percent(t string) (float64, bool) {
	if !digits(strings.Replace(t, ".", "", 1)) {
		return 0, false
	}
	v, err := strconv.ParseFloat(t, 64)
	return v, err == nil && v <= 1000
}
