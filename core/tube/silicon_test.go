package tube

import "testing"

// A silicon rectifier conducts from 0.75 V on: 10.75 V over 100 ohms in
// series is 0.1 A. Selenium and tubes are no silicon.
func TestSilicon(t *testing.T) {
	for _, name := range []string{"1N4007", "1n4007", "silicon", "UF4007"} {
		l, doubt, ok := LawOf(Card{}, false, name)
		if !ok || doubt != "" || l.Kind != Diode {
			t.Fatalf("%s: %+v, %q, %v: want a diode without a doubt", name, l, doubt, ok)
		}
		if amps, _ := l.Diode(10.75, 100, 1); amps < 0.0999 || amps > 0.1001 {
			t.Errorf("%s: %.5f A, want 0.1 A", name, amps)
		}
	}
	for _, name := range []string{"selenium", "5AR4", "1N34"} {
		if l, ok := Fitted(name); ok && l.Kind == Diode {
			t.Errorf("%s is taken for silicon", name)
		}
	}
}
