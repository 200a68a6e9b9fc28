package circuit

import (
	"math"
	"testing"

	"lugworth/core/limit"
	"lugworth/core/tube"
)

// A first dropper stands between the ripple of the reservoir and a capacitor
// that passes it on to the chassis: its watts are those of the direct current
// and of the ripple.
func TestResistorBearsRipple(t *testing.T) {
	n := netOf(t, `MAINS,mains,,117,,rs=2 hz=60
HT,winding,,500,a=HA ct=0 b=HB,dcr=100
D1,diode,X,,plate=HA cathode=B1,
D2,diode,X,,plate=HB cathode=B1,
C1,electrolytic,,20uF,plus=B1 minus=0,
R1,resistor,,100,a=B1 b=B2,
C2,electrolytic,,40uF,plus=B2 minus=0,
R2,resistor,,2.5k,a=B2 b=0,
`, func(string) (tube.Law, string, bool) { return tube.Law{Kind: tube.Diode, Vf: 0.75}, "", true })
	s, err := n.Solve(n.Sheet(), State{Mains: 117}, nil)
	if err != nil {
		t.Fatal(err)
	}
	b1, _ := s.Node("B1")
	b2, _ := s.Node("B2")
	// By hand: 40 uF is 33 ohms at 120 Hz, so that 0.949 of the ripple at B1
	// stands over R1; what is nearly a sawtooth of V volts has V/sqrt(12) rms.
	// Tolerance 10 %: the real ripple is rounder than a sawtooth.
	swing, _ := s.Ripple("B1")
	want := (b1-b2)*(b1-b2)/100 + math.Pow(0.949*swing/math.Sqrt(12), 2)/100
	got, ok := s.Figure(Figure{"R1", limit.Watts})
	if !ok || math.Abs(got-want) > 0.1*want || got < 1.2*(b1-b2)*(b1-b2)/100 {
		t.Errorf("watts %.3f, want about %.3f, of direct current %.3f", got, want, (b1-b2)*(b1-b2)/100)
	}
}
