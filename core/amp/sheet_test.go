package amp

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"lugworth/core/unit"
)

// stage is a small invented output stage, every kind of row once.
const stage = "ref,kind,type,value,rating,tolerance,nodes,place,note,extra\r\n" +
	"MAINS,mains,,120,,,,,,rs=0.5 hz=60\r\n" +
	"HT,winding,,580,,,a=h1 ct=0 b=h2,,no load,dcr=120 role=high-winding\r\n" +
	"V5a,rectifier,5U4GB,,,,plate=h1 cathode=bplus,,,\r\n" +
	"V5b,rectifier,5U4GB,,,,plate=h2 cathode=bplus,,,\r\n" +
	"C1,electrolytic,,20/20/20,450,20,plus=bplus minus=0,can,\"hum, leaks\",role=reservoir\r\n" +
	"V3,beam,6V6GT,,,,plate=p3 screen=s grid=g3 cathode=k,,,role=output_tube matched=V4\r\n" +
	"V4,beam,6V6GT,,,,plate=p4 screen=s grid=g4 cathode=k,,,role=output_tube\r\n" +
	"R9,resistor,wirewound,250,5,10%,a=k b=0,,,role=cathode-resistor\r\n" +
	"R7,resistor,carbon comp,220K,1/2,±10%,a=g3 b=0,,,role=grid-leak\r\n" +
	"C7,capacitor,molded,.02,400,,a=p1 b=g3,,,role=coupler\r\n" +
	"C9,electrolytic,,25/25,,,plus=k minus=0,,,role=cathode-bypass\r\n" +
	"P1,pot,audio,1M,,,a=in wiper=w b=0,,,\r\n" +
	"F1,fuse,,2A T,,,a=l b=l1,,,role=line-fuse\r\n"

func TestReadSheet(t *testing.T) {
	ps, problems := ReadSheet("sheet.csv", []byte(stage))
	for _, p := range problems {
		t.Errorf("problem: %v", p)
	}
	tests := []struct {
		ref    string
		role   Role
		value  float64 // SI, to one part in a million
		volts  float64
		watts  float64
		plus   float64 // tolerance as a fraction
		marked bool
	}{
		{"HT", HighWinding, 580, 0, 0, 0, false},
		{"V5a", RectifierTube, 0, 0, 0, 0, false}, // from the kind: a rectifier does nothing else
		{"C1", Reservoir, 20e-6, 450, 0, 0.2, true},
		{"V3", OutputTube, 0, 0, 0, 0, false},
		{"R9", CathodeResistor, 250, 0, 5, 0.1, true},
		{"R7", GridLeak, 220e3, 0, 0.5, 0.1, true},
		{"C7", Coupler, 0.02e-6, 400, 0, 0, false},
		{"C9", Bypass, 25e-6, 25, 0, 0, false},
		{"P1", "", 1e6, 0, 0, 0, false},
		{"F1", LineFuse, 2, 0, 0, 0, false},
	}
	a := Amp{Positions: ps}
	for _, tt := range tests {
		p, ok := a.Find(tt.ref)
		if !ok {
			t.Fatalf("%s is not among the positions", tt.ref)
		}
		if p.Role != tt.role {
			t.Errorf("%s: role %q, want %q", tt.ref, p.Role, tt.role)
		}
		near(t, tt.ref+" value", p.Spec.Value(), tt.value)
		near(t, tt.ref+" volts", p.Spec.Volts, tt.volts)
		near(t, tt.ref+" watts", p.Spec.Watts, tt.watts)
		near(t, tt.ref+" tolerance", p.Spec.Tolerance.Plus, tt.plus)
		if p.Spec.Tolerance.Stated != tt.marked {
			t.Errorf("%s: tolerance stated %v, want %v", tt.ref, p.Spec.Tolerance.Stated, tt.marked)
		}
	}
	if c1, _ := a.Find("C1"); len(c1.Spec.Values) != 3 || c1.Note != "hum, leaks" || c1.Place != "can" {
		t.Errorf("C1 = %+v, want three sections, its note and its place", c1)
	}
	if v3, _ := a.Find("V3"); v3.Extra["matched"] != "V4" || len(v3.Extra) != 1 {
		t.Errorf("V3 extra = %v, want matched=V4 alone: the role has its own field", v3.Extra)
	}
	if ht, _ := a.Find("HT"); ht.Extra["dcr"] != "120" {
		t.Errorf("HT extra = %v, want dcr=120", ht.Extra)
	}
}

