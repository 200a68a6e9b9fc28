//go:build !js

package labor

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// The forward and backward pass against a linear program, solved by GLPK, a
// general-purpose solver of Debian: all networks in one program, each with
// its own unknowns.
//
//	min C, then earliest starts e least, latest starts l greatest
func TestPassOracle(t *testing.T) {
	r := rand.New(rand.NewPCG(100, 1))
	var rows, cost strings.Builder
	var passes []Pass
	for k := range 100 {
		n, took := randomJob(r, 6+r.IntN(20))
		passes = append(passes, n.Pass(took))
		fmt.Fprintf(&cost, " + %d c%d\n", 3*len(took), k)
		for i, s := range n.Steps {
			fmt.Fprintf(&cost, " + e%d_%d - l%d_%d\n", k, i, k, i)
			fmt.Fprintf(&rows, " c%d - e%d_%d >= %d\n c%d - l%d_%d >= %d\n", k, k, i, took[i], k, k, i, took[i])
			for _, a := range s.After {
				fmt.Fprintf(&rows, " e%d_%d - e%d_%d >= %d\n l%d_%d - l%d_%d >= %d\n", k, i, k, a, took[a], k, i, k, a, took[a])
			}
		}
	}
	got := glpk(t, "Minimize\n cost:"+cost.String()+"Subject To\n"+rows.String()+"End\n")
	for k, p := range passes {
		if c := got[fmt.Sprint("c", k)]; c != p.Length {
			t.Errorf("network %d: length %d, the program gives %d", k, p.Length, c)
		}
		for i := range p.Early {
			if e, l := got[fmt.Sprintf("e%d_%d", k, i)], got[fmt.Sprintf("l%d_%d", k, i)]; e != p.Early[i] || l != p.Late[i] {
				t.Errorf("network %d, step %d: starts %d to %d, the program gives %d to %d", k, i, p.Early[i], p.Late[i], e, l)
			}
		}
	}
}

// The branch and bound the rule is held against, itself against a
// mixed-integer program: of two bench steps one goes first.
func TestOneBenchOracle(t *testing.T) {
	const count = 60
	r := rand.New(rand.NewPCG(60, 1))
	best := 0
	for k := range count {
		n, took := randomJob(r, 7+r.IntN(5))
		want := glpk(t, oneBench(n, took))["c"]
		if got, proven := shortest(n, took); got != want || !proven {
			t.Errorf("job %d: branch and bound gives %d (%v), the program %d", k, got, proven, want)
		}
		if makespan(n, took) == want {
			best++
		}
	}
	t.Logf("figure longest tail against the program: best in %d of %d", best, count)
}

func oneBench(n *Network, took []int) string {
	var rows, binary strings.Builder
	all := 0
	for _, d := range took {
		all += d
	}
	for i, s := range n.Steps {
		fmt.Fprintf(&rows, " c - s%d >= %d\n", i, took[i])
		for _, a := range s.After {
			fmt.Fprintf(&rows, " s%d - s%d >= %d\n", i, a, took[a])
		}
		for k := range i {
			if s.Bench && n.Steps[k].Bench {
				fmt.Fprintf(&rows, " s%d - s%d + %d y%d_%d >= %d\n s%d - s%d - %d y%d_%d >= %d\n", i, k, all, k, i, took[k], k, i, all, k, i, took[i]-all)
				fmt.Fprintf(&binary, " y%d_%d\n", k, i)
			}
		}
	}
	if binary.Len() > 0 {
		return "Minimize\n cost: c\nSubject To\n" + rows.String() + "Binary\n" + binary.String() + "End\n"
	}
	return "Minimize\n cost: c\nSubject To\n" + rows.String() + "End\n"
}

// glpk solves a program and returns its unknowns, all of them whole.
func glpk(t *testing.T, program string) map[string]int {
	t.Helper()
	if _, err := exec.LookPath("glpsol"); err != nil {
		t.Fatal("glpsol is not installed; make deps installs it")
	}
	dir := t.TempDir()
	in, out := filepath.Join(dir, "p.lp"), filepath.Join(dir, "p.txt")
	if err := os.WriteFile(in, []byte(program), 0o666); err != nil {
		t.Fatal(err)
	}
	if say, err := exec.Command("glpsol", "--lp", in, "-o", out, "--tmlim", "120").CombinedOutput(); err != nil {
		t.Fatalf("glpsol: %v\n%s", err, say)
	}
	data, err := os.ReadFile(out)
	if err != nil || !strings.Contains(string(data), "OPTIMAL") {
		t.Fatalf("glpsol gives no optimum: %v\n%.400s", err, data)
	}
	values := map[string]int{}
	_, columns, _ := strings.Cut(string(data), "Column name")
	for _, line := range strings.Split(columns, "\n") {
		f := strings.Fields(line)
		for i := 2; i < len(f); i++ { // number, name, perhaps a state, activity
			if v, err := strconv.ParseFloat(f[i], 64); err == nil {
				values[f[1]] = int(v + 0.5)
				break
			}
		}
	}
	return values
}
