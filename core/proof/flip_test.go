package proof_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"testing"

	"lugworth/core/proof"
)

// words are the texts of a certificate that no number follows from, each with
// the reason why a changed digit there meets the hash and not the arithmetic.
var words = map[string]string{
	"amp":     "the amp's name",
	"job":     "the job's number",
	"rules":   "version of the rules of reckoning, a label",
	"set":     "name of a choice",
	"option":  "name of an option",
	"part":    "a supplier's number",
	"cause":   "name of an option",
	"subject": "name of a position",
	"of":      "a type or part number",
	"source":  "where a limit stands",
	"what":    "what a fact is, in words",
	"where":   "where a fact stands: record, sheet, card, line of a list",
	"doubt":   "a reason in words",
	"missing": "a reason in words",
	"ended":   "a reason in words",
}

// A cell is one text or number of a certificate: the key it belongs to and
// where it stands in the file.
type cell struct {
	key      string
	from, to int
	depth    int  // 3 in a verdict
	bare     bool // in the limit of a verdict without a figure
}

// cells lists every value of a JSON text.
func cells(t *testing.T, data []byte) []cell {
	t.Helper()
	type level struct {
		list bool
		key  string
		want bool // the next text is a key
	}
	var out []cell
	var in []level
	bare := false
	d := json.NewDecoder(bytes.NewReader(data))
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		top := len(in) - 1
		switch x := tok.(type) {
		case json.Delim:
			switch x {
			case '{':
				bare = bare && !(top >= 0 && in[top].key == "bears")
				in = append(in, level{want: true})
			case '[':
				key := ""
				if top >= 0 {
					key = in[top].key
				}
				in = append(in, level{list: true, key: key})
			default:
				in = in[:top]
				if top > 0 && !in[top-1].list {
					in[top-1].want = true
				}
			}
			continue
		case string:
			if !in[top].list && in[top].want {
				in[top].key, in[top].want = x, false
				continue
			}
		}
		end := int(d.InputOffset())
		size := len(fmt.Sprint(tok))
		if s, ok := tok.(string); ok {
			b, _ := json.Marshal(s)
			size = len(b)
		}
		bare = bare || in[top].key == "bears"
		out = append(out, cell{in[top].key, end - size, end, top, bare && top == 4})
		in[top].want = !in[top].list
	}
}

// hashed gives a changed file a hash of its own.
func hashed(data []byte) []byte {
	const head, tail = `{"certificate":`, `,"sha256":"`
	i := bytes.LastIndex(data, []byte(tail))
	sum := sha256.Sum256(data[len(head):i])
	return append(append(slices.Clone(data[:i+len(tail)]), hex.EncodeToString(sum[:])...), "\"}\n"...)
}

// Any changed digit is refused by the hash.
func TestEveryDigitIsHeldByTheHash(t *testing.T) {
	for _, name := range []string{"drover.txtar", "tern.txtar"} {
		c := few(opened(t, certificate(t, name)))
		c.Verdicts = c.Verdicts[:min(8, len(c.Verdicts))]
		data := sealed(t, c)
		if _, err := proof.Check(data); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		n := 0
		for i, b := range data {
			if b < '0' || b > '9' {
				continue
			}
			n++
			data[i] = '0' + (b-'0'+1)%10
			if _, err := proof.Check(data); err == nil {
				t.Errorf("%s: byte %d changed from %c to %c and nobody noticed", name, i, b, data[i])
			}
			data[i] = b
		}
		t.Logf("%s: %d digits, each refused", name, n)
	}
}

// flips counts what changed digits met.
type flips struct {
	tried int
	words map[string]int // slipped through, in words
	lost  int            // slipped through, in numbers
}

// flip changes every digit of the cells asked for, up and down by one, gives
// the file a new hash, and counts what the checker does not refuse.
func (f *flips) flip(t *testing.T, data []byte, mine func(cell) bool) {
	t.Helper()
	if _, err := proof.Check(data); err != nil {
		t.Fatalf("before any change: %v", err)
	}
	for _, c := range cells(t, data) {
		if c.key == "sha256" || !mine(c) {
			continue
		}
		for i := c.from; i < c.to; i++ {
			if b := data[i]; b >= '0' && b <= '9' {
				f.one(t, data, c, i, '0'+(b-'0'+1)%10)
				f.one(t, data, c, i, '0'+(b-'0'+9)%10)
			}
		}
	}
}

func (f *flips) one(t *testing.T, data []byte, c cell, i int, to byte) {
	t.Helper()
	changed := slices.Clone(data)
	changed[i] = to
	_, err := proof.Check(hashed(changed))
	switch {
	case words[c.key] != "" || c.bare:
		if err == nil {
			f.words[c.key]++
		}
	case err == nil:
		if f.lost++; f.lost < 6 {
			t.Errorf("%s slipped through: %s", c.key, changed[max(0, c.from-150):c.to+60])
		}
	default:
		f.tried++
	}
}

// A changed digit with a new hash meets the arithmetic, but in words, and in
// the limit of a verdict that has no figure to hold against it.
func TestEveryDigitOfANumberIsHeldByTheArithmetic(t *testing.T) {
	for _, name := range []string{"drover.txtar", "tern.txtar"} {
		all := few(opened(t, certificate(t, name)))
		f := flips{words: map[string]int{}}
		f.flip(t, sealed(t, all), func(c cell) bool { return c.depth < 3 })
		for i := range all.Verdicts {
			one := all
			one.Verdicts = all.Verdicts[i : i+1]
			f.flip(t, sealed(t, one), func(c cell) bool { return c.depth >= 3 })
		}
		t.Logf("%s: %d changed digits of numbers refused; in words that slip through: %v", name, f.tried, f.words)
		if f.tried < 5000 {
			t.Errorf("%s: only %d changes tried", name, f.tried)
		}
		if f.lost > 0 {
			t.Errorf("%s: %d changed digits slipped through", name, f.lost)
		}
	}
}
