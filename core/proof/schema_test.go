package proof_test

import (
	"bytes"
	"encoding/json"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"lugworth/core/proof"
)

func schema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	data, err := os.ReadFile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	if err := c.AddResource("schema.json", parse(t, data)); err != nil {
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

func TestSchemaTakesCertificates(t *testing.T) {
	s := schema(t)
	for _, name := range []string{"drover.txtar", "tern.txtar"} {
		if err := s.Validate(parse(t, certificate(t, name))); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	b := matched(t, "tern-sheet.txtar")
	if err := s.Validate(parse(t, sealed(t, solvedCertificate(t, b, stage(b))))); err != nil {
		t.Errorf("with a circuit: %v", err)
	}
}

// What the schema refuses, the checker refuses too.
func TestSchemaRefuses(t *testing.T) {
	s := schema(t)
	verdict := func(do func(v map[string]any)) func(map[string]any) {
		return func(f map[string]any) {
			do(f["certificate"].(map[string]any)["verdicts"].([]any)[0].(map[string]any))
		}
	}
	tests := []struct {
		name string
		do   func(f map[string]any)
		fine bool
	}{
		{"untouched", func(map[string]any) {}, true},
		{"no hash", func(f map[string]any) { delete(f, "sha256") }, false},
		{"hash in capitals", func(f map[string]any) { f["sha256"] = strings.Repeat("A", 64) }, false},
		{"format 2", func(f map[string]any) { f["certificate"].(map[string]any)["format"] = 2 }, false},
		{"a key more", verdict(func(v map[string]any) { v["note"] = "" }), false},
		{"a number for text", verdict(func(v map[string]any) { v["high"] = 12.4 }), false},
		{"a power of ten", verdict(func(v map[string]any) { v["high"] = "1e2" }), false},
		{"a seventh kind", verdict(func(v map[string]any) { v["kind"] = "fine" }), false},
		{"no kind", verdict(func(v map[string]any) { delete(v, "kind") }), false},
		{"a rule of its own", verdict(func(v map[string]any) { v["bears"].(map[string]any)["rule"] = "a guess" }), false},
		{"a step with a place", verdict(func(v map[string]any) { v["bears"].(map[string]any)["where"] = "r1" }), false},
		{"a fact made from others", verdict(func(v map[string]any) { delete(v["bears"].(map[string]any), "rule") }), false},
	}
	data := certificate(t, "drover.txtar")
	for _, tt := range tests {
		var f map[string]any
		if err := json.Unmarshal(data, &f); err != nil {
			t.Fatal(err)
		}
		tt.do(f)
		changed, err := json.Marshal(f)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(parse(t, changed)); (err == nil) != tt.fine {
			t.Errorf("%s: the schema says %v, want fine = %v", tt.name, err, tt.fine)
		}
		if _, err := proof.Check(changed); err == nil && !tt.fine {
			t.Errorf("%s: the checker takes it", tt.name)
		}
	}
}

// The one spelling is sorted keys, and the writer sorts nothing: the fields
// of every type of the file must stand in the order of their names.
func TestKeysAreSorted(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(r reflect.Type) {
		for r.Kind() == reflect.Pointer || r.Kind() == reflect.Slice {
			r = r.Elem()
		}
		if r.Kind() != reflect.Struct || seen[r] {
			return
		}
		seen[r] = true
		var keys []string
		for i := range r.NumField() {
			key, _, _ := strings.Cut(r.Field(i).Tag.Get("json"), ",")
			keys = append(keys, key)
			walk(r.Field(i).Type)
		}
		if !slices.IsSorted(keys) || slices.Contains(keys, "") {
			t.Errorf("%s: keys %v are not sorted", r, keys)
		}
	}
	walk(reflect.TypeFor[proof.File]())
	if len(seen) < 6 {
		t.Errorf("only %d types seen", len(seen))
	}
}
