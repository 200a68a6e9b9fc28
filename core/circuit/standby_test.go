package circuit

import (
	"bytes"
	"os"
	"testing"

	"lugworth/core/amp"
)

// With the switch of standby open and the heaters on, the tubes' side of the
// plate supply stands at the cathodes within a volt or two: nothing drives it
// below. It hangs on the tubes alone, so that an answer of "not settled" is
// honest as well; a number far below the chassis is not.
func TestStandbyDrivesNothingBelowTheChassis(t *testing.T) {
	data, err := os.ReadFile("../../testdata/amps/ambleton.csv")
	if err != nil {
		t.Fatal(err)
	}
	// A grid held at the chassis, not biased by its own current, leaves the
	// cathode free to emit.
	data = bytes.ReplaceAll(data, []byte("R601,resistor,,470k"), []byte("R601,resistor,,100"))
	for name, bleeder := range map[string]string{"alone": "", "with a bleeder": "R99,resistor,,220k,2W,10%,a=S1 b=0,,,\n"} {
		d := bytes.ReplaceAll(data, []byte("10%,a=B1 b=B2"), []byte("10%,a=S1 b=B2"))
		d = bytes.ReplaceAll(d, []byte("a=B1 b=Pa6"), []byte("a=S1 b=Pa6"))
		d = append(d, ("SW1,switch,,,,,a=B1 b=S1,,,opens=standby\n" + bleeder)...)
		sheet, problems := amp.ReadSheet("standby.csv", d)
		net, err := Compile(sheet, fittedLaws)
		if err != nil || len(problems) > 0 {
			t.Fatal(problems, err)
		}
		s, err := net.Solve(net.Sheet(), State{Mains: 117, Standby: true}, nil)
		if err != nil {
			t.Logf("%s: %v", name, err)
			if bleeder != "" {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		for _, n := range net.Nodes() {
			v, ok := s.Node(n)
			if ok && (v < -2 || n != "B1" && v > 5) {
				t.Errorf("%s: %s stands at %.2f V", name, n, v)
			}
		}
		b1, _ := s.Node("B1")
		s1, _ := s.Node("S1")
		t.Logf("%s: B1 %.1f V, S1 %.3f V", name, b1, s1)
	}
}
