package shop

import "testing"

func TestReadWait(t *testing.T) {
	for text, want := range map[string]int{"24 h": 1440, "1.5 hours": 90, "2 days": 2880, "1day": 1440, "90 min": 90, "0 h": 0} {
		if got, err := ReadWait(text); err != nil || got != want {
			t.Errorf("%q: %d minutes, %v; want %d", text, got, err, want)
		}
	}
	for _, text := range []string{"", "24", "h", "-1 h", "2 weeks", "400 days", "NaN h", "1e9 h"} {
		if got, err := ReadWait(text); err == nil {
			t.Errorf("%q is read as %d minutes", text, got)
		}
	}
}
