package proof_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/job"
	"lugworth/core/limit"
	"lugworth/core/proof"
	"lugworth/core/tube"
	"lugworth/core/unit"
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
			Tier: 1, Kind: "within", Limit: &limit.Limit{Subject: "the test's own", High: 2 * d.High, HasHigh: true, Unit: u, Mark: limit.User},
			Solved: proof.SolvedBand(f.Ref, string(f.Quantity), u, d.Low, d.High, ends[f], nil, "")})
	}
	data, err := w.Seal()
	if err != nil {
		t.Fatal(err)
	}
	return opened(t, data)
}

var _ = unit.Watt
var _ = math.Abs
var _ = rand.New

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
