package proof_test

import (
	"bytes"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/job"
	"lugworth/core/limit"
	"lugworth/core/proof"
	"lugworth/core/tube"
)

// A bench is one of the drawn amps of the tests, matched to its readings.
type bench struct {
	cal  *circuit.Calibration
	laws circuit.Laws
	top  circuit.Scenario
}

func matched(t *testing.T, name string) bench {
	t.Helper()
	r := derive(t, name, []byte(source(t, name)))
	a, cards := &r.Job.Amp, r.Books.Cards
	laws := func(typeNumber string) (tube.Law, string, bool) {
		c, ok := cards.Find(typeNumber)
		return tube.LawOf(c, ok, typeNumber)
	}
	n, err := circuit.Compile(a.Positions, laws)
	if err != nil {
		t.Fatal(err)
	}
	c, err := circuit.Calibrate(n, circuit.Bench{Sheet: a.Positions, Readings: a.Readings, Laws: laws, Tap: a.Tap, Alike: a.Alike, Known: true})
	if err != nil {
		t.Fatal(err)
	}
	m := r.Job.Mains
	return bench{c, laws, circuit.Scenario{Name: proof.AtTop, Low: m.High, High: m.High}}
}

// stage are the figures of the output tubes that have limits.
func stage(b bench) []circuit.Figure {
	var out []circuit.Figure
	for _, f := range b.cal.Net.Figures() {
		switch f.Quantity {
		case limit.PlateVolts, limit.ScreenVolts, limit.PlateWatts, limit.ScreenWatts:
			if strings.HasPrefix(f.Ref, "V3") || strings.HasPrefix(f.Ref, "V4") {
				out = append(out, f)
			}
		}
	}
	return out
}

// solvedCertificate certifies bands of a drawn amp by its solved corners.
func solvedCertificate(t *testing.T, b bench, fs []circuit.Figure) proof.Certificate {
	t.Helper()
	c, ends, err := job.CertifyCorners("as found", b.cal, circuit.Choice{}, b.top, fs, b.laws)
	if err != nil {
		t.Fatal(err)
	}
	bands := b.cal.Bands(circuit.Choice{}, []circuit.Scenario{b.top}, fs, b.laws, nil)
	mains := proof.Fact(float64(b.top.High))
	w := proof.NewWriter(proof.Certificate{Job: "test", Rules: 1, Mains: proof.Mains{High: mains, Low: mains}, Circuits: []proof.Circuit{c}}, &amp.Amp{}, 0, true)
	for i, f := range fs {
		d := bands[i]
		if d.Missing != "" {
			t.Fatalf("%v: %s", f, d.Missing)
		}
		u, _ := limit.UnitOf(f.Quantity)
		w.Add(proof.Judged{Subject: f.Ref, Quantity: f.Quantity, Scenario: proof.AtTop, Mains: b.top.High, Unit: u, Low: d.Low, High: d.High, HasFigure: true,
			Tier: 1, Kind: "within", Limit: &limit.Limit{Subject: "the test's own", High: math.Ceil(2 * d.High), HasHigh: true, Unit: u, Mark: limit.User},
			Solved: proof.SolvedBand(f.Ref, string(f.Quantity), u, d.Low, d.High, ends[f], nil, "")})
	}
	data, err := w.Seal()
	if err != nil {
		t.Fatal(err)
	}
	return opened(t, data)
}

// Every band of the output stage rests on two corners that the checker finds
// true by its own laws.
func TestSolvedCornersHold(t *testing.T) {
	for _, name := range []string{"drover-sheet.txtar", "tern-sheet.txtar"} {
		b := matched(t, name)
		c := solvedCertificate(t, b, stage(b))
		tally, err := proof.Check(sealed(t, c))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for _, v := range c.Verdicts {
			t.Logf("%s: %s %s %s to %s; corners %s, %s", name, v.Subject, v.Quantity, v.Low, v.High, v.Bears.From[0].Value, v.Bears.From[1].Value)
		}
		t.Log(tally)
	}
}

