package circuit

import (
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"lugworth/core/amp"
	"lugworth/core/tube"
)

// soundSheet is a small amp with nothing to remark on: each row of the table
// below spoils one thing.
func soundSheet(t *testing.T) []amp.Position {
	t.Helper()
	sheet, problems := Assemble([]Use{
		{"mains", "", g{"volts": "117"}},
		{"full-wave supply", "1", g{"volts": "640", "socket": "V5"}},
		{"dropper", "2", nil},
		{"bias supply", "3", nil},
		{"triode stage", "4", g{"tube": "V1", "input": "jack", "out": "P4"}},
		{"cathodyne splitter", "5", g{"tube": "V2", "in": "P4"}},
		{"push-pull pair, fixed bias", "6", g{"tube 1": "V3", "tube 2": "V4"}},
	})
	for _, p := range problems {
		t.Fatal(p)
	}
	return sheet
}

func knownTypes(typeNumber string) (tube.Law, string, bool) {
	known := []string{"12AX7", "6L6GC", "5AR4", "1N4007"}
	return tube.Law{Type: typeNumber}, "", slices.Contains(known, typeNumber)
}

// The lines of a sheet, changed: "-REF" takes a part out, "REF old new"
// changes its nodes, "+row" adds one.
func spoiled(t *testing.T, sheet []amp.Position, edits ...string) []amp.Position {
	t.Helper()
	for _, e := range edits {
		switch words := strings.Fields(e); {
		case e[0] == '+':
			rows, problems := amp.ReadSheet("row", []byte("ref,kind,type,value,nodes,extra\n"+e[1:]+"\n"))
			if len(problems) > 0 {
				t.Fatal(problems[0])
			}
			sheet = append(sheet, rows...)
		case e[0] == '-':
			sheet = slices.DeleteFunc(sheet, func(p amp.Position) bool { return p.Ref == e[1:] })
		default:
			i := slices.IndexFunc(sheet, func(p amp.Position) bool { return p.Ref == words[0] })
			for k := range sheet[i].Nodes {
				if sheet[i].Nodes[k].Name == words[1] {
					sheet[i].Nodes[k].Name = words[2]
				}
			}
		}
	}
	return sheet
}

