package amp

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"lugworth/core/unit"
)

const chart = "at,quantity,value,unit,mains,state,when,meter_percent,meter_ohms,tap\r\n" +
	"V3:plate,volts,318,V,117.0,couplers-lifted,,0,10M,\r\n" +
	"V3:plate,volts,337,V,124.0,check couplers-lifted,,0,10M,\r\n" +
	"HT,rms volts,290,,117.0,no load,,1,,\r\n" +
	"V3:screen,current,2.5,mA,117.0,,,,,\r\n" +
	"R9,ohms,262,,,off,,,,\r\n" +
	"V5:heater,ac volts,\"6,25\",V,117.0,tubes in,2nd day,,,220\r\n" +
	"V3:grid,shift,+3.0,V,117.0,,,,,\r\n"

func TestReadReadings(t *testing.T) {
	rs, problems := ReadReadings("chart.csv", []byte(chart))
	for _, p := range problems {
		t.Errorf("problem: %v", p)
	}
	want := []Reading{
		{ID: "chart.csv:2", At: "V3:plate", Quantity: Volts, Amount: 318, Unit: unit.Volt, Mains: 117, State: []string{Lifted}, Stated: true, Ohms: 10e6, Step: 1, MainsStep: 0.1},
		{ID: "chart.csv:3", At: "V3:plate", Quantity: Volts, Amount: 337, Unit: unit.Volt, Mains: 124, State: []string{Check, Lifted}, Stated: true, Ohms: 10e6, Step: 1, MainsStep: 0.1},
		{ID: "chart.csv:4", At: "HT", Quantity: RMSVolts, Amount: 290, Unit: unit.Volt, Mains: 117, State: []string{NoLoad}, Meter: 0.01, Stated: true, Step: 1, MainsStep: 0.1},
		{ID: "chart.csv:5", At: "V3:screen", Quantity: Current, Amount: 0.0025, Unit: unit.Ampere, Mains: 117, Step: 0.0001, MainsStep: 0.1},
		{ID: "chart.csv:6", At: "R9", Quantity: Ohms, Amount: 262, Unit: unit.Ohm, State: []string{Off}, Step: 1},
		{ID: "chart.csv:7", At: "V5:heater", Quantity: RMSVolts, Amount: 6.25, Unit: unit.Volt, Mains: 117, State: []string{TubesIn}, When: "2nd day", Tap: "220", Step: 0.01, MainsStep: 0.1},
		{ID: "chart.csv:8", At: "V3:grid", Quantity: Shift, Amount: 3, Unit: unit.Volt, Mains: 117, Step: 0.1, MainsStep: 0.1},
	}
	if len(rs) != len(want) {
		t.Fatalf("%d readings, want %d", len(rs), len(want))
	}
	for i := range rs {
		near(t, rs[i].ID+" amount", rs[i].Amount, want[i].Amount)
		near(t, rs[i].ID+" mains", float64(rs[i].Mains), float64(want[i].Mains))
		near(t, rs[i].ID+" meter", rs[i].Meter, want[i].Meter)
		near(t, rs[i].ID+" ohms", rs[i].Ohms, want[i].Ohms)
		near(t, rs[i].ID+" step", rs[i].Step, want[i].Step)
		near(t, rs[i].ID+" mains step", float64(rs[i].MainsStep), float64(want[i].MainsStep))
		got := rs[i]
		got.Amount, got.Mains, got.Meter, got.Ohms, got.Step, got.MainsStep = want[i].Amount, want[i].Mains, want[i].Meter, want[i].Ohms, want[i].Step, want[i].MainsStep
		if !reflect.DeepEqual(got, want[i]) {
			t.Errorf("reading %d = %+v, want %+v", i, got, want[i])
		}
	}
}

