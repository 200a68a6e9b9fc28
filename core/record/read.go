package record

import (
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strconv"

	"lugworth/core/sorted"
)

// Read reads a file of records. Every problem of its form is collected and
// returned as Problems, each with its place. Whether the chain holds is not
// asked here: a file that was tampered with must open before Verify can say
// where. Envelope fields that are not known are kept.
func Read(data []byte) (File, error) {
	n, whole, ps := scan(data)
	d := decoder{data: data, problems: ps}
	if !whole {
		return File{}, ps
	}
	f := d.file(&n)
	if len(d.problems) > 0 {
		sorted.By(d.problems, byPlace)
		return File{}, d.problems
	}
	return f, nil
}

// ReadRecord reads one chained record, as Record.JSON writes it.
func ReadRecord(data []byte) (Record, error) {
	n, whole, ps := scan(data)
	d := decoder{data: data, problems: ps}
	if !whole {
		return Record{}, ps
	}
	r, chained := d.record(&n, "")
	if len(d.problems) == 0 && !chained {
		d.note(&n, "", PartOfChain, "the record has no chain fields", "")
	}
	if len(d.problems) > 0 {
		return Record{}, d.problems
	}
	return r, nil
}

func byPlace(a, b Problem) int {
	if a.Line != b.Line {
		return a.Line - b.Line
	}
	return a.Column - b.Column
}

// A decoder turns nodes into records and notes what is wrong with them.
type decoder struct {
	data     []byte
	problems Problems
}

func (d *decoder) note(n *node, path string, code Code, say, hint string) {
	line, column := place(d.data, n.at)
	d.problems = append(d.problems, Problem{line, column, path, code, say, hint})
}

func (d *decoder) file(n *node) File {
	f := File{Format: Format}
	if n.kind != '{' {
		d.note(n, "", WrongForm, "a file is an object with format and records, not "+n.say(), "")
		return f
	}
	if !d.version(n) {
		return f
	}
	for _, m := range n.members {
		switch m.key {
		case "format":
		case "heads":
			f.Heads = d.hashes(&m.value, "heads")
		case "records":
			d.records(&f, &m.value)
		default:
			d.note(&node{at: m.at}, m.key, WrongForm, "a file of format 1 has no field "+quoted(m.key), "")
		}
	}
	if n.get("records") == nil {
		d.note(n, "", Missing, "the file has no records", `an empty one has "records":[]`)
	}
	if f.NoChain && f.Heads != nil {
		d.note(n.get("heads"), "heads", PartOfChain, "heads are stated and the records have no chain", "")
	}
	return f
}

func (d *decoder) version(n *node) bool {
	v := n.get("format")
	switch {
	case v == nil:
		d.note(n, "", Missing, "the file does not state its format", fmt.Sprintf(`this program writes "format":%d`, Format))
	case v.kind != '0':
		d.note(v, "format", WrongType, "format is "+v.say()+", not a number", "")
	case v.text != strconv.Itoa(Format):
		d.note(v, "format", WrongVersion, fmt.Sprintf("the file has format %s and this program knows format %d", v.text, Format),
			"a newer version of the program may open it")
	default:
		return true
	}
	return false
}

func (d *decoder) records(f *File, n *node) {
	if n.kind != '[' {
		d.note(n, "records", WrongType, "records is "+n.say()+", not a list", "")
		return
	}
	mixed := false // said once: the rest is the same slip
	for i := range n.items {
		item, path := &n.items[i], fmt.Sprintf("records[%d]", i)
		r, chained := d.record(item, path)
		if i == 0 {
			f.NoChain = !chained
		}
		if f.NoChain == chained && !mixed {
			mixed = true
			d.note(item, path, PartOfChain, "some records of the file have chain fields and some have none",
				"a hand-written file leaves them out in every record")
		}
		if f.NoChain {
			r.ID, r.N = "r"+strconv.Itoa(i+1), int64(i+1)
			r.BodyHash = BodyHash("", r.Body)
		}
		f.Records = append(f.Records, r)
	}
}

// chainFields stand together or not at all; salt follows the body.
var chainFields = []string{"id", "at", "device", "n", "seen", "prev", "bodyHash"}

