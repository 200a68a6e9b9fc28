package finding

import (
	"fmt"
	"strconv"
	"strings"

	"lugworth/core/unit"
)

// A CodeDate is one date a code can mean.
type CodeDate struct {
	Source string // the maker's number, three or four digits
	Year   int
	Week   int
	Fit    Fit
}

// String prints "1957 week 23".
func (d CodeDate) String() string { return fmt.Sprintf("%d week %d", d.Year, d.Week) }

// Fit says how a code date stands to the year the amp was made; the zero
// value says nothing is known.
type Fit string

const (
	UnknownFit  Fit = ""
	Fits        Fit = "fits"
	OldStock    Fit = "old stock"         // older than the amp: on the shelf for years, or taken from another
	Replacement Fit = "later replacement" // younger than the amp
)

// A CodeReading is a source-date code with every date it can mean.
type CodeReading struct {
	On      string // the part it stands on
	Code    string
	Choices []CodeDate // more than one: ask
	Settled bool       // a person settled the year
}

// Asks reports whether the code can mean more than one date.
func (c CodeReading) Asks() bool { return len(c.Choices) > 1 }

// Sure returns the one date the code means.
func (c CodeReading) Sure() (CodeDate, bool) {
	if len(c.Choices) != 1 {
		return CodeDate{}, false
	}
	return c.Choices[0], true
}

// CodeSource says where the reading of date codes comes from.
const CodeSource = "common practice, guides to source-date codes (second-hand transcription)"

// The years a one-figure code can mean end at the decade two figures came
// into general use; no code is older than oldestCode. Source: as CodeSource;
// the ends are our own judgment.
const (
	oneFigureFrom, oneFigureTo = 1940, 1969
	oldestCode                 = 1930
	lastWeek                   = 53
)

// ReadCode reads a source-date code: the maker's number (three or four
// figures), the year (one or two) and the week (two), with or without marks
// between.
//
//	999-5723  → source 999, 1957 week 23
//	999723    → source 999, week 23 of 1947, 1957 or 1967
//	9995-723  → source 9995, week 23 of 1947, 1957 or 1967
//	9995723   → source 999, 1957, or source 9995 and a year ending in 7
//
// The date is the earliest the amp can be: a part may have lain for months,
// and not every maker used the code.
// Errors: figures that are too few or too many, or a week beyond 53.
func ReadCode(text string) (CodeReading, error) {
	c := CodeReading{Code: strings.TrimSpace(text)}
	groups, ok := figures(c.Code)
	if !ok {
		return c, unit.Problem{Cell: text, Code: unit.NotANumber, Hint: "SOURCE-YEAR-WEEK in figures, such as 999-5723"}
	}
	all := strings.Join(groups, "")
	for _, source := range []int{3, 4} {
		if len(groups) > 1 && len(groups[0]) != source {
			continue
		}
		c.Choices = append(c.Choices, dates(all, source)...)
	}
	switch {
	case len(c.Choices) > 0:
		return c, nil
	case len(all) < 6 || len(all) > 8 || len(groups) > 1 && len(groups[0]) != 3 && len(groups[0]) != 4:
		return c, unit.Problem{Cell: text, Code: unit.OutOfRange, Hint: "3 or 4 figures of the maker, 1 or 2 of the year, 2 of the week"}
	}
	hint := "a week from 01 to 53 in place of " + all[len(all)-2:]
	if w, _ := strconv.Atoi(all[len(all)-2:]); w >= 1 && w <= lastWeek {
		hint = "a year from 30 to 99"
	}
	return c, unit.Problem{Cell: text, Code: unit.OutOfRange, Hint: hint}
}

// figures cuts the text at its marks; letters before the figures ("EIA") are
// stepped over, any elsewhere are refused.
func figures(text string) ([]string, bool) {
	text = strings.TrimLeft(text, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz .:#")
	groups := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" -–./", r) })
	for _, g := range groups {
		if strings.Trim(g, "0123456789") != "" {
			return nil, false
		}
	}
	return groups, len(groups) > 0
}

// dates returns what the figures mean if the maker's number has the given
// length, nothing if they cannot.
func dates(all string, source int) []CodeDate {
	rest := len(all) - source - 2
	if rest != 1 && rest != 2 {
		return nil
	}
	week, _ := strconv.Atoi(all[len(all)-2:])
	if week < 1 || week > lastWeek {
		return nil
	}
	year, _ := strconv.Atoi(all[source : source+rest])
	if rest == 2 {
		if 1900+year < oldestCode {
			return nil
		}
		return []CodeDate{{Source: all[:source], Year: 1900 + year, Week: week}}
	}
	var out []CodeDate
	for y := oneFigureFrom + year; y <= oneFigureTo; y += 10 {
		out = append(out, CodeDate{Source: all[:source], Year: y, Week: week})
	}
	return out
}

