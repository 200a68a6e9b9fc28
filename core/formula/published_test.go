package formula

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"lugworth/core/unit"
)

// in is the inputs of one row, by name.
type in map[string]float64

func (m in) v(name string) unit.Voltage     { return unit.Voltage(m[name]) }
func (m in) i(name string) unit.Current     { return unit.Current(m[name]) }
func (m in) r(name string) unit.Resistance  { return unit.Resistance(m[name]) }
func (m in) c(name string) unit.Capacitance { return unit.Capacitance(m[name]) }
func (m in) p(name string) unit.Power       { return unit.Power(m[name]) }
func (m in) f(name string) unit.Frequency   { return unit.Frequency(m[name]) }
func (m in) t(name string) Celsius          { return Celsius(m[name]) }
func (m in) g(name string) unit.Conductance { return unit.Conductance(m[name]) }
func (m in) tol() unit.Tolerance {
	return unit.Tolerance{Minus: m["minus"], Plus: m["plus"], Stated: true}
}

// num makes one number of a result of any quantity type.
func num[T ~float64](v T, err error) (float64, error) { return float64(v), err }

// first and second pick one of two results.
func first[A, B ~float64](a A, _ B, err error) (float64, error)  { return float64(a), err }
func second[A, B ~float64](_ A, b B, err error) (float64, error) { return float64(b), err }

