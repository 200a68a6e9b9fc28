package record

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

func TestCanonicalJSON(t *testing.T) {
	tests := []struct{ name, in, want, err string }{
		{"spaces and order", "{ \"b\" : 1,\n\"a\":[ true ,false,null ] }", `{"a":[true,false,null],"b":1}`, ""},
		{"keys by bytes, not by letter", `{"é":1,"z":2,"Z":3,"":4,"𝄞":5,"ｆ":6}`, `{"":4,"Z":3,"z":2,"é":1,"ｆ":6,"𝄞":5}`, ""},
		{"no HTML escapes", `{"a":"\u003cb\u003e \u0026 \/ \u2028"}`, "{\"a\":\"<b> & / \u2028\"}", ""},
		{"control characters", `"\u0000\u0008\u0009\u000a\u000c\u000d\u001F\u007f\"\\"`, "\"\\u0000\\b\\t\\n\\f\\r\\u001f\x7f\\\"\\\\\"", ""},
		{"surrogate pair", `"\ud834\udd1e"`, `"𝄞"`, ""},
		{"trade signs stay", `"100 kΩ ±5 %"`, `"100 kΩ ±5 %"`, ""},
		{"greatest numbers", `[9007199254740991,-9007199254740991,0]`, `[9007199254740991,-9007199254740991,0]`, ""},
		{"byte order mark", "\xef\xbb\xbf{}", `{}`, ""},
		{"2^53", `9007199254740992`, "", `line 1, column 1: 9007199254740992 is not a whole number below 2^53; write it as text: "9007199254740992"`},
		{"fraction", "{\"a\":\n [1, 2.5]}", "", `line 2, column 6 (a[1]): 2.5 is not a whole number below 2^53; write it as text: "2.5"`},
		{"exponent", `1e3`, "", "1e3 is not a whole number"},
		{"minus zero", `-0`, "", "-0 is not a whole number"},
		{"leading zero", `01`, "", "01 is not a whole number"},
		{"key twice", `{"a":1,"\u0061":2}`, "", `line 1, column 8 (a): "a" stands twice in one object`},
		{"half a pair", `"\ud834x"`, "", "half of a surrogate pair stands alone"},
		{"not UTF-8", "\"\xff\"", "", "is not UTF-8"},
		{"cut", `{"a":`, "", "line 1, column 6 (a): the text breaks off here"},
		{"cut in text", `{"a":"x`, "", "the text breaks off inside quotes"},
		{"cut in escape", `"\u00`, "", "the text breaks off inside an escape"},
		{"two texts", `{} {}`, "", "the text goes on after its end with '{'"},
		{"comma at the end", `[1,]`, "", "a value was expected, not ']'"},
		{"raw tab in text", "\"a\tb\"", "", "a control character stands inside quotes"},
		{"empty", ``, "", "the text breaks off here"},
		{"too deep", strings.Repeat("[", 101), "", "more than 100 deep"},
		{"all problems", `{"a":1.5,"a":2.5}`, "", "2.5 is not"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := CanonicalJSON([]byte(tt.in))
			wantText(t, "bytes", string(got), tt.want)
			wantIn(t, "error", errText(err), tt.err)
			if err == nil {
				again, err := CanonicalJSON(got)
				wantText(t, "again", string(again)+errText(err), tt.want)
			}
		})
	}
}

func TestCanonicalValue(t *testing.T) {
	type body struct {
		Zone string            `json:"zone"`
		Amp  map[string]string `json:"amp"`
		N    int               `json:"n"`
	}
	got, err := Canonical(body{"<HT>", map[string]string{"b": "2", "a": "1"}, 7})
	wantText(t, "struct", string(got)+errText(err), `{"amp":{"a":"1","b":"2"},"n":7,"zone":"<HT>"}`)
	_, err = Canonical(map[string]float64{"v": 2.5})
	wantIn(t, "float", errText(err), "2.5 is not a whole number")
	_, err = Canonical(func() {})
	wantIn(t, "function", errText(err), "writing func() as JSON")
}

// The golden bytes and hashes hold natively and as wasm. The expected hashes
// were made with the sha256sum program from the bytes shown here.
func TestGoldenHashes(t *testing.T) {
	r := Record{ID: "a1", At: "2031-05-01T10:00:00Z", Device: "bench", N: 2, Seen: map[string]string{"phone": strings.Repeat("0f", 32), "desk": strings.Repeat("1e", 32)},
		Prev: First, Kind: "note", Salt: "00ff10", Body: json.RawMessage(`{"say":"Ω <ok>"}`)}
	r.BodyHash = BodyHash(r.Salt, r.Body)
	wantText(t, "body hash", r.BodyHash, goldenBodyHash)
	wantText(t, "canonical record", string(r.JSON()), `{"at":"2031-05-01T10:00:00Z","body":{"say":"Ω <ok>"},"bodyHash":"`+goldenBodyHash+`","device":"bench","id":"a1","kind":"note","n":2,"prev":"`+First+
		`","salt":"00ff10","seen":{"desk":"`+strings.Repeat("1e", 32)+`","phone":"`+strings.Repeat("0f", 32)+`"}}`)
	wantText(t, "record hash", r.Hash(), goldenRecordHash)
	r.Body, r.Salt = nil, ""
	wantText(t, "record hash after redaction", r.Hash(), goldenRecordHash)

	sum := sha256.Sum256(append([]byte{0x00, 0xff, 0x10}, `{"say":"Ω <ok>"}`...))
	wantText(t, "definition of the body hash", hex.EncodeToString(sum[:]), goldenBodyHash)
}

func TestUnknownEnvelopeFieldIsKeptAndHashed(t *testing.T) {
	f := bench(t)
	r := f.Records[1]
	plain := r.Hash()
	r.Extra = map[string]json.RawMessage{"aside": json.RawMessage(`{"x":1}`), "zz": json.RawMessage(`"end"`), "m": json.RawMessage(`true`)}
	if r.Hash() == plain {
		t.Error("the hash does not cover an unknown field")
	}
	canon, err := CanonicalJSON(r.JSON())
	wantText(t, "record with unknown fields is canonical", string(r.JSON()), string(canon)+errText(err))
	back, err := ReadRecord(r.JSON())
	wantText(t, "read again", string(back.JSON())+errText(err), string(r.JSON()))
}

const (
	goldenBodyHash   = "cc62db2b2b4fcc0cf047acf77e9c70d370a15a69bdb7c5a4506f0d06701bc918"
	goldenRecordHash = "07d8f1fff3f235cca376343c108396f1c366bd3b6e0151cabb85f0a03ab70ff1"
)

func TestKeyTwiceInAWideObject(t *testing.T) {
	for _, n := range []int{2, 23, 24, 25, 200} {
		text := "{"
		for i := range n {
			text += fmt.Sprintf(`"k%d":1,`, i)
		}
		for _, i := range []int{0, n / 2, n - 1} {
			_, err := CanonicalJSON(fmt.Appendf(nil, `%s"k%d":2}`, text, i))
			wantIn(t, fmt.Sprintf("%d keys, key %d again", n, i), errText(err), fmt.Sprintf(`"k%d" stands twice`, i))
		}
		if _, err := CanonicalJSON([]byte(text + `"other":2}`)); err != nil {
			t.Errorf("%d keys: %v", n, err)
		}
	}
}