// near compares to one part in a million.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-6*math.Abs(want)+1e-18 {
		t.Errorf("%s = %v, want %v", what, got, want)
	}
}

func TestReadSheetProblems(t *testing.T) {
	const head = "ref,kind,type,value,rating,tolerance,nodes,place,note,extra\n"
	tests := []struct {
		name string
		text string // rows below the headings
		kept int
		want []string
	}{
		{"duplicate reference is set aside", "R1,resistor,,1k,,,a=1 b=0,,,\nR1,resistor,,2k,,,a=1 b=0,,,\n", 1,
			[]string{`s.csv: line 3, column "ref": "R1" comes twice`}},
		{"blank reference is set aside", ",resistor,,1k,,,a=1 b=0,,,\n", 0,
			[]string{`s.csv: line 2, column "ref": "" is missing`}},
		{"reference with a colon", "R1:a,resistor,,1k,,,a=1 b=0,,,\n", 1,
			[]string{`s.csv: line 2, column "ref": "R1:a" holds more than one reading; did you mean R1a?`}},
		{"unknown node role", "V1,triode,12AX7,,,,anode=p grid=g cathode=0,,,\n", 1,
			[]string{`s.csv: line 2, column "nodes": "anode=p" is not a word we know here; did you mean plate=p?`,
				`s.csv: line 2, column "nodes": "plate" is missing; did you mean plate=NODE?`}},
		{"missing electrode", "V3,beam,6V6GT,,,,plate=p grid=g cathode=k,,,\n", 1,
			[]string{`s.csv: line 2, column "nodes": "screen" is missing; did you mean screen=NODE?`}},
		{"no nodes at all", "R1,resistor,,1k,,,,,,\n", 1,
			[]string{`s.csv: line 2, column "nodes": "a" is missing; did you mean a=NODE?`,
				`s.csv: line 2, column "nodes": "b" is missing; did you mean b=NODE?`}},
		{"lead named twice", "R1,resistor,,1k,,,a=1 a=2 b=0,,,\n", 1,
			[]string{`s.csv: line 2, column "nodes": "a=2" comes twice`}},
		{"pair without a name", "R1,resistor,,1k,,,a= b=0,,,\n", 1,
			[]string{`s.csv: line 2, column "nodes": "a=" holds more than one reading; did you mean a=NODE?`,
				`s.csv: line 2, column "nodes": "a" is missing; did you mean a=NODE?`}},
		{"chassis under another name", "R1,resistor,,1k,,,a=1 b=GND,,,\n", 1,
			[]string{`s.csv: line 2, column "nodes": "b=GND" is not a word we know here; did you mean b=0?`}},
		{"value that reads two ways", "C1,capacitor,,250,,,a=1 b=0,,,\n", 1,
			[]string{`s.csv: line 2, column "value": "250" can be read in more than one way; did you mean 25 pF (three-figure code) or 250 pF (picofarads) or 250 µF (microfarads)?`}},
		{"rating of another quantity", "C1,capacitor,,.02,400 henry,,a=1 b=0,,,\n", 1,
			[]string{`s.csv: line 2, column "rating": "400 henry" has the wrong unit`}},
		{"tolerance that is none", "R1,resistor,,1k,,often,a=1 b=0,,,\n", 1,
			[]string{`s.csv: line 2, column "tolerance": "often" is not a number`}},
		{"rating without a value", "C1,capacitor,,,400,,a=1 b=0,,,\n", 1,
			[]string{`s.csv: line 2, column "value": "" is missing`}},
		{"mistyped kind", "R1,resister,,1k,,,a=1 b=0,,,\n", 1,
			[]string{`s.csv: line 2, column "kind": "resister" is not a word we know here; did you mean resistor?`}},
		{"mistyped role", "R1,resistor,,1k,,,a=1 b=0,,,role=cathode-resister\n", 1,
			[]string{`s.csv: line 2, column "extra": "cathode resister" is not a word we know here; did you mean cathode resistor?`}},
		{"extra that is no number", "T1,winding,,580,,,a=1 b=2,,,dcr=low\n", 1,
			[]string{`s.csv: line 2, column "extra": "dcr=low" is not a number`}},
		{"a wiper past its track", "P1,pot,,1M,,,a=1 wiper=2 b=0,,,turn=1.2\n", 1,
			[]string{`s.csv: line 2, column "extra": "turn=1.2" is out of range; did you mean part of the track between a and the wiper, 0 to 1?`}},
		{"a specimen that draws nothing", "V1,triode,12AX7,,,,plate=1 grid=2 cathode=0,,,p=0\n", 1,
			[]string{`s.csv: line 2, column "extra": "p=0" is out of range`}},
		{"a switch opened by nobody", "S1,switch,,,,,a=1 b=2,,,opens=later\n", 1,
			[]string{`s.csv: line 2, column "extra": "opens=later" is not a word we know here; did you mean opens=standby?`}},
		{"extra without a value", "T1,winding,,580,,,a=1 b=2,,,dcr\n", 1,
			[]string{`s.csv: line 2, column "extra": "dcr" holds more than one reading; did you mean dcr=NODE?`}},
		{"matched to nothing", "V3,triode,12AX7,,,,plate=p grid=g cathode=k,,,matched=V9\n", 1,
			[]string{`s.csv: line 2, column "extra": "matched=V9" is not a word we know here`}},
		// By hand: 290 + 290 = 580.
		{"winding written side by side", "T1,winding,,290-0-290,,,a=1 ct=0 b=2,,,\n", 1,
			[]string{`s.csv: line 2, column "value": "290-0-290" holds more than one reading; did you mean 580?`}},
		{"cell beyond the headings", "R1,resistor,,1k,,,a=1 b=0,,,,more\n", 1,
			[]string{`s.csv: line 2: "more" stands under no heading`}},
		{"line that cannot be split", "R1,resistor,,1k,,,a=1 b=0,,,\nR2,\"res\"istor,,1k\nR3,resistor,,1k,,,a=1 b=0,,,\n", 2,
			[]string{`s.csv: line 3: "R2,\"res\"istor,,1k" cannot be split into cells`}},
		{"quote never closed costs its line only", "R1,resistor,,1k,,,a=1 b=0,\"here,,\nR2,resistor,,1k,,,a=1 b=0,,,\n", 1,
			[]string{`s.csv: line 2: "R1,resistor,,1k,,,a=1 b=0,\"here,," cannot be split into cells`}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			ps, problems := ReadSheet("s.csv", []byte(head+tt.text))
			if len(ps) != tt.kept {
				t.Errorf("%d positions, want %d", len(ps), tt.kept)
			}
			wantProblems(t, problems, tt.want)
		})
	}
}

