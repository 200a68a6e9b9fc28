package catalog

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"unicode"

	"lugworth/core/money"
)

// Field is what a column holds.
type Field string

const (
	Ignored      Field = ""            // kept with the row, not read
	FieldNumber  Field = "number"      // the supplier's part number
	FieldText    Field = "description" // free text, often all there is
	FieldKind    Field = "category"    // sort of goods
	FieldValue   Field = "value"       // farads, ohms, amperes by the kind
	FieldVolts   Field = "volts"       // rated
	FieldWatts   Field = "watts"       // rated
	FieldTol     Field = "tolerance"   // percent or letter
	FieldPrice   Field = "price"       // per piece, or per Mapping.PriceFor pieces
	FieldBreak   Field = "break"       // a further price; Column.From says from how many pieces
	FieldBreaks  Field = "breaks"      // prices by number of pieces, in text
	FieldPer     Field = "per"         // how many pieces the row's price is for
	FieldCurr    Field = "currency"    // ISO 4217
	FieldPack    Field = "pack"        // pieces sold together
	FieldMinimum Field = "minimum"     // fewest pieces of a line; without a pack column, the pieces sold together
	FieldStock   Field = "stock"       // pieces, or a word
	FieldLead    Field = "lead"        // days, or a word
	FieldDate    Field = "date"        // of the price
)

// A Column says how one heading of a list is read.
type Column struct {
	Heading string `json:"heading"`
	Field   Field  `json:"field"`
	From    int    `json:"from,omitempty"` // of a FieldBreak
}

// A Mapping says how one supplier's list is read. It is a plain value with a
// JSON form, to be kept with the supplier and given to ReadList next time.
// Columns stand in the order of the file.
type Mapping struct {
	Fingerprint string   `json:"fingerprint"` // of the headings
	Delimiter   string   `json:"delimiter"`
	Encoding    string   `json:"encoding"`
	Decimal     string   `json:"decimal"` // "point", "comma" or "" when neither is known
	PriceFor    int      `json:"price_for,omitempty"`
	PackPrice   string   `json:"pack_price,omitempty"` // where only the words name a pack, the price is of "each" piece, of the "pack", or "" to ask
	NoHeading   bool     `json:"no_heading,omitempty"`
	Columns     []Column `json:"columns"`
}

// Fingerprint names a row of headings: same words in the same order give the
// same name, whatever their case, accents and punctuation.
func Fingerprint(headings []string) string {
	h := sha256.New()
	for _, s := range headings {
		h.Write([]byte(plain(s)))
		h.Write([]byte{0})
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
}

// Has reports whether some column is read as f.
func (m Mapping) Has(f Field) bool { return m.column(f) >= 0 }

func (m Mapping) column(f Field) int {
	for i, c := range m.Columns {
		if c.Field == f {
			return i
		}
	}
	return -1
}

// ProposeMapping says how a list with these headings is likely to be read.
// sample holds its first rows; they settle what headings leave open. Propose
// says why as well.
func ProposeMapping(headings []string, sample [][]string) Mapping {
	m, _ := Propose(headings, sample)
	return m
}

// columnCells returns the cells of a column that hold anything.
func columnCells(sample [][]string, i int) []string {
	var out []string
	for _, row := range sample {
		if i >= 0 && i < len(row) && strings.TrimSpace(row[i]) != "" {
			out = append(out, strings.TrimSpace(row[i]))
		}
	}
	return out
}

// share reports whether at least four of five cells, and one at least, fit.
func share(cells []string, fits func(string) bool) bool {
	n := 0
	for _, c := range cells {
		if fits(c) {
			n++
		}
	}
	return n > 0 && n*5 >= len(cells)*4
}

func worded(cells []string) bool {
	return share(cells, func(s string) bool { return strings.Contains(s, " ") && strings.ContainsFunc(s, unicode.IsLetter) })
}

// coded: no blank, a digit in it, a letter or dash too, and no two alike.
func coded(cells []string) bool {
	seen := map[string]bool{}
	return share(cells, func(s string) bool {
		ok := !seen[s] && !strings.ContainsAny(s, " %€$£") && strings.ContainsFunc(s, unicode.IsDigit) &&
			(strings.ContainsFunc(s, unicode.IsLetter) || strings.Contains(s, "-"))
		seen[s] = true
		return ok
	})
}

// priced: a currency sign, or exactly two decimals.
func priced(cells []string) bool {
	return share(cells, func(s string) bool {
		if strings.ContainsAny(s, "€$£¥") {
			return strings.ContainsFunc(s, unicode.IsDigit)
		}
		i := strings.LastIndexAny(s, ".,")
		return i > 0 && len(s)-i == 3 && digits(s[i+1:]) && digits(strings.NewReplacer(".", "", ",", "", " ", "").Replace(s[:i]))
	})
}

func digits(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

// decimalMark says which mark a price column uses, "" if its cells do not
// tell or contradict each other. A single mark with three digits behind it
// ("1,234") tells nothing.
func decimalMark(cells []string) string {
	points, commas := 0, 0
	for _, c := range cells {
		p, k := strings.LastIndexByte(c, '.'), strings.LastIndexByte(c, ',')
		last := max(p, k)
		if last < 0 {
			continue
		}
		tail := 0
		for tail < len(c)-last-1 && c[last+1+tail] >= '0' && c[last+1+tail] <= '9' {
			tail++
		}
		lead := strings.TrimLeft(c[:last], "€$£¥ -+")
		sure := tail != 3 || (p >= 0 && k >= 0) || lead == "0" || lead == ""
		switch {
		case !sure || tail == 0 && !strings.HasSuffix(c, ",-"):
		case last == p:
			points++
		default:
			commas++
		}
	}
	switch {
	case points > 0 && commas == 0:
		return "point"
	case commas > 0 && points == 0:
		return "comma"
	}
	return ""
}

func markOf(decimal string) money.Mark {
	switch decimal {
	case "point":
		return money.Point
	case "comma":
		return money.Comma
	}
	return money.Either
}

func markName(m money.Mark) string {
	switch m {
	case money.Point:
		return "point"
	case money.Comma:
		return "comma"
	}
	return ""
}
