package catalog

import (
	"strconv"
	"strings"

	"lugworth/core/money"
	"lugworth/core/unit"
)

// fromWords stand before the number of pieces a price holds from; pieceMarks
// may stand between that number and the price. Common practice, no source.
var (
	fromWords  = []string{"ab ", "from ", "a partir de ", "à partir de ", "dès ", "des ", "vanaf ", "desde ", "qty ", ">=", "≥", ">"}
	pieceMarks = []string{"pcs.", "pcs", "pc", "pieces", "piece", "pièces", "stück", "stuck", "stk.", "stk", "st.", "stuks", "st", "uds", "ud", "off", "up", "each", "and more", "or more"}
)

// readBreaks reads prices by number of pieces written in one cell: "10+: 1.20;
// 25+: 0.95", "1-9 1.50 / 10-24 1.20", "1,50 (ab 10: 1,20)". The pieces rise;
// the first price holds from its number on, 1 where none is said. ok is false
// for anything else, a price that cannot be read included.
func readBreaks(cell, currency string, mark money.Mark) (breaks []Break, ok bool) {
	if len(cell) > 400 {
		return nil, false
	}
	for _, seg := range cutBreaks(cell) {
		b, ok := readBreak(seg, currency, mark)
		if !ok || len(breaks) > 0 && b.Pieces <= breaks[len(breaks)-1].Pieces {
			return nil, false
		}
		breaks = append(breaks, b)
	}
	return breaks, len(breaks) > 0
}

var breakEnds = strings.NewReplacer("\n", ";", "|", ";", "(", ";", ")", ";", " / ", ";", ", ", ";")

// cutBreaks cuts a cell into its prices: at semicolons, bars, brackets and line
// ends, and at slashes and commas with a blank behind them.
func cutBreaks(cell string) []string {
	var out []string
	for _, seg := range strings.Split(breakEnds.Replace(strings.ToLower(unguard(cell))), ";") {
		if seg = strings.Trim(seg, " ,"); seg != "" {
			out = append(out, seg)
		}
	}
	return out
}

func readBreak(seg, currency string, mark money.Mark) (Break, bool) {
	pieces, rest, ok := piecesFirst(seg)
	if !ok {
		if pieces, rest, ok = piecesLast(seg); !ok {
			pieces, rest = 1, seg
		}
	}
	price, priced, code, _ := readPrice(rest, currency, mark)
	return Break{pieces, price}, code == "" && priced
}

// piecesFirst reads "10+: 1.20", "10-24 1.20", "ab 10 1.20", "10 @ 1.20".
func piecesFirst(seg string) (pieces int, rest string, ok bool) {
	marked := false
	for _, w := range fromWords {
		if after, cut := strings.CutPrefix(seg, w); cut {
			seg, marked = strings.TrimSpace(after), true
			break
		}
	}
	pieces, rest, ok = cutNumber(seg)
	if !ok {
		return 0, "", false
	}
	rest = strings.TrimLeft(rest, " ")
	for _, sign := range []string{"+", "-", "–", "to ", "bis ", "à ", "tot "} {
		after, cut := strings.CutPrefix(rest, sign)
		if !cut {
			continue
		}
		rest, marked = strings.TrimLeft(after, " "), true
		if sign != "+" {
			if _, more, ok := cutNumber(rest); ok && (more == "" || more[0] != '.' && more[0] != ',') {
				rest = more
			}
		}
		break
	}
	rest, said := skipMarks(strings.TrimLeft(rest, " "))
	return pieces, rest, (marked || said) && rest != ""
}

// skipMarks passes over what may stand between the pieces and the price.
func skipMarks(s string) (rest string, said bool) {
	for {
		t := strings.TrimLeft(s, " ")
		for _, w := range []string{":", "=", "@", "→"} {
			if after, ok := strings.CutPrefix(t, w); ok {
				t, said = after, true
			}
		}
		for _, w := range pieceMarks {
			if after, ok := strings.CutPrefix(t, w); ok && (after == "" || after[0] == ' ' || after[0] == ':') {
				t, said = after, true
				break
			}
		}
		if t == s {
			return strings.TrimSpace(t), said
		}
		s = t
	}
}

// piecesLast reads "1.20 ab 10", "1.20 from 25 pcs".
func piecesLast(seg string) (pieces int, rest string, ok bool) {
	for _, w := range fromWords {
		price, after, cut := strings.Cut(seg, " "+w)
		if !cut {
			continue
		}
		n, more, ok := cutNumber(strings.TrimSpace(after))
		if more, _ = skipMarks(strings.TrimPrefix(more, "+")); ok && more == "" {
			return n, strings.TrimSpace(price), true
		}
	}
	return 0, "", false
}

// cutNumber takes a whole number of pieces off the front.
func cutNumber(s string) (n int, rest string, ok bool) {
	end := 0
	for end < len(s) && s[end] >= '0' && s[end] <= '9' {
		end++
	}
	n, err := strconv.Atoi(s[:end])
	return n, s[end:], err == nil && n >= 1 && n <= 1_000_000 && end <= 7
}

// pieceOf is price for one of n pieces. A price that does not come out even is
// rounded up to a millionth, and even is false.
func pieceOf(price money.Decimal, n int) (each money.Decimal, even bool, code unit.Code) {
	if n == 1 {
		return price, true, ""
	}
	scale, rest := 0, n
	for ; rest%10 == 0; rest /= 10 {
		scale++
	}
	tenth, err := money.NewDecimal(1, scale)
	if err == nil {
		price, err = price.Mul(tenth)
	}
	if err != nil {
		return price, false, unit.OutOfRange
	}
	if rest == 1 {
		return price, true, ""
	}
	million, err := price.Mul(money.Whole(1_000_000))
	if err != nil || million.Float() > 1e15 {
		return price, false, unit.OutOfRange
	}
	up := max(0, int64(million.Float())/int64(rest)-1)
	for money.Whole(up).Cmp(million) < 0 { // exact: the least number of millionths that n pieces pay for
		total, err := money.Whole(up).Mul(money.Whole(int64(rest)))
		if err != nil {
			return price, false, unit.OutOfRange
		}
		if total.Cmp(million) >= 0 {
			each, err = money.NewDecimal(up, 6)
			return each, err == nil && total.Cmp(million) == 0, ""
		}
		up++
	}
	return price, false, unit.OutOfRange
}
