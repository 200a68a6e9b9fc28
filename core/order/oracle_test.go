//go:build !js

package order

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

// The second opinions are general-purpose solvers of mixed-integer programs:
// GLPK from Debian and HiGHS from npm. The program is written from the words
// of the market, with none of the search's own reductions.

// tally counts what a solver says of the same orders.
type tally struct {
	markets, feasible, late int
	limits                  map[string]int
	ours, theirs            time.Duration
}

// add solves a market both ways and holds the answers against each other.
func (y *tally) add(t *testing.T, name string, m Market, lim Limits, solver func(string) (int64, string)) {
	t.Helper()
	start := time.Now()
	a := solve(t, m, lim)
	y.ours += time.Since(start)
	start = time.Now()
	want, state := solver(program(m, lim))
	y.theirs += time.Since(start)
	y.markets++
	switch {
	case state == "late":
		y.late++
		return
	case !a.Proven:
		t.Errorf("%s: not proven: %d to %d", name, a.Lower, a.Cost)
	case a.Feasible != (state == "optimal"):
		t.Errorf("%s: feasible %v (%s); the solver says %s", name, a.Feasible, a.Why, state)
	case a.Feasible && a.Cost != want:
		t.Errorf("%s: %d, the solver gives %d", name, a.Cost, want)
	}
	if !a.Feasible {
		return
	}
	y.feasible++
	if got, ok := repriced(m, lim, a); !ok || got != a.Cost {
		t.Errorf("%s: the plan itself costs %d, %v; want %d", name, got, ok, a.Cost)
	}
	for limit, is := range map[string]bool{"parcels": lim.Parcels > 0, "arrival": lim.HasDays, "originality": lim.Score > 0} {
		if is {
			y.limits[limit]++
		}
	}
}

// check tells the figures, and that there were enough cases of every kind.
func (y *tally) check(t *testing.T, solver string, least int) {
	t.Helper()
	fmt.Printf("figure | orders equal to %s | %d of %d | target all | with limits on parcels %d, arrival %d, originality %d; not finished by it %d; ours %v, its %v with its start\n",
		solver, y.markets-y.late, y.markets, y.limits["parcels"], y.limits["arrival"], y.limits["originality"], y.late,
		y.ours.Round(time.Millisecond), y.theirs.Round(time.Millisecond))
	for _, limit := range []string{"parcels", "arrival", "originality"} {
		if y.limits[limit] < least {
			t.Errorf("%d orders with a limit on %s, want %d", y.limits[limit], limit, least)
		}
	}
	if y.feasible < y.markets/2 || y.late > y.markets/20 {
		t.Errorf("%d of %d had an order, %d not finished: too few to mean anything", y.feasible, y.markets, y.late)
	}
}

func long() bool { return os.Getenv("LUGWORTH_LONG") == "oracle" }

func TestCheapestOrderOracle(t *testing.T) {
	count := 110
	if long() {
		count = 600
	}
	r := rand.New(rand.NewPCG(3, 5))
	y := tally{limits: map[string]int{}}
	for n := range count {
		m, lim := random(r, 4+r.IntN(7), 2+r.IntN(4), 3+r.IntN(5))
		y.add(t, fmt.Sprint("market ", n), m, lim, byGLPK(t))
	}
	y.check(t, "GLPK", count/20)
}

// Orders of shop size, against the stronger solver.
func TestLargeOrderOracle(t *testing.T) {
	if !long() {
		m := adversary{needs: 12, sellers: 4, perNeed: 8, cluster: 2, factors: true}.market(1)
		y := tally{limits: map[string]int{}}
		y.add(t, "one", m, Limits{Parcels: 3}, byHiGHS(t))
		return
	}
	y := tally{limits: map[string]int{}}
	for n := range 36 {
		m := adversary{needs: 24 + n%7, sellers: 6, perNeed: 12 + n%3, cluster: 1 + n%3, rising: n%2 == 0, factors: n%4 > 1}.market(uint64(n))
		y.add(t, fmt.Sprint("market ", n), m, limited(m, n), byHiGHS(t))
	}
	y.check(t, "HiGHS, 24 to 30 needs at 6 suppliers", 4)
}

var objective = regexp.MustCompile(`Objective:\s+cost = ([-0-9.e+]+)`)

// byGLPK solves a program with glpsol.
func byGLPK(t testing.TB) func(string) (int64, string) {
	t.Helper()
	if _, err := exec.LookPath("glpsol"); err != nil {
		t.Fatal("glpsol is not installed; make deps installs it")
	}
	dir := t.TempDir()
	in, out := filepath.Join(dir, "m.lp"), filepath.Join(dir, "m.sol")
	return func(program string) (int64, string) {
		if err := os.WriteFile(in, []byte(program), 0o666); err != nil {
			t.Fatal(err)
		}
		said, err := exec.Command("glpsol", "--lp", in, "--cuts", "--tmlim", "20", "-o", out).CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %s", err, said)
		}
		data, err := os.ReadFile(out)
		if err != nil {
			t.Fatalf("%v: %s", err, said)
		}
		text := string(data)
		switch {
		case strings.Contains(text, "Status:     INTEGER OPTIMAL"):
		case strings.Contains(text, "INTEGER EMPTY") || strings.Contains(text, "INTEGER UNDEFINED") && !strings.Contains(string(said), "TIME LIMIT"):
			return 0, "empty"
		default:
			return 0, "late"
		}
		got := objective.FindStringSubmatch(text)
		if got == nil {
			t.Fatalf("no objective in %s", text)
		}
		v, err := strconv.ParseFloat(got[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		return int64(math.Round(v)), "optimal"
	}
}

// runHiGHS reads a program and writes what becomes of it. Costs are whole
// numbers: a gap of less than one is none.
const runHiGHS = `require(process.argv[1])().then(h => {
	const options = {output_flag: false, mip_rel_gap: 0, mip_abs_gap: 0.4, time_limit: 600};
	const r = h.solve(require("fs").readFileSync(0, "utf8"), options);
	console.log(JSON.stringify({Status: r.Status, Cost: r.ObjectiveValue}));
})`

// byHiGHS solves a program under Node.
func byHiGHS(t testing.TB) func(string) (int64, string) {
	t.Helper()
	at, err := filepath.Abs("../../web/node_modules/highs/build/highs.js")
	if err == nil {
		_, err = os.Stat(at)
	}
	if err != nil {
		t.Fatalf("%v; make deps installs it", err)
	}
	return func(program string) (int64, string) {
		cmd := exec.Command("node", "-e", runHiGHS, at)
		cmd.Stdin = strings.NewReader(program)
		said, err := cmd.Output()
		if err != nil {
			t.Fatalf("%v: %s", err, said)
		}
		var got struct {
			Status string
			Cost   float64
		}
		if err := json.Unmarshal(said, &got); err != nil {
			t.Fatalf("%v: %s", err, said)
		}
		switch got.Status {
		case "Optimal":
			return int64(math.Round(got.Cost)), "optimal"
		case "Infeasible":
			return 0, "empty"
		}
		return 0, "late"
	}
}
