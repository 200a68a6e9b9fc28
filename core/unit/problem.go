package unit

import (
	"errors"
	"strconv"
	"strings"
)

// Code says what is wrong with a cell. The text is stable across releases.
type Code string

const (
	// NotANumber: the place calls for a number and this is not one.
	// Example: "45O" (letter O).
	// Discussion: the row is kept aside, never guessed at; where letters look
	// like figures the hint offers the number.
	NotANumber Code = "not-a-number"

	// AmbiguousText: two readings are both in use.
	// Example: "100M" on a resistor; "1,234" with no declared decimal mark.
	// Discussion: the readings are offered; a person picks one.
	AmbiguousText Code = "ambiguous"

	// Empty: the cell holds nothing but spaces.
	// Example: "".
	// Discussion: whether a blank is allowed is for the caller to say; a blank
	// is never a zero.
	Empty Code = "empty"

	// NoValue: the text holds ratings or words but no value.
	// Example: "5W" on a resistor, "axial".
	// Discussion: a rating alone does not name a part.
	NoValue Code = "no-value"

	// Negative: a quantity that cannot be below zero is.
	// Example: "-100 kΩ".
	// Discussion: volts, amperes and plain numbers may be negative.
	Negative Code = "negative"

	// OutOfRange: a number, but larger or smaller than any part or reading.
	// Example: "5e30 V", "22000000 µF".
	// Discussion: mostly a slip of the unit or of the decimal mark.
	OutOfRange Code = "out-of-range"

	// NotFinite: the text names no finite number.
	// Example: "NaN", "1e309".
	// Discussion: such a figure would pass every comparison or none.
	NotFinite Code = "not-finite"

	// UnknownUnit: a number followed by letters that are no unit of the trade.
	// Example: "22 qF", "6V6GT".
	// Discussion: a tube type in a value column ends up here.
	UnknownUnit Code = "unknown-unit"

	// WrongUnit: a unit, but not of the quantity the place calls for.
	// Example: "470 ohm" in a column of capacitors.
	// Discussion: mostly a wrong column.
	WrongUnit Code = "wrong-unit"

	// TooLong: more text than any marking has.
	// Example: a paragraph in a value column.
	// Discussion: kept short so that a broken file cannot stall the reader.
	TooLong Code = "too-long"

	// ExtraText: a good reading and something more that has no place in it.
	// Example: "22 µF 47 µF", "318 V 320".
	// Discussion: nothing is dropped silently.
	ExtraText Code = "extra-text"

	// SeveralRatings: sections with ratings of their own.
	// Example: "20 µF 450 V + 20 µF 25 V".
	// Discussion: enter one row for each rating; one figure would be wrong
	// for the other section.
	SeveralRatings Code = "several-ratings"

	// UnknownWord: a word outside the list its column allows.
	// Example: "sometimes" where yes or no is wanted.
	// Discussion: the hint names the words allowed.
	UnknownWord Code = "unknown-word"

	// Missing: a column or row that must be there is not.
	// Example: a price list without a price column.
	// Discussion: the file can be mapped by hand.
	Missing Code = "missing"

	// Duplicate: the same key twice.
	// Example: two rows of one part number with different prices.
	// Discussion: which one counts is for a person to say.
	Duplicate Code = "duplicate"

	// BadRow: the line cannot be split into cells.
	// Example: a quotation mark that is never closed.
	// Discussion: the lines after it are read as usual.
	BadRow Code = "bad-row"

	// Circle: things that cause each other.
	// Example: finding a caused by b, and b by a.
	// Discussion: neither cures the other; a person must say which comes first.
	Circle Code = "circle"

	// Unusable: well written and still of no use: it contradicts another fact,
	// names something that is not there, or lacks what it rests on.
	// Example: a mains range from 130 V to 114 V; an option of no finding.
	// Discussion: the reason stands in Say.
	Unusable Code = "unusable"
)

var sayings = map[Code]string{
	NotANumber: "is not a number", AmbiguousText: "can be read in more than one way", Empty: "is empty",
	NoValue: "names no value", Negative: "is negative", OutOfRange: "is out of range",
	NotFinite: "is not a finite number", UnknownUnit: "has a unit we do not know", WrongUnit: "has the wrong unit",
	TooLong: "is too long", ExtraText: "holds more than one reading", SeveralRatings: "gives sections different ratings",
	UnknownWord: "is not a word we know here", Missing: "is missing", Duplicate: "comes twice",
	BadRow: "cannot be split into cells", Circle: "comes round in a circle", Unusable: "cannot be used",
}

// Says returns the code in words, as they follow the text in a message.
func (c Code) Says() string {
	if s := sayings[c]; s != "" {
		return s
	}
	return string(c)
}

// A Problem says why one cell of a file could not be used.
type Problem struct {
	File   string // name the user gave, "" if there is none
	Line   int    // 1-based line on which the cell starts, 0 if there is none
	Column string // heading as written
	Cell   string // text as read
	Code   Code   // what is wrong
	Hint   string // a reading the user may accept, or ""
	Say    string // what is wrong, where it takes a sentence; printed in place of cell and code
}

// Error prints `list.csv: line 14, column "Volts": "45O" is not a number;
// did you mean 450?`, leaving out the parts that are not known.
func (p Problem) Error() string {
	var b strings.Builder
	if p.File != "" {
		b.WriteString(p.File + ": ")
	}
	if p.Line > 0 {
		b.WriteString("line " + strconv.Itoa(p.Line))
	}
	if p.Column != "" {
		if p.Line > 0 {
			b.WriteString(", ")
		}
		b.WriteString("column " + strconv.Quote(p.Column))
	}
	if p.Line > 0 || p.Column != "" {
		b.WriteString(": ")
	}
	if p.Say != "" {
		b.WriteString(p.Say)
	} else {
		b.WriteString(strconv.Quote(p.Cell) + " " + p.Code.Says())
	}
	if p.Hint != "" {
		b.WriteString("; did you mean " + p.Hint + "?")
	}
	return b.String()
}

// Located turns any error into a Problem with its place; ok is false for a
// nil error. An Ambiguous gives its choices as hint; an error of no reader
// here keeps its own words. Where the caller does not know line, column or
// cell, those the error names stay.
func Located(err error, file string, line int, column, cell string) (p Problem, ok bool) {
	if err == nil {
		return Problem{}, false
	}
	var asks Ambiguous
	switch {
	case errors.As(err, &p):
	case errors.As(err, &asks):
		p = Problem{Cell: asks.Text, Code: AmbiguousText, Hint: asks.list()}
	default:
		p = Problem{Code: Unusable, Say: strings.TrimPrefix(err.Error(), file+": ")}
	}
	p.File = file
	if line > 0 {
		p.Line = line
	}
	if column != "" {
		p.Column = column
	}
	if cell != "" {
		p.Cell = cell
	}
	return p, true
}

// LookAlike offers a number for a text in which letters stand for figures
// that look like them: "45O" -> "450"; "" if there is none.
func LookAlike(text string) string {
	t := strings.TrimSpace(text)
	number := strings.TrimRight(t, "VvWwAaFuµKkMΩ% ")
	fixed := likeFigures.Replace(number)
	if fixed == number || len(t) > 30 || strings.IndexAny(t, "0123456789") < 0 {
		return ""
	}
	if v, err := strconv.ParseFloat(strings.Replace(fixed, ",", ".", 1), 64); err != nil || !finite(v) {
		return ""
	}
	return fixed + t[len(number):]
}

var likeFigures = strings.NewReplacer("O", "0", "o", "0", "l", "1", "I", "1", "|", "1", "S", "5", "B", "8", "Z", "2")
