//go:build !js

package order

import (
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

// The second opinion: GLPK, a general-purpose solver of mixed-integer
// programs from Debian. The program is written from the words of the market,
// with none of the search's own reductions.
func TestCheapestOrderOracle(t *testing.T) {
	count := 100
	if os.Getenv("LUGWORTH_LONG") == "oracle" {
		count = 500
	}
	if _, err := exec.LookPath("glpsol"); err != nil {
		t.Fatal("glpsol is not installed; make deps installs it")
	}
	r := rand.New(rand.NewPCG(3, 5))
	var ours, theirs time.Duration
	feasible, skipped := 0, 0
	for n := range count {
		m, lim := random(r, 4+r.IntN(7), 2+r.IntN(4), 3+r.IntN(5))
		start := time.Now()
		a := solve(t, m, lim)
		ours += time.Since(start)
		start = time.Now()
		want, state := byGLPK(t, m, lim)
		theirs += time.Since(start)
		switch {
		case state == "late":
			skipped++
			continue
		case !a.Proven:
			t.Errorf("market %d: not proven: %d to %d", n, a.Lower, a.Cost)
		case a.Feasible != (state == "optimal"):
			t.Errorf("market %d: feasible %v (%s); the solver says %s", n, a.Feasible, a.Why, state)
		case a.Feasible && a.Cost != want:
			t.Errorf("market %d: %d, the solver gives %d", n, a.Cost, want)
		}
		if a.Feasible {
			feasible++
		}
	}
	t.Logf("figure cheapest order: %d markets, %d with an order, %d the solver did not finish; ours %v, GLPK %v with its start, ratio %.0f",
		count, feasible, skipped, ours.Round(time.Millisecond), theirs.Round(time.Millisecond), float64(theirs)/float64(ours))
	if feasible < count/2 || skipped > count/20 {
		t.Errorf("%d of %d had an order, %d not finished: too few to mean anything", feasible, count, skipped)
	}
}

var objective = regexp.MustCompile(`Objective:\s+cost = ([-0-9.e+]+)`)

// byGLPK solves the program of a market.
func byGLPK(t *testing.T, m Market, lim Limits) (int64, string) {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "m.lp"), filepath.Join(dir, "m.sol")
	if err := os.WriteFile(in, []byte(program(m, lim)), 0o666); err != nil {
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

// program writes a market as a mixed-integer program in LP form. x takes an
// offer for a need, y counts packs at a price row, z says which row, u which
// row of carriage a seller is at, v the goods paid for there.
func program(m Market, lim Limits) string {
	places := 0
	for _, s := range m.Sellers {
		places = max(places, s.Factor.Places)
	}
	var obj, con, bin, gen strings.Builder
	row := 0
	add := func(format string, args ...any) {
		row++
		fmt.Fprintf(&con, " r%d: "+format+"\n", append([]any{row}, args...)...)
	}
	goods := make([]string, len(m.Sellers))
	asked := make([]string, len(m.Packs))
	most := make([]int, len(m.Packs))
	for i, w := range m.Wants {
		seen := map[int]bool{}
		sum := ""
		for k, f := range w.Fits {
			if lim.HasDays && m.Packs[f.Pack].Days > lim.Days {
				continue
			}
			x := fmt.Sprintf("x%d_%d", i, k)
			fmt.Fprintf(&bin, " %s\n", x)
			sum += " + " + x
			asked[f.Pack] += fmt.Sprintf(" - %d %s", w.Pieces, x)
			if !seen[f.Pack] {
				most[f.Pack] += w.Pieces
				seen[f.Pack] = true
			}
		}
		if sum == "" {
			sum = " 0 nothing"
		}
		add("%s = 1", sum)
	}
	for j, p := range m.Packs {
		if asked[j] == "" {
			continue
		}
		pieces, rows := "", ""
		for k, b := range p.Prices {
			y, z := fmt.Sprintf("y%d_%d", j, k), fmt.Sprintf("z%d_%d", j, k)
			fmt.Fprintf(&gen, " %s\n", y)
			fmt.Fprintf(&bin, " %s\n", z)
			high := most[j] + p.Least + b.From
			if k+1 < len(p.Prices) {
				high = p.Prices[k+1].From - 1
			}
			if p.Stock >= 0 {
				high = min(high, p.Stock)
			}
			add("%s - %d %s >= 0", y, max(b.From, p.Least), z)
			add("%s - %d %s <= 0", y, high, z)
			pieces += fmt.Sprintf(" + %d %s", p.Pieces, y)
			rows += " + " + z
			goods[p.Seller] += fmt.Sprintf(" - %d %s", b.Price, y)
		}
		add("%s%s >= 0", pieces, asked[j])
		add("%s <= 1", rows)
	}
	parcels := ""
	for s, x := range m.Sellers {
		if goods[s] == "" {
			continue
		}
		f := int64(1)
		if x.Factor != (Factor{}) {
			f = x.Factor.Digits
		}
		for i := x.Factor.Places; i < places; i++ {
			f *= 10
		}
		rows := x.Carriage
		if len(rows) == 0 {
			rows = []Fee{{0, 0}}
		}
		paid, open := "", ""
		for k, c := range rows {
			u, v := fmt.Sprintf("u%d_%d", s, k), fmt.Sprintf("v%d_%d", s, k)
			fmt.Fprintf(&bin, " %s\n", u)
			fmt.Fprintf(&obj, " + %d %s + %d %s", f, v, f*c.Fee, u)
			high := int64(500_000)
			if k+1 < len(rows) {
				high = rows[k+1].From - 1
			}
			add("%s - %d %s >= 0", v, max(c.From, x.MinGoods), u)
			add("%s - %d %s <= 0", v, high, u)
			paid += " + " + v
			open += " + " + u
		}
		add("%s%s >= 0", paid, goods[s])
		add("%s <= 1", open)
		parcels += open
	}
	if lim.Parcels > 0 {
		add("%s <= %d", parcels, lim.Parcels)
	}
	if lim.Score > 0 {
		sum := ""
		for i, w := range m.Wants {
			for k, f := range w.Fits {
				if f.Score > 0 && !(lim.HasDays && m.Packs[f.Pack].Days > lim.Days) {
					sum += fmt.Sprintf(" + %d x%d_%d", f.Score, i, k)
				}
			}
		}
		if sum == "" {
			sum = " 0 nothing"
		}
		add("%s >= %d", sum, lim.Score)
	}
	return "Minimize\n cost:" + obj.String() + " + 0 nothing\nSubject To\n" + con.String() + "Binary\n" + bin.String() + "General\n" + gen.String() + "End\n"
}
