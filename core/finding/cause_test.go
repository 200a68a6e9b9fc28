package finding

import (
	"reflect"
	"testing"
)

func TestClose(t *testing.T) {
	accepted := func(ids ...string) func(string) bool {
		return func(id string) bool {
			for _, a := range ids {
				if a == id {
					return true
				}
			}
			return false
		}
	}
	// A leaking coupler makes a tube run hot, and that scorches its socket.
	chain := []Finding{{ID: "coupler"}, {ID: "hot", Cause: "coupler"}, {ID: "socket", Cause: "hot"}, {ID: "cord"}}
	tests := []struct {
		name     string
		all      []Finding
		accepted func(string) bool
		want     []Closed
		problems string
	}{
		{"nothing accepted", chain, accepted(), nil, ""},
		{"the cause closes symptom and symptom's symptom", chain, accepted("coupler"), []Closed{{"hot", "coupler"}, {"socket", "coupler"}}, ""},
		{"the nearest cause is named; its own cause stays open", chain, accepted("hot"), []Closed{{"socket", "hot"}}, ""},
		{"asked for itself: does not close", chain, accepted("coupler", "hot"), []Closed{{"socket", "hot"}}, ""},
		{"the symptom never closes its cause", chain, accepted("socket"), nil, ""},
		{"unknown cause", []Finding{{ID: "a", Cause: "z"}}, accepted("z"), nil, `finding a: column "cause": "z" is not a word we know here`},
		{"its own cause", []Finding{{ID: "a", Cause: "a"}}, accepted("a"), nil, `finding a: column "cause": "a ← a" comes round in a circle`},
		{"a circle, told of once, and one that leads into it", []Finding{{ID: "c", Cause: "b"}, {ID: "b", Cause: "c"}, {ID: "d", Cause: "c"}, {ID: "e"}},
			accepted("b"), nil, `finding b: column "cause": "b ← c ← b" comes round in a circle`},
		{"named twice", []Finding{{ID: "a"}, {ID: "a", Cause: "a"}}, accepted(), nil, `finding a: column "id": "a" comes twice`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, problems := Close(tt.all, tt.accepted)
			if !reflect.DeepEqual(got, tt.want) {
				t.Errorf("Close = %v, want %v", got, tt.want)
			}
			if p := problemTexts(problems); p != tt.problems {
				t.Errorf("problems %q, want %q", p, tt.problems)
			}
		})
	}
	if got := Causes(chain[2], chain); len(got) != 2 || got[0].ID != "hot" || got[1].ID != "coupler" {
		t.Errorf("Causes = %v, want hot, coupler", got)
	}
}
