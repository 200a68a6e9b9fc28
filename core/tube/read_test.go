package tube

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"lugworth/core/limit"
	"lugworth/core/unit"
)

const head = "type,aliases,kind,quantity,value,unit,system,source,mark\n"

func one(t *testing.T, text string) Card {
	t.Helper()
	cards, problems := ReadCards("cards.csv", []byte(text))
	if len(problems) != 0 || len(cards) != 1 {
		t.Fatalf("%d cards, problems %+v", len(cards), problems)
	}
	return cards[0]
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(b) }

func TestReadLimits(t *testing.T) {
	c := one(t, head+`EL84,6BQ5 N709,pentode,plate volts,300,V,,scenario,user
EL84,,,cathode current,65,mA,design center,scenario,user
EL84,,,grid circuit ohms,0.3,MΩ,DC,scenario,user
EL84,,,first capacitor,50,uF,,scenario,user
EL84,,,heater volts,6.3 ±10%,V,,scenario,user
EL84,,,plate watts,"11,5",W,,,memory
`)
	want := []struct {
		q         limit.Quantity
		low, high float64
		system    limit.System
		mark      limit.Mark
	}{
		{limit.PlateVolts, 0, 300, limit.Unstated, limit.User},
		{limit.CathodeCurrent, 0, 0.065, limit.DesignCenter, limit.User},
		{limit.GridOhms, 0, 3e5, limit.DesignCenter, limit.User},
		{limit.FirstCapacitor, 0, 50e-6, limit.Unstated, limit.User},
		{limit.HeaterVolts, 5.67, 6.93, limit.Unstated, limit.User}, // 6.3 × 0.9, 6.3 × 1.1
		{limit.PlateWatts, 0, 11.5, limit.Unstated, limit.Memory},
	}
	if len(c.Limits) != len(want) || c.Kind != Pentode || strings.Join(c.Aliases, " ") != "6BQ5 N709" {
		t.Fatalf("card %+v", c)
	}
	for i, w := range want {
		l := c.Limits[i]
		if l.Quantity != w.q || !near(l.High, w.high) || l.HasLow != (w.low != 0) || !near(l.Low, w.low) || l.System != w.system || l.Mark != w.mark || l.Subject != "EL84" {
			t.Errorf("limit %d = %+v, want %+v", i, l, w)
		}
	}
}

func TestLowAndHighRowsMakeOneLimit(t *testing.T) {
	c := one(t, head+"X,,,heater volts low,6.0,V,,s,user\nX,,,heater volts high,6.6,V,,s,user\nX,,,heater volts,6.3,V,,s,user\n")
	if len(c.Limits) != 1 || !near(c.Limits[0].Low, 6.0) || !near(c.Limits[0].High, 6.6) {
		t.Errorf("limits %+v, want one of both ends", c.Limits)
	}
	if v, ok := c.HeaterNominal(); !ok || !near(v, 6.3) {
		t.Errorf("heater wants %v, %v", v, ok)
	}
	c = one(t, head+"X,,,heater volts low,6.0,V,,s,user\nX,,,heater volts high,6.6,V,,other,user\n")
	if len(c.Limits) != 2 {
		t.Errorf("ends of two sources became one limit: %+v", c.Limits)
	}
	c = one(t, head+"X,,,heater volts,6.3,V,,s,user\n")
	if len(c.Limits) != 0 || len(c.Values) != 1 {
		t.Error("a heater voltage without a tolerance is no limit")
	}
}

func TestUnknownQuantitiesAreKept(t *testing.T) {
	c := one(t, head+"X,,triode,point 1 plate current,1.2,mA,,s,seen\nX,,,point 1 rp,more than 1000,kΩ,,s,seen\nX,,,law.mu,98.2,,,s,seen\nX,,,law.Pv,2.69e-4,A/V^1.5,,s,seen\nX,,,microphony,low,,,s,seen\n")
	if len(c.Values) != 5 || len(c.Rows) != 5 {
		t.Fatalf("values %+v", c.Values)
	}
	if mu, ok := c.Law("mu"); !ok || !near(mu, 98.2) {
		t.Errorf("law.mu = %v, %v", mu, ok)
	}
	if pv, ok := c.Law("Pv"); !ok || !near(pv, 2.69e-4) {
		t.Errorf("law.Pv = %v, %v", pv, ok)
	}
	points := c.Points()
	if len(points) != 1 {
		t.Fatalf("points %+v", points)
	}
	if ia, ok := points[0].Figure("plate current"); !ok || !near(ia, 0.0012) {
		t.Errorf("plate current %v, %v", ia, ok)
	}
	if _, ok := points[0].Figure("rp"); ok {
		t.Error("words are no figure")
	}
}

