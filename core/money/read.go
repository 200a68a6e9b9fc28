package money

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"lugworth/core/unit"
)

// Mark is the decimal mark a price list uses. The zero value is Either:
// nothing is declared, so "1,234" is a question.
type Mark uint8

const (
	Either Mark = iota
	Point
	Comma
)

// ParseMark reads a declared mark: "point", ".", "comma", ","; "" is Either.
func ParseMark(text string) (Mark, error) {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "":
		return Either, nil
	case "point", ".":
		return Point, nil
	case "comma", ",":
		return Comma, nil
	}
	return Either, unit.Problem{Cell: text, Code: unit.UnknownWord, Hint: "point or comma"}
}

// String returns "point", "comma" or "".
func (m Mark) String() string {
	switch m {
	case Point:
		return "point"
	case Comma:
		return "comma"
	}
	return ""
}

// ReadPrice reads a price that may carry a currency sign or code before or
// after it, and returns that sign as written: "$38.00", "4,20 EUR", "12,-".
// The caller compares it with the currency declared for the list.
func ReadPrice(text string, mark Mark) (Decimal, string, error) {
	number, before := cutSign(strings.TrimSpace(text), true)
	number, after := cutSign(number, false)
	if before != "" && after != "" {
		return Decimal{}, "", unit.Problem{Cell: text, Code: unit.ExtraText}
	}
	if cut, ok := strings.CutSuffix(number, ",-"); ok { // no cents, as written in Dutch and German lists
		number = cut
	}
	d, err := ReadDecimal(number, mark)
	if p, ok := err.(unit.Problem); ok {
		p.Cell = text
		return d, before + after, p
	}
	return d, before + after, err
}

// cutSign takes a currency sign such as "€", "USD" or "US$" off one end. A
// look-alike of a figure next to one ("l2", "45O") is left for the reader.
func cutSign(text string, front bool) (rest, sign string) {
	isSign := func(r rune) bool { return unicode.Is(unicode.Sc, r) || r >= 'A' && r <= 'Z' }
	rest = strings.TrimRightFunc(text, isSign)
	if front {
		rest = strings.TrimLeftFunc(text, isSign)
	}
	sign = strings.Replace(text, rest, "", 1)
	if _, err := CurrencyOf(sign); err != nil && strings.IndexFunc(sign, func(r rune) bool { return unicode.Is(unicode.Sc, r) }) < 0 {
		return text, ""
	}
	return strings.TrimSpace(rest), sign
}

// ReadDecimal reads a number with the declared decimal mark. Thousands may be
// marked with the other mark, a space or an apostrophe, in whole groups of
// three. Under Either a lone mark before exactly three figures may be either
// and is refused.
//
// The error is a unit.Problem: empty, not-a-number, ambiguous, out-of-range.
func ReadDecimal(text string, mark Mark) (Decimal, error) {
	s := strings.TrimSpace(text)
	if s == "" {
		return Decimal{}, unit.Problem{Cell: text, Code: unit.Empty}
	}
	if len(s) > 80 {
		return Decimal{}, unit.Problem{Cell: s[:20] + "...", Code: unit.TooLong}
	}
	s, negative := cutMinus(s)
	point := decimalAt(s, mark)
	if point == asks {
		return Decimal{}, unit.Problem{Cell: text, Code: unit.AmbiguousText,
			Hint: strings.Map(keepFigures, s) + " or " + strings.Replace(s, ",", ".", 1)}
	}
	whole, part := s, ""
	if point >= 0 {
		whole, part = s[:point], s[point+1:]
	}
	figures, ok := joinGroups(whole, point, mark, s)
	if !ok || !allFigures(part) || figures+part == "" {
		return Decimal{}, unit.Problem{Cell: text, Code: unit.NotANumber, Hint: hint(s, mark)}
	}
	return fromFigures(text, figures, part, negative)
}

func cutMinus(s string) (string, bool) {
	for _, m := range [...]string{"-", "−"} {
		if rest, ok := strings.CutPrefix(s, m); ok {
			return strings.TrimSpace(rest), true
		}
	}
	return strings.TrimPrefix(s, "+"), false
}

const (
	noMark = -1
	asks   = -2
)

// decimalAt returns the place of the decimal mark in s, noMark or asks.
func decimalAt(s string, mark Mark) int {
	switch mark {
	case Point:
		return strings.LastIndexByte(s, '.')
	case Comma:
		return strings.LastIndexByte(s, ',')
	}
	dot, comma := strings.LastIndexByte(s, '.'), strings.LastIndexByte(s, ',')
	last := max(dot, comma)
	if last < 0 {
		return noMark
	}
	if min(dot, comma) >= 0 {
		return last
	}
	if strings.Count(s, s[last:last+1]) > 1 {
		return noMark // 1,234,567: a mark that comes twice parts thousands
	}
	if last >= 1 && last <= 3 && len(s)-last == 4 && s[0] != '0' && allFigures(s[:last]) && allFigures(s[last+1:]) {
		return asks
	}
	return last
}

// joinGroups returns the figures of the whole part without thousands marks;
// false if the groups are not of three figures or the marks are mixed.
func joinGroups(whole string, point int, mark Mark, s string) (string, bool) {
	if allFigures(whole) {
		return whole, true
	}
	var group rune
	figures, size, first := make([]byte, 0, len(whole)), 0, true
	for _, r := range whole {
		if r >= '0' && r <= '9' {
			figures = append(figures, byte(r))
			size++
			continue
		}
		r = plainGroup(r)
		wrong := r == 0 || group != 0 && r != group || point >= 0 && r == rune(s[point]) || mark == Point && r == '.' || mark == Comma && r == ','
		if wrong || size == 0 || size > 3 || !first && size != 3 {
			return "", false
		}
		group, size, first = r, 0, false
	}
	return string(figures), size == 3
}

// plainGroup maps a thousands mark to one of its kind; 0 if it is none.
func plainGroup(r rune) rune {
	switch r {
	case '.', ',':
		return r
	case ' ', '\u00a0', '\u2009', '\u202f':
		return ' '
	case '\'', '’':
		return '\''
	}
	return 0
}

func allFigures(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return true
}

func keepFigures(r rune) rune {
	if r >= '0' && r <= '9' {
		return r
	}
	return -1
}

// hint offers a plausible reading of a text that is not a number.
func hint(s string, mark Mark) string {
	if mark != Either {
		if _, err := ReadDecimal(s, Either); err == nil {
			return s + " with the other decimal mark"
		}
	}
	return unit.LookAlike(s)
}

func fromFigures(text, figures, part string, negative bool) (Decimal, error) {
	part = strings.TrimRight(part, "0")
	var coef uint64
	for _, b := range []byte(figures + part) {
		if coef > (1<<63-uint64(b-'0'))/10 || len(part) > maxScale {
			return Decimal{}, unit.Problem{Cell: text, Code: unit.OutOfRange}
		}
		coef = coef*10 + uint64(b-'0')
	}
	v, ok := signed(coef, negative)
	if !ok || !utf8.ValidString(text) {
		return Decimal{}, unit.Problem{Cell: text, Code: unit.OutOfRange}
	}
	return trim(v, uint8(len(part))), nil
}