func TestReadReadingsProblems(t *testing.T) {
	const head = "at,quantity,value,unit,mains,state,when,meter_percent,meter_ohms\nV3:plate,volts,318,V,117.0,,,,\n"
	tests := []struct {
		name, row string
		want      string // "" = kept
	}{
		{"missing mains is refused", "V4:plate,volts,318,V,,,,,", `c.csv: line 3, column "mains": "" is missing; did you mean same as last: 117.0 V?`},
		{"no mains with the power off", "V4:plate,volts,0.4,V,,off,,,", ""},
		{"no mains for a resistance", "R1,ohms,100k,,,,,,", ""},
		{"mains of nothing", "V4:plate,volts,318,V,0,,,,", `c.csv: line 3, column "mains": "0" is out of range; did you mean same as last: 117.0 V?`},
		{"mains below nothing", "V4:plate,volts,318,V,-117,,,,", `c.csv: line 3, column "mains": "-117" is negative; did you mean same as last: 117.0 V?`},
		{"mains with a slip", "V4:plate,volts,318,V,1l7,,,,", `c.csv: line 3, column "mains": "1l7" is not a number; did you mean 117?`},
		{"no value", "V4:plate,volts,,V,117,,,,", `c.csv: line 3, column "value": "" is missing`},
		{"letter for a figure", "V4:plate,volts,31B,,117,,,,", `c.csv: line 3, column "value": "31B" is not a number; did you mean 318?`},
		{"not finite", "V4:plate,volts,1e309,,117,,,,", `c.csv: line 3, column "value": "1e309" is not a finite number`},
		{"current without a unit", "V4:screen,current,2.5,,117,,,,", `c.csv: line 3, column "unit": "" is missing; did you mean 2.5 mA?`},
		{"unit of another quantity", "V4:plate,volts,318,mA,117,,,,", `c.csv: line 3, column "value": "318 mA" has the wrong unit`},
		{"unit twice, alike", "V4:screen,current,2.5 mA,mA,117,,,,", ""},
		{"unit twice, in words", "V4:plate,volts,318 V,volts,117,,,,", ""},
		{"unit twice, not alike", "V4:screen,current,2.5 mA,A,117,,,,", `c.csv: line 3, column "unit": "A" has the wrong unit`},
		{"prefix in the value, unit beside it", "R1,ohms,4k7,ohms,,,,,", ""},
		{"quantity mistyped", "V4:plate,vlots,318,V,117,,,,", `c.csv: line 3, column "quantity": "vlots" is not a word we know here; did you mean volts?`},
		{"quantity missing", "V4:plate,,318,V,117,,,,", `c.csv: line 3, column "quantity": "" is missing; did you mean one of volts, rms volts, current, ohms, shift?`},
		{"bias is below zero", "V4:grid,volts,-35,V,117,,,,", ""},
		{"rms volts are not", "HT,rms volts,-290,V,117,,,,", `c.csv: line 3, column "value": "-290 V" is negative; did you mean 290 V?`},
		{"state mistyped", "HT,rms volts,290,V,117,no-laod,,,", `c.csv: line 3, column "state": "no-laod" is not a word we know here; did you mean no-load?`},
		{"ohms under power", "R1,ohms,100k,,,powered,,,", `c.csv: line 3, column "state": "powered" is not a word we know here; did you mean off?`},
		{"place missing", ",volts,318,V,117,,,,", `c.csv: line 3, column "at": "" is missing`},
		{"place of two words", "V4 plate,volts,318,V,117,,,,", `c.csv: line 3, column "at": "V4 plate" holds more than one reading; did you mean REF:electrode?`},
		{"meter error below zero", "V4:plate,volts,318,V,117,,,-1,", `c.csv: line 3, column "meter_percent": "-1" is negative`},
		{"meter error with its signs", "V4:plate,volts,318,V,117,,,±2 %,", ""},
		{"meter error of everything", "V4:plate,volts,318,V,117,,,100,", `c.csv: line 3, column "meter_percent": "100" is out of range`},
		{"meter of no resistance", "V4:plate,volts,318,V,117,,,,0", `c.csv: line 3, column "meter_ohms": "0" is out of range`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rs, problems := ReadReadings("c.csv", []byte(head+tt.row+"\n"))
			kept, want := 1, []string{tt.want}
			if tt.want == "" {
				kept, want = 2, nil
			}
			if len(rs) != kept {
				t.Errorf("%d readings, want %d", len(rs), kept)
			}
			wantProblems(t, problems, want)
		})
	}
}

