package job_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lugworth/catalogs"
	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/intake"
	"lugworth/core/job"
	"lugworth/core/limit"
	"lugworth/core/rating"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// ampJob is a job of one of the invented whole amps, its output tubes read as
// its own circuit gives them.
func ampJob(t *testing.T, path string) (*job.Job, *job.Books) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	ps, problems := amp.ReadSheet(path, data)
	if len(problems) > 0 {
		t.Fatal(problems[0])
	}
	cards, _ := tube.ReadCards("cards.csv", catalogs.Cards)
	b := job.OpenBooks(cards, []job.File{{Name: "shop.csv", Data: []byte("key,value,source\ncurrency,USD,test\nmeter_percent,1,test\nreserve,5,test\n")}})
	laws := func(typ string) (tube.Law, string, bool) {
		c, ok := b.Cards.Find(typ)
		return tube.LawOf(c, ok, typ)
	}
	n, err := circuit.Compile(ps, laws)
	if err != nil {
		t.Fatal(err)
	}
	mains := 0.0
	for i := range ps {
		if ps[i].Kind == "mains" {
			mains = ps[i].Spec.Value()
		}
	}
	s, err := n.Solve(n.Sheet(), circuit.State{Mains: mains}, nil)
	if err != nil {
		t.Fatal(err)
	}
	j := &job.Job{Number: filepath.Base(path)}
	v := unit.Voltage(mains)
	j.Mains = intake.Mains{Measured: v, Low: v * 0.95, High: v * 1.06, Marked: v}
	j.Amp.Bias, j.Amp.Label = "fixed, of its own", "test"
	j.Add(ps, chartOf(n, s, ps, v))
	return j, b
}

// chartOf reads the plates, cathodes and currents of the output tubes.
func chartOf(n *circuit.Net, s *circuit.Solution, ps []amp.Position, mains unit.Voltage) []amp.Reading {
	var out []amp.Reading
	add := func(at, quantity string, v float64, u unit.Unit) {
		out = append(out, amp.Reading{ID: fmt.Sprint("r", len(out)), At: at, Quantity: quantity, Amount: v, Unit: u, Mains: mains, State: []string{amp.Powered}, Meter: 0.01, Stated: true})
	}
	for i := range ps {
		p := &ps[i]
		x, ok := s.Tube(p.Ref)
		if p.Role != amp.OutputTube || !ok {
			continue
		}
		add(p.Ref+":plate", amp.Volts, x.Cathode+x.Plate, unit.Volt)
		add(p.Ref+":cathode", amp.Current, x.Total, unit.Ampere)
		add(p.Ref+":screen", amp.Current, x.ScreenAmps, unit.Ampere)
	}
	return out
}

// Whole amps of every kind of bias and supply go through the chain: the
// circuit decides, or says why; tubes, droppers and capacitors get figures;
// losing the bias is told of where there is one to lose.
func TestWholeAmpsThroughTheChain(t *testing.T) {
	paths, err := filepath.Glob("../../testdata/amps/*.csv")
	if err != nil || len(paths) < 8 {
		t.Fatalf("%d whole amps: %v", len(paths), err)
	}
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			j, b := ampJob(t, path)
			r := job.Derive(j, b, "")
			if !r.Circuit.Decides {
				t.Fatal(r.Circuit.Missing)
			}
			count := map[limit.Quantity]int{}
			for _, row := range r.Found {
				if row.Tier == 1 && row.HasFigure {
					count[row.Quantity]++
				}
				if row.Limit.Mark == limit.Memory && row.Kind == rating.Within {
					t.Errorf("%s %s: within by a limit from memory", row.Subject, row.Quantity)
				}
			}
			for _, q := range []limit.Quantity{limit.PlateWatts, limit.PlateVolts, limit.DCVolts, limit.Watts} {
				if count[q] == 0 {
					t.Errorf("no %s by the circuit", q)
				}
			}
			said := fmt.Sprint(r.Failures())
			for i := range j.Amp.Positions {
				if p := &j.Amp.Positions[i]; p.Role == amp.BiasCapacitor && !strings.Contains(said, p.Ref+" shorted: the bias is lost") {
					t.Errorf("%s: nothing is said of losing the bias", p.Ref)
				}
			}
		})
	}
}
