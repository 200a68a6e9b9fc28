package draw

import (
	"encoding/xml"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"lugworth/core/rating"
	"lugworth/core/unit"
)

var update = flag.Bool("update", false, "write docs/flow.svg anew")

func cents(v int64) string {
	s := strconv.FormatInt(v, 10)
	if v < 100 && v >= 0 {
		s = ("000" + s)[len(s):]
	}
	return s[:len(s)-2] + "." + s[len(s)-2:]
}

// The figures are those of an invented 1957 amp, reckoned by hand: 290 V · √2 ·
// 127/117 = 445.2 V, wanted 1.05 times that.
var reservoir = Strip{
	Subject: "reservoir", Low: 400.6, Expected: 434.7, Worst: 445.2, Wanted: 467.4, Limit: 500, Unit: unit.Volt, Kind: Within,
}

func with(s Strip, change func(*Strip)) Strip {
	change(&s)
	return s
}

// pictures are all pictures, on usual and on awkward input.
func pictures() map[string]string {
	all := map[string]string{
		"no figures":    MarginStrip(Strip{}),
		"no limit":      MarginStrip(Strip{Worst: 300, Expected: 290, Unit: unit.Volt}),
		"not a number":  MarginStrip(Strip{Low: math.NaN(), Expected: math.Inf(1), Worst: math.NaN(), Limit: 500, Kind: Within}),
		"below zero":    MarginStrip(Strip{Low: -50, Expected: -45, Worst: -40, Limit: 20, Unit: unit.Volt, Kind: Within}),
		"tiny":          MarginStrip(Strip{Low: 1e-12, Expected: 2e-12, Worst: 3e-12, Limit: 1e-3, Unit: unit.Farad, Kind: Within}),
		"odd words":     MarginStrip(with(reservoir, func(s *Strip) { s.Subject = `<b> & "quotes"` })),
		"small amounts": MarginStrip(Strip{Low: 10, Expected: 12, Worst: 14, Wanted: 14.7, Limit: 630, Unit: unit.Volt, Kind: Within}),
		"bill":          MoneyBuild(bill),
		"over":          MoneyBuild(overBill),
		"no ceiling":    MoneyBuild(Build{Labor: 49600, Parts: 11089, Other: 14050, Fee: 8000, Tax: 887, Allowance: 4960, Format: cents}),
		"nothing":       MoneyBuild(Build{Format: cents}),
		"line":          MoneyLine(bill), "line over": MoneyLine(overBill), "line empty": MoneyLine(Build{Format: cents}),
		"labor":      LaborSpread(Spread{Lines: []Work{{"ground lead & fuse, a long name that has to be cut off", .5, .7, 1.5}}, Expected: .8, Independent: .17, Linked: .17}),
		"no labor":   LaborSpread(Spread{}),
		"enough":     LaborSpread(enough),
		"chances":    ReadyChances(chances),
		"no chances": ReadyChances(Chances{}),
		"dates":      DateLine(Dates{Waits: []Wait{{"can", 35}, {"coupler", 4}, {"recone", -1}}, Needed: 21, HasNeeded: true}),
		"no dates":   DateLine(Dates{}),
		"parcels":    ParcelTags(tags),
		"no parcels": ParcelTags(Parcels{Format: cents}),
		"one parcel": ParcelTags(Parcels{Points: []Parcel{{"a", 1, -1, 123456789, false, true}}, Format: cents}),
		"many":       ParcelTags(manyTags()),
		"scores":     ScoreStair(stair),
		"no scores":  ScoreStair(Scores{Format: cents}),
		"flow":       Flow(),
	}
	for k := NotEnoughData; k <= Within; k++ {
		all["mark "+k.Slug()] = Mark(k)
		all["strip "+k.Slug()] = MarginStrip(with(reservoir, func(s *Strip) { s.Kind = k }))
	}
	return all
}

var (
	enough  = Spread{Lines: []Work{{"cord", .5, .7, 1.5}}, Expected: 4.4, Independent: .37, Linked: .83, Enough: []Enough{{5, 4.6}, {8, 6.1}, {9, 7.1}}}
	chances = Chances{Holds: []Hold{{"parts from E, lead 4 days, and a name that has to be cut off", 5.9, .95}, {"the owner's answer", 1.4, .895}, {"work at the bench", 2, 1}},
		Ready: []Ready{{5, 9, "2026-03-18"}, {8, 10, "2026-03-19"}, {9, 14, "2026-03-23"}}, Needed: 12, HasNeeded: true}
)