func wantProblems(t *testing.T, got []unit.Problem, want []string) {
	t.Helper()
	var texts []string
	for _, p := range got {
		texts = append(texts, p.Error())
	}
	if strings.Join(texts, "\n") != strings.Join(want, "\n") {
		t.Errorf("problems:\n%s\nwant:\n%s", strings.Join(texts, "\n"), strings.Join(want, "\n"))
	}
}

func TestReadSheetHeadings(t *testing.T) {
	tests := []struct {
		name, text string
		kept       int
		want       []string
	}{
		{"any order, other delimiter", "kind;nodes;Ref;value\nresistor;a=1 b=0;R1;4,7k\n", 1, nil},
		{"byte order mark and blank lines", "\ufeffref,kind,nodes\r\n\r\nR1,resistor,a=1 b=0\r\n", 1, nil},
		{"empty file", "", 0, []string{`s.csv: "" is missing; did you mean ref,kind,type,value,rating,tolerance,nodes,place,note,extra?`}},
		{"heading missing", "ref,kind\nR1,resistor\n", 1, []string{`s.csv: line 1, column "nodes": "nodes" is missing`,
			`s.csv: line 2, column "nodes": "a" is missing; did you mean a=NODE?`, `s.csv: line 2, column "nodes": "b" is missing; did you mean b=NODE?`}},
		{"heading mistyped: its cells are told of", "ref,kind,nodes,vlaue\nR1,resistor,a=1 b=0,1k\n", 1,
			[]string{`s.csv: line 1, column "vlaue": "vlaue" is not a word we know here; did you mean value?`, `s.csv: line 2: "1k" stands under no heading`}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			ps, problems := ReadSheet("s.csv", []byte(tt.text))
			if len(ps) != tt.kept {
				t.Errorf("%d positions, want %d", len(ps), tt.kept)
			}
			wantProblems(t, problems, tt.want)
		})
	}
}

