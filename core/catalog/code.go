package catalog

import "lugworth/core/unit"

// Codes of problems that only a price list can have.
const (
	// NoCharge: the price is zero.
	// Example: "0,00".
	// Discussion: a free part and a price left out look the same, so the row
	// is kept aside until someone says which.
	NoCharge unit.Code = "zero-price"

	// WrongCurrency: the cell names another currency than the supplier's terms.
	// Example: "£4.20" in a list in EUR.
	// Discussion: the rate of the terms would be applied to the wrong money.
	WrongCurrency unit.Code = "other-currency"

	// RowTooLong: the row has more cells than there are headings.
	// Example: 3,10 unquoted in a comma list.
	// Discussion: every cell behind the extra one may stand in the wrong column.
	RowTooLong unit.Code = "too-many-cells"

	// RowTooShort: the row has fewer cells than headings.
	// Discussion: a note; the missing cells at the end are read as blank.
	RowTooShort unit.Code = "too-few-cells"

	// StrayQuote: a quote mark stands inside a cell that is not quoted.
	// Example: Jack 1/4" insulated.
	// Discussion: a note; the mark is kept as text.
	StrayQuote unit.Code = "stray-quote"

	// OpenQuote: a quote mark opens a cell and nothing closes it.
	// Discussion: only the line it stands on is kept aside.
	OpenQuote unit.Code = "open-quote"

	// ControlCharacter: a NUL or another character no text holds.
	ControlCharacter unit.Code = "control-character"

	// BetweenHeading: a row with a single word and no price.
	// Example: "CAPACITORS;;;;".
	// Discussion: taken for a heading between rows; kept aside, not offered.
	BetweenHeading unit.Code = "heading-between-rows"

	// BlankRows: rows of empty cells were passed over.
	BlankRows unit.Code = "blank-rows"

	// NoPrice: the row is kept but has no price.
	NoPrice unit.Code = "no-price"

	// NotRead: the description holds a marking that could not be read.
	// Discussion: a note; the part can be ordered by number, but what it is
	// rated for is unknown.
	NotRead unit.Code = "marking-not-read"

	// Disagrees: column and description say different things.
	// Discussion: a note; the column is taken.
	Disagrees unit.Code = "column-and-text-disagree"

	// Changed: the headings are not those the saved mapping was made for.
	Changed unit.Code = "headings-changed"

	// NoSuchPlace: a fix names a line or a column the file does not have.
	NoSuchPlace unit.Code = "no-such-place"
)