// record reads one record and says whether it has chain fields.
func (d *decoder) record(n *node, path string) (r Record, chained bool) {
	if n.kind != '{' {
		d.note(n, path, WrongType, "a record is an object, not "+n.say(), "")
		return r, true
	}
	for i := range n.members {
		m := &n.members[i]
		d.field(&r, m.key, &m.value, join(path, m.key))
	}
	if r.Kind == "" && n.get("kind") == nil {
		d.note(n, path, Missing, "the record has no kind", "")
	}
	return r, d.together(n, path)
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

func (d *decoder) field(r *Record, key string, v *node, path string) {
	switch key {
	case "id":
		r.ID = d.name(v, path)
	case "at":
		r.At = d.text(v, path)
	case "device":
		r.Device = d.name(v, path)
	case "n":
		r.N = d.count(v, path)
	case "seen":
		r.Seen = d.hashes(v, path)
	case "prev":
		r.Prev = d.hash(v, path)
	case "kind":
		r.Kind = d.name(v, path)
	case "salt":
		r.Salt = d.salt(v, path)
	case "bodyHash":
		r.BodyHash = d.hash(v, path)
	case "body":
		r.Body = d.body(v, path)
	default:
		if r.Extra == nil {
			r.Extra = map[string]json.RawMessage{}
		}
		r.Extra[key] = appendNode(nil, v)
	}
}

// together notes a record with some chain fields only, and a body without its
// salt or the other way round.
func (d *decoder) together(n *node, path string) (chained bool) {
	var missing []string
	for _, key := range chainFields {
		if n.get(key) == nil {
			missing = append(missing, key)
		}
	}
	body, salt := n.get("body") != nil, n.get("salt") != nil
	chained = len(missing) < len(chainFields) || salt
	switch {
	case chained && len(missing) > 0:
		d.note(n, path, PartOfChain, fmt.Sprintf("the record has chain fields but lacks %q", missing),
			"a hand-written file leaves out all of them and salt")
	case !chained && !body:
		d.note(n, path, Missing, "the record has no body", "")
	case chained && body != salt:
		d.note(n, path, PartOfChain, "body and salt stand together or are both taken out", "")
	}
	return chained
}

func (d *decoder) text(n *node, path string) string {
	if n.kind != 's' {
		d.note(n, path, WrongType, "text was expected, not "+n.say(), "")
		return ""
	}
	return n.text
}

func (d *decoder) name(n *node, path string) string {
	s := d.text(n, path)
	if s == "" && n.kind == 's' {
		d.note(n, path, Missing, "the text is empty", "")
	}
	return s
}

func (d *decoder) count(n *node, path string) int64 {
	v, err := strconv.ParseInt(n.text, 10, 64)
	if n.kind != '0' || err != nil || v < 1 {
		d.note(n, path, WrongType, "a whole number from 1 was expected, not "+n.say(), "")
	}
	return v
}

func (d *decoder) hash(n *node, path string) string {
	s := d.text(n, path)
	if n.kind == 's' && !isHash(s) {
		d.note(n, path, BadHash, quoted(s)+" is not a hash: 64 digits of 0-9 a-f", "")
	}
	return s
}

func isHash(s string) bool { return len(s) == 64 && isHex(s) }

func isHex(s string) bool {
	for i := 0; i < len(s); i++ {
		if c := s[i]; (c < '0' || c > '9') && (c < 'a' || c > 'f') {
			return false
		}
	}
	return len(s)%2 == 0 && hex.DecodedLen(len(s)) > 0
}

func (d *decoder) salt(n *node, path string) string {
	s := d.text(n, path)
	if n.kind == 's' && !isHex(s) {
		d.note(n, path, BadHash, quoted(s)+" is not a salt: pairs of digits 0-9 a-f", "")
	}
	return s
}

func (d *decoder) hashes(n *node, path string) map[string]string {
	out := map[string]string{}
	if n.kind != '{' {
		d.note(n, path, WrongType, "an object of device and hash was expected, not "+n.say(), "")
		return out
	}
	for i := range n.members {
		m := &n.members[i]
		out[m.key] = d.hash(&m.value, join(path, m.key))
	}
	return out
}

func (d *decoder) body(n *node, path string) json.RawMessage {
	if n.kind != '{' {
		d.note(n, path, WrongType, "a body is an object, not "+n.say(), "")
	}
	return appendNode(nil, n)
}