func TestHeatingAndGm(t *testing.T) {
	c := one(t, head+"X,,rectifier,heating,Indirect,,,s,seen\nX,,,gm low,6000,µmho,,s,seen\nX,,,gm high,10,mA/V,,s,seen\n")
	if c.Heating != Slow || !near(c.GmLow, 0.006) || !near(c.GmHigh, 0.010) {
		t.Errorf("heating %q, gm %v to %v", c.Heating, c.GmLow, c.GmHigh)
	}
}

func TestPointOfAPair(t *testing.T) {
	c := one(t, head+"X,,beam,point 5 plate current,116,mA,,s,memory\nX,,,point 5 tubes,2,,,s,seen\n")
	p := c.Points()[0]
	if each, ok := p.Each("plate current"); !ok || !near(each, 0.058) || p.N != 5 {
		t.Errorf("each tube draws %v, %v", each, ok)
	}
	if p.Mark() != limit.Memory || p.Mark("tubes") != limit.Seen || p.Mark("gm") != limit.Memory {
		t.Error("a point is as good as its worst figure, and no figure is as good as memory")
	}
}

// The spellings other programs write: mark at the head, semicolons, carriage
// returns, a quoted line break, a blank line, columns in another order.
func TestAwkwardFile(t *testing.T) {
	text := "\ufeffQuantity;Type;Value;Unit;Source;Mark\r\nplate watts;6V6GT;12;W;\"my sheet,\r\npage 2\";user\r\n\r\nscreen watts;6V6GT;2,2;W;mine;user\r\nplate volts;6V6GT;3l5;V;mine;user\r\n"
	cards, problems := ReadCards("mine.csv", []byte(text))
	if len(cards) != 1 || len(cards[0].Limits) != 2 || !near(cards[0].Limits[1].High, 2.2) {
		t.Fatalf("cards %+v", cards)
	}
	// Line 1 heading, 2-3 the quoted break, 4 blank, 5, 6.
	if len(problems) != 1 || problems[0].Line != 6 || problems[0].Column != "value" || problems[0].Code != unit.NotANumber || problems[0].File != "mine.csv" {
		t.Errorf("problems %+v", problems)
	}
	if cards[0].Rows[1].Line != 5 {
		t.Errorf("second row on line %d, want 5", cards[0].Rows[1].Line)
	}
}

func TestProblems(t *testing.T) {
	tests := []struct {
		name, rows, column string
		code               unit.Code
	}{
		{"no type", ",,,plate watts,12,W,,s,user\n", "type", unit.Missing},
		{"no quantity", "X,,,,12,W,,s,user\n", "quantity", unit.Missing},
		{"no value", "X,,,plate watts,,W,,s,user\n", "value", unit.Missing},
		{"letter in a number", "X,,,plate watts,1O,W,,s,user\n", "value", unit.NotANumber},
		{"infinite", "X,,,plate watts,Inf,W,,s,user\n", "value", unit.NotANumber},
		{"too great", "X,,,plate watts,1e309,W,,s,user\n", "value", unit.NotANumber},
		{"hexadecimal", "X,,,plate watts,0x10,W,,s,user\n", "value", unit.NotANumber},
		{"negative", "X,,,plate watts,-12,W,,s,user\n", "value", unit.Negative},
		{"zero", "X,,,plate watts,0,W,,s,user\n", "value", unit.Negative},
		{"wrong unit", "X,,,plate watts,12,V,,s,user\n", "unit", unit.WrongUnit},
		{"unknown unit", "X,,,plate watts,12,horse,,s,user\n", "unit", unit.UnknownUnit},
		{"capital M is not milli", "X,,,plate watts,12,MW,,s,user\n", "unit", unit.UnknownUnit},
		{"unknown system", "X,,,plate watts,12,W,maximum,s,user\n", "system", unit.UnknownWord},
		{"unknown mark", "X,,,plate watts,12,W,,s,sure\n", "mark", unit.UnknownWord},
		{"seen without a source", "X,,,plate watts,12,W,,,seen\n", "source", unit.Missing},
		{"unknown kind", "X,,heptode,plate watts,12,W,,s,user\n", "kind", unit.UnknownWord},
		{"two kinds", "X,,beam,plate watts,12,W,,s,user\nX,,triode,screen watts,2,W,,s,user\n", "kind", unit.Duplicate},
		{"alias of two", "X,Z,,plate watts,12,W,,s,user\nY,Z,,plate watts,12,W,,s,user\n", "aliases", unit.Duplicate},
		{"type is an alias", "X,Z,,plate watts,12,W,,s,user\nZ,,,plate watts,12,W,,s,user\n", "type", unit.Duplicate},
		{"heating by steam", "X,,,heating,steam,,,s,user\n", "value", unit.UnknownWord},
		{"law constant in words", "X,,,law.mu,high,,,s,user\n", "value", unit.NotANumber},
		{"too many cells", "X,,,plate watts,12,W,,s,user,more\n", "", unit.ExtraText},
		{"quote left open", "X,,,plate watts,12,W,,\"s,user\n", "", unit.BadRow},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			cards, problems := ReadCards("c.csv", []byte(head+tt.rows))
			kept := 0
			for _, c := range cards {
				kept += len(c.Rows)
			}
			if len(problems) != 1 || problems[0].Column != tt.column || problems[0].Code != tt.code {
				t.Fatalf("problems %+v, want %s in %q", problems, tt.code, tt.column)
			}
			if rows := strings.Count(tt.rows, "\n"); kept+1 != rows {
				t.Errorf("%d rows kept and one set aside of %d", kept, rows)
			}
			if want := 1 + strings.Count(tt.rows, "\n"); problems[0].Line != want {
				t.Errorf("line %d, want %d", problems[0].Line, want)
			}
		})
	}
}