// answers says how each row of the table is answered.
var answers = map[string]func(in) (float64, error){
	"PeakOf":        func(m in) (float64, error) { return float64(PeakOf(m.v("rms"))), nil },
	"RMSOf":         func(m in) (float64, error) { return float64(RMSOf(m.v("peak"))), nil },
	"ReservoirPeak": func(m in) (float64, error) { return num(ReservoirPeak(m.v("half"), m.v("read"), m.v("top"))) },
	"HeaterAt":      func(m in) (float64, error) { return num(HeaterAt(m.v("v"), m.v("read"), m.v("at"))) },
	"ScaleVolts":    func(m in) (float64, error) { return num(ScaleVolts(m.v("v"), m.v("read"), m.v("at"))) },

	"DissipationEnds.low":  func(m in) (float64, error) { return first(DissipationEnds(m["r"])) },
	"DissipationEnds.high": func(m in) (float64, error) { return second(DissipationEnds(m["r"])) },
	"IdleAt.low":           func(m in) (float64, error) { return first(IdleAt(m.i("i"), m.v("read"), m.v("at"))) },
	"IdleAt.high":          func(m in) (float64, error) { return second(IdleAt(m.i("i"), m.v("read"), m.v("at"))) },
	"Spread.low":           func(m in) (float64, error) { s, err := Spread(m["v"], m.tol()); return s.Low, err },
	"Spread.high":          func(m in) (float64, error) { s, err := Spread(m["v"], m.tol()); return s.High, err },

	"CathodeCurrent":        func(m in) (float64, error) { return num(CathodeCurrent(m.v("vk"), m.r("rk"), int(m["n"]))) },
	"DropCurrent":           func(m in) (float64, error) { return num(DropCurrent(m.v("drop"), m.r("r"))) },
	"Dissipation":           func(m in) (float64, error) { return num(Dissipation(m.v("v"), m.v("vk"), m.i("i"))) },
	"CathodeResistorFactor": func(m in) (float64, error) { return CathodeResistorFactor(m.g("g"), m.r("r0"), m.r("r1")) },
	"CathodeResistorFor":    func(m in) (float64, error) { return num(CathodeResistorFor(m.g("g"), m.r("r0"), m["f"])) },
	"LeakFromShift.current": func(m in) (float64, error) {
		return first(LeakFromShift(m.v("shift"), m.r("gridLeak"), m.v("source")))
	},
	"LeakFromShift.ohms": func(m in) (float64, error) {
		return second(LeakFromShift(m.v("shift"), m.r("gridLeak"), m.v("source")))
	},
	"GridWithLeak": func(m in) (float64, error) {
		return num(GridWithLeak(m.v("bias"), m.v("source"), m.r("gridLeak"), m.r("leak")))
	},
	"PairMatch.spread": func(m in) (float64, error) { s, _, err := PairMatch(m.i("i1"), m.i("i2")); return s, err },
	"PairMatch.match":  func(m in) (float64, error) { _, x, err := PairMatch(m.i("i1"), m.i("i2")); return float64(x), err },

	"DischargeTime": func(m in) (float64, error) {
		d, err := DischargeTime(m.r("r"), m.c("c"), m.v("from"), m.v("to"))
		return d.Seconds(), err
	},
	"StoredEnergy":     func(m in) (float64, error) { return num(StoredEnergy(m.c("c"), m.v("v"))) },
	"BurstPower":       func(m in) (float64, error) { return num(BurstPower(m.v("v"), m.r("r"))) },
	"SeriesCaps":       func(m in) (float64, error) { return num(SeriesCaps(m.c("a"), m.c("b"))) },
	"ParallelCaps":     func(m in) (float64, error) { return num(ParallelCaps(m.c("a"), m.c("b"))) },
	"Reactance":        func(m in) (float64, error) { return num(Reactance(m.f("f"), m.c("c"))) },
	"CapacitorCurrent": func(m in) (float64, error) { return num(CapacitorCurrent(m.f("f"), m.c("c"), m.v("v"))) },
	"ElectrolyticHours": func(m in) (float64, error) {
		return num(ElectrolyticHours(unit.Hours(m["h"]), m.t("rated"), m.t("core")))
	},
	"SurgeVolts":   func(m in) (float64, error) { return num(SurgeVolts(m.v("v"))) },
	"ImpulseVolts": func(m in) (float64, error) { return num(ImpulseVolts(m.v("class"), m.c("c"))) },

	"MaxContinuousVolts": func(m in) (float64, error) { return num(MaxContinuousVolts(m.p("p"), m.r("r"), m.v("style"))) },
	"CriticalOhms":       func(m in) (float64, error) { return num(CriticalOhms(m.p("p"), m.v("style"))) },
	"Derated": func(m in) (float64, error) {
		return num(Derated(m.p("p"), m.t("at"), Derating{m.t("full"), m.t("zero")}))
	},
	"TrackCurrent": func(m in) (float64, error) { return num(TrackCurrent(m.p("p"), m.r("r"))) },
	"ParallelOhms": func(m in) (float64, error) { return num(ParallelOhms(m.r("a"), m.r("b"))) },

	"Corner":             func(m in) (float64, error) { return num(Corner(m.r("r"), m.c("c"))) },
	"CathodeOhms":        func(m in) (float64, error) { return num(CathodeOhms(m.r("ra"), m.r("load"), m["mu"])) },
	"BypassCorners.low":  func(m in) (float64, error) { return first(BypassCorners(m.r("rk"), m.r("inner"), m.c("ck"))) },
	"BypassCorners.high": func(m in) (float64, error) { return second(BypassCorners(m.r("rk"), m.r("inner"), m.c("ck"))) },
	"BypassStep":         func(m in) (float64, error) { return BypassStep(m.r("rk"), m.r("inner")) },
	"StageGain":          func(m in) (float64, error) { return StageGain(m["mu"], m.r("ra"), m.r("load"), m.r("bare")) },

	"TurnsRatio":    func(m in) (float64, error) { return TurnsRatio(m.r("zp"), m.r("zs")) },
	"ReflectedLoad": func(m in) (float64, error) { return num(ReflectedLoad(m.r("load"), m.v("vp"), m.v("vs"))) },
	"CopperOhms":    func(m in) (float64, error) { return num(CopperOhms(m.r("cold"), m.t("from"), m.t("to"))) },
	"CopperTemp":    func(m in) (float64, error) { return num(CopperTemp(m.r("cold"), m.r("hot"), m.t("at"))) },
	"SupplyOhms": func(m in) (float64, error) {
		return num(SupplyOhms(m.r("sec"), m.r("pri"), m.r("added"), m.v("half"), m.v("mains")))
	},

	"InverseVolts.fullwave":   func(m in) (float64, error) { return num(InverseVolts(FullWave, m.v("rms"))) },
	"InverseVolts.bridge":     func(m in) (float64, error) { return num(InverseVolts(Bridge, m.v("rms"))) },
	"InverseVolts.halfwave":   func(m in) (float64, error) { return num(InverseVolts(HalfWave, m.v("rms"))) },
	"Perveance":               func(m in) (float64, error) { return Perveance(m.v("v"), m.i("i")) },
	"RectifierDrop":           func(m in) (float64, error) { return num(RectifierDrop(m["p"], m.i("i"))) },
	"SmoothedSupply.fullwave": func(m in) (float64, error) { return first(SmoothedSupply(FullWave, m.r("series"), m.r("load"))) },
	"SmoothedSupply.halfwave": func(m in) (float64, error) { return first(SmoothedSupply(HalfWave, m.r("series"), m.r("load"))) },
	"SmoothedSupply.degrees": func(m in) (float64, error) {
		rad, err := second(SmoothedSupply(FullWave, m.r("series"), m.r("load")))
		return rad * 180 / math.Pi, err
	},
	"RippleAtMost.fullwave": func(m in) (float64, error) { return num(RippleAtMost(FullWave, m.i("i"), m.f("f"), m.c("c"))) },
	"RippleAtMost.halfwave": func(m in) (float64, error) { return num(RippleAtMost(HalfWave, m.i("i"), m.f("f"), m.c("c"))) },
	"RippleRMS":             func(m in) (float64, error) { return float64(RippleRMS(m.v("pp"))), nil },
	"CapacitorRipple":       func(m in) (float64, error) { return num(CapacitorRipple(m.i("dc"), m["k"])) },
}

