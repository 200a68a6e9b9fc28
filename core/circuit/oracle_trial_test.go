//go:build !js

package circuit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"sort"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/limit"
	"lugworth/core/unit"
)

// The trial: random amps whose truth comes from the simulator with another
// tube law are read at the bench with a meter that errs, matched, and
// predicted at other mains and with another bias resistor. How often does the
// band hold the truth, and how wide is it?
const (
	trialAmps  = 230 // made; those that no technician would leave idling so are set aside
	trialLeast = 200 // left
	trialMeter = 0.005
	trialFile  = "../../testdata/oracle/trial.csv"
)

// A trialTruth is what one amp does in one state.
type trialTruth struct {
	volts         map[string]float64 // bench only
	plate, screen map[string]float64 // watts by tube
}

// trialFingerprint is the hash of every deck of the trial, as first asked.
func trialFingerprint(amps []*trialAmp) string {
	var b strings.Builder
	for _, a := range amps {
		for _, s := range truthStates {
			u := newTruth(a, s)
			text, _ := u.text()
			fmt.Fprintf(&b, "%s%+v\n", text, *u.reckoning())
		}
	}
	return hash(b.String())
}

func makeTrial(t testing.TB) []*trialAmp {
	t.Helper()
	var out []*trialAmp
	for n := range trialAmps {
		out = append(out, newTrialAmp(t, n, korens))
	}
	return out
}

// runTrial asks the simulator for the truth of every amp in every state.
func runTrial(t testing.TB, amps []*trialAmp) map[int]map[string]trialTruth {
	t.Helper()
	var all []*truth
	for _, a := range amps {
		for _, s := range truthStates {
			all = append(all, newTruth(a, s))
		}
	}
	settleTruth(t, all)
	out := map[int]map[string]trialTruth{}
	for _, u := range all {
		w := trialTruth{plate: map[string]float64{}, screen: map[string]float64{}}
		for _, ref := range u.amp.outs {
			w.plate[ref], w.screen[ref] = u.watts(ref)
		}
		if u.state.name == "bench" {
			w.volts = u.volts
			out[u.amp.number] = map[string]trialTruth{}
		}
		out[u.amp.number][u.state.name] = w
	}
	for _, a := range amps {
		if !plausible(a, out[a.number]["bench"]) {
			delete(out, a.number)
		}
	}
	return out
}

// plausible reports an amp whose output tubes all idle between 0.3 and 1.4 of
// their plate limit: any other would be put right before it is judged.
func plausible(a *trialAmp, bench trialTruth) bool {
	for _, w := range bench.plate {
		if part := w / plateLimits[a.tube]; part < 0.3 || part > 1.4 {
			return false
		}
	}
	return true
}

