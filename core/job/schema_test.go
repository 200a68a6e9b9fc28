package job_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"golang.org/x/tools/txtar"

	"lugworth/core/record"
)

const savedSample = "../../testdata/saved/v1/sample.job.json"

func schema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	doc := parse(t, mustReadFile(t, "schema.json"))
	if err := c.AddResource("schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func parse(t *testing.T, data []byte) any {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatalf("not JSON: %v", err)
	}
	return v
}

func mustReadFile(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func TestSchemaTakesTheSample(t *testing.T) {
	if err := schema(t).Validate(parse(t, mustReadFile(t, savedSample))); err != nil {
		t.Errorf("the saved sample: %v", err)
	}
}

// Every whole job of the tests is a file by the schema, and so is it once it
// has a chain.
func TestSchemaTakesEveryJob(t *testing.T) {
	s := schema(t)
	names, err := filepath.Glob("../../testdata/jobs/*.txtar")
	if err != nil || len(names) < 2 {
		t.Fatalf("%d jobs found, want at least 2: %v", len(names), err)
	}
	for _, name := range names {
		data := jobIn(t, name)
		if err := s.Validate(parse(t, data)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		f, err := record.Read(data)
		if err != nil || !f.NoChain {
			t.Errorf("%s: no chain = %v, %v", name, f.NoChain, err)
			continue
		}
		salts := strings.Split(strings.Repeat("00112233445566778899aabbccddeeff ", len(f.Records)), " ")
		chained, err := record.Adopt(f, "bench", "2031-05-01T10:00:00Z", salts)
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if err := s.Validate(parse(t, chained.Write())); err != nil {
			t.Errorf("%s with a chain: %v", name, err)
		}
	}
}

func jobIn(t *testing.T, name string) []byte {
	t.Helper()
	a, err := txtar.ParseFile(name)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range a.Files {
		if f.Name == "job.json" {
			return f.Data
		}
	}
	t.Fatalf("%s holds no job.json", name)
	return nil
}

func TestSchemaRefuses(t *testing.T) {
	s := schema(t)
	at := func(i int, change func(r map[string]any)) func(map[string]any) {
		return func(f map[string]any) { change(f["records"].([]any)[i].(map[string]any)) }
	}
	body := func(kind string, change func(b map[string]any)) func(map[string]any) {
		return func(f map[string]any) {
			for _, r := range f["records"].([]any) {
				if r := r.(map[string]any); r["kind"] == kind {
					change(r["body"].(map[string]any))
					return
				}
			}
			t.Fatalf("the sample has no %s", kind)
		}
	}
	tests := []struct {
		name string
		do   func(f map[string]any)
		fine bool // the schema takes it all the same
		read bool // so does the reader, which leaves bodies to the fold
	}{
		{"untouched", func(map[string]any) {}, true, true},
		{"unknown kind", at(2, func(r map[string]any) { r["kind"] = "weather" }), true, true},
		{"unknown field of a body", body("note", func(b map[string]any) { b["more"] = []any{"x", true, nil} }), true, true},
		{"unknown field of an envelope", at(0, func(r map[string]any) { r["more"] = map[string]any{"a": "b"} }), true, true},
		{"a field taken away", body("amp", func(b map[string]any) { b["standby"] = nil }), true, true},
		{"no heads", func(f map[string]any) { delete(f, "heads") }, true, true},
		{"no records at all", func(f map[string]any) { f["records"] = []any{} }, true, true},
		{"format 2", func(f map[string]any) { f["format"] = 2 }, false, false},
		{"format as text", func(f map[string]any) { f["format"] = "1" }, false, false},
		{"no format", func(f map[string]any) { delete(f, "format") }, false, false},
		{"no list of records", func(f map[string]any) { delete(f, "records") }, false, false},
		{"unknown field of the file", func(f map[string]any) { f["more"] = "x" }, false, false},
		{"head no hash", func(f map[string]any) { f["heads"] = map[string]any{"bench": "x"} }, false, false},
		{"no kind", at(0, func(r map[string]any) { delete(r, "kind") }), false, false},
		{"empty kind", at(0, func(r map[string]any) { r["kind"] = "" }), false, false},
		{"no prev", at(0, func(r map[string]any) { delete(r, "prev") }), false, false},
		{"prev no hash", at(0, func(r map[string]any) { r["prev"] = "00" }), false, false},
		{"salt no hex", at(0, func(r map[string]any) { r["salt"] = "0x" }), false, false},
		{"body without salt", at(0, func(r map[string]any) { delete(r, "salt") }), false, false},
		{"salt without body", at(0, func(r map[string]any) { delete(r, "body") }), false, false},
		{"n zero", at(0, func(r map[string]any) { r["n"] = 0 }), false, false},
		{"n as text", at(0, func(r map[string]any) { r["n"] = "1" }), false, false},
		{"seen a list", at(0, func(r map[string]any) { r["seen"] = []any{} }), false, false},
		{"body a list", at(0, func(r map[string]any) { r["body"] = []any{} }), false, false},
		{"fraction", body("reading", func(b map[string]any) { b["value"] = 412.5 }), false, false},
		{"fraction deep down", body("position", func(b map[string]any) { b["nodes"] = []any{map[string]any{"x": 0.5}} }), false, false},
		{"number of 2^53", body("reading", func(b map[string]any) { b["value"] = json.Number("9007199254740992") }), false, false},
		{"one record by hand", at(3, func(r map[string]any) {
			for _, k := range []string{"id", "at", "device", "n", "seen", "prev", "salt", "bodyHash"} {
				delete(r, k)
			}
		}), false, false},
		{"id a number", body("finding", func(b map[string]any) { b["id"] = 7 }), false, true},
		{"finding without id", body("finding", func(b map[string]any) { delete(b, "id") }), false, true},
		{"accept a text", body("set", func(b map[string]any) { b["accept"] = "T1" }), false, true},
		{"removed as text", body("finding", func(b map[string]any) { b["removed"] = "yes" }), false, true},
		{"undo of nothing", body("undo", func(b map[string]any) { delete(b, "record") }), false, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var f map[string]any
			if err := json.Unmarshal(mustReadFile(t, savedSample), &f); err != nil {
				t.Fatal(err)
			}
			tt.do(f)
			data, err := json.Marshal(f)
			if err != nil {
				t.Fatal(err)
			}
			if err := s.Validate(parse(t, data)); (err == nil) != tt.fine {
				t.Errorf("the schema says %v, want fine = %v", err, tt.fine)
			}
			if _, err := record.Read(data); (err == nil) != tt.read {
				t.Errorf("the reader says %v, want fine = %v", err, tt.read)
			}
		})
	}
}
