package job_test

import (
	"bytes"
	"testing"

	"lugworth/core/job"
)

const doneT1 = `{"kind":"done","body":{"id":"T1","hours":"0.2","scope":"same"}}`

// A row behind one with an open quote is not lost in it, and a file that is
// no book of finished work takes none.
func TestPastWithBadFiles(t *testing.T) {
	r := changed(t, "tern", "", "", doneT1)
	out, n, err := r.PastWith([]byte("job,class,estimated,actual,note\nJ1,x,1,1,\"open\n"))
	if past := job.OpenBooks(nil, []job.File{{Name: "past.csv", Data: out}}).Past; err == nil && (n != 1 || len(past) == 0 || past[len(past)-1].Job != "PS-0064") {
		t.Errorf("%d rows: %q, %+v", n, out, past)
	}
	if out, n, err := r.PastWith([]byte("job,class\n")); err == nil {
		t.Errorf("%d rows: %q", n, out)
	}
}

// Whatever stands in past.csv, a job that is added and taken out again leaves
// it as it was, but for the end of its last line; and rows that could be read
// can be read on.
func FuzzPast(f *testing.F) {
	for _, s := range []string{"", "job,class,estimated,actual,note\n", "class;job;estimated;actual\r\nx;J1;1;1.5\r\n", "job,class,estimated,actual,note\nJ1,\"a\nb\",1,1,\"x, \"\"y\"\"\"",
		"job,class,estimated,actual\nPS-0064,a,1,2\n", "job\tclass\testimated\tactual\nJ\tx\t1\t2", "job,class,estimated,actual\rJ,x,1,2\r"} {
		f.Add([]byte(s))
	}
	r := changed(f, "tern", "", "", doneT1)
	f.Fuzz(func(t *testing.T, data []byte) {
		before := job.OpenBooks(nil, []job.File{{Name: "past.csv", Data: data}}).Past
		out, n, err := r.PastWith(data)
		if err != nil {
			return
		}
		after := job.OpenBooks(nil, []job.File{{Name: "past.csv", Data: out}}).Past
		if len(data) > 0 && (!bytes.HasPrefix(out, data) || len(after) < len(before)) || len(after) < n {
			t.Fatalf("%q: %d rows teach, %d after %d more", data, len(before), len(after), n)
		}
		again := changed(t, "tern", "", string(out), doneT1)
		back, m, err := again.PastWithout(out)
		if err != nil || m < n {
			t.Fatalf("%q: %d rows added, %d taken out: %v", data, n, m, err)
		}
		if m == n && len(data) > 0 && string(back) != string(data) && string(back) != string(data)+"\n" {
			t.Fatalf("%q comes back as %q", data, back)
		}
	})
}