func TestNewReadingOfARecord(t *testing.T) {
	body := map[string]json.RawMessage{
		"id": json.RawMessage(`"r7"`), "at": json.RawMessage(`"V3:plate"`), "quantity": json.RawMessage(`"volts"`),
		"value": json.RawMessage(`"318"`), "mains": json.RawMessage(`"117.0"`), "state": json.RawMessage(`["no-load","check"]`),
	}
	r, problems := NewReading(Fields(body), nil)
	if len(problems) != 0 || r.ID != "r7" || r.Mains != 117 || !r.Has(NoLoad) || !r.Has(Check) || r.Stated {
		t.Fatalf("NewReading = %+v, %v", r, problems)
	}
	delete(body, "mains")
	_, problems = NewReading(Fields(body), []Reading{r, {Quantity: Ohms}})
	wantProblems(t, problems, []string{`column "mains": "" is missing; did you mean same as last: 117.0 V?`})
}

func TestFields(t *testing.T) {
	got := Fields(map[string]json.RawMessage{
		"s": json.RawMessage(` "a b" `), "l": json.RawMessage(`["a","b"]`), "o": json.RawMessage(`{"plate":"p","grid":"g"}`),
		"t": json.RawMessage(`true`), "f": json.RawMessage(`false`), "n": json.RawMessage(`null`), "i": json.RawMessage(`12`), "e": nil,
	})
	want := map[string]string{"s": "a b", "l": "a b", "o": "grid=g plate=p", "t": "yes", "i": "12"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("Fields = %v, want %v", got, want)
	}
}

func TestReadingsRoundTrip(t *testing.T) {
	first, _ := ReadReadings("chart.csv", []byte(chart))
	again, problems := ReadReadings("chart.csv", WriteReadings(first))
	if len(problems) > 0 || len(again) != len(first) {
		t.Fatalf("read back: %d readings, %v", len(again), problems)
	}
	for i := range again {
		near(t, "amount", again[i].Amount, first[i].Amount)
		near(t, "step", again[i].Step, first[i].Step)
		if !reflect.DeepEqual(again[i].State, first[i].State) || again[i].At != first[i].At || again[i].Mains != first[i].Mains || again[i].Stated != first[i].Stated {
			t.Errorf("read back %+v, want %+v", again[i], first[i])
		}
	}
}

// As the fields of a record, read back, a reading and a position are the same.
func TestFieldsRoundTrip(t *testing.T) {
	rs, _ := ReadReadings("chart.csv", []byte(chart))
	for _, r := range rs {
		fields := ReadingFields(r)
		fields["id"] = r.ID
		got, problems := NewReading(fields, nil)
		if len(problems) > 0 || math.Abs(got.Amount-r.Amount) > 1e-12 || math.Abs(got.Step-r.Step) > 1e-12 {
			t.Errorf("reading of %v = %+v, %v, want %+v", fields, got, problems, r)
		}
		got.Amount, got.Step, got.MainsStep = r.Amount, r.Step, r.MainsStep
		if !reflect.DeepEqual(got, r) {
			t.Errorf("reading of %v = %+v, want %+v", fields, got, r)
		}
	}
	if got := ReadingFields(rs[3]); got["value"] != "2.5" || got["unit"] != "mA" {
		t.Errorf("a screen current is written %v, want 2.5 mA", got)
	}
	ps, _ := ReadSheet("s.csv", []byte(stage))
	for _, p := range ps {
		got, problems := NewPosition(PositionFields(p))
		if len(problems) > 0 || !reflect.DeepEqual(got, p) {
			t.Errorf("position of %v = %+v, %v, want %+v", PositionFields(p), got, problems, p)
		}
	}
}

