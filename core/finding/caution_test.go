package finding

import (
	"reflect"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/shop"
)

// Years: Brookhaven National Laboratory, NSLS ESH Highlight 20 (2000),
// second-hand transcription.
func TestOilHazard(t *testing.T) {
	tests := []struct {
		year int
		want Level
		say  string
	}{
		{1968, Assume, "assume PCB"},
		{1970, Assume, "assume PCB"},
		{1971, Suspect, "suspect PCB"},
		{1975, Suspect, "suspect PCB"},
		{1979, Suspect, "suspect PCB"},
		{1980, NoHazard, ""},
		{1981, NoHazard, ""},
		{0, Assume, "no readable date: assume PCB"},
	}
	for _, tt := range tests {
		if h := OilHazard(tt.year); h.Level != tt.want || !strings.Contains(h.Say, tt.say) || h.Source == "" || h.Mark == "" {
			t.Errorf("OilHazard(%d) = %+v, want %s, %q", tt.year, h, tt.want, tt.say)
		}
	}
}

func TestHazards(t *testing.T) {
	tests := []struct{ words, want string }{
		{"oil-filled capacitor", "oil assume"},
		{"paper capacitor, oil look", ""},
		{"molded couplers, moulded body", ""},
		{"mold in the cabinet", "mold present"},
		{"Asbestos heat pads above the tubes", "asbestos present"},
		{"heat pads above the tubes", "asbestos suspect"},
		{"selenium bias rectifier", "selenium present"},
		{"cadmium-plated chassis", "cadmium present"},
		{"foil capacitor", ""},
		{"", ""},
	}
	for _, tt := range tests {
		var got []string
		for _, h := range Hazards(tt.words, 0) {
			got = append(got, h.Key+" "+string(h.Level))
		}
		if strings.Join(got, ", ") != tt.want {
			t.Errorf("Hazards(%q) = %v, want %q", tt.words, got, tt.want)
		}
	}
}

func TestPartHazards(t *testing.T) {
	tests := []struct {
		p    amp.Position
		want string
	}{
		{amp.Position{Ref: "V9", Kind: "rectifier", Type: "83"}, "V9 mercury present"},
		{amp.Position{Ref: "V9", Kind: "rectifier", Type: "5U4GB"}, ""},
		{amp.Position{Ref: "C1", Kind: "capacitor", Type: "oil-filled", Note: "stamped 1975"}, "C1 oil suspect"},
		{amp.Position{Ref: "C1", Kind: "capacitor", Type: "oil-filled", Note: "about 1981"}, "C1 oil assume"}, // about is no date
		{amp.Position{Ref: "C1", Kind: "capacitor", Type: "oil-filled", Note: "dated 1981"}, "C1 oil none"},
	}
	for _, tt := range tests {
		var got []string
		for _, h := range PartHazards(tt.p) {
			got = append(got, h.On+" "+h.Key+" "+string(h.Level))
		}
		if strings.Join(got, ", ") != tt.want {
			t.Errorf("PartHazards(%+v) = %v, want %q", tt.p, got, tt.want)
		}
	}
}

func cautionKeys(cs []Caution) string {
	var out []string
	for _, c := range cs {
		out = append(out, c.Key)
	}
	return strings.Join(out, " ")
}

