package record

import (
	"errors"
	"os"
	"strings"
	"testing"
)

func TestReadByHand(t *testing.T) {
	f := mustRead(t, `{ "format": 1,
 "records": [
  {"kind":"job","body":{"name":"Sparrow","note":"<x>"}},
  {"kind":"undo","body":{"record":"r1"},"by":"me"} ] }`)
	if !f.NoChain || len(f.Records) != 2 || f.Records[0].ID != "r1" || f.Records[1].ID != "r2" {
		t.Fatalf("Read = %+v, want 2 records r1, r2 and no chain", f)
	}
	want := "{\"format\":1,\"records\":[\n{\"body\":{\"name\":\"Sparrow\",\"note\":\"<x>\"},\"kind\":\"job\"},\n{\"body\":{\"record\":\"r1\"},\"by\":\"me\",\"kind\":\"undo\"}\n]}\n"
	wantText(t, "written", string(f.Write()), want)
	wantText(t, "written again", string(mustRead(t, want).Write()), want)
	wantText(t, "report", Verify(f).String(), "no chain: 2 records written by hand")
	if Verify(f).Whole() || ShortCode(f) != "" {
		t.Error("a file without a chain passes for a whole one or has a short code")
	}
	if s := Fold(f.Records); s.Has("job", "") || len(s.Undone()) != 1 {
		t.Errorf("the undo by hand did not hide r1: %s", dump(s))
	}
}

func TestReadErrors(t *testing.T) {
	h := strings.Repeat("ab", 32)
	chain := `"id":"a","at":"t","device":"d","n":1,"seen":{},"prev":"` + First + `","bodyHash":"` + h + `","kind":"note"`
	one := func(rec string) string { return "{\"format\":1,\"records\":[\n" + rec + "]}" }
	tests := []struct{ name, in, want string }{
		{"cut", `{"format":1,"records":[{"kind":"jo`, "line 1, column 35 (records[0].kind): the text breaks off inside quotes"},
		{"list", `[]`, "line 1, column 1: a file is an object with format and records, not a list"},
		{"no format", `{"records":[]}`, "the file does not state its format"},
		{"newer", `{"format":2,"records":[]}`, "line 1, column 11 (format): the file has format 2 and this program knows format 1; a newer version of the program may open it"},
		{"format as text", `{"format":"1","records":[]}`, `format is the text "1", not a number`},
		{"no records", `{"format":1}`, "the file has no records"},
		{"records no list", `{"format":1,"records":{}}`, "records is an object, not a list"},
		{"unknown field of the file", `{"format":1,"records":[],"extra":1}`, `line 1, column 26 (extra): a file of format 1 has no field "extra"`},
		{"heads by hand", `{"format":1,"heads":{},"records":[{"kind":"a","body":{}}]}`, "heads are stated and the records have no chain"},
		{"record no object", one(`7`), "line 2, column 1 (records[0]): a record is an object, not the number 7"},
		{"float", one(`{"kind":"reading","body":{"volts":467.4}}`), `line 2, column 35 (records[0].body.volts): 467.4 is not a whole number below 2^53; write it as text: "467.4"`},
		{"key twice", one(`{"kind":"a","kind":"b","body":{}}`), `line 2, column 13 (records[0].kind): "kind" stands twice in one object`},
		{"no kind", one(`{"body":{}}`), "the record has no kind"},
		{"empty kind", one(`{"kind":"","body":{}}`), "the text is empty"},
		{"no body", one(`{"kind":"a"}`), "the record has no body"},
		{"body a list", one(`{"kind":"a","body":[]}`), "a body is an object, not a list"},
		{"part of the chain", one(`{"kind":"a","body":{},"id":"x","n":1}`), `the record has chain fields but lacks ["at" "device" "seen" "prev" "bodyHash"]`},
		{"salt alone", one(`{"kind":"a","body":{},"salt":"00"}`), "the record has chain fields but lacks"},
		{"body without salt", one(`{` + chain + `,"body":{}}`), "body and salt stand together or are both taken out"},
		{"salt without body", one(`{` + chain + `,"salt":"00"}`), "body and salt stand together or are both taken out"},
		{"bad salt", one(`{` + chain + `,"salt":"0g","body":{}}`), `"0g" is not a salt: pairs of digits 0-9 a-f`},
		{"short hash", one(`{` + strings.Replace(chain, h, "abc", 1) + `}`), `"abc" is not a hash: 64 digits of 0-9 a-f`},
		{"upper case hash", one(`{` + strings.Replace(chain, h, strings.ToUpper(h), 1) + `}`), "is not a hash"},
		{"n as text", one(`{` + strings.Replace(chain, `"n":1`, `"n":"1"`, 1) + `}`), `a whole number from 1 was expected, not the text "1"`},
		{"n zero", one(`{` + strings.Replace(chain, `"n":1`, `"n":0`, 1) + `}`), `a whole number from 1 was expected, not the number 0`},
		{"seen no object", one(`{` + strings.Replace(chain, `"seen":{}`, `"seen":[]`, 1) + `}`), "(records[0].seen): an object of device and hash was expected, not a list"},
		{"some with a chain", one(`{"kind":"a","body":{}},{` + chain + `}`), "(records[1]): some records of the file have chain fields and some have none"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Read([]byte(tt.in))
			var ps Problems
			if !errors.As(err, &ps) || len(ps) == 0 || ps[0].Line < 1 || ps[0].Column < 1 || ps[0].Code == "" {
				t.Fatalf("Read: %#v, want problems with place and code", err)
			}
			wantIn(t, "error", err.Error(), tt.want)
		})
	}
}

