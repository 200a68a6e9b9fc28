package shop

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"lugworth/core/money"
	"lugworth/core/unit"
)

// A Wait is how many days something takes: the least, the most likely, the
// most. Working counts the shop's open days, else all days count.
type Wait struct {
	Low, Mode, High int
	Working         bool
}

// weekdays as the sheet writes them, Monday first.
var weekdays = []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"}

// benchHours reads hours a day, above nothing and up to a day.
func benchHours(to *money.Decimal, v string) error {
	var d money.Decimal
	if err := amount(&d, v); err != nil {
		return err
	}
	if d.IsZero() || d.Cmp(money.Whole(24)) > 0 {
		return unit.Problem{Cell: v, Code: unit.OutOfRange, Hint: "more than 0, at most 24 hours a day"}
	}
	*to = d
	return nil
}

// openDays reads "mon-fri", "tue thu", "mon-wed, sat".
func openDays(to *[7]bool, v string) error {
	var days [7]bool
	for _, item := range strings.Fields(strings.ReplaceAll(strings.ToLower(v), ",", " ")) {
		from, till, span := strings.Cut(item, "-")
		if !span {
			till = from
		}
		a, b := weekday(from), weekday(till)
		if a < 0 || b < 0 {
			return unit.Problem{Cell: v, Code: unit.UnknownWord, Hint: "mon-fri, or days such as tue thu"}
		}
		for days[a] = true; a != b; days[a] = true {
			a = (a + 1) % 7
		}
	}
	*to = days
	return nil
}

func weekday(word string) int {
	if len(word) > 3 {
		word = word[:3]
	}
	return slices.Index(weekdays, word)
}

// holidays reads dates parted by semicolons, or "none".
func holidays(to *[]string, v string) error {
	var out []string
	if strings.EqualFold(v, "none") {
		return nil
	}
	for _, d := range strings.FieldsFunc(v, func(r rune) bool { return r == ';' || r == ',' || r == ' ' }) {
		if _, err := time.Parse(time.DateOnly, d); err != nil {
			return unit.Problem{Cell: d, Code: unit.UnknownWord, Hint: "dates such as 2026-12-25; 2027-01-01, or none"}
		}
		out = append(out, d)
	}
	slices.Sort(out)
	*to = slices.Compact(out)
	return nil
}

// waitDays reads "0/1/4", "3" or "1/2/4 working".
func waitDays(to *Wait, v string) error {
	bad := unit.Problem{Cell: v, Code: unit.OutOfRange, Hint: "days, least/likely/most, such as 0/1/4 or 1/2/4 working"}
	text, working := strings.CutSuffix(strings.ToLower(v), "working")
	cells := strings.Split(text, "/")
	if len(cells) == 1 {
		cells = []string{text, text, text}
	}
	if len(cells) != 3 {
		return bad
	}
	var n [3]int
	for i, c := range cells {
		d, err := strconv.Atoi(trim(c))
		if err != nil || d < 0 || d > 3650 || i > 0 && d < n[i-1] {
			return bad
		}
		n[i] = d
	}
	*to = Wait{n[0], n[1], n[2], working}
	return nil
}
