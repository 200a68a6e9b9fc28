//go:build !js

package report_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"lugworth/core/decision"
	"lugworth/core/money"
	"lugworth/core/report"
)

// node runs the page's script without a page, then more of it, and reads what
// that prints.
func node(t *testing.T, more string, into any) {
	t.Helper()
	cmd := exec.Command("node", "-")
	cmd.Stdin = strings.NewReader(report.OwnerScript + "\n;" + more)
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if err := json.Unmarshal(out, into); err != nil {
		t.Fatalf("%v\n%.500s", err, out)
	}
}

// The script in the owner's page writes the same codes as the program.
func TestTheScriptWritesTheSameCodes(t *testing.T) {
	type slip struct {
		Seal         [3]int
		Sizes, Ticks []int
		code         string
	}
	rnd := rand.New(rand.NewPCG(3, 19))
	var all []slip
	for i := range 400 {
		s := decision.Slip{Estimate: fmt.Sprint("estimate ", i)}
		var ticks []int
		for range 1 + rnd.IntN(30) {
			size := 2 + rnd.IntN(7)
			if rnd.IntN(10) == 0 {
				size = 1 + rnd.IntN(decision.TicksMost)
			}
			s.Sizes, ticks = append(s.Sizes, size), append(ticks, rnd.IntN(size))
		}
		code, err := s.Encode(ticks)
		if err != nil {
			t.Fatal(err)
		}
		seal := s.Seal()
		all = append(all, slip{[3]int{seal.Mark, seal.Factor, seal.Start}, s.Sizes, ticks, code})
	}
	cases, _ := json.Marshal(all)
	var got []string
	node(t, fmt.Sprintf(`console.log(JSON.stringify(%s.map(c => codeOf(c.Seal, c.Sizes, c.Ticks))))`, cases), &got)
	for i, s := range all {
		if got[i] != s.code {
			t.Errorf("%v of %v: the script writes %s, the program %s", s.Ticks, s.Sizes, got[i], s.code)
		}
	}
}

// Amounts are written as the program writes them.
func TestTheScriptWritesTheSameAmounts(t *testing.T) {
	amounts := []money.Amount{0, 1, 9, 10, 99, 100, 12345, -5, -100, 1_000_000_007}
	words := make([]string, 0, 3*len(amounts))
	var calls []string
	for _, decimals := range []int{0, 2, 3} {
		for _, a := range amounts {
			words = append(words, money.Currency{Code: "XXX", Exponent: decimals}.Format(a))
			calls = append(calls, fmt.Sprintf("money(%d, %d)", a, decimals))
		}
	}
	var got []string
	node(t, "console.log(JSON.stringify(["+strings.Join(calls, ",")+"]))", &got)
	for i, w := range words {
		if got[i] != w {
			t.Errorf("%s is %s, want %s", calls[i], got[i], w)
		}
	}
}

// Totals by hand: two questions of 3 and 2 choices; the first runs fastest.
// "rs" is 27·36 + 28 = 1000.
func TestTheScriptFindsTotals(t *testing.T) {
	var got []any
	node(t, `const all = totals("a b c d - rs", "", [3, 2]), some = totals("", "0.1:rs 2.0:-", [3, 2]);
console.log(JSON.stringify([all([0, 0]), all([2, 0]), all([0, 1]), all([1, 1]), all([2, 1]), some([0, 1]), some([2, 0]), some([1, 1]) === undefined, spell("CF-49")]))`, &got)
	want := []any{10., 12., 13., nil, 1000., 1000., nil, true, "Charlie Foxtrot, four nine"}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("%d: %v, want %v", i, got[i], want[i])
		}
	}
}
