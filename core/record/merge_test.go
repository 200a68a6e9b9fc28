package record

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

func TestMergeNotices(t *testing.T) {
	base := bench(t)
	redacted, _ := Redact(base, "phone-2")
	tampered := mustRead(t, string(base.Write()))
	tampered.Records[1].Body = json.RawMessage(`{"id":"F1","say":"hiss"}`)
	worse := mustRead(t, string(base.Write()))
	worse.Records[1].Body = json.RawMessage(`{"id":"F1","say":"buzz"}`)
	one, two := NewLog(base), NewLog(base)
	for i, l := range []*Log{one, two} {
		if _, err := l.Append("note", map[string]string{"say": fmt.Sprint(i)}, Meta{"same", "t", fmt.Sprint("dev", i), salt(i)}); err != nil {
			t.Fatal(err)
		}
	}
	hand := mustRead(t, `{"format":1,"records":[{"kind":"job","body":{}}]}`)
	tests := []struct {
		name    string
		a, b    File
		records int
		say     string
	}{
		{"itself", base, base, 5, ""},
		{"an empty one", base, File{}, 5, ""},
		{"taken out on one side", base, redacted, 5, "body-removed: the body of record phone-2 was taken out on one side and is now out here"},
		{"tampered on one side", base, tampered, 5, "body-differs: record bench-1 had two bodies; the one that fits its hash is kept"},
		{"tampered on both", worse, tampered, 5, "body-differs: record bench-1 had two bodies and neither fits its hash"},
		{"same id", one.File(), two.File(), 7, "same-id: 2 different records have the id same; all are kept"},
		{"by hand and itself", hand, hand, 1, ""},
		{"by hand and an empty one", hand, File{}, 1, ""},
		{"by hand and a chain", hand, base, 5, "no-chain: a file written by hand has no chain and was not merged; adopt it first"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			ab, said := Merge(tt.a, tt.b)
			ba, _ := Merge(tt.b, tt.a)
			wantText(t, "the other way round", string(ba.Write()), string(ab.Write()))
			var say []string
			for _, n := range said {
				say = append(say, string(n.Code)+": "+n.Say)
			}
			wantText(t, "notices", strings.Join(say, "\n"), tt.say)
			if len(ab.Records) != tt.records {
				t.Errorf("%d records, want %d", len(ab.Records), tt.records)
			}
			if again, said := Merge(ab, ab); string(again.Write()) != string(ab.Write()) || len(said) > 0 {
				t.Errorf("merging the result with itself changes it or says %v", said)
			}
		})
	}
}

func TestMergeKeepsTheGoodBody(t *testing.T) {
	f := bench(t)
	bad := mustRead(t, string(f.Write()))
	bad.Records[1].Body = json.RawMessage(`{"id":"F1","say":"hiss"}`)
	got, _ := Merge(bad, f)
	wantText(t, "merged", string(got.Write()), string(f.Write()))
}

// A history is what two devices did, apart and together, at random.
type history struct {
	rng   *rand.Rand
	logs  [2]*Log
	count int
	saved []File // copies made on the way
}

var devices = [2]string{"bench", "phone"}

func (h *history) step(t *testing.T) {
	d := h.rng.IntN(2)
	l := h.logs[d]
	switch k := h.rng.IntN(12); {
	case k == 0 && h.count > 0:
		merged, _ := Merge(l.File(), h.logs[1-d].File())
		h.logs[d] = NewLog(merged)
	case k == 1:
		h.saved = append(h.saved, l.File())
	case k == 2 && len(l.file.Records) > 0:
		target := l.file.Records[h.rng.IntN(len(l.file.Records))]
		if _, err := l.Undo(target.Hash(), h.meta(d)); err != nil && !Sealed(target.Kind) {
			t.Fatalf("Undo: %v", err)
		}
	case k == 3:
		h.add(t, d, Consent, fmt.Sprintf(`{"accept":["T%d"]}`, h.count))
	case k == 4:
		h.add(t, d, "finding", fmt.Sprintf(`{"id":"F%d","removed":%v}`, h.rng.IntN(3), h.rng.IntN(2) == 0))
	default:
		h.add(t, d, "finding", fmt.Sprintf(`{"id":"F%d","%c":"%d"}`, h.rng.IntN(3), 'a'+rune(h.rng.IntN(3)), h.rng.IntN(3)))
	}
}

func (h *history) meta(d int) Meta {
	h.count++
	return Meta{fmt.Sprintf("%s-%d", devices[d], h.count), "t", devices[d], salt(h.count)}
}

func (h *history) add(t *testing.T, d int, kind, body string) {
	if _, err := h.logs[d].Append(kind, json.RawMessage(body), h.meta(d)); err != nil {
		t.Fatal(err)
	}
}