// published reads the rows of a table under testdata/published without its
// heading, and checks the heading.
func published(t *testing.T, file, heading string) [][]string {
	t.Helper()
	f, err := os.Open("../../testdata/published/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(rows[0], ","); got != heading {
		t.Fatalf("%s: heading %q, want %q", file, got, heading)
	}
	return rows[1:]
}

func inputs(text string) (in, error) {
	m := in{}
	for _, pair := range strings.Fields(text) {
		name, value, ok := strings.Cut(pair, "=")
		v, err := strconv.ParseFloat(value, 64)
		if !ok || err != nil {
			return nil, fmt.Errorf("input %q", pair)
		}
		m[name] = v
	}
	return m, nil
}

// Each row of the table stands with its source and its tolerance; the
// arithmetic can be redone with a pencil.
func TestPublished(t *testing.T) {
	rows := published(t, "electrical.csv", "what,inputs,expected,tolerance,source,mark")
	if len(rows) < 40 {
		t.Fatalf("%d rows, want at least 40", len(rows))
	}
	used := map[string]bool{}
	for i, row := range rows {
		what, source, mark := row[0], row[4], row[5]
		answer := answers[what]
		m, err := inputs(row[1])
		want, errWant := strconv.ParseFloat(row[2], 64)
		tolerance, errTol := strconv.ParseFloat(row[3], 64)
		if answer == nil || err != nil || errWant != nil || errTol != nil || source == "" || tolerance <= 0 {
			t.Fatalf("row %d cannot be read: %q", i+2, row)
		}
		if strings.Contains(source, "from memory") && mark != "memory" {
			t.Errorf("row %d: source is from memory, mark is %q", i+2, mark)
		}
		used[what] = true
		got, err := answer(m)
		if err != nil || !(math.Abs(got-want) <= tolerance) {
			t.Errorf("row %d: %s(%s) = %.6g, %v; want %s ± %s (%s)", i+2, what, row[1], got, err, row[2], row[3], source)
		}
	}
	for what := range answers {
		if !used[what] {
			t.Errorf("no row checks %s", what)
		}
	}
}

// The closed form is the limit of large ωCR: it must meet the periodic
// solution there, and lie above it at small ωCR, where ripple costs volts.
func TestSmoothedSupplyIsTheLimit(t *testing.T) {
	rows := published(t, "electrical-rectifier.csv", "supply,omega_c_r,rs_over_r,dc_over_peak,ripple_rms_percent,ripple_pp_percent,peak_over_mean,rms_over_mean,conduction_degrees,source,mark")
	supplies := map[string]Supply{"full-wave": FullWave, "half-wave": HalfWave}
	for _, row := range rows {
		wcr, _ := strconv.ParseFloat(row[1], 64)
		series, _ := strconv.ParseFloat(row[2], 64)
		want, _ := strconv.ParseFloat(row[3], 64)
		got, _, err := SmoothedSupply(supplies[row[0]], unit.Resistance(series), 1)
		if err != nil {
			t.Fatal(err)
		}
		if got < want-0.005 { // half a percent: the table has three figures
			t.Errorf("%s: limit %.3f lies below the periodic solution", row, got)
		}
		if wcr >= 100 && math.Abs(got-want) > 0.005 {
			t.Errorf("%s: limit %.3f", row, got)
		}
	}
}
