package job_test

import (
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"lugworth/core/job"
)

// An option whose hours are not stated lends its sibling of the same task no
// free labor, and stops no other choice.
//
// By hand: S1 0.5 h + T1 0.5 h + T2 0.5 h at 60.00 = 90.00, parts 5.00 + 2 ×
// 2.50 = 10.00, fee 20.00, tax 0.80: 120.80.
func TestUnclearSibling(t *testing.T) {
	a, err := txtar.ParseFile("../../testdata/bad/base.txtar")
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range a.Files {
		if f.Name == "job.json" {
			s := strings.Replace(string(f.Data), `"id":"T2a","finding":"A2","say":"film couplers","low":"0.5","mode":"0.5",`, `"id":"T2a","task":"T2","finding":"A2","say":"film couplers","low":"0.5",`, 1)
			s = strings.Replace(s, `"id":"T2b",`, `"id":"T2b","task":"T2",`, 1)
			s = strings.Replace(s, `"name":"musts","accept":["T1","T2a"]`, `"name":"musts","accept":["T1","T2b"]`, 1)
			a.Files[i].Data = []byte(s)
		}
	}
	c, err := job.OpenCase("base", txtar.Format(a), nil)
	if err != nil {
		t.Fatal(err)
	}
	j, b := c.Open(nil)
	r := job.Derive(j, b, "2026-01-05")
	price, ok := r.Ledger()
	if !ok {
		t.Fatal("no ledger: one unclear option stops the quick prices of all")
	}
	if p, err := price([]string{"T1", "T2b"}); err != nil || p.Total != 12080 {
		t.Errorf("the ledger says %d, %v; want 12080", p.Total, err)
	}
	if s := r.Sets[1]; s.Err != "" || s.Bill.Total != 12080 {
		t.Errorf("set %s comes to %d, %q; want 12080", s.Name, s.Bill.Total, s.Err)
	}
	if s := r.Sets[0]; !strings.HasPrefix(s.Err, "option T2a: hours are not stated: mode") {
		t.Errorf("set %s says %q", s.Name, s.Err)
	}
	if _, err := r.LaborOf("T2a"); err == nil {
		t.Error("labor of an option whose hours are not stated")
	}
}