func TestPlausible(t *testing.T) {
	before := []Reading{
		{At: "V3:plate", Quantity: Volts, Amount: 318, Unit: unit.Volt, Mains: 117},
		{At: "V3:grid", Quantity: Volts, Amount: -35, Unit: unit.Volt, Mains: 117},
		{At: "HT", Quantity: RMSVolts, Amount: 290, Unit: unit.Volt, Mains: 117, State: []string{NoLoad}},
	}
	tests := []struct {
		name string
		r    Reading
		want string // part of the question, "" for none
	}{
		{"decimal point, same place", Reading{At: "V3:plate", Quantity: Volts, Amount: 31.8, Unit: unit.Volt, Mains: 117}, "is it 318.0 V?"},
		// By hand: 33.7 against 318 · 124/117 = 337.0 is one tenth.
		{"decimal point at other mains", Reading{At: "V3:plate", Quantity: Volts, Amount: 33.7, Unit: unit.Volt, Mains: 124}, "is it 337.0 V?"},
		{"decimal point, the other plate", Reading{At: "V4:plate", Quantity: Volts, Amount: 31.8, Unit: unit.Volt, Mains: 117}, "is it 318.0 V?"},
		{"follows the mains", Reading{At: "V3:plate", Quantity: Volts, Amount: 337, Unit: unit.Volt, Mains: 124}, ""},
		{"a preamp plate is lower", Reading{At: "V1:plate", Quantity: Volts, Amount: 150, Unit: unit.Volt, Mains: 117}, ""},
		{"sign", Reading{At: "V3:grid", Quantity: Volts, Amount: 34, Unit: unit.Volt, Mains: 117}, "sign"},
		{"far off", Reading{At: "V3:plate", Quantity: Volts, Amount: 381, Unit: unit.Volt, Mains: 100}, "would be expected"},
		{"other loading is another matter", Reading{At: "HT", Quantity: RMSVolts, Amount: 29, Unit: unit.Volt, Mains: 117}, ""},
		{"nothing to hold it against", Reading{At: "R9", Quantity: Ohms, Amount: 26.2, Unit: unit.Ohm}, ""},
		{"mains", Reading{At: "V9:cathode", Quantity: Volts, Amount: 2, Unit: unit.Volt, Mains: 11.7}, "mains 11.7 V"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := Plausible(before, tt.r)
			if tt.want == "" && got != "" || !strings.Contains(got, tt.want) {
				t.Errorf("Plausible = %q, want %q in it", got, tt.want)
			}
		})
	}
	// By hand: 31.8 is 0.098 of 325, a tenth to within 15 %; 140 is 0.43 of it.
	supply := []Reading{{At: "K", Quantity: Volts, Amount: 19, Unit: unit.Volt, Mains: 117}, {At: "B1", Quantity: Volts, Amount: 325, Unit: unit.Volt, Mains: 117}}
	if got := Plausible(supply, Reading{At: "V3:plate", Quantity: Volts, Amount: 31.8, Unit: unit.Volt, Mains: 117}); !strings.Contains(got, "is it 318.0 V?") {
		t.Errorf("the first plate, against the supply: %q", got)
	}
	for _, r := range []Reading{{At: "V1:plate", Quantity: Volts, Amount: 140, Unit: unit.Volt, Mains: 117}, {At: "V3:cathode", Quantity: Volts, Amount: 31.8, Unit: unit.Volt, Mains: 117}} {
		if got := Plausible(supply, r); got != "" {
			t.Errorf("%s: %q", r.At, got)
		}
	}
	if got := Plausible(nil, Reading{Amount: 318, Mains: 117}); got != "" {
		t.Errorf("with nothing before: %q", got)
	}
}

