package record

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

// salt returns a salt that differs from call to call with n.
func salt(n int) string { return fmt.Sprintf("%032x", 0xabc000+n) }

// say adds a record or ends the test.
func say(t testing.TB, l *Log, device, kind, body string) Record {
	t.Helper()
	n := len(l.file.Records)
	r, err := l.Append(kind, json.RawMessage(body), Meta{fmt.Sprintf("%s-%d", device, n), fmt.Sprintf("2031-05-01T10:%02d:00Z", n%60), device, salt(n)})
	if err != nil {
		t.Fatalf("Append(%s, %s) on %s: %v", kind, body, device, err)
	}
	return r
}

// bench is a file of five records by two devices.
func bench(t testing.TB) File {
	t.Helper()
	l := NewLog(File{})
	say(t, l, "bench", "job", `{"name":"Sparrow 20"}`)
	say(t, l, "bench", "finding", `{"id":"F1","say":"hum"}`)
	say(t, l, "phone", "consent", `{"accept":["T1"],"by":"owner"}`)
	say(t, l, "phone", "finding", `{"id":"F1","say":"hum at 120 Hz"}`)
	say(t, l, "bench", "note", `{"id":"n1","say":"cap out"}`)
	return l.File()
}

func mustRead(t testing.TB, text string) File {
	t.Helper()
	f, err := Read([]byte(text))
	if err != nil {
		t.Fatalf("Read: %v", err)
	}
	return f
}

func errText(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

func wantText(t *testing.T, what, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s:\n got %s\nwant %s", what, got, want)
	}
}

func wantIn(t *testing.T, what, got, want string) {
	t.Helper()
	if !strings.Contains(got, want) || (want == "" && got != "") {
		t.Errorf("%s:\n     got %s\nwant in it %q", what, got, want)
	}
}

// dump writes all a state says, for comparing two of them.
func dump(s State) string {
	var b strings.Builder
	for _, kind := range s.Kinds() {
		for _, id := range s.IDs(kind) {
			raw, _ := s.JSON(kind, id)
			fmt.Fprintf(&b, "%s %q %s", kind, id, raw)
			for _, f := range s.Fields(kind, id) {
				fmt.Fprintf(&b, " %s<-%s", f, s.Origin(kind, id, f))
			}
			b.WriteByte('\n')
		}
		for _, r := range s.Records(kind) {
			fmt.Fprintf(&b, "%s record %s\n", kind, r.ID)
		}
	}
	fmt.Fprintf(&b, "conflicts %s\nundone %v\nnotices %v\n", conflictText(s.Conflicts()), s.Undone(), s.Notices())
	return b.String()
}

func conflictText(cs []Conflict) string {
	var out []string
	for _, c := range cs {
		s := fmt.Sprintf("%s %s.%s:", c.Kind, c.ID, c.Field)
		for _, cl := range c.Claims {
			s += fmt.Sprintf(" %s says %s=%s", cl.Record, cl.Field, cl.Value)
		}
		out = append(out, s)
	}
	return strings.Join(out, "; ")
}
