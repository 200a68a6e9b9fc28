package app

import (
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/record"
	"lugworth/wasm/port"
)

const paperSalt = "00112233445566778899aabbccddeeff"

// paperModel is the page at its first start: the demo job on the bench.
func paperModel(t *testing.T) Model {
	t.Helper()
	m := Start()
	m.Screen.Tab.Writer = true
	m, _ = Update(m, port.Loaded{Fresh: fresh("n0"), Device: "d1"})
	if m.Open == nil || len(m.Screen.Problems) > 0 {
		t.Fatalf("the demo job does not open: %v", m.Screen.Problems)
	}
	return m
}

func fresh(id string) port.Fresh {
	return port.Fresh{At: "2026-03-02T09:15:00+01:00", Date: "2026-03-02", NewID: id, Salt: paperSalt}
}

func pressAct(m Model, n, act, id string) (Model, []port.Effect) {
	return Update(m, port.Pressed{Where: port.Where{Act: act, ID: id}, Fresh: fresh(n)})
}

func TestFreezeKeepsEachEstimate(t *testing.T) {
	m := paperModel(t)
	m, effects := pressAct(m, "n1", "freeze", "")
	if len(effects) != 1 || m.Screen.Paper.Open != "MA-0431-1" {
		t.Fatalf("effects %v, open %q", effects, m.Screen.Paper.Open)
	}
	if _, ok := effects[0].(port.SaveRecords); !ok {
		t.Errorf("freezing answers with %T, want SaveRecords", effects[0])
	}
	m, _ = Update(m, port.Pressed{Where: port.Where{Act: "pick", ID: "Safety only"}, Fresh: fresh("n2")})
	m, _ = pressAct(m, "n3", "freeze", "")
	if n := len(m.Open.Job.Frozen); n != 2 {
		t.Fatalf("%d frozen estimates, want 2: %v", n, m.Screen.Problems)
	}
	for id, want := range map[string]string{"MA-0431-1": "546.19", "MA-0431-2": "406.20"} {
		e, err := m.Estimate(id)
		if err != nil || e.Most != want {
			t.Errorf("%s opens at %s, %v; want %s", id, e.Most, err, want)
		}
	}
	if !m.Open.Chain().Whole() {
		t.Errorf("the chain is %v", m.Open.Chain())
	}
}

// A frozen estimate cannot be undone, and Undo then takes back what was done
// before it.
func TestFrozenIsNotUndone(t *testing.T) {
	m := paperModel(t)
	m, _ = pressAct(m, "n1", "freeze", "")
	if m.Screen.Toast.Undo {
		t.Error("Undo is offered for a frozen estimate")
	}
	m, _ = pressAct(m, "n2", "undo", "")
	if len(m.Open.Job.Frozen) != 1 {
		t.Error("undo took a frozen estimate away")
	}
}

func TestDriftAfterAPriceChange(t *testing.T) {
	m := paperModel(t)
	m, _ = pressAct(m, "n1", "freeze", "")
	sheet := "key,value,source\nname,Other,x\ncurrency,USD,x\nrate,90.00,x\nfee,75.00,x\nmarkup,25,x\nsubcontract_markup,10,x\ntax,8.00,x\ntax_on,parts,x\nregistered,yes,x\nallowance,10,x\nreserve,5,x\nmeter_percent,1,x\nvalid_days,30,x\n"
	var files []port.File
	for _, f := range Samples() {
		if f.Name == "shop.csv" {
			f.Data = []byte(sheet)
		}
		files = append(files, port.File{Name: strings.TrimPrefix(f.Name, "lists/"), Bytes: f.Data})
	}
	m, _ = Update(m, port.FileOpened{Fresh: fresh("n2"), Files: files})
	f, ok := m.Frozen("MA-0431-1")
	if !ok {
		t.Fatal("the frozen estimate is gone")
	}
	e, err := m.Estimate("MA-0431-1")
	if err != nil || e.Most != "546.19" {
		t.Errorf("reopened: %s, %v; want 546.19", e.Most, err)
	}
	d, err := m.Open.Result.Drift(f)
	if err != nil || d.Bill.Currency.Format(d.By()) != "81.50" { // 5.433 h at 15.00 more, line by line
		t.Errorf("differs by %v, %v; want 81.50", d.By(), err)
	}
	m, _ = pressAct(m, "n3", "frozen-drift", f.ID)
	if m.Screen.Paper.Drift != f.ID {
		t.Error("the comparison does not open")
	}
	if m, _ = pressAct(m, "n4", "frozen-drift", f.ID); m.Screen.Paper.Drift != "" {
		t.Error("the comparison does not close")
	}
}

func TestEstimateLeavesAsFileAndPrint(t *testing.T) {
	m := paperModel(t)
	m, effects := pressAct(m, "n1", "estimate-file", "")
	w, ok := effects[0].(port.WriteFile)
	if !ok || w.File.Name != "estimate-MA-0431.html" || !strings.HasPrefix(string(w.File.Bytes), "<!doctype html>") {
		t.Errorf("file: %v", effects)
	}
	_, effects = pressAct(m, "n2", "estimate-print", "")
	p, ok := effects[0].(port.Print)
	if !ok || p.Title != "estimate MA-0431" || !strings.HasPrefix(p.Body, `<article class="paper">`) {
		t.Errorf("print: %v", effects)
	}
	m, effects = pressAct(m, "n3", "estimate-file", "no such")
	if len(effects) != 0 || len(m.Screen.Problems) != 1 {
		t.Errorf("a frozen estimate that is not there: %v, %v", effects, m.Screen.Problems)
	}
}

func TestOwnerFieldsReachThePaper(t *testing.T) {
	m := paperModel(t)
	m, _ = Update(m, port.Changed{Where: port.Where{Act: "set", K: "owner/complaint"}, Fresh: fresh("n1"), Value: "crackles when hot!"})
	m, _ = Update(m, port.Changed{Where: port.Where{Act: "set", K: "receipt/received"}, Fresh: fresh("n2"), Value: "Ada"})
	e, err := m.Estimate("")
	if err != nil || e.Complaint != "crackles when hot!" || !strings.Contains(e.Receipt, "received by Ada") {
		t.Errorf("paper says %q, %q, %v", e.Complaint, e.Receipt, err)
	}
}

func TestChainNamesTheBrokenEntry(t *testing.T) {
	m := paperModel(t)
	f := m.Open.Log.File()
	f.Records[3].Body = []byte(`{"number":"other"}`)
	m.Open.Log, m.Open.chain = record.NewLog(f), chainState{}
	m.Open.State = record.Fold(f.Records, job.FoldKinds...)
	v := m.Open.Chain()
	if v.Whole() || v.Broken[0].ID != f.Records[3].ID {
		t.Errorf("chain: %v, want a break at %s", v, f.Records[3].ID)
	}
}
