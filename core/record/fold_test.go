package record

import (
	"encoding/json"
	"fmt"
	"testing"
)

// byHand makes records of a hand-written file from "kind body" pairs.
func byHand(t testing.TB, pairs ...string) []Record {
	t.Helper()
	text := `{"format":1,"records":[`
	for i := 0; i < len(pairs); i += 2 {
		if i > 0 {
			text += ","
		}
		text += fmt.Sprintf(`{"kind":%q,"body":%s}`, pairs[i], pairs[i+1])
	}
	return mustRead(t, text+"]}").Records
}

func TestFoldFields(t *testing.T) {
	tests := []struct {
		name     string
		records  []string
		kind, id string
		want     string // the entity as JSON, "" if there is none
	}{
		{"single entity", []string{"job", `{"name":"a"}`}, "job", "", `{"name":"a"}`},
		{"absent fields stay", []string{"job", `{"name":"a","no":"1"}`, "job", `{"name":"b"}`}, "job", "", `{"name":"b","no":"1"}`},
		{"null takes away", []string{"job", `{"name":"a","no":"1"}`, "job", `{"no":null}`}, "job", "", `{"name":"a"}`},
		{"and a value brings back", []string{"job", `{"no":"1"}`, "job", `{"no":null}`, "job", `{"no":"2"}`}, "job", "", `{"no":"2"}`},
		{"a nested value is set whole", []string{"job", `{"a":{"x":1,"y":2}}`, "job", `{"a":{"x":3}}`}, "job", "", `{"a":{"x":3}}`},
		{"by id", []string{"f", `{"id":"F1","say":"a"}`, "f", `{"id":"F2","say":"b"}`}, "f", "F2", `{"id":"F2","say":"b"}`},
		{"empty id is the single one", []string{"f", `{"id":"","say":"a"}`}, "f", "", `{"say":"a"}`},
		{"removed", []string{"f", `{"id":"F1","say":"a"}`, "f", `{"id":"F1","removed":true}`}, "f", "F1", ""},
		{"and back", []string{"f", `{"id":"F1","say":"a"}`, "f", `{"id":"F1","removed":true}`, "f", `{"id":"F1","removed":false}`}, "f", "F1", `{"id":"F1","removed":false,"say":"a"}`},
		{"same id of other kinds", []string{"f", `{"id":"1","a":"x"}`, "g", `{"id":"1","a":"y"}`}, "f", "1", `{"a":"x","id":"1"}`},
		{"consent without id", []string{Consent, `{"a":"x"}`, Consent, `{"a":"y"}`}, Consent, "r1", `{"a":"x","id":"r1"}`},
		{"consent with id", []string{Consent, `{"id":"c","a":"x"}`}, Consent, "c", `{"a":"x","id":"c"}`},
		{"key with an escape", []string{"job", `{"a\"b":"x"}`}, "job", "", `{"a\"b":"x"}`},
		{"undone", []string{"job", `{"name":"a"}`, "job", `{"name":"b"}`, Undo, `{"record":"r2"}`}, "job", "", `{"name":"a"}`},
		{"undone and done again", []string{"job", `{"name":"a"}`, "job", `{"name":"b"}`, Undo, `{"record":"r2"}`, Undo, `{"record":"r3"}`}, "job", "", `{"name":"b"}`},
		{"and undone again", []string{"job", `{"name":"a"}`, "job", `{"name":"b"}`, Undo, `{"record":"r2"}`, Undo, `{"record":"r3"}`, Undo, `{"record":"r4"}`}, "job", "", `{"name":"a"}`},
		{"only word undone", []string{"job", `{"name":"a"}`, Undo, `{"record":"r1"}`}, "job", "", ""},
		{"undone twice, one taken back", []string{"job", `{"name":"a"}`, Undo, `{"record":"r1"}`, Undo, `{"record":"r1"}`, Undo, `{"record":"r2"}`}, "job", "", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := Fold(byHand(t, tt.records...))
			got, ok := s.JSON(tt.kind, tt.id)
			wantText(t, "entity", string(got), tt.want)
			if ok != s.Has(tt.kind, tt.id) || ok != (tt.want != "") {
				t.Errorf("JSON ok = %v, Has = %v", ok, s.Has(tt.kind, tt.id))
			}
			if len(s.Notices()) > 0 {
				t.Errorf("notices: %v", s.Notices())
			}
		})
	}
}