func TestHeadingProblems(t *testing.T) {
	for text, want := range map[string]unit.Code{
		"":                                   unit.Empty,
		"\n\n":                               unit.Empty,
		"type,quantity\nX,plate watts\n":     unit.Missing,
		"type,quantity,value,color\n":        unit.UnknownWord,
		"type,quantity,value,value\nX,y,1,2": unit.Duplicate,
	} {
		if _, problems := ReadCards("c.csv", []byte(text)); len(problems) != 1 || problems[0].Code != want {
			t.Errorf("%q: %+v, want %s", text, problems, want)
		}
	}
}

// A spelling of micro or ohm is the same unit whichever character wrote it.
func TestUnitSpellings(t *testing.T) {
	tests := []struct {
		cell string
		unit unit.Unit
		of   float64
	}{
		{"\u03bcF", unit.Farad, 1e-6}, {"\u00b5F", unit.Farad, 1e-6}, {"uF", unit.Farad, 1e-6}, {"MFD", unit.Farad, 1e-6},
		{"k\u03a9", unit.Ohm, 1e3}, {"k\u2126", unit.Ohm, 1e3}, {"M\u03a9", unit.Ohm, 1e6}, {"M\u2126", unit.Ohm, 1e6},
		{"mA", unit.Ampere, 1e-3}, {"mA/V", unit.Siemens, 1e-3}, {"\u00b5mho", unit.Siemens, 1e-6},
	}
	for _, tt := range tests {
		if s, ok := scaleOf(tt.cell); !ok || s.unit != tt.unit || !near(s.of, tt.of) {
			t.Errorf("unit %q = %+v, %v", tt.cell, s, ok)
		}
	}
	if _, ok := scaleOf("MA"); ok {
		t.Error("MA is neither milli nor mega for sure")
	}
}

func FuzzReadCards(f *testing.F) {
	f.Add([]byte(head + "EL84,6BQ5,pentode,heater volts,6.3 ±10%,V,,scenario,user\n"))
	f.Add([]byte("\ufefftype;quantity;value\r\nX;plate volts;1,5\r\n"))
	f.Add([]byte(head + "X,\"a\nb\",,q,1\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		cards, _ := ReadCards("f.csv", data)
		for _, c := range cards {
			for _, l := range c.Limits {
				if math.IsNaN(l.Low) || math.IsNaN(l.High) || math.IsInf(l.High, 0) || (!l.HasLow && !l.HasHigh) {
					t.Errorf("limit %+v", l)
				}
			}
		}
		text := Write(cards)
		again, problems := ReadCards("f.csv", text)
		if len(problems) != 0 || !bytes.Equal(Write(again), text) {
			t.Errorf("does not read back: %v\n%s", problems, text)
		}
	})
}
