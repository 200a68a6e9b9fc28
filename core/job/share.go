package job

import (
	"encoding/json"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"lugworth/core/record"
	"lugworth/core/sorted"
)

// shared says what of a job goes to a colleague: the amp, its chart, what was
// found and what could be done. Whose it is, what was agreed, the shop's own
// prices and the photos stay, and what work sent out costs. The fields named are left out of a kind.
var shared = []struct {
	kind string
	out  []string
}{
	{KindMains, nil},
	{KindAmp, []string{"serial"}},
	{KindPosition, nil},
	{KindReading, []string{"when"}},
	{KindFinding, []string{"photos"}},
	{KindOption, nil},
	{KindSetUp, nil},
	{KindTrial, nil},
	{KindReason, nil},
}

// LeftOut stands in a shared file where a name or number was.
const LeftOut = "(left out)"

// Shareable writes a job for a colleague's help: a file without a chain that
// holds the amp, its chart, the findings and the options, and nothing of the
// owner, the consents, the prices or the photos. The owner's name, address
// and telephone, the serial number and the job's number are taken out of
// every text they stand in as well. Other words are as they were typed: read
// the file before it is given away.
func Shareable(s record.State) []byte {
	f := record.File{Format: record.Format, NoChain: true}
	secrets := secretsOf(s)
	for _, k := range shared {
		for _, id := range s.IDs(k.kind) {
			raw, ok := s.JSON(k.kind, id)
			if !ok {
				continue
			}
			f.Records = append(f.Records, record.Record{Kind: k.kind, Body: spared(raw, k.out, secrets)})
		}
	}
	for _, id := range s.IDs(KindBook) {
		if raw, ok := s.JSON(KindBook, id); ok && id == "cards.csv" {
			f.Records = append(f.Records, record.Record{Kind: KindBook, Body: spared(raw, nil, secrets)})
		}
	}
	return f.Write()
}

// secretsOf lists the texts that may stand nowhere, the longest first.
func secretsOf(s record.State) []string {
	var out []string
	add := func(kind string, fields ...string) {
		for _, field := range fields {
			v, ok := s.Field(kind, "", field)
			var text string
			if !ok || json.Unmarshal(v.JSON, &text) != nil {
				continue
			}
			if text = strings.TrimSpace(text); utf8.RuneCountInString(text) >= 2 {
				out = append(out, text)
			}
			for _, w := range strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || r == ',' || r == ';' }) {
				if telling(w) {
					out = append(out, w)
				}
			}
		}
	}
	add(KindOwner, "name", "address", "phone")
	add(KindAmp, "serial")
	add(KindJob, "number")
	add(KindReceipt, "number", "received")
	sorted.By(out, func(a, b string) int { return len(b) - len(a) })
	return slices.Compact(out)
}

// telling reports whether a word alone may tell who it is: a name begins with
// a capital, a number has five digits or more.
func telling(w string) bool {
	digits := 0
	for _, r := range w {
		if unicode.IsDigit(r) {
			digits++
		}
	}
	first, _ := utf8.DecodeRuneInString(w)
	return digits >= 5 || unicode.IsUpper(first) && utf8.RuneCountInString(w) >= 3
}

// spared takes fields out of an entity, and secrets out of its texts.
func spared(raw []byte, fields, secrets []string) []byte {
	var v map[string]any
	d := json.NewDecoder(strings.NewReader(string(raw)))
	d.UseNumber()
	if d.Decode(&v) != nil {
		return []byte("{}")
	}
	for _, f := range fields {
		delete(v, f)
	}
	unpriced(v)
	out, err := record.Canonical(hush(v, secrets))
	if err != nil {
		return []byte("{}")
	}
	return out
}

// unpriced takes out what work that is sent out costs.
func unpriced(v map[string]any) {
	sent, _ := v["other"].([]any)
	for _, x := range sent {
		if work, ok := x.(map[string]any); ok {
			delete(work, "price")
			delete(work, "carriage")
		}
	}
}

func hush(v any, secrets []string) any {
	switch v := v.(type) {
	case string:
		for _, s := range secrets {
			v = hushSpelled(hushText(v, s), s)
		}
		return v
	case []any:
		for i := range v {
			v[i] = hush(v[i], secrets)
		}
	case map[string]any:
		for k := range v {
			if k != "id" {
				v[k] = hush(v[k], secrets)
			}
		}
	}
	return v
}

// hushText takes a secret out wherever it stands as words of its own, in
// capitals or small.
func hushText(text, secret string) string {
	var out strings.Builder
	for {
		at := indexFold(text, secret)
		if at < 0 {
			out.WriteString(text)
			return out.String()
		}
		end := at + len(secret)
		before, _ := utf8.DecodeLastRuneInString(text[:at])
		after, _ := utf8.DecodeRuneInString(text[end:])
		if at > 0 && wordRune(before) || end < len(text) && wordRune(after) {
			out.WriteString(text[:at+1])
			text = text[at+1:]
			continue
		}
		out.WriteString(text[:at] + LeftOut)
		text = text[end:]
	}
}

// hushSpelled takes a number out that is written with other gaps: "555 0199",
// "(555) 01-99" and "5550199" are one. Short ones are left to hushText, for a
// reading may hold their digits.
func hushSpelled(text, secret string) string {
	want, digits := []rune{}, 0
	for _, r := range secret {
		if wordRune(r) {
			want = append(want, unicode.ToLower(r))
		}
		if unicode.IsDigit(r) {
			digits++
		}
	}
	if digits < 4 || len(want) < 6 && digits == len(want) || len(want) < 5 {
		return text
	}
	in := []rune(text)
	var out []rune
	for i := 0; i < len(in); {
		end, ok := spelled(in, i, want)
		if !ok {
			out, i = append(out, in[i]), i+1
			continue
		}
		out, i = append(out, []rune(LeftOut)...), end
	}
	return string(out)
}

// spelled finds the runes of a number from i on, gaps aside, as words of
// their own.
func spelled(in []rune, i int, want []rune) (end int, ok bool) {
	if !wordRune(in[i]) || i > 0 && wordRune(in[i-1]) {
		return 0, false
	}
	k := 0
	for ; i < len(in) && k < len(want); i++ {
		switch {
		case unicode.ToLower(in[i]) == want[k]:
			k++
		case !strings.ContainsRune(" -./()\u00a0", in[i]):
			return 0, false
		}
	}
	return i, k == len(want) && (i == len(in) || !wordRune(in[i]))
}

func wordRune(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

// indexFold finds a text in another whatever the case of its letters.
func indexFold(text, part string) int {
	for i := 0; i+len(part) <= len(text); i++ {
		if utf8.RuneStart(text[i]) && strings.EqualFold(text[i:i+len(part)], part) {
			return i
		}
	}
	return -1
}
