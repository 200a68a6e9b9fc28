package job_test

import (
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/record"
)

// The schema of records knows what a record of kind buy holds.
func TestSchemaOfABuy(t *testing.T) {
	s := schema(t)
	for body, takes := range map[string]bool{
		`{}`:                         true,
		`{"swaps":[],"spares":null}`: true,
		`{"swaps":[{"option":"T2b","part":"0","list":"M","number":"M-20"}],"spares":[{"list":"M","number":"M-20","packs":"2"}]}`: true,
		`{"swaps":[{"option":"T2b","list":"M"}]}`:               false,
		`{"swaps":{"option":"T2b","list":"M","number":"M-20"}}`: false,
		`{"spares":[{"list":"M","number":"M-20","packs":2}]}`:   false,
	} {
		file := `{"format":1,"records":[{"kind":"job","body":{"number":"1"}},{"kind":"buy","body":` + body + `}]}`
		if err := s.Validate(parse(t, []byte(file))); (err == nil) != takes {
			t.Errorf("%s: %v", body, err)
		}
	}
}

// A record of kind buy is read with an id or without; packs that are no whole
// number are told of; taking the record back is the order as planned again.
func TestABuyIsFolded(t *testing.T) {
	read := func(records string) *job.Job {
		f, err := record.Read([]byte(`{"format":1,"records":[{"kind":"job","body":{"number":"1"}},` + records + `]}`))
		if err != nil {
			t.Fatal(err)
		}
		return job.Read(f)
	}
	const swap = `"swaps":[{"option":"T2b","part":"0","list":"M","number":"M-20"}]`
	for _, body := range []string{`{` + swap + `}`, `{"id":"buy",` + swap + `}`} {
		j := read(`{"kind":"buy","body":` + body + `}`)
		if len(j.Buying.Swaps) != 1 || j.Buying.Swaps[0] != (job.Swap{Option: "T2b", Part: "0", List: "M", Number: "M-20"}) || len(j.Problems) > 0 {
			t.Errorf("%s: %+v %v", body, j.Buying, j.Problems)
		}
	}
	if j := read(`{"kind":"buy","body":{` + swap + `}},{"kind":"buy","body":{"swaps":[]}}`); len(j.Buying.Swaps) != 0 {
		t.Errorf("as planned again: %+v", j.Buying)
	}
	if j := read(`{"kind":"buy","body":{` + swap + `}},{"kind":"undo","body":{"record":"r2"}}`); len(j.Buying.Swaps) != 0 {
		t.Errorf("taken back: %+v %v", j.Buying, j.Problems)
	}
	j := read(`{"kind":"buy","body":{"spares":[{"list":"M","number":"M-20","packs":"some"}]}}`)
	if len(j.Problems) != 1 || !strings.Contains(j.Problems[0].Error(), "some") {
		t.Errorf("packs that are no number: %v", j.Problems)
	}
}