var (
	bill     = Build{Labor: 27000, Parts: 10237, Fee: 6000, Ceiling: 45000, HasCeiling: true, Format: cents}
	overBill = Build{Labor: 29400, Parts: 10237, Fee: 6000, Allowance: 2940, Ceiling: 45000, HasCeiling: true, Format: cents}
)

func TestEveryPictureStandsByItself(t *testing.T) {
	for name, svg := range pictures() {
		t.Run(name, func(t *testing.T) {
			if err := wellFormed(svg); err != nil {
				t.Errorf("not well formed: %v\n%s", err, svg)
			}
			for _, want := range []string{`role="img"`, "<title>", "viewBox="} {
				if !strings.Contains(svg, want) {
					t.Errorf("lacks %s", want)
				}
			}
			for _, never := range []string{" style=", "<style", "NaN", "Inf", "url(", "<script", " id="} {
				if strings.Contains(svg, never) {
					t.Errorf("holds %q", never)
				}
			}
		})
	}
}

func wellFormed(svg string) error {
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		if _, err := d.Token(); err == io.EOF {
			return nil
		} else if err != nil {
			return err
		}
	}
}

var across = regexp.MustCompile(` (x|x1|x2|cx)="([^"]+)"`)

func TestNothingIsDrawnOutside(t *testing.T) {
	for name, svg := range pictures() {
		w, err := strconv.ParseFloat(regexp.MustCompile(`viewBox="0 0 (\S+) `).FindStringSubmatch(svg)[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range across.FindAllStringSubmatch(svg, -1) {
			if x, err := strconv.ParseFloat(m[2], 64); err != nil || x < -2 || x > w+2 {
				t.Errorf("%s: %s=%s is outside 0 to %g", name, m[1], m[2], w)
			}
		}
	}
}

func TestKindsFollowTheVerdicts(t *testing.T) {
	for v := rating.NotEnoughData; v <= rating.Within; v++ {
		if k := Kind(v); k.Slug() != v.Slug() || k.Over() != v.Over() {
			t.Errorf("verdict %s is drawn as %s", v.Slug(), k.Slug())
		}
	}
	if Kind(200).Slug() != NotEnoughData.Slug() {
		t.Error("an unknown kind is drawn as something known")
	}
}

var tints = regexp.MustCompile(`#[0-9a-f]{6}`)
var classes = regexp.MustCompile(`class="[^"]*"|<title>.*</title>`)

func TestMarksDifferWithoutColor(t *testing.T) {
	seen := map[string]Kind{}
	for k := NotEnoughData; k <= Within; k++ {
		shape := classes.ReplaceAllString(tints.ReplaceAllString(Mark(k), ""), "")
		if other, twice := seen[shape]; twice {
			t.Errorf("%s and %s have one shape", k.Slug(), other.Slug())
		}
		seen[shape] = k
	}
}

func TestSignalColorIsForOverAlone(t *testing.T) {
	for k := NotEnoughData; k <= Within; k++ {
		s := with(reservoir, func(s *Strip) {
			s.Kind = k
			if k.Over() {
				s.Limit = 400
			}
		})
		for name, svg := range map[string]string{"mark": Mark(k), "strip": MarginStrip(s)} {
			if red := strings.Contains(svg, overTint); red != k.Over() {
				t.Errorf("%s of %s: signal color is %v", name, k.Slug(), red)
			}
		}
	}
	if strings.Contains(MoneyBuild(bill), overTint) || !strings.Contains(MoneyBuild(overBill), overTint) {
		t.Error("the bill's signal color does not follow the ceiling")
	}
}

func TestPicturesSayTheirNumbers(t *testing.T) {
	tests := []struct {
		name, svg string
		want      []string
	}{
		{"within", MarginStrip(reservoir), []string{">limit 500 V<", ">wanted 467.4 V<", ">worst 445.2 V<", ">expected 434.7 V<", ">bar from 180 V<", "<title>reservoir: within</title>"}},
		{"made worse", MarginStrip(Strip{Low: 305, Expected: 311, Worst: 316.4, Inherited: 305, Limit: 285, Unit: unit.Volt, Kind: OverWorsened}), []string{">as found 305.0 V<", ">worst 316.4 V<"}},
		{"heater", MarginStrip(Strip{Low: 6.09, Expected: 6.62, Worst: 6.78, Floor: 5.67, Limit: 6.93, Unit: unit.Volt, Kind: Within}), []string{">least 5.67 V<", ">limit 6.93 V<", ">worst 6.78 V<"}},
		{"left", MoneyBuild(bill), []string{">17.63 left<", ">432.37<", ">ceiling 450.00<"}},
		{"over", MoneyBuild(overBill), []string{">over by 6.37<", ">456.37<", ">+ 29.40<"}},
		{"late", DateLine(Dates{Waits: []Wait{{"can", 35}}, Needed: 21, HasNeeded: true}), []string{">ready day 35, late by 14 days<", ">needed by day 21<"}},
		{"in time", DateLine(Dates{Waits: []Wait{{"tubes", 3}, {"c33", 4}}, Needed: 21, HasNeeded: true}), []string{">ready day 4, 17 days in hand<"}},
		{"not stated", DateLine(Dates{Waits: []Wait{{"tubes", 3}, {"cone", -1}}, Needed: 21, HasNeeded: true}), []string{">ready day 3 or later, not proven<", ">not stated<"}},
		{"enough", LaborSpread(enough), []string{">in 8 of 10<", ">6.1 h<", ">±0.83<", "enough in 9 of 10 cases: 7.1 h"}},
		{"ready", ReadyChances(chances), []string{">in 8 of 10 by day 10<", ">2026-03-19<", ">1.4 days, 90 %<", ">the thick stroke: needed by day 12<", "the owner&#39;s answer holds it 1.4 days on average, in 90 % of cases"}},
		{"hours", LaborSpread(Spread{Lines: []Work{{"cord", .5, .7, 1.5}}, Expected: 4.4, Independent: .37, Linked: .83}), []string{">0.80 h<", ">±0.37<", ">±0.83<", ">4.4 h<"}}, // (0.5 + 2.8 + 1.5) ÷ 6 = 0.80
	}
	for _, tt := range tests {
		for _, want := range tt.want {
			if !strings.Contains(tt.svg, want) {
				t.Errorf("%s lacks %s\n%s", tt.name, want, tt.svg)
			}
		}
	}
}

// By hand: the figures lie 500 − 400.6 = 99.4 V apart, so the bar starts at
// 500 − 3.2 · 99.4 = 181.9, rounded down to 180, and ends at 500 + 0.06 · 320 =
// 519.2. The limit is at 314 · 320 ÷ 339.2 = 296.23.
func TestAxis(t *testing.T) {
	tests := []struct {
		name     string
		strip    Strip
		from, to float64
		limit    float64 // its place
	}{
		{"close together", reservoir, 180, 519.2, 296.23},
		{"far apart: from zero", Strip{Low: 200, Expected: 240, Worst: 250, Limit: 630}, 0, 667.8, 296.23}, // 314 ÷ 1.06
		{"one figure only: a tenth of it is no margin", Strip{Worst: 400, Limit: 400}, 340, 403.6, 296.23}, // 400 − 3.2 · 16 = 348.8 → 340
	}
	for _, tt := range tests {
		a := tt.strip.axis()
		if math.Abs(a.from-tt.from) > 1e-6 || math.Abs(a.to-tt.to) > 1e-6 {
			t.Errorf("%s: axis %g to %g, want %g to %g", tt.name, a.from, a.to, tt.from, tt.to)
		}
		if got := a.at(tt.strip.Limit); math.Abs(got-tt.limit) > 0.01 {
			t.Errorf("%s: limit at %g, want %g", tt.name, got, tt.limit)
		}
	}
}

// No line of a flag may run through the words of another.
func TestFlagsDoNotCross(t *testing.T) {
	for name, s := range map[string]Strip{
		"usual": reservoir,
		"low":   {Low: 200, Expected: 240, Worst: 250, Wanted: 262.5, Limit: 630, Unit: unit.Volt, Kind: Within},
		"lower": {Low: 100, Expected: 110, Worst: 115, Limit: 630, Unit: unit.Volt, Kind: Within},
	} {
		a := s.axis()
		ordered, rightward := arrange(a, s.below())
		for i, f := range ordered {
			from, to := a.at(f.v)-5-spanOf(f.say), a.at(f.v)-5
			if rightward {
				from, to = a.at(f.v)+5, a.at(f.v)+5+spanOf(f.say)
			}
			for _, outer := range ordered[i+1:] {
				if x := a.at(outer.v); x > from && x < to {
					t.Errorf("%s: the line of %q runs through %q", name, outer.say, f.say)
				}
			}
		}
	}
}

func TestFlowFile(t *testing.T) {
	file := filepath.Join("..", "..", "docs", "flow.svg")
	if *update {
		if err := os.WriteFile(file, []byte(Flow()+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v; write it with: go generate ./wasm/draw", err)
	}
	if string(got) != Flow()+"\n" {
		t.Errorf("%s is not what the program draws; write it with: go generate ./wasm/draw", file)
	}
}
