package record

import (
	"fmt"
	"strings"
)

// A Code says what is wrong or worth knowing; stable across releases, while the
// words beside it may change or be translated.
type Code string

// Problems of a file's form.
const (
	// NotJSON: the text breaks off or is not JSON.
	// Example: {"format":1,"records":[{"kind":
	// Discussion: nothing after that place can be read.
	NotJSON Code = "not-json"
	// NotText: a string is not UTF-8, or holds half of a surrogate pair.
	// Example: "\ud800"
	// Discussion: such text has no one spelling, so it has no hash.
	NotText Code = "not-text"
	// NotWhole: a number is not a whole number below 2^53.
	// Example: 2.5, 1e3, -0
	// Discussion: readers disagree on such numbers; amounts are written as text.
	NotWhole Code = "not-whole"
	// Twice: one object holds the same key twice.
	// Example: {"id":"a","id":"b"}
	// Discussion: readers disagree on which one counts.
	Twice Code = "key-twice"
	// TooDeep: objects and lists stand more than 100 deep in each other.
	TooDeep Code = "too-deep"
	// WrongForm: the file is not an object with format and records.
	WrongForm Code = "wrong-form"
	// WrongVersion: the file's format number is not one this program knows.
	WrongVersion Code = "wrong-version"
	// WrongType: a field holds another sort of value than it should.
	// Example: "n":"4"
	WrongType Code = "wrong-type"
	// Missing: a record lacks a field it must have.
	Missing Code = "missing-field"
	// PartOfChain: a record has some chain fields and not the others.
	// Example: a record with id and at only.
	// Discussion: a hand-written file leaves all of them out, in every record.
	PartOfChain Code = "part-of-chain"
	// BadHash: a hash is not 64 lower-case hex digits, or a salt not hex.
	BadHash Code = "bad-hash"
)

// A Problem says why one place of a file could not be used.
type Problem struct {
	Line, Column int    // both from 1; the column counts bytes
	Path         string // records[3].body.volts
	Code         Code
	Say          string // what was read and what is wrong with it
	Hint         string // what may be meant, or ""
}

// Error says place, what was read, what is wrong, what might be meant.
func (p Problem) Error() string {
	s := fmt.Sprintf("line %d, column %d", p.Line, p.Column)
	if p.Path != "" {
		s += " (" + p.Path + ")"
	}
	s += ": " + p.Say
	if p.Hint != "" {
		s += "; " + p.Hint
	}
	return s
}

// Problems is all that is wrong with one file, in the order of the file.
type Problems []Problem

// Error gives one problem a line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// A Notice says something a person should know that is not an error.
type Notice struct {
	Code   Code
	Device string
	ID     string // record id, where there is one
	Say    string
	Raw    []byte // what was set aside, as it was found
}