func TestCautions(t *testing.T) {
	tests := []struct {
		name string
		w    Planned
		want string
	}{
		{"nothing known: every general caution", Planned{},
			"charge mains ground hot-chassis limiter load cold electrolytics live heat"},
		{"a speaker job, chassis shut, no power", Planned{Closed: true, Unpowered: true, NoMains: true, Grounded: true, Transformer: true, Speaker: true, Shipped: true},
			"speaker shipping"},
		{"capacitor from mains to chassis", Planned{Unpowered: true, Grounded: true, Transformer: true, LineToChassis: true},
			"charge mains line-to-chassis"},
		{"re-forming is live work though no tube is lit", Planned{Unpowered: true, NoMains: true, Grounded: true, Transformer: true, Reform: true},
			"charge electrolytics"},
		{"warm rectifier, no standby, filters in use", Planned{NoMains: true, Grounded: true, Transformer: true, WarmFirst: true, InUse: true},
			"charge limiter load live heat"},
		{"verdicts", Planned{Closed: true, Unpowered: true, NoMains: true, Grounded: true, Transformer: true, Limits: true, Inherited: true, Tested: true},
			"tests limits inherited"},
		{"hazards found, one ruled out", Planned{Closed: true, Unpowered: true, NoMains: true, Grounded: true, Transformer: true, Hazards: []Hazard{OilHazard(1968), OilHazard(1981)}},
			"hazard-oil"},
	}
	for _, tt := range tests {
		if got := cautionKeys(Cautions(tt.w)); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

// Every text names a source and a mark, is short, and promises nothing.
func TestCautionWords(t *testing.T) {
	all := Cautions(Planned{LineToChassis: true, Speaker: true, Shipped: true, Tested: true, Limits: true, Inherited: true, Reform: true,
		Hazards: append(Era(0), OilHazard(0))})
	if len(all) != len(cautionRows)+len(Era(0))+1 {
		t.Errorf("%d cautions, want every row and every hazard", len(all))
	}
	texts := []string{Standing}
	for _, c := range all {
		if c.Title == "" || c.Title == "Hazard" || c.Source == "" || c.Mark == "" || c.Say == "" || len(c.Say) > 320 {
			t.Errorf("caution %q: %+v", c.Key, c)
		}
		texts = append(texts, c.Title, c.Say)
	}
	for _, a := range Advices() {
		if a.Source == "" || a.Mark != "memory" || a.Leave == (a.Pile == shop.Must) && a.Leave {
			t.Errorf("advice %+v", a)
		}
		texts = append(texts, a.Say)
	}
	for _, text := range texts {
		for _, word := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r < 'a' || r > 'z' }) {
			if word == "safe" || word == "guaranteed" || word == "complies" || word == "valve" || word == "earth" {
				t.Errorf("%q says %q", text, word)
			}
		}
	}
	if !strings.Contains(Standing, "aid to a trained person") || !strings.Contains(Standing, "Local code") {
		t.Errorf("standing line: %q", Standing)
	}
}

func TestKnown(t *testing.T) {
	a := &amp.Amp{About: "about 2012", Standby: true, Positions: []amp.Position{
		{Ref: "HT", Kind: "winding", Role: amp.HighWinding}, {Ref: "C0", Kind: "capacitor", Role: amp.LineToChassis},
	}}
	w := Planned{}.Known(a, []Finding{{ID: "A1", Place: "power supply", Seen: "selenium rectifier"}}, true)
	if w.Grounded || !w.Transformer || !w.LineToChassis || w.WarmFirst || len(w.Hazards) != 1 || w.Hazards[0].On != "power supply" {
		t.Errorf("Known = %+v", w)
	}
	a.About = "about 1957"
	if got, want := cautionKeys(Cautions(Planned{Closed: true, Unpowered: true, NoMains: true, Grounded: true}.Known(a, nil, false))), "hazard-oil hazard-asbestos hazard-cadmium hazard-lead"; got != want {
		t.Errorf("by its age alone: %q, want %q", got, want)
	}
	a.Standby = false
	if !(Planned{}.Known(a, nil, true)).WarmFirst {
		t.Error("slow rectifiers without a standby switch warm first")
	}
}

func TestAdvise(t *testing.T) {
	a, ok := Advise("one heater side to chassis", false)
	if !ok || !a.Leave || a.Source != "common practice, no source" || !strings.Contains(a.Say, "leave alone") {
		t.Errorf("one heater side to chassis, no hum: %+v, want leave alone", a)
	}
	a, ok = Advise("one heater side to chassis", true)
	if !ok || a.Leave || a.Pile != shop.Could {
		t.Errorf("one heater side to chassis, hum: %+v, want a could", a)
	}
	if _, ok := Advise("what to play", false); ok {
		t.Error("advice on a topic that is none")
	}
}

func TestEarlierWork(t *testing.T) {
	b := ReadBuild([]amp.DateCode{{On: "controls", Code: "999-5723"}, {On: "speaker", Code: "998-7105"}}, "about 1957")
	got := EarlierWork([]Finding{
		{ID: "A1", Place: "mains entry", Seen: "cord cracked", Basis: Observed},
		{ID: "A10", Place: "output transformer", Seen: "leads twisted and taped", Earlier: "yes", Basis: Observed},
		{ID: "A11", Positions: Words{"C5"}, Earlier: "other solder", Basis: Inferred, Code: "997-6801"},
	}, b)
	want := []Earlier{
		{"output transformer", "leads twisted and taped", "observed", "A10"},
		{"C5", "other solder", "inferred, date code 997-6801", "A11"},
		{"speaker", "younger than the amp: likely a later replacement", "date code 998-7105", ""},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("EarlierWork = %+v, want %+v", got, want)
	}
}
