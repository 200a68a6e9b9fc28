package record

import "testing"

// Two devices apart give their answers one name. Neither changes the other,
// whichever is merged into which; no field of one stands in the other.
func TestSealedRecordsOfOneNameStandApart(t *testing.T) {
	base := NewLog(File{})
	say(t, base, "bench", "note", `{"say":"x"}`)
	bench, phone := NewLog(base.File()), NewLog(base.File())
	say(t, bench, "bench", Consent, `{"id":"c1","accept":["T1","T9"],"ceiling":"900.00"}`)
	second := say(t, phone, "phone", Consent, `{"id":"c1","accept":["T1"],"total":"100.00"}`)
	third := say(t, bench, "bench", Consent, `{"id":"c1","ceiling":"9999.00"}`) // by hand: an edit of what is sealed
	all := append(bench.File().Records, phone.File().Records...)
	for turn := range len(all) {
		s := Fold(append(append([]Record{}, all[turn:]...), all[:turn]...))
		want := map[string]string{
			"c1":                     `{"accept":["T1","T9"],"ceiling":"900.00","id":"c1"}`,
			"c1" + Apart + second.ID: `{"accept":["T1"],"id":"c1` + Apart + second.ID + `","total":"100.00"}`,
			"c1" + Apart + third.ID:  `{"ceiling":"9999.00","id":"c1` + Apart + third.ID + `"}`,
		}
		if got := len(s.IDs(Consent)); got != 3 {
			t.Fatalf("%d answers, want 3: %v", got, s.IDs(Consent))
		}
		for id, body := range want {
			got, _ := s.JSON(Consent, id)
			wantText(t, id, string(got), body)
		}
		if n := s.Notices(); len(n) != 2 || n[0].Code != SealedTwice {
			t.Errorf("notices: %v", n)
		}
	}
}