func TestCheck(t *testing.T) {
	tests := []struct {
		name     string
		edits    []string
		severity Severity
		say      string // the first remark
	}{
		{"grid leak gone", []string{"-R601"}, Stops, "the grid of V3, node Ga6, has no way to the chassis"},
		{"grid leak on a misspelled bias", []string{"R601 BIAS BIAZ"}, Stops, "the grid of V3, node Ga6, has no way to the chassis"},
		{"cathode resistor gone", []string{"-R404"}, Stops, "the cathode of V1, node K4, has no way to the chassis"},
		{"plate load gone", []string{"-R403"}, Stops, "the plate of V1, node P4, has no way to a supply"},
		{"screen resistor gone", []string{"-R621"}, Stops, "the screen of V3, node Sa6, has no way to a supply"},
		{"plate load on the chassis", []string{"R403 B3 0"}, Stops, "the plate of V1, node P4, has no way to a supply"},
		{"center tap lifted", []string{"T1 0 X"}, Stops, "the center tap of T1, node X, has no way to the chassis"},
		{"bias winding lifted", []string{"T3 0 X"}, Stops, "the current of T3 has no way back"},
		{"reservoir gone, dropper next", []string{"-C101"}, Stops, "no capacitor stands behind V5a, at node B1"},
		{"choke input", []string{"-C101", "-R109", "+L1,choke,,4H,a=B1 b=B2,dcr=100"}, Stops, "a choke and no capacitor stands behind V5a"},
		{"bias reservoir gone", []string{"-C301"}, Stops, "no capacitor stands behind D301, at node NEG3"},
		{"one reference twice", []string{"+R404,resistor,,1k,a=K4 b=0,"}, Stops, "two parts are called R404"},
		{"no value", []string{"-R404", "+R404,resistor,,,a=K4 b=0,"}, Stops, "R404 has no value: write its ohms"},
		{"sections in one row", []string{"-C201", "+C201,electrolytic,,20/20,plus=B3 minus=0,"}, Stops, "C201 holds 2 sections"},
		{"a type without a law", []string{"-V1", "+V1,triode,9ZZ9,,plate=P4 grid=G4 cathode=K4,"}, Stops, "V1: nothing is known of how a 9ZZ9 conducts"},
		{"a tube without a type", []string{"-V1", "+V1,triode,,,plate=P4 grid=G4 cathode=K4,"}, Stops, "V1 has no type"},
		{"no mains", []string{"-MAINS"}, Stops, "no row of kind mains"},
		{"two mains", []string{"+M2,mains,,117,,rs=2 hz=60 heater=20"}, Stops, "there is more than one mains row: MAINS, M2"},
		{"bias through a capacitor", []string{"-R301", "+C9,film capacitor,,0.047uF,a=HTa1 b=BD3,", "+R9,resistor,,100k,a=BD3 b=0,"}, Stops,
			"D301 gets its alternating volts through the capacitor C9"},
		{"nothing to the chassis", []string{"only"}, Stops, "no lead goes to the chassis"},
		{"a node between capacitors", []string{"+C9,film capacitor,,0.1uF,a=P4 b=Q,", "+C10,film capacitor,,0.1uF,a=Q b=0,"}, Stops,
			"nothing holds node Q for direct current"},
		{"one lead alone", []string{"+C9,film capacitor,,0.1uF,a=P4 b=Q,"}, Doubts, "only one lead stands on node Q: the b lead of C9"},
		{"names alike", []string{"+C9,film capacitor,,0.1uF,a=P4 b=p4,", "+R9,resistor,,1M,a=p4 b=0,"}, Doubts, "nodes P4 and p4 are two nodes here"},
		{"a kind nobody knows", []string{"+X1,thermistor,,,a=P4 b=0,"}, Doubts, `X1 is of a kind, "thermistor", that the circuit does not know`},
		{"copper not stated", []string{"-T3", "+T3,winding,,50,a=BW3 b=0,"}, Doubts, "T3: its ohms are not stated (dcr=)"},
		{"wiper not stated", []string{"+VR1,pot,,10k,a=B3 wiper=Q b=0,", "+R9,resistor,,1M,a=Q b=0,"}, Doubts, "VR1: where its wiper stands is not stated"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			sheet := soundSheet(t)
			if tt.edits[0] == "only" {
				sheet = spoiled(t, nil, "+R1,resistor,,1k,a=X b=Y,")
			} else {
				sheet = spoiled(t, sheet, tt.edits...)
			}
			got := Check(sheet, knownTypes)
			if len(got) == 0 || got[0].Severity != tt.severity || !strings.Contains(got[0].Say, tt.say) {
				t.Errorf("got %v, want first %v: %q", got, tt.severity, tt.say)
			}
		})
	}
}

// A sound sheet, and every whole amp, has nothing remarked on. Screens
// without resistors and heater windings are nobody's fault.
func TestCheckSound(t *testing.T) {
	if got := Check(spoiled(t, soundSheet(t), "+LV,winding,,6.3,a=H1 b=H2,"), knownTypes); len(got) > 0 {
		t.Errorf("sound sheet: %v", got)
	}
	for _, a := range wholeAmps {
		if got := Check(a.sheet(t), nil); len(got) > 0 {
			t.Errorf("%s: %v", a.name, got)
		}
	}
}

// On the circuits of the two whole jobs nothing is remarked but that a law
// is from memory.
func TestCheckJobs(t *testing.T) {
	for _, name := range []string{"drover", "tern"} {
		a, err := txtar.ParseFile("../../testdata/jobs/" + name + "-sheet.txtar")
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range a.Files {
			if f.Name != "sheet.csv" {
				continue
			}
			sheet, problems := amp.ReadSheet(f.Name, f.Data)
			if len(problems) > 0 {
				t.Errorf("%s: %v", name, problems)
			}
			for _, r := range Check(sheet, fittedLaws) {
				if r.Severity != Tells {
					t.Errorf("%s: %v", name, r)
				}
			}
		}
	}
}

// The capacitor at 12 V reads 0.3 V backwards at most in a cold amp, which
// is forgiven; one at -40 V stands the wrong way round.
func TestCheckVolts(t *testing.T) {
	sheet := spoiled(t, nil,
		"+C1,electrolytic,,47uF,plus=NEG minus=0,", "+C2,electrolytic,,47uF,plus=0 minus=NEG,", "+C3,electrolytic,,25uF,plus=K minus=0,")
	volts := func(n string) (float64, bool) {
		v, ok := map[string]float64{"NEG": -40, "K": -0.3}[n]
		return v, ok
	}
	got := CheckVolts(sheet, volts)
	if len(got) != 1 || got[0].Say != "C1 stands the wrong way round: its plus lead is 40.0 V below its minus lead" {
		t.Errorf("got %v, want C1 alone", got)
	}
}
