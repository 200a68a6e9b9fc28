package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The instance by hand: 7 pieces in packs of 5 are 2 packs at 400 = 800, under
// 6000, so carriage 950; (800 + 950) × 1.2 = 2100.
const smallOrder = `{"name":"t","suppliers":[{"id":"S","minGoods":0,"carriage":[{"fromGoods":0,"fee":950},{"fromGoods":6000,"fee":0}],"factor":"1.2"}],
"offers":[{"id":"O1","supplier":"S","piecesPerPack":5,"minPacks":1,"stockPacks":20,"leadDays":3,"prices":[{"fromPacks":1,"perPack":400},{"fromPacks":3,"perPack":350}]}],
"needs":[{"id":"N1","qty":7,"fits":[{"offer":"O1","score":2}]}]}`

func TestOrderVerb(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "small.json")
	if err := os.WriteFile(file, []byte(smallOrder), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name string
		args []string
		code int
		want []string
	}{
		{"json", []string{"order", file, "-json"}, 0, []string{`"cost": "2100"`, `"lower": "2100"`, `"proven": true`, `"N1": "O1"`, `"O1": 2`, `"carriage_row": 0`, `"landed": "2100"`}},
		{"words", []string{"order", file}, 0, []string{"cost 2100 minor units", "proven: no order costs less"}},
		{"too late", []string{"order", "-by-days", "2", file, "-json"}, 0, []string{`"feasible": false`, "need N1: no offer arrives in 2 days"}},
		{"flags first", []string{"order", "-json", "-max-parcels", "1", "-by-days=3", "--min-score", "2", file}, 0, []string{`"feasible": true`, `"score": 2`, `"lead_days": 3`, `"parcels": 1`}},
		{"flags on both sides", []string{"order", "-by-days", "3", file, "-min-score=2", "-json"}, 0, []string{`"cost": "2100"`}},
		{"too original", []string{"order", file, "-min-score", "3"}, 0, []string{"no order: there is no order with a score of at least 3 (2 is the most there is)"}},
		{"no parcels", []string{"order", file, "-max-parcels", "0"}, 2, []string{"-max-parcels 0: want a whole number of 1 or more"}},
		{"no value", []string{"order", file, "-by-days"}, 2, []string{"-by-days wants a value"}},
		{"no such flag", []string{"order", file, "-fast"}, 2, []string{`there is no flag "-fast"`}},
		{"two files", []string{"order", file, file}, 2, []string{"give one instance file"}},
		{"nothing", []string{"order", "-json"}, 2, []string{"give one instance file"}},
		{"no number", []string{"order", file, "-max-parcels", "many"}, 2, []string{"-max-parcels many: want a whole number"}},
		{"no file", []string{"order", filepath.Join(dir, "none.json")}, 1, []string{"none.json"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var out, notes bytes.Buffer
			if code := run(tt.args, &out, &notes); code != tt.code {
				t.Errorf("exit %d, want %d\n%s", code, tt.code, notes.String())
			}
			for _, w := range tt.want {
				if !strings.Contains(out.String()+notes.String(), w) {
					t.Errorf("no %q in\n%s%s", w, out.String(), notes.String())
				}
			}
		})
	}
}

func TestOrderVerbTellsEveryProblem(t *testing.T) {
	bad := strings.NewReplacer(`"supplier":"S"`, `"supplier":"T"`, `"factor":"1.2"`, `"factor":"1,2"`, `"qty":7`, `"qty":0`).Replace(smallOrder)
	file := filepath.Join(t.TempDir(), "bad.json")
	if err := os.WriteFile(file, []byte(bad), 0o666); err != nil {
		t.Fatal(err)
	}
	var out, notes bytes.Buffer
	if code := run([]string{"order", file}, &out, &notes); code != 1 {
		t.Errorf("exit %d, want 1", code)
	}
	for _, w := range []string{`there is no supplier "T"`, `factor "1,2" is no decimal`, "need N1: 0 pieces"} {
		if !strings.Contains(notes.String(), w) {
			t.Errorf("no %q in %s", w, notes.String())
		}
	}
}