func TestFoldNotices(t *testing.T) {
	tests := []struct {
		name    string
		records []string
		want    string
	}{
		{"undo of a consent", []string{Consent, `{}`, Undo, `{"record":"r1"}`}, "undo-refused record r2: it would undo record r1 of kind consent, which only a later one supersedes"},
		{"undo of nothing", []string{Undo, `{"record":"r9"}`}, `undo-nothing record r1: it would undo "r9", and 0 records have that name`},
		{"undo of itself", []string{Undo, `{"record":"r1"}`}, `undo-nothing record r1: it would undo "r1", which comes after it`},
		{"undo of a later one", []string{Undo, `{"record":"r2"}`, "job", `{}`}, `undo-nothing record r1: it would undo "r2", which comes after it`},
		{"id a number", []string{"f", `{"id":7}`}, "body-unread record r1: the id of the body is not text: 7"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var got string
			for _, n := range Fold(byHand(t, tt.records...)).Notices() {
				got += string(n.Code) + " " + n.Say
			}
			wantText(t, "notice", got, tt.want)
		})
	}
}

func TestUndoByAnIDThatTwoHave(t *testing.T) {
	rs := byHand(t, "a", `{"x":1}`, "b", `{"y":1}`, Undo, `{"record":"r1"}`)
	rs[1].ID = "r1"
	s := Fold(rs)
	if len(s.Undone()) != 0 || len(s.Notices()) != 1 {
		t.Errorf("undone %v, notices %v; want none and one", s.Undone(), s.Notices())
	}
}

func TestStateTellsOriginAndOrder(t *testing.T) {
	s := Fold(byHand(t, "f", `{"id":"F2","say":"b"}`, "f", `{"id":"F1","say":"a","pile":"must"}`, "f", `{"id":"F2","pile":"could"}`,
		"f", `{"id":"F3","say":"c"}`, "f", `{"id":"F3","removed":true}`, "odd", `{"x":"1"}`), "f", "job")
	type finding struct{ ID, Say, Pile string }
	got, err := Entities[finding](s, "f")
	wantText(t, "entities", fmt.Sprint(got, err), "[{F2 b could} {F1 a must}] <nil>")
	wantText(t, "origins", s.Origin("f", "F2", "say")+s.Origin("f", "F2", "pile")+s.Origin("f", "F2", "no")+s.Origin("g", "", "x"), "r1r3")
	wantText(t, "fields", fmt.Sprint(s.Fields("f", "F2"), s.Fields("f", "F3"), s.IDs("none")), "[pile say] [] []")
	wantText(t, "kinds", fmt.Sprint(s.Kinds()), "[f odd]")
	wantText(t, "unknown", fmt.Sprint(s.Unknown()), "[{odd [r6]}]")
	if v, ok := s.Field("f", "F1", "say"); !ok || string(v.JSON) != `"a"` || v.Record != "r2" || !isHash(v.Hash) {
		t.Errorf("Field = %+v, %v", v, ok)
	}
	_, err = Entities[struct{ Say int }](s, "f")
	wantIn(t, "wrong type", errText(err), `reading f "F2": json: cannot unmarshal string`)
	wantIn(t, "wrong type, both told", errText(err), `reading f "F1"`)
	wantText(t, "none there", errText(s.Decode("f", "F3", new(finding))), `reading f "F3": there is none`)
}

func TestFoldByAnotherField(t *testing.T) {
	rs := byHand(t, "set", `{"name":"Player","accept":["T1"]}`, "set", `{"name":"Collector","accept":[]}`, "pick", `{"name":"Player"}`,
		"set", `{"name":"Player","accept":["T2"]}`, "set", `{"id":"x","name":"Player","accept":["T3"]}`, "set", `{"accept":["T4"]}`, "odd", `{}`)
	s := Fold(rs, "set", "set:name", "set", "pick")
	wantText(t, "sets", fmt.Sprintf("%q %q", s.IDs("set"), s.IDs("pick")), `["Player" "Collector" "x" ""] [""]`)
	got, _ := s.JSON("set", "Player")
	wantText(t, "set", string(got), `{"accept":["T2"],"id":"Player","name":"Player"}`)
	wantText(t, "unknown", fmt.Sprint(s.Unknown()), "[{odd [r7]}]")
	s.Add(byHand(t, "x", `{}`, "x", `{}`, "x", `{}`, "x", `{}`, "x", `{}`, "x", `{}`, "x", `{}`, "set", `{"name":"New"}`)[7])
	wantText(t, "added", fmt.Sprintf("%q", s.IDs("set")), `["Player" "Collector" "x" "" "New"]`)
}

func TestFoldOfLooseBodies(t *testing.T) {
	for body, want := range map[string]string{
		" { \"a\" : [1, {\"b\":\"}\"}] ,\n\"c\":\"x,y\" } ": `{"a":[1, {"b":"}"}],"c":"x,y"}`,
		`[]`: "", `{"a"}`: "", `{"a":}`: "", `{"a`: "", `{`: "", `null`: "",
	} {
		s := Fold([]Record{{ID: "x", N: 1, Kind: "k", Body: json.RawMessage(body)}})
		got, _ := s.JSON("k", "")
		wantText(t, body, string(got), want)
		if (want == "") != (len(s.Notices()) == 1) {
			t.Errorf("%s: notices %v", body, s.Notices())
		}
	}
}

