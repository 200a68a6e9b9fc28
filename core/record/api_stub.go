package record

import "encoding/json"

type Code string

// Canonical returns the one spelling of v as JSON.
func Canonical(v any) ([]byte, error) { panic("to come") }

// CanonicalJSON returns the one spelling of a JSON text.
func CanonicalJSON(raw []byte) ([]byte, error) { panic("to come") }

// Read reads a whole file; every problem with its place.
func Read(data []byte) (File, error) { panic("to come") }

// ReadRecord reads one record.
func ReadRecord(data []byte) (Record, error) { panic("to come") }

// Write returns the bytes of a file.
func (f File) Write() []byte { panic("to come") }

// JSON returns the canonical bytes of a record.
func (r Record) JSON() []byte { panic("to come") }

// Hash returns the record hash.
func (r Record) Hash() string { panic("to come") }

// BodyHash answers what the body hash of a salt (hex) and a body is.
func BodyHash(salt string, body []byte) string { panic("to come") }

// Log appends.
type Log struct{ file File }

func NewLog(f File) *Log                                               { panic("to come") }
func (l *Log) Append(kind string, body any, meta Meta) (Record, error) { panic("to come") }
func (l *Log) Undo(ref string, meta Meta) (Record, error)              { panic("to come") }
func (l *Log) File() File                                              { panic("to come") }
func (l *Log) Heads() map[string]string                                { panic("to come") }

// Adopt chains the records of a hand-written file; ids stay.
func Adopt(f File, device, at string, salts []string) (File, error) { panic("to come") }

type Break struct {
	Device, ID string
	N          int64
	Code       Code
	Say        string
}

type Report struct {
	NoChain  bool
	Records  int
	Redacted int
	Broken   []Break // in fold order; the first is the first broken record
}

func Verify(f File) Report      { panic("to come") }
func (r Report) Whole() bool    { panic("to come") }
func (r Report) String() string { panic("to come") }

func Merge(a, b File) (File, []Notice)        { panic("to come") }
func Redact(f File, ref string) (File, error) { panic("to come") }

// ShortCode is 3 groups of 4 for paper; "" without a chain.
func ShortCode(f File) string { panic("to come") }

// CodeOf is the short code of one record hash.
func CodeOf(hash string) string { panic("to come") }

// FindCode finds the record after which a paper with this code was printed.
func FindCode(f File, code string) (Record, bool) { panic("to come") }

// Entry is the form of a record in a journal.
func Entry(r Record) []byte                                     { panic("to come") }
func Replay(snapshot []byte, journal [][]byte) (File, []Notice) { panic("to come") }

// Value is one field: its canonical JSON and the id and hash of the record that set it.
type Value struct {
	JSON   json.RawMessage
	Record string
	Hash   string
}

type Claim struct {
	Record, Hash, Device, At string
	Value                    json.RawMessage
}
type Conflict struct {
	Kind, ID, Field string
	Claims          []Claim // in fold order: the last is in force
}
type Undone struct{ Record, By Record }
type Unknown struct {
	Kind    string
	Records []string
}

// State is what holds now.
type State struct{ records []Record }

// Fold; known = kinds the caller knows (none given: Unknown stays empty).
func Fold(records []Record, known ...string) State         { panic("to come") }
func (s *State) Add(more ...Record)                        { panic("to come") }
func (s State) Kinds() []string                            { panic("to come") }
func (s State) IDs(kind string) []string                   { panic("to come") }
func (s State) Has(kind, id string) bool                   { panic("to come") }
func (s State) Fields(kind, id string) []string            { panic("to come") }
func (s State) Field(kind, id, field string) (Value, bool) { panic("to come") }
func (s State) Origin(kind, id, field string) string       { panic("to come") }
func (s State) Decode(kind, id string, into any) error     { panic("to come") }
func (s State) Records(kind string) []Record               { panic("to come") }
func (s State) Conflicts() []Conflict                      { panic("to come") }
func (s State) Undone() []Undone                           { panic("to come") }
func (s State) Unknown() []Unknown                         { panic("to come") }
func (s State) Redacted() []Record                         { panic("to come") }
func (s State) Notices() []Notice                          { panic("to come") }

// Entities decodes every entity of a kind in order of first appearance.
func Entities[T any](s State, kind string) ([]T, error) { panic("to come") }
