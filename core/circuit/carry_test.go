package circuit

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"lugworth/core/tube"
)

// A published point of a type: volts and amps.
type curvePoint struct {
	typ               string
	grid, plate, amps float64
}

// The published curve points: source and mark stand beside each in the file.
func curvePoints(t *testing.T) []curvePoint {
	t.Helper()
	f, err := os.Open("../../testdata/published/electrical-curves.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []curvePoint
	for _, r := range rows[1:] {
		n := func(i int) float64 {
			v, err := strconv.ParseFloat(r[i], 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		out = append(out, curvePoint{r[0], n(1), n(2), n(3) / 1000})
	}
	return out
}

func (p curvePoint) by(l *tube.Law, s tube.Specimen) float64 {
	c, _ := l.At(p.plate, 0, p.grid, s)
	return c.Plate
}

// explainedBy are the two specimens that draw what the point says.
func (p curvePoint) explainedBy(l *tube.Law) [2]tube.Specimen {
	one := tube.Specimen{P: 1, Share: 1}
	scale, shift := one, one
	scale.P = p.amps / p.by(l, one)
	low, high := -3.0, 3.0
	for range 60 {
		shift.Shift = (low + high) / 2
		if p.by(l, shift) < p.amps {
			low = shift.Shift
		} else {
			high = shift.Shift
		}
	}
	return [2]tube.Specimen{scale, shift}
}

// The rules for carrying a current over, held against curves somebody else
// drew: from each point of a published curve to each other one within a
// factor of two in current and a third in volts, the point lies inside both
// explanations widened by the rule and by how well the graph can be read (the
// file says 0.1 mA).
func TestCarryHoldsPublishedCurves(t *testing.T) {
	const graph = 0.0001 / 2
	all, held := 0, 0
	points := curvePoints(t)
	for _, a := range points {
		l, ok := tube.Fitted(a.typ)
		if !ok || a.amps == 0 {
			continue
		}
		both := a.explainedBy(&l)
		for _, b := range points {
			if a == b || a.typ != b.typ || change(a.amps, b.amps) > 0.7 || change(a.plate, b.plate) > 0.35 {
				continue
			}
			x, y := b.by(&l, both[0]), b.by(&l, both[1])
			w := math.Hypot(carryPower, math.Hypot(carryCurrent*change(a.amps, b.amps), carryChange*change(a.plate, b.plate)))
			w += graph/a.amps + graph/b.amps
			if all++; b.amps >= min(x, y)*(1-w) && b.amps <= max(x, y)*(1+w) {
				held++
			} else {
				t.Logf("%v to %v: %.3g or %.3g, widened by %.3f", a, b, x, y, w)
			}
		}
	}
	t.Logf("%d of %d held", held, all)
	if all < 25 || float64(held) < 0.98*float64(all) {
		t.Errorf("%d of %d held, want 98 of 100 of 25 at least", held, all)
	}
}
