package catalog

import "lugworth/core/unit"

// Codes of problems that only a price list can have. The text of each follows
// the cell in a message.
const (
	// AboveHeadings: a row above the headings, such as the supplier's address.
	// Discussion: a note; it is passed over.
	AboveHeadings unit.Code = "stands above the headings"

	// NoCharge: the price is zero.
	// Example: "0,00".
	// Discussion: a free part and a price left out look the same, so the row
	// is kept aside until someone says which.
	NoCharge unit.Code = "is a price of zero"

	// WrongCurrency: the cell names another currency than the supplier's terms.
	// Example: "£4.20" in a list in EUR.
	// Discussion: the rate of the terms would be applied to the wrong money.
	WrongCurrency unit.Code = "is in another currency than the terms say"

	// RowTooLong: the row has more cells than there are headings.
	// Example: 3,10 unquoted in a comma list.
	// Discussion: every cell behind the extra one may stand in the wrong column.
	RowTooLong unit.Code = "is one cell more than there are headings"

	// RowTooShort: the row has fewer cells than headings.
	// Discussion: a note; the missing cells at the end are read as blank.
	RowTooShort unit.Code = "ends a row with fewer cells than headings"

	// StrayQuote: a quote mark stands inside a cell that is not quoted.
	// Example: Jack 1/4" insulated.
	// Discussion: a note; the mark is kept as text.
	StrayQuote unit.Code = "has a stray quote mark, kept as text"

	// OpenQuote: a quote mark opens a cell and nothing closes it.
	// Discussion: only the line it stands on is kept aside.
	OpenQuote unit.Code = "opens a quote that is not closed"

	// ControlCharacter: a NUL or another character no text holds.
	ControlCharacter unit.Code = "has a control character in it"

	// BetweenHeading: a row with a single word and no price.
	// Example: "CAPACITORS;;;;".
	// Discussion: taken for a heading between rows; kept aside, not offered.
	BetweenHeading unit.Code = "looks like a heading between rows"

	// TotalRow: a row that sums others up.
	// Example: "Subtotal;;;412.50".
	// Discussion: kept aside; its amount is no price of a part.
	TotalRow unit.Code = "sums up other rows"

	// BlankRows: rows of empty cells were passed over.
	BlankRows unit.Code = "rows of empty cells were passed over"

	// NoPrice: the row is kept but has no price.
	NoPrice unit.Code = "gives no price"

	// PackUnclear: the words name a pack, and nothing says whether the price is
	// that of one piece or of the pack.
	// Example: "Fuse T2A, pk of 10" at 3.60.
	// Discussion: either reading is wrong by tenfold for the other; said once
	// for the list, it holds for all its rows.
	PackUnclear unit.Code = "names a pack, and nothing says what the price is for"

	// RoundedUp: the price of a pack does not divide into even pieces.
	// Discussion: a note; a piece is rounded up to a millionth.
	RoundedUp unit.Code = "is the price of a piece, rounded up to a millionth"

	// NotRead: the description holds a marking that could not be read.
	// Discussion: a note; the part can be ordered by number, but what it is
	// rated for is unknown.
	NotRead unit.Code = "is a marking that could not be read"

	// Disagrees: column and description say different things.
	// Discussion: a note; the column is taken.
	Disagrees unit.Code = "disagrees with what is said elsewhere"

	// Changed: the headings are not those the saved mapping was made for.
	Changed unit.Code = "are not the headings the saved mapping was made for"

	// NoRows: the file has headings and nothing below them.
	NoRows unit.Code = "are headings with no rows below them"

	// NoColumn: a heading that must be there is not among these.
	NoColumn unit.Code = "do not name this column"

	// NoSuchPlace: a fix names a line or a column the file does not have, or
	// what it was to replace does not stand there.
	NoSuchPlace unit.Code = "was to be put in a place the file does not have as it was"

	// Mended: the cell was replaced by hand before it was read.
	// Discussion: a note; the file stays as the supplier wrote it.
	Mended unit.Code = "was mended by hand"
)
