package circuit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"lugworth/core/amp"
)

// randomSheet is a supply with parts and tubes between random nodes: some of
// it makes sense, much of it does not.
func randomSheet(t *testing.T, r *rand.Rand) []amp.Position {
	t.Helper()
	var b strings.Builder
	b.WriteString("ref,kind,type,value,rating,tolerance,nodes,place,note,extra\nMAINS,mains,,117,,,,,,heater=20 hz=60 rs=2\n" +
		"T1,winding,,600,,3%,a=HA ct=0 b=HB,,,dcr=200\nV90a,rectifier,5Y3GT,,,,plate=HA cathode=N0,,,\nV90b,rectifier,5Y3GT,,,,plate=HB cathode=N0,,,\n" +
		"C90,electrolytic,,20uF,,,plus=N0 minus=0,,,\n")
	nodes := 3 + r.IntN(12)
	at := func() string {
		if k := r.IntN(nodes + 1); k < nodes {
			return fmt.Sprint("N", k)
		}
		return "0"
	}
	for i := range nodes + r.IntN(2*nodes) {
		fmt.Fprintf(&b, "R%d,resistor,,%.2fk,,5%%,a=%s b=%s,,,\n", i, 0.2*math.Pow(10, 3.7*r.Float64()), at(), at())
	}
	for i := range r.IntN(6) {
		if r.IntN(2) == 0 {
			fmt.Fprintf(&b, "V%d,triode,12AX7,,,,plate=%s grid=%s cathode=%s,,,\n", i, at(), at(), at())
		} else {
			fmt.Fprintf(&b, "V%d,beam,6V6GT,,,,plate=%s screen=%s grid=%s cathode=%s,,,\n", i, at(), at(), at(), at())
		}
	}
	sheet, problems := amp.ReadSheet("random.csv", []byte(b.String()))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return sheet
}

// 2,000 random circuits: each solved, or refused with a reason (a node nothing
// holds, a load that leaves no reservoir); of the rest 995 of 1,000 are solved,
// and the answer does not hang on the start.
func TestRandomTopologies(t *testing.T) {
	r := rand.New(rand.NewPCG(40, 2))
	compiled, solved, refused := 0, 0, 0
	for i := range 2_000 {
		sheet := randomSheet(t, r)
		n, err := Compile(sheet, fittedLaws)
		if err != nil {
			if err.Error() == "" {
				t.Fatalf("circuit %d: refused without a reason", i)
			}
			refused++
			continue
		}
		s, err := n.Solve(n.Sheet(), State{Mains: 117}, nil)
		if err != nil && strings.Contains(err.Error(), "no reservoir worth the name") {
			refused++ // so heavy a load that it is no capacitor-input supply any more
			continue
		}
		compiled++
		if err != nil {
			t.Logf("circuit %d: %v", i, err)
			continue
		}
		solved++
		near, err := n.Solve(n.Sheet(), State{Mains: 60 + 80*r.Float64()}, nil)
		if err != nil {
			continue
		}
		again, err := n.Solve(n.Sheet(), State{Mains: 117}, near)
		if err != nil {
			t.Errorf("circuit %d: solved from nothing and not from elsewhere: %v", i, err)
			continue
		}
		for _, name := range n.Nodes() {
			v, ok := s.Node(name)
			w, also := again.Node(name)
			if ok != also || ok && (math.IsNaN(v) || math.Abs(v-w) > 1e-3+1e-4*math.Abs(v)) {
				t.Errorf("circuit %d: %s is %.5f V from nothing, %.5f V from elsewhere", i, name, v, w)
			}
		}
	}
	t.Logf("%d to be solved, %d of them were; %d refused with a reason", compiled, solved, refused)
	if compiled < 300 || float64(solved) < 0.995*float64(compiled) {
		t.Errorf("%d of %d solved", solved, compiled)
	}
}