func TestConflicts(t *testing.T) {
	apart := func(t *testing.T, onBench, onPhone string) *Log {
		l := NewLog(File{})
		say(t, l, "bench", "f", `{"id":"F1","say":"start"}`)
		other := NewLog(l.File())
		say(t, l, "bench", "f", onBench)
		say(t, other, "phone", "f", onPhone)
		f, _ := Merge(l.File(), other.File())
		return NewLog(f)
	}
	tests := []struct {
		name, bench, phone, then string
		want                     string
	}{
		{"other values", `{"id":"F1","say":"a"}`, `{"id":"F1","say":"b"}`, "", `f F1.say: bench-1 says say="a" phone-1 says say="b"`},
		{"same value", `{"id":"F1","say":"a"}`, `{"id":"F1","say":"a"}`, "", ""},
		{"other fields", `{"id":"F1","say":"a"}`, `{"id":"F1","pile":"must"}`, "", ""},
		{"other entities", `{"id":"F1","say":"a"}`, `{"id":"F2","say":"b"}`, "", ""},
		{"taken away and set", `{"id":"F1","say":null}`, `{"id":"F1","say":"b"}`, "", `f F1.say: bench-1 says say=null phone-1 says say="b"`},
		{"settled by one who saw both", `{"id":"F1","say":"a"}`, `{"id":"F1","say":"b"}`, `{"id":"F1","say":"c"}`, ""},
		{"settled by repeating", `{"id":"F1","say":"a"}`, `{"id":"F1","say":"b"}`, `{"id":"F1","say":"b"}`, ""},
		{"another field settles nothing", `{"id":"F1","say":"a"}`, `{"id":"F1","say":"b"}`, `{"id":"F1","pile":"must"}`, `f F1.say: bench-1 says say="a" phone-1 says say="b"`},
		{"removed while worked on", `{"id":"F1","removed":true}`, `{"id":"F1","say":"b"}`, "", `f F1.removed: phone-1 says say="b" bench-1 says removed=true`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l := apart(t, tt.bench, tt.phone)
			if tt.then != "" {
				say(t, l, "bench", "f", tt.then)
			}
			s := Fold(l.File().Records)
			wantText(t, "conflicts", conflictText(s.Conflicts()), tt.want)
		})
	}
	l := apart(t, `{"id":"F1","say":"a"}`, `{"id":"F1","say":"b"}`)
	if _, err := l.Undo("phone-1", Meta{"u", "t", "bench", salt(50)}); err != nil {
		t.Fatal(err)
	}
	wantText(t, "one side undone", conflictText(Fold(l.File().Records).Conflicts()), "")
}

// Two copies of one device that both went on are as two devices.
func TestForkedDeviceConflicts(t *testing.T) {
	l := NewLog(bench(t))
	other := NewLog(l.File())
	add := func(l *Log, id, say string) {
		if _, err := l.Append("finding", map[string]string{"id": "F1", "say": say}, Meta{id, "t", "bench", salt(1)}); err != nil {
			t.Fatal(err)
		}
	}
	add(l, "x1", "one")
	add(other, "x2", "two")
	add(other, "x3", "three")
	f, _ := Merge(l.File(), other.File())
	wantText(t, "conflicts", conflictText(Fold(f.Records).Conflicts()), `finding F1.say: x1 says say="one" x3 says say="three"`)
	wantIn(t, "report", Verify(f).String(), "follow the same record")
}

func many(t testing.TB, n int) File {
	l := NewLog(File{})
	for i := range n {
		kind := []string{"finding", "reading", "option", "note"}[i%4]
		say(t, l, devices[i/50%2], kind, fmt.Sprintf(`{"id":"X%d","say":"words about this one, about as many as usual","value":"%d.5","pile":"must","parts":["K:14","R:%d"],"seen":true}`, i%700, i, i))
	}
	return l.File()
}

func BenchmarkFold2000(b *testing.B) {
	f := many(b, 2000)
	for b.Loop() {
		Fold(f.Records)
	}
}

func BenchmarkAddOneTo2000(b *testing.B) {
	f := many(b, 2000)
	l := NewLog(f)
	s := Fold(f.Records)
	for b.Loop() {
		b.StopTimer()
		r := say(b, l, "bench", "note", `{"id":"n","say":"x"}`)
		b.StartTimer()
		s.Add(r)
	}
}

func BenchmarkRead2000(b *testing.B) {
	data := many(b, 2000).Write()
	for b.Loop() {
		if _, err := Read(data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkVerify2000(b *testing.B) {
	f := many(b, 2000)
	for b.Loop() {
		Verify(f)
	}
}