func TestCompare(t *testing.T) {
	exact, none, one := Meter{0, true}, Meter{}, Meter{0.01, true}
	volt := func(v, mains, step float64) Reading {
		return Reading{ID: "r", At: "V3:plate", Quantity: Volts, Amount: v, Unit: unit.Volt, Mains: unit.Voltage(mains), Step: step, MainsStep: unit.Voltage(step / 10)}
	}
	amps := func(v, mains float64) Reading {
		return Reading{At: "V3:cathode", Quantity: Current, Amount: v, Unit: unit.Ampere, Mains: unit.Voltage(mains)}
	}
	tests := []struct {
		name      string
		a, b      Reading
		m         Meter
		expected  float64 // to 0.05 V, 0.05 mA
		low, high float64
		want      Agreement
	}{
		// By hand: 318 · 124/117 = 337.03. Last figures: 0.5·124/117 + 0.5 = 1.03;
		// mains 0.05/117 + 0.05/124 = 0.083 % of 337 = 0.28. So 335.7 to 338.3.
		{"two mains, last figures only", volt(318, 117, 1), volt(337, 124, 1), exact, 337.0, 335.7, 338.3, Consistent},
		{"the same with no meter error known", volt(318, 117, 1), volt(337, 124, 1), none, 337.0, 335.7, 338.3, Consistent},
		// By hand: 350/337.03 = 3.8 % above. ±1 % twice gives 6.74 more: to 345.1.
		{"too high, errors known", volt(318, 117, 1), volt(350, 124, 1), one, 337.0, 329.0, 345.1, Differs},
		{"too high, errors unknown", volt(318, 117, 1), volt(350, 124, 1), none, 337.0, 335.7, 338.3, CannotCompare},
		{"inside two meter errors", volt(318, 117, 1), volt(344, 124, 1), one, 337.0, 329.0, 345.1, Consistent},
		// By hand: r = 1.05983; 36.3 mA · r = 38.47, · r^1.5 = 39.61; middle 39.04.
		{"current between r and r^1.5", amps(0.0363, 117), amps(0.039, 124), exact, 0.03904, 0.03847, 0.03961, Consistent},
		{"current beyond", amps(0.0363, 117), amps(0.041, 124), exact, 0.03904, 0.03847, 0.03961, Differs},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := Compare(tt.a, tt.b, tt.m)
			tol := 0.05
			if tt.a.Quantity == Current {
				tol = 0.00005
			}
			for _, x := range []struct {
				what      string
				got, want float64
			}{{"expected", c.Expected.Expected, tt.expected}, {"low", c.Expected.Low, tt.low}, {"high", c.Expected.High, tt.high}} {
				if math.Abs(x.got-x.want) > tol {
					t.Errorf("%s %v, want %v", x.what, x.got, x.want)
				}
			}
			if c.Agreement != tt.want {
				t.Errorf("agreement %q (%s), want %q", c.Agreement, c.Reason, tt.want)
			}
			if c.Node == nil || len(c.Node.From) != 3 {
				t.Error("the comparison does not say what it came from")
			}
		})
	}
}

