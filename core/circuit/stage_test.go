package circuit

import (
	"fmt"
	"math"
	"testing"
)

// A 12AX7 with 100 kΩ in the plate and cathode bias, as its sheet prints it
// (Philips, ECC83, 5 May 1960, second-hand transcription). The supply is a
// stiff one, its mains turned until the published volts stand. Tolerance 8 %
// of the current, 5 % of the plate volts.
func TestPublishedStages(t *testing.T) {
	for _, r := range publishedRows(t, "electrical-stages.csv", 3) {
		n := netOf(t, fmt.Sprintf("MAINS,mains,,120,,hz=60 rs=0\nT1,winding,,250,a=A b=0,dcr=5\nD1,diode,1N4007,,plate=A cathode=B,\nC1,electrolytic,,100uF,plus=B minus=0,\n"+
			"R1,resistor,,100k,a=B b=P,\nR2,resistor,,%s,a=K b=0,\nR3,resistor,,1000k,a=G b=0,\nV1,triode,12AX7,,plate=P grid=G cathode=K,\n", r[3]), fittedLaws)
		want, mains := num(t, r[1]), 100.0
		var s *Solution
		for range 8 {
			var err error
			if s, err = n.Solve(n.Sheet(), State{Mains: mains}, s); err != nil {
				t.Fatal(r[:4], err)
			}
			mains *= want / volt(t, s, "B")
		}
		near(t, r[1]+" V: current", (volt(t, s, "B")-volt(t, s, "P"))/1e5*1000, num(t, r[4]), 0.08, 0)
		near(t, r[1]+" V: plate", volt(t, s, "P"), num(t, r[5]), 0.05, 0)
		if math.Abs(volt(t, s, "B")/want-1) > 1e-3 {
			t.Errorf("the supply stands at %.2f V, want %.2f V", volt(t, s, "B"), want)
		}
	}
}