func TestHistoriesMergeAlike(t *testing.T) {
	conflicts, undone := 0, 0
	for seed := range uint64(1000) {
		h := &history{rng: rand.New(rand.NewPCG(seed, 7)), logs: [2]*Log{NewLog(File{}), NewLog(File{})}}
		for range 5 + h.rng.IntN(30) {
			h.step(t)
		}
		a, b := h.logs[0].File(), h.logs[1].File()
		want, said := Merge(a, b)
		if len(said) > 0 {
			t.Fatalf("seed %d: %v", seed, said)
		}
		pieces := append([]File{a, b, a, b}, h.saved...)
		h.rng.Shuffle(len(pieces), func(i, j int) { pieces[i], pieces[j] = pieces[j], pieces[i] })
		got := File{}
		for _, p := range pieces {
			got, _ = Merge(p, got)
		}
		if string(got.Write()) != string(want.Write()) {
			t.Fatalf("seed %d: another order gives\n%s\nnot\n%s", seed, got.Write(), want.Write())
		}
		if rep := Verify(got); len(got.Records) > 0 && !rep.Whole() {
			t.Fatalf("seed %d: %v", seed, rep)
		}
		state := checkState(t, seed, h, want)
		conflicts, undone = conflicts+len(state.Conflicts()), undone+len(state.Undone())
	}
	if conflicts < 100 || undone < 100 {
		t.Errorf("%d conflicts and %d undone records in 1000 histories: the test tries too little", conflicts, undone)
	}
}

// checkState folds the records in any order, one at a time and all at once,
// and asks that consents are united and that conflicts are what the slow
// definition says.
func checkState(t *testing.T, seed uint64, h *history, f File) State {
	t.Helper()
	want := dump(Fold(f.Records))
	mixed := slices.Clone(f.Records)
	h.rng.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
	s := Fold(append(mixed, mixed[:len(mixed)/2]...))
	if got := dump(s); got != want {
		t.Fatalf("seed %d: mixed order folds to\n%s\nnot\n%s", seed, got, want)
	}
	grown := Fold(nil)
	for _, r := range f.Records {
		grown.Add(r)
		dump(grown)
	}
	if got := dump(grown); got != want {
		t.Fatalf("seed %d: one at a time folds to\n%s\nnot\n%s", seed, got, want)
	}
	consents := 0
	for _, r := range f.Records {
		if r.Kind == Consent {
			consents++
		}
	}
	if len(s.Records(Consent)) != consents || len(s.IDs(Consent)) != consents {
		t.Fatalf("seed %d: %d consents in the records, %d in the state", seed, consents, len(s.Records(Consent)))
	}
	wantText(t, fmt.Sprintf("seed %d: fields in conflict", seed), fieldsInConflict(s), slowConflicts(f, s))
	return s
}

func fieldsInConflict(s State) string {
	var out []string
	for _, c := range s.Conflicts() {
		if c.Claims[0].Field == c.Field {
			out = append(out, c.ID+"."+c.Field)
		}
	}
	slices.Sort(out)
	return strings.Join(out, " ")
}

// slowConflicts follows the definition: walk everything each record had seen,
// and compare every pair of records that set a field and that no third one,
// having seen either, took the place of.
func slowConflicts(f File, s State) string {
	byHash := map[string]Record{}
	for _, r := range f.Records {
		byHash[r.Hash()] = r
	}
	hidden := map[string]bool{}
	for _, u := range s.Undone() {
		hidden[u.Record.ID] = true
	}
	setters := map[string][]Record{}
	values := map[string]map[string]string{}
	for _, r := range f.Records {
		var body map[string]any
		if r.Kind != "finding" || hidden[r.ID] || json.Unmarshal(r.Body, &body) != nil {
			continue
		}
		for k, v := range body {
			if k == "id" {
				continue
			}
			field := fmt.Sprint(body["id"], ".", k)
			setters[field] = append(setters[field], r)
			if values[field] == nil {
				values[field] = map[string]string{}
			}
			values[field][r.ID] = fmt.Sprint(v)
		}
	}
	var out []string
	for field, rs := range setters {
		standing := map[string]bool{}
		for _, r := range rs {
			if !slices.ContainsFunc(rs, func(o Record) bool { return o.ID != r.ID && hadSeen(byHash, o, r.ID, map[string]bool{}) }) {
				standing[values[field][r.ID]] = true
			}
		}
		if len(standing) > 1 {
			out = append(out, field)
		}
	}
	slices.Sort(out)
	return strings.Join(out, " ")
}

func hadSeen(byHash map[string]Record, r Record, id string, been map[string]bool) bool {
	if r.ID == id {
		return true
	}
	if been[r.ID] {
		return false
	}
	been[r.ID] = true
	for _, h := range append(slices.Collect(mapValues(r.Seen)), r.Prev) {
		if other, ok := byHash[h]; ok && hadSeen(byHash, other, id, been) {
			return true
		}
	}
	return false
}

func mapValues(m map[string]string) func(func(string) bool) {
	return func(yield func(string) bool) {
		for _, v := range m {
			if !yield(v) {
				return
			}
		}
	}
}
