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

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
)

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

// BodyHash answers what the body hash of a body is: SHA-256 over the bytes the
// hex salt stands for, then the canonical bytes of the body. The caller has
// made sure that both are well formed; digits that are not hex count as no salt.
func BodyHash(salt string, body []byte) string {
	text, err := hex.AppendDecode(make([]byte, 0, len(salt)/2+len(body)), []byte(salt))
	if err != nil {
		text = text[:0]
	}
	return hashOf(append(text, body...))
}

// Hash returns the record hash: SHA-256 over the canonical envelope without
// body and salt. It stays the same when the record is redacted.
func (r Record) Hash() string {
	return hashOf(r.append(make([]byte, 0, 512), false))
}

func hashOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

// JSON returns the canonical bytes of the whole record.
func (r Record) JSON() []byte { return r.append(make([]byte, 0, 640+len(r.Body)), true) }

// Redacted says that the body was taken out and only its hash is left.
func (r Record) Redacted() bool { return r.Body == nil }

// BodyIntact says that the body, if it is here, is the one that was hashed.
func (r Record) BodyIntact() bool {
	return r.Redacted() || BodyHash(r.Salt, r.Body) == r.BodyHash
}

// append writes the fields in the order of their names; content adds the body
// and its salt.
func (r Record) append(out []byte, content bool) []byte {
	w := fieldWriter{out: append(out, '{'), extra: r.Extra, names: sortedKeys(r.Extra)}
	w.text("at", r.At)
	if content && !r.Redacted() {
		w.raw("body", r.Body)
	}
	w.text("bodyHash", r.BodyHash)
	w.text("device", r.Device)
	w.text("id", r.ID)
	w.text("kind", r.Kind)
	w.name("n")
	w.out = appendInt(w.out, r.N)
	w.text("prev", r.Prev)
	if content && !r.Redacted() {
		w.text("salt", r.Salt)
	}
	w.name("seen")
	w.out = appendTexts(w.out, r.Seen)
	return w.end()
}

// appendByHand writes a record without any chain field.
func (r Record) appendByHand(out []byte) []byte {
	w := fieldWriter{out: append(out, '{'), extra: r.Extra, names: sortedKeys(r.Extra)}
	w.raw("body", r.Body)
	w.text("kind", r.Kind)
	return w.end()
}

// A fieldWriter writes known fields, given in order, and the unknown ones
// where their names fall between them.
type fieldWriter struct {
	out   []byte
	extra map[string]json.RawMessage
	names []string
	begun bool
}

func (w *fieldWriter) name(key string) {
	w.before(key)
	w.key(key)
}

func (w *fieldWriter) before(key string) {
	for len(w.names) > 0 && (key == "" || w.names[0] < key) {
		w.key(w.names[0])
		w.out = append(w.out, w.extra[w.names[0]]...)
		w.names = w.names[1:]
	}
}

func (w *fieldWriter) key(key string) {
	if w.begun {
		w.out = append(w.out, ',')
	}
	w.begun = true
	w.out = append(appendText(w.out, key), ':')
}

func (w *fieldWriter) text(key, value string) {
	w.name(key)
	w.out = appendText(w.out, value)
}

func (w *fieldWriter) raw(key string, value []byte) {
	w.name(key)
	w.out = append(w.out, value...)
}

func (w *fieldWriter) end() []byte {
	w.before("")
	return append(w.out, '}')
}

// appendTexts writes a map of texts, keys in the order of their bytes.
func appendTexts(out []byte, m map[string]string) []byte {
	out = append(out, '{')
	for i, k := range sortedKeys(m) {
		if i > 0 {
			out = append(out, ',')
		}
		out = append(appendText(out, k), ':')
		out = appendText(out, m[k])
	}
	return append(out, '}')
}
