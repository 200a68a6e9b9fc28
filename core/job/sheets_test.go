package job_test

import (
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/report"
)

func sheetOf(t *testing.T, name string, f func(*job.Result) (report.Sheet, error)) (report.Sheet, string) {
	t.Helper()
	j, books := opened(t, name)
	s, err := f(job.Derive(j, books, "2026-03-02"))
	if err != nil {
		t.Fatal(err)
	}
	return s, string(s.HTML())
}

// The bench gets parts, places and verdicts, and no price and no address.
func TestJobSheet(t *testing.T) {
	s, html := sheetOf(t, "drover", (*job.Result).JobSheet)
	for _, want := range []string{"What is to be done?", "K K-", "Stored charge", "Hours", "checked"} {
		if !strings.Contains(html, want) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
	for _, secret := range []string{"836.26", "95.00", "USD"} {
		if strings.Contains(html, secret) {
			t.Errorf("the sheet says %q", secret)
		}
	}
	rows := 0
	for _, b := range s.Blocks {
		rows += len(b.Rows)
		for _, r := range b.Rows {
			if len(r) != len(b.Cols) || r[len(r)-1] == "" || r[len(r)-1] == "0" {
				t.Errorf("%s: row %q", b.ID, r)
			}
		}
	}
	if rows < 5 {
		t.Errorf("%d parts", rows)
	}
}

// Every old part that is bagged has a label with its finding.
func TestBagLabels(t *testing.T) {
	s, html := sheetOf(t, "drover", (*job.Result).BagLabels)
	if len(s.Labels) < 3 || !strings.Contains(html, s.Number+" · A") {
		t.Errorf("%d labels", len(s.Labels))
	}
}

// The list has every finding with work, each way with its price from the
// present choice, and never a sum.
func TestDecisionList(t *testing.T) {
	j, books := opened(t, "tern")
	r := job.Derive(j, books, "2026-03-02")
	s, err := r.DecisionList()
	if err != nil {
		t.Fatal(err)
	}
	html := string(s.HTML())
	ways := 0
	for _, b := range s.Blocks {
		ways += len(b.Rows)
	}
	if ways != len(r.Options) {
		t.Errorf("%d ways, want %d", ways, len(r.Options))
	}
	deltas, err := r.Deltas()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range deltas {
		if !d.Accepted && d.Total > 0 && !strings.Contains(html, r.Policy.Currency.Format(d.Total)) {
			t.Errorf("%s: its change is not on the list", d.Option)
		}
	}
	for _, want := range []string{"If not done:", "think about it", "They do not add up", "from the present choice"} {
		if !strings.Contains(strings.ToLower(html), strings.ToLower(want)) {
			t.Errorf("the list lacks %q", want)
		}
	}
}
