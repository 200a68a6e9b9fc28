package shop

import (
	"slices"
	"strings"
	"testing"
)

func TestCalendarKeys(t *testing.T) {
	s := read(t, goodSheet+"bench_hours,2.5,own\nopen_days,\"Mon-Wed, sat\",own\nholidays,2027-01-01; 2026-12-25,own\nanswer_days,0/1/4,own\ncarriage_days,1/2/4 working,own\n")
	if s.BenchHours.String() != "2.5" || s.OpenDays != [7]bool{true, true, true, false, false, true, false} ||
		!slices.Equal(s.Holidays, []string{"2026-12-25", "2027-01-01"}) ||
		s.AnswerDays != (Wait{0, 1, 4, false}) || s.CarriageDays != (Wait{1, 2, 4, true}) || len(s.Wrong) > 0 {
		t.Errorf("%+v", s)
	}
	if s := read(t, goodSheet+"open_days,fri-mon,own\nholidays,none,own\nanswer_days,3,own\n"); s.OpenDays != [7]bool{true, false, false, false, true, true, true} ||
		!s.Has("holidays") || s.AnswerDays != (Wait{3, 3, 3, false}) {
		t.Errorf("%+v", s)
	}
}

// What is not stated is not read as something.
func TestCalendarKeysRefuse(t *testing.T) {
	for _, row := range []string{"bench_hours,0,own", "bench_hours,25,own", "bench_hours,-1,own", "open_days,someday,own", "open_days,mon-xyz,own",
		"holidays,25.12.2026,own", "holidays,2026-02-30,own", "answer_days,1/2,own", "answer_days,3/2/4,own", "carriage_days,-1/2/4,own", "carriage_days,a/b/c,own"} {
		s := read(t, goodSheet+row+"\n")
		key, _, _ := strings.Cut(row, ",")
		if len(s.Wrong) != 1 || s.Has(key) {
			t.Errorf("%s: wrong %v, has %v", row, s.Wrong, s.Has(key))
		}
	}
	s := read(t, goodSheet)
	for _, k := range []string{"bench_hours", "open_days", "holidays", "answer_days", "carriage_days"} {
		if s.Has(k) || !slices.Contains(Keys(), k) {
			t.Errorf("%s: stated %v", k, s.Has(k))
		}
	}
}
