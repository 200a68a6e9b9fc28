// Package record keeps a shop's facts as a list that only grows: who said what,
// after having seen what, provably unchanged. It knows nothing of the trade.
//
//	{"format":1,"records":[...]}     Read      a File, or every problem with its place
//	File of one device, one of another  Merge  both, the same bytes whichever comes first
//	File                             Verify    the first record that is not what it was
//	records                          Fold      what holds now: kind, id, field, and which record said so
//
// Two hashes do the work, both SHA-256 written as 64 lower-case hex digits.
// The body hash is over the salt's bytes followed by the canonical bytes of the
// body. The record hash is over the canonical envelope without body and salt,
// which holds the body hash; the next record of the same device repeats it as
// prev. So a body may be taken out and the chain still verifies.
//
// A shop's own books are a File of the same form.
package record

import "encoding/json"

// Format is the version of the file form that this program writes.
const Format = 1

// First is the prev of a device's first record: 64 zeros.
const First = "0000000000000000000000000000000000000000000000000000000000000000"

// Kinds this package gives a meaning to. Every other kind is the caller's.
const (
	Undo     = "undo"     // body {"record": hash or id}: hides that record; hiding an undo is a redo
	Consent  = "consent"  // never undone, only superseded
	Frozen   = "frozen"   // never undone, only superseded
	HandBack = "handback" // never undone, only superseded
)

// A Record is one thing said by one device. The body is canonical JSON, an
// object; nil after redaction. Extra holds envelope fields that this version
// does not know: they are covered by the record hash and passed on.
type Record struct {
	ID       string                     `json:"id"`
	At       string                     `json:"at"`     // for people, never for order
	Device   string                     `json:"device"` // whose chain
	N        int64                      `json:"n"`      // 1 + the greatest n the device had seen
	Seen     map[string]string          `json:"seen"`   // heads of other devices' chains, by device
	Prev     string                     `json:"prev"`   // hash of the device's record before this one
	Kind     string                     `json:"kind"`
	Salt     string                     `json:"salt"` // hex
	BodyHash string                     `json:"bodyHash"`
	Body     json.RawMessage            `json:"body"`
	Extra    map[string]json.RawMessage `json:"-"`
}

// Meta is what the outside gives a new record: there is no clock and no chance
// in this package. Salt is hex, at least 16 bytes.
type Meta struct{ ID, At, Device, Salt string }

// A File is all the records of one job, or of one shop's books.
type File struct {
	Format  int
	Heads   map[string]string // last record hash by device as the file states it; nil if it does not
	Records []Record
	NoChain bool // written by hand, without any chain field: ids are r1, r2, ...
}

// A Notice says something a person should know that is not an error.
type Notice struct {
	Code   Code
	Device string
	ID     string // record id, where there is one
	Say    string
	Raw    []byte // what was set aside, as it was found
}
