package job_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/record"
	"lugworth/core/unit"
)

// What goes to a colleague opens as a job, judges the amp as the job did, and
// holds no name, address, number or price.
func TestShareable(t *testing.T) {
	data, err := os.ReadFile("../../testdata/jobs/drover.txtar")
	if err != nil {
		t.Fatal(err)
	}
	c, err := job.OpenCase("drover.txtar", data, nil)
	if err != nil {
		t.Fatal(err)
	}
	salts := make([]string, len(c.File.Records))
	for i := range salts {
		salts[i] = fmt.Sprintf("%032x", i+1)
	}
	f, err := record.Adopt(c.File, "bench", "2026-03-02T09:15:00+01:00", salts)
	if err != nil {
		t.Fatal(err)
	}
	log := record.NewLog(f)
	meta := func(n string) record.Meta {
		return record.Meta{ID: "x" + n, At: "2026-03-02T10:00:00+01:00", Device: "bench", Salt: strings.Repeat("0", 32)}
	}
	log.Append(job.KindOwner, map[string]any{"name": "Ilse Varnholt", "address": "Mill Lane 4, Ostrow", "phone": "555 0199-23"}, meta("1"))
	log.Append(job.KindAmp, map[string]any{"serial": "SN-48213"}, meta("2"))
	log.Append(job.KindFinding, map[string]any{"id": "Z1", "seen": "ILSE says it hums; label says sn-48213, varnholts is another word", "photos": []string{"abc"}}, meta("3"))
	s := record.Fold(log.File().Records, job.FoldKinds...)
	was := job.Fold(s, true)
	out := string(job.Shareable(s))
	for _, secret := range []string{"Ilse", "ILSE", "Varnholt\"", "Mill Lane", "Ostrow", "0199", "48213", "abc", was.Number, "bodyHash", "2026-03-02", "shop.csv", "ceiling"} {
		if secret != "" && strings.Contains(out, secret) {
			t.Errorf("%q is in the shared file", secret)
		}
	}
	if !strings.Contains(out, `(left out) says it hums; label says (left out), varnholts is another word`) {
		t.Error("the finding's words are not as they were")
	}
	got, err := record.Read([]byte(out))
	if err != nil {
		t.Fatal(err)
	}
	is := job.Read(got)
	// A price that stayed behind is told of, and never taken as nothing.
	is.Problems = slices.DeleteFunc(is.Problems, func(p unit.Problem) bool { return strings.Contains(p.Error(), "no price is stated") })
	if len(is.Problems) > len(was.Problems) || len(is.Amp.Readings) != len(was.Amp.Readings) || len(is.Findings) != len(was.Findings) || len(is.Options) != len(was.Options) {
		t.Errorf("reads as %d readings, %d findings, %d options, problems %v", len(is.Amp.Readings), len(is.Findings), len(is.Options), is.Problems)
	}
}

// A number is one number whatever gaps it is written with; readings that hold
// some of its digits stay.
func TestNumbersOfOtherSpelling(t *testing.T) {
	for _, c := range []struct{ text, secret, want string }{
		{"call 5550199 first", "555 0199", "call (left out) first"},
		{"call 555-01.99", "555 0199", "call (left out)"},
		{"plate says ab 01234, cap 01234", "AB-01234", "plate says (left out), cap 01234"},
		{"15550199", "555 0199", "15550199"},
		{"12.34 V", "1234", "12.34 V"},
		{"", "555 0199", ""},
	} {
		if got := job.HushSpelled(c.text, c.secret); got != c.want {
			t.Errorf("%q without %q: %q, want %q", c.text, c.secret, got, c.want)
		}
	}
}

// What a subcontractor asks is no business of a colleague's.
func TestSharedWorkHasNoPrice(t *testing.T) {
	j, _ := opened(t, "drover")
	shared := string(job.Shareable(j.State))
	if !strings.Contains(shared, `"other"`) || strings.Contains(shared, "95.00") || strings.Contains(shared, "36.00") {
		t.Errorf("work sent out is not there, or with its price:\n%s", shared)
	}
}