func TestCompareReasons(t *testing.T) {
	v := Reading{At: "A", Quantity: Volts, Amount: 318, Unit: unit.Volt, Mains: 117, Step: 1, MainsStep: 0.1}
	with := func(change func(*Reading)) Reading { r := v; change(&r); return r }
	tests := []struct {
		name string
		b    Reading
		want string
	}{
		{"says the figure", with(func(r *Reading) { r.Amount, r.Mains = 337, 124 }), "337.0 V expected by ratio"},
		{"another state", with(func(r *Reading) { r.State = []string{NoLoad} }), "taken in different states"},
		{"another place", with(func(r *Reading) { r.At = "B" }), "not the same place and quantity"},
		{"no mains", with(func(r *Reading) { r.Mains = 0 }), "a reading has no mains beside it"},
		{"taps without volts", with(func(r *Reading) { r.Tap = "low" }), "taken on different taps, and one is not named as a voltage"},
		{"another meter, of unknown first", with(func(r *Reading) { r.Ohms = 20e3 }), "318.0 V expected by ratio"},
		{"couplers lifted once", with(func(r *Reading) { r.State = []string{Lifted} }), "318.0 V expected by ratio; couplers lifted at one of the two"},
	}
	for _, tt := range tests {
		if got := Compare(v, tt.b, Meter{0, true}).Reason; got != tt.want {
			t.Errorf("%s: reason %q, want %q", tt.name, got, tt.want)
		}
	}
	// By hand: (240/240) / (220/220) = 1: 220 V on the 220 tap is 240 V on the 240 tap.
	a, b := with(func(r *Reading) { r.Mains, r.Tap = 220, "220" }), with(func(r *Reading) { r.Mains, r.Tap = 240, "240" })
	if c := Compare(a, b, Meter{0, true}); c.Agreement != Consistent || math.Abs(c.Expected.Expected-318) > 0.01 {
		t.Errorf("over taps: %+v, want 318 V, consistent", c)
	}
}

func TestCompareCharts(t *testing.T) {
	rs, _ := ReadReadings("chart.csv", []byte(chart))
	got := CompareCharts(rs[:1], rs[1:2], Meter{})
	if len(got) != 1 || got[0].Agreement != Consistent {
		t.Errorf("CompareCharts = %+v, want one, consistent", got)
	}
	if got := CompareCharts(rs, nil, Meter{}); len(got) != 0 {
		t.Errorf("against nothing: %+v", got)
	}
}

func TestUnplaced(t *testing.T) {
	ps, _ := ReadSheet("s.csv", []byte(stage))
	rs := []Reading{{ID: "1", At: "V3:plate"}, {ID: "2", At: "bplus"}, {ID: "3", At: "V5"}, {ID: "4", At: "V3:plat"}, {ID: "5", At: "0"}}
	wantProblems(t, Unplaced(ps, rs), []string{`4: column "at": "V3:plat" is not a word we know here; did you mean V3:plate?`})
}

func FuzzReadReadings(f *testing.F) {
	f.Add(chart)
	f.Add("at;quantity;value;mains\nA;volts;\"3,5\";117")
	f.Add("at,quantity,value,mains,state\nA,shift,-0,117,no load\nB,ohms,1e5,,off")
	f.Fuzz(func(t *testing.T, text string) {
		rs, _ := ReadReadings("c.csv", []byte(text))
		for i, r := range rs {
			if math.IsNaN(r.Amount) || math.IsInf(r.Amount, 0) || r.Mains < 0 || math.IsNaN(r.Step) {
				t.Fatalf("accepted %+v", r)
			}
			if r.Mains == 0 && r.Quantity != Ohms && !r.Has(Off) {
				t.Fatalf("accepted without mains: %+v", r)
			}
			Plausible(rs[:i], r)
		}
		again, problems := ReadReadings("c.csv", WriteReadings(rs))
		if len(problems) > 0 || len(again) != len(rs) {
			t.Fatalf("read back %d of %d: %v", len(again), len(rs), problems)
		}
	})
}

// "final" under when keeps a reading out of the as-found chart, as it does
// under state.
func TestFinalUnderWhen(t *testing.T) {
	rs, problems := ReadReadings("r.csv", []byte("at,quantity,value,unit,mains,state,when\nR20,ohms,300,,0,off,Final\nV3:plate,volts,318,V,117,,2026-11-20\n"))
	if len(problems) > 0 || len(rs) != 2 || !rs[0].Has(Final) || !rs[0].Has(Off) || len(rs[1].State) != 0 {
		t.Errorf("%+v %v", rs, problems)
	}
}