// Settle keeps the date a person named. A year the code cannot mean is an
// error and changes nothing.
func (c CodeReading) Settle(year string) (CodeReading, error) {
	y := strings.TrimSpace(year)
	if y == "" {
		return c, nil
	}
	for _, d := range c.Choices {
		if strconv.Itoa(d.Year) == y {
			c.Choices, c.Settled = []CodeDate{d}, true
			return c, nil
		}
	}
	return c, unit.Problem{Cell: year, Code: unit.OutOfRange, Hint: c.years()}
}

func (c CodeReading) years() string {
	var ys []string
	for _, d := range c.Choices {
		ys = append(ys, strconv.Itoa(d.Year))
	}
	return strings.Join(ys, " or ")
}

// Against says of each date whether it fits an amp made when the job says
// ("about 1957", "1955-58"): inside the years, or up to a year before them,
// it fits; parts lie on the shelf for months. "about" and the like allow two
// years each way. Words without a year leave every fit unknown.
func (c CodeReading) Against(about string) CodeReading {
	from, to, ok := Years(about)
	if !ok {
		return c
	}
	c.Choices = append([]CodeDate(nil), c.Choices...)
	for i := range c.Choices {
		d := &c.Choices[i]
		switch {
		case d.Year < from-1:
			d.Fit = OldStock
		case d.Year > to:
			d.Fit = Replacement
		default:
			d.Fit = Fits
		}
	}
	return c
}

// String says what the code means: "source 999, 1957 week 23: fits", or the
// question: "998741: week 41 of 1947 (old stock), 1957 (fits) or 1967 (later
// replacement)?".
func (c CodeReading) String() string {
	d, ok := c.Sure()
	if ok {
		s := "source " + d.Source + ", " + d.String()
		if d.Fit != UnknownFit {
			s += ": " + string(d.Fit)
		}
		return s
	}
	var parts []string
	for i, d := range c.Choices {
		s := strconv.Itoa(d.Year)
		if i == 0 || d.Week != c.Choices[i-1].Week || d.Source != c.Choices[i-1].Source {
			s = fmt.Sprintf("source %s, week %d of %d", d.Source, d.Week, d.Year)
		}
		if d.Fit != UnknownFit {
			s += " (" + string(d.Fit) + ")"
		}
		parts = append(parts, s)
	}
	if len(parts) == 0 {
		return c.Code
	}
	last := len(parts) - 1
	return c.Code + ": " + strings.Join(parts[:last], ", ") + " or " + parts[last] + "?"
}

// Years reads the years out of words such as "about 1957", "1955-58", "late
// 1950s". Ok is false where there is no year.
func Years(about string) (from, to int, ok bool) {
	text := strings.ToLower(about)
	for i := 0; i < len(text); i++ {
		end := i
		for end < len(text) && text[end] >= '0' && text[end] <= '9' {
			end++
		}
		if y, err := strconv.Atoi(text[i:end]); err == nil {
			switch {
			case end-i == 4 && y >= 1900 && y < 2100:
				decade := end < len(text) && text[end] == 's' && y%10 == 0
				from, to, ok = span(from, to, ok, y, decade)
			case end-i == 2 && ok && y > from%100 && joined(text[:i]): // the end of "1955-58"
				to = from/100*100 + y
			}
		}
		i = max(i, end)
	}
	if ok && about != "" && vague(text) {
		from, to = from-2, to+2
	}
	return from, to, ok
}

// joined reports whether what stands before a figure joins it to a year.
func joined(before string) bool {
	return strings.HasSuffix(before, "-") || strings.HasSuffix(before, "–") || strings.HasSuffix(before, "/")
}

func span(from, to int, ok bool, y int, decade bool) (int, int, bool) {
	last := y
	if decade {
		last = y + 9
	}
	if !ok {
		return y, last, true
	}
	return min(from, y), max(to, last), true
}

func vague(text string) bool {
	for _, w := range []string{"about", "circa", "around", "roughly", "c.", "ca ", "ca.", "approx", "~", "?"} {
		if strings.Contains(text, w) {
			return true
		}
	}
	return false
}