// slipping are the numbers of a state and its circuit that may change without
// the arithmetic noticing, each with the reason.
var slipping = map[string]string{
	"low":    "a knob's claimed range may be wider, and holds the value still",
	"high":   "likewise",
	"values": "a knob that carries no direct current (farads, henries), or a digit too small to move a sum past the bound",
}

// With the hash made anew, a changed digit of the figure in a corner, of what
// carries it over, of an end, of the band or of a verdict is refused by the
// arithmetic alone; so is one of a state, but for the ends of claimed ranges
// and values too small to count.
func TestChangedDigitsOfSolvedCorners(t *testing.T) {
	b := matched(t, "drover-sheet.txtar")
	data := sealed(t, solvedCertificate(t, b, stage(b)[:2]))
	r := rand.New(rand.NewPCG(5, 6))
	tried, slipped := 0, map[string]int{}
	for _, c := range cells(t, data) {
		if _, word := words[c.key]; word || c.key == "ref" || c.key == "nodes" || c.key == "name" || c.key == "type" || c.key == "why" || c.key == "coils" || c.key == "drops" || c.key == "sha256" || c.key == "format" {
			continue
		}
		var digits []int
		for i := c.from; i < c.to; i++ {
			if data[i] >= '0' && data[i] <= '9' {
				digits = append(digits, i)
			}
		}
		inVerdict := c.from > bytes.Index(data, []byte(`"verdicts":`))
		for k, i := range digits {
			if !inVerdict && (k > 4 || r.IntN(4) > 0) {
				continue // of a state the leading digits, one in four
			}
			was := data[i]
			data[i] = '0' + (was-'0'+1)%10
			tried++
			if _, err := proof.Check(hashed(data)); err == nil {
				slipped[c.key]++
				_, known := slipping[c.key]
				if inVerdict || !known {
					t.Errorf("%s: %s changed to %c and nobody noticed: ...%s...", c.key, string(was), data[i], data[max(0, i-60):min(len(data), i+30)])
				}
			}
			data[i] = was
		}
	}
	t.Logf("%d digits changed under a new hash; not noticed, by key: %v", tried, slipped)
	if tried < 300 {
		t.Errorf("only %d digits were tried", tried)
	}
}

// 10,000 specimens at random places and corners of what is left open: none
// beyond the band that is certified.
func TestCertifiedBandsLong(t *testing.T) {
	count := 300
	if strings.Contains(os.Getenv("LUGWORTH_LONG"), "oracle") {
		count = 10_000
	}
	for _, name := range []string{"drover-sheet.txtar", "tern-sheet.txtar"} {
		b := matched(t, name)
		fs := stage(b)
		c := solvedCertificate(t, b, fs)
		draw, err := b.cal.Sampler(circuit.Choice{}, b.laws)
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(11, 13))
		closest, of := 0.0, ""
		for n := range count {
			one, err := draw(r.Float64, n%4 == 0)
			if err != nil {
				t.Fatal(err)
			}
			sol, err := one.Net.Solve(one.Values, circuit.State{Mains: float64(b.top.High)}, one.Bench)
			if err != nil {
				t.Fatal(err)
			}
			for i, v := range c.Verdicts {
				low, high := amount(t, v.Low), amount(t, v.High)
				if at, _ := sol.Figure(fs[i]); at < low || at > high || math.IsNaN(at) {
					t.Errorf("%s: specimen %d: %s %s is %.6g, certified %s to %s", name, n, v.Subject, v.Quantity, at, v.Low, v.High)
				} else if p := at / high; p > closest {
					closest, of = p, v.Subject+" "+v.Quantity
				}
			}
		}
		t.Logf("%s: %d specimens of %d figures; the closest call: %s at %.2f %% of its high end", name, count, len(fs), of, 100*closest)
	}
}

func amount(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