func TestReadCollectsEveryProblem(t *testing.T) {
	_, err := Read([]byte("{\"format\":1,\"records\":[\n{\"kind\":\"a\",\"body\":{\"v\":1.5}},\n{\"kind\":\"\",\"body\":[]},\n{\"body\":{\"x\":1,\"x\":2}}]}"))
	var lines []int
	for _, p := range err.(Problems) {
		lines = append(lines, p.Line)
	}
	if len(lines) != 5 || lines[0] != 2 || lines[1] != 3 || lines[2] != 3 || lines[3] != 4 || lines[4] != 4 {
		t.Errorf("problems on lines %v, want 2 3 3 4 4:\n%v", lines, err)
	}
}

func TestReadRecordWantsAChain(t *testing.T) {
	_, err := ReadRecord([]byte(`{"kind":"a","body":{}}`))
	wantIn(t, "error", errText(err), "the record has no chain fields")
	_, err = ReadRecord([]byte(`{"kind":`))
	wantIn(t, "error", errText(err), "breaks off")
}

const saved = "../../testdata/saved/v1/sample.job.json"

// A file of any released version opens for ever: this one was written by the
// first version and is never rewritten.
func TestSavedSampleOpens(t *testing.T) {
	data, err := os.ReadFile(saved)
	if err != nil {
		t.Fatal(err)
	}
	f := mustRead(t, string(data))
	wantText(t, "written again", string(f.Write()), string(data))
	wantText(t, "report", Verify(f).String(), "whole: 28 records, 1 of them redacted")
	wantText(t, "short code", ShortCode(f), "3NH4-VDFK-GJKC")
	s := Fold(f.Records)
	var amp struct{ Model, Year string }
	if err := s.Decode("amp", "", &amp); err != nil || amp.Model != "Sparrow 20" || amp.Year != "about 1964" {
		t.Errorf("amp = %+v, %v", amp, err)
	}
	if n := len(s.Records(Consent)); n != 2 {
		t.Errorf("%d consents, want 2", n)
	}
	wantText(t, "open conflicts", conflictText(s.Conflicts()), `finding F2.say: bench-12 says say="cathode resistor charred" phone-12 says say="cathode resistor brown, reads 291 Ω"`)
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(`{"format":1,"records":[{"kind":"job","body":{"a":"1"}}]}`))
	f.Add(bench(f).Write())
	f.Add([]byte(`{"format":1,"records":[{"kind":"undo","body":{"record":"r1","a":[{"b":"\ud834\udd1e"}]},"x":null}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := Read(data)
		if err != nil {
			if ps, ok := err.(Problems); !ok || len(ps) == 0 {
				t.Fatalf("error without a problem: %v", err)
			}
			return
		}
		first := file.Write()
		again, err := Read(first)
		if err != nil {
			t.Fatalf("what was written does not open: %v\n%s", err, first)
		}
		if string(again.Write()) != string(first) {
			t.Fatalf("written twice:\n%s\n%s", first, again.Write())
		}
		Verify(file)
		dump(Fold(file.Records))
		Replay(data, [][]byte{data})
	})
}