// TestOracleWriteTrial writes the truth of the trial anew: make oracle.
func TestOracleWriteTrial(t *testing.T) {
	if os.Getenv("LUGWORTH_ORACLE") != "write" {
		if _, err := os.Stat(trialFile); err != nil {
			t.Errorf("%v: %s writes it", err, regenerate)
		}
		return
	}
	amps := makeTrial(t)
	all := runTrial(t, amps)
	var b strings.Builder
	fmt.Fprintf(&b, "# %s operating points of %d random amps; not edited: %s writes it\ndecks,%s\n", version(t), len(all), regenerate, trialFingerprint(amps))
	for _, a := range amps {
		states, kept := all[a.number]
		if !kept {
			continue
		}
		fmt.Fprintf(&b, "bench,%d", a.number)
		for _, n := range keysOf(states["bench"].volts) {
			fmt.Fprintf(&b, ",%s=%.7g", n, states["bench"].volts[n])
		}
		b.WriteString("\n")
		for _, s := range truthStates {
			for _, ref := range a.outs {
				fmt.Fprintf(&b, "watts,%d,%s,%s,%.6g,%.6g\n", a.number, s.name, ref, states[s.name].plate[ref], states[s.name].screen[ref])
			}
		}
	}
	if err := os.WriteFile(trialFile, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// keptTrial reads the truth that is kept.
func keptTrial(t testing.TB, amps []*trialAmp) map[int]map[string]trialTruth {
	t.Helper()
	data, err := os.ReadFile(trialFile)
	if err != nil {
		t.Fatalf("%v: %s writes it", err, regenerate)
	}
	out := map[int]map[string]trialTruth{}
	for line := range strings.Lines(string(data)) {
		f := strings.Split(strings.TrimSpace(line), ",")
		switch f[0] {
		case "decks":
			if f[1] != trialFingerprint(amps) {
				t.Fatalf("%s: kept of other decks; %s writes it anew", trialFile, regenerate)
			}
		case "bench":
			n := int(amount(t, f[1]))
			volts := map[string]float64{}
			for _, pair := range f[2:] {
				node, v, _ := strings.Cut(pair, "=")
				volts[node] = amount(t, v)
			}
			out[n] = map[string]trialTruth{"bench": {volts: volts}}
		case "watts":
			n, state := int(amount(t, f[1])), f[2]
			w := out[n][state]
			if w.plate == nil {
				w.plate, w.screen = map[string]float64{}, map[string]float64{}
			}
			w.plate[f[3]], w.screen[f[3]] = amount(t, f[4]), amount(t, f[5])
			out[n][state] = w
		}
	}
	return out
}

// A meter errs by up to its error, and shows four figures up to 3999.
type meter struct {
	r     *rand.Rand
	error float64
}

func (m meter) show(v float64) (shown, step float64) {
	v *= within(m.r, m.error)
	if v == 0 {
		return 0, 0
	}
	step = math.Pow(10, math.Ceil(math.Log10(math.Abs(v)/3.999))-3)
	return math.Round(v/step) * step, step
}

// readings are what a technician notes of the amp: the supply, every tube's
// electrodes, the bias resistors with the power off; the screens' currents
// only of every other amp. The mains are read by the same meter.
func (a *trialAmp) readings(bench trialTruth) (out []amp.Reading, screens bool) {
	m := meter{rand.New(rand.NewPCG(1997, uint64(a.number))), trialMeter}
	screens = a.number%2 == 0
	mains, step := m.show(a.bench)
	note := func(at, quantity string, v float64, u unit.Unit, state ...string) {
		shown, s := m.show(v)
		r := amp.Reading{ID: fmt.Sprint("r", len(out)), At: at, Quantity: quantity, Amount: shown, Unit: u, Mains: unit.Voltage(mains), State: state, Meter: trialMeter, Stated: true, Ohms: 10e6, Step: s, MainsStep: unit.Voltage(step)}
		if quantity == amp.Ohms {
			r.Mains, r.MainsStep = 0, 0
		}
		out = append(out, r)
	}
	for _, n := range keysOf(bench.volts) {
		switch {
		case n[0] == 'G' || strings.HasPrefix(n, "IN"): // the meter would load them
		case math.Abs(bench.volts[n]) < 1e-3:
		default:
			note(n, amp.Volts, bench.volts[n], unit.Volt)
		}
	}
	for _, p := range a.real {
		if p.Ref == "R640" || p.Ref == "R302" || p.Ref == "R303" {
			note(p.Ref, amp.Ohms, p.Spec.Value(), unit.Ohm, amp.Off)
		}
	}
	if screens {
		for _, ref := range a.outs {
			is := bench.screen[ref] / a.screenVolts(bench, ref)
			note(ref+":screen", amp.Current, is, unit.Ampere)
		}
	}
	return out, screens
}

func (a *trialAmp) screenVolts(bench trialTruth, ref string) float64 {
	for i := range a.sheet {
		if p := &a.sheet[i]; p.Ref == ref {
			s, _ := p.Node("screen")
			c, _ := p.Node("cathode")
			return bench.volts[s] - bench.volts[c]
		}
	}
	panic("no " + ref)
}

// A trialCount sums up one kind of prediction.
type trialCount struct {
	held, all, missing int
	widths             []float64 // of the limit
	worst              string
	out                float64 // of the worst, how far outside, of the limit
}

func (c *trialCount) add(b circuit.Band, truth, limit float64, what string) {
	c.all++
	if b.Missing != "" {
		c.missing++
		return
	}
	c.widths = append(c.widths, (b.High-b.Low)/limit)
	if b.Low <= truth && truth <= b.High {
		c.held++
		return
	}
	if out := max(b.Low-truth, truth-b.High) / limit; out > c.out {
		c.out = out
		c.worst = fmt.Sprintf("%s: %.3f W, band %.3f to %.3f", what, truth, b.Low, b.High)
	}
}

func (c *trialCount) coverage() float64 { return float64(c.held) / float64(c.all) }

func (c *trialCount) median() float64 {
	if len(c.widths) == 0 {
		return math.NaN()
	}
	w := append([]float64(nil), c.widths...)
	sort.Float64s(w)
	return w[len(w)/2]
}

// The truth lies inside the band of plate and screen watts in 99 of 100
// cases, and the plate's band is in the middle case narrower than 15 % of the
// limit. Kept truths; make long-oracle asks the simulator for all of them.
func TestOracleTrial(t *testing.T) {
	amps := makeTrial(t)
	var truths map[int]map[string]trialTruth
	if long() {
		truths = runTrial(t, amps)
	} else {
		truths = keptTrial(t, amps)
	}
	if len(truths) < trialLeast {
		t.Fatalf("only %d amps, want %d", len(truths), trialLeast)
	}
	counts := map[string]*trialCount{}
	for _, a := range amps {
		if states, kept := truths[a.number]; kept {
			a.predict(t, states, counts)
		}
	}
	for _, kind := range keysOf(counts) {
		c := counts[kind]
		t.Logf("%-28s %4d of %4d held, %d without a band; median width %.1f %% of the limit; worst %.1f %% out: %s", kind, c.held, c.all, c.missing, 100*c.median(), 100*c.out, c.worst)
	}
	judgeTrial(t, counts)
}

// judgeTrial sums the kinds of prediction up.
func judgeTrial(t *testing.T, counts map[string]*trialCount) {
	t.Helper()
	for _, quantity := range []string{"plate", "screen"} {
		sum := trialCount{}
		for _, kind := range keysOf(counts) {
			if strings.HasPrefix(kind, quantity) {
				c := counts[kind]
				sum.held, sum.all, sum.missing = sum.held+c.held, sum.all+c.all, sum.missing+c.missing
				sum.widths = append(sum.widths, c.widths...)
			}
		}
		t.Logf("%s: %.2f %% of %d held, %d without a band, median width %.1f %% of the limit", quantity, 100*sum.coverage(), sum.all, sum.missing, 100*sum.median())
		if sum.coverage() < 0.99 {
			t.Errorf("%s watts: %.2f %% inside the band, want 99", quantity, 100*sum.coverage())
		}
		if quantity == "plate" && !(sum.median() < 0.15) {
			t.Errorf("%s watts: median width %.1f %% of the limit, want under 15", quantity, 100*sum.median())
		}
	}
}

// predict matches one amp to its readings and holds the bands against the
// truth, state by state.
func (a *trialAmp) predict(t *testing.T, states map[string]trialTruth, counts map[string]*trialCount) {
	t.Helper()
	laws := shippedLaws(t)
	net, err := circuit.Compile(a.sheet, laws)
	if err != nil {
		t.Fatalf("trial %d: %v", a.number, err)
	}
	readings, screens := a.readings(states["bench"])
	cal, err := circuit.Calibrate(net, circuit.Bench{Sheet: a.sheet, Readings: readings, Laws: laws, Meter: trialMeter, Known: true})
	if err != nil {
		t.Errorf("trial %d: %v", a.number, err)
		return
	}
	var figures []circuit.Figure
	for _, ref := range a.outs {
		figures = append(figures, circuit.Figure{Ref: ref, Quantity: limit.PlateWatts}, circuit.Figure{Ref: ref, Quantity: limit.ScreenWatts})
	}
	for _, changed := range []bool{false, true} {
		ch := circuit.Choice{}
		if changed {
			ch.Values = map[circuit.Figured]circuit.Marked{{Ref: a.change.ref, Property: circuit.Ohms}: {Value: a.change.marked, Tolerance: a.change.tolerance}}
		}
		var scenarios []circuit.Scenario
		for _, s := range truthStates {
			if s.changed == changed && s.name != "bench" {
				v := unit.Voltage(a.bench * s.mains)
				scenarios = append(scenarios, circuit.Scenario{Name: s.name, Low: v, High: v})
			}
		}
		for _, b := range cal.Bands(ch, scenarios, figures, laws, nil) {
			a.count(b, states[b.Scenario], screens, changed, counts)
		}
	}
}

func (a *trialAmp) count(b circuit.Band, w trialTruth, screens, changed bool, counts map[string]*trialCount) {
	kind, truth, most := "plate", w.plate[b.Ref], plateLimits[a.tube]
	if b.Quantity == limit.ScreenWatts {
		kind, truth, most = "screen", w.screen[b.Ref], screenLimits[a.tube]
	}
	kind += map[bool]string{true: ", screens read", false: ", screens not read"}[screens]
	if changed {
		kind += ", bias changed"
	}
	if counts[kind] == nil {
		counts[kind] = &trialCount{}
	}
	counts[kind].add(b, truth, most, fmt.Sprintf("trial %d %s %s %s", a.number, a.tube, b.Ref, b.Scenario))
}
