package job_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/record"
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
	if len(is.Problems) > len(was.Problems) || len(is.Amp.Readings) != len(was.Amp.Readings) || len(is.Findings) != len(was.Findings) || len(is.Options) != len(was.Options) {
		t.Errorf("reads as %d readings, %d findings, %d options, problems %v", len(is.Amp.Readings), len(is.Findings), len(is.Options), is.Problems)
	}
}