// A line number is that of the line the cell starts on, quoted line breaks
// and blank lines counted.
func TestReadSheetLines(t *testing.T) {
	text := "ref,kind,nodes,note,value\n\nR1,resistor,a=1 b=0,\"two\nlines\",1k\n\nR2,resistor,a=1 b=0,x,45O\n"
	_, problems := ReadSheet("s.csv", []byte(text))
	if len(problems) != 1 || problems[0].Line != 6 || problems[0].Column != "value" || problems[0].Hint != "450" {
		t.Errorf("problems %v, want one in line 6, column value, hint 450", problems)
	}
	_, problems = ReadSheet("s.csv", []byte("ref,kind,nodes,note,value\nR1,resistor,a=1 b=0,\"two\nlines\",45O\n"))
	if len(problems) != 1 || problems[0].Line != 3 {
		t.Errorf("problems %v, want one in line 3, where the cell starts", problems)
	}
}

func TestUnknownKindIsKept(t *testing.T) {
	ps, problems := ReadSheet("s.csv", []byte("ref,kind,nodes,value,extra\nX1,vibrato bulb,k=1 left=2,6V,role=throb\n"))
	if len(ps) != 1 || len(problems) != 0 || len(ps[0].Nodes) != 2 || len(ps[0].Remarks) != 2 || ps[0].Role != "throb" {
		t.Fatalf("ReadSheet = %+v, %v; want one position with its nodes, its role and two remarks, no problem", ps, problems)
	}
}

func TestNewPosition(t *testing.T) {
	p, problems := NewPosition(map[string]string{"id": "R9", "kind": "resistor", "value": "250", "rating": "5W", "role": "cathode resistor", "record": "r7"})
	if len(problems) != 0 || p.Ref != "R9" || p.Role != CathodeResistor || p.Record != "r7" {
		t.Fatalf("NewPosition = %+v, %v", p, problems)
	}
	near(t, "watts", p.Spec.Watts, 5)
	// A record that names some electrodes must name all.
	_, problems = NewPosition(map[string]string{"id": "V3", "kind": "beam", "type": "6V6GT", "nodes": "plate=p screen=s cathode=k"})
	wantProblems(t, problems, []string{`column "nodes": "grid" is missing; did you mean grid=NODE?`})
	_, problems = NewPosition(map[string]string{"id": "R9", "kind": "resistor", "role": "grid leak", "extra": "role=coupler"})
	wantProblems(t, problems, []string{`column "role": "grid leak" comes twice; did you mean coupler?`})
}

// Written and read back, a sheet is the same.
func TestSheetRoundTrip(t *testing.T) {
	first, _ := ReadSheet("s.csv", []byte(stage))
	text := WriteSheet(first)
	again, problems := ReadSheet("s.csv", text)
	if len(problems) > 0 || !reflect.DeepEqual(first, again) {
		t.Fatalf("read back: %v\n%s", problems, text)
	}
	if string(WriteSheet(again)) != string(text) {
		t.Error("written a second time the sheet differs")
	}
}

func FuzzReadSheet(f *testing.F) {
	f.Add(stage)
	f.Add("ref;kind;nodes\nR1;resistor;a=1 b=0\n")
	f.Add("ref,kind,nodes\n\"R1,resistor")
	f.Add("ref,kind,nodes,extra\nR1,x y,q=1,role=a b=c")
	f.Fuzz(func(t *testing.T, text string) {
		ps, problems := ReadSheet("s.csv", []byte(text))
		for _, p := range problems {
			if p.Code == "" || p.Error() == "" {
				t.Fatalf("a problem without words: %+v", p)
			}
		}
		// What was kept without problems must survive being written.
		if len(problems) > 0 {
			return
		}
		out := WriteSheet(ps)
		again, problems := ReadSheet("s.csv", out)
		if len(problems) > 0 || !reflect.DeepEqual(ps, again) {
			t.Fatalf("read back %+v with %v, want %+v\n%q", again, problems, ps, out)
		}
	})
}
