package circuit

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/tube"
)

// fittedLaws are the laws as shipped.
func fittedLaws(typ string) (tube.Law, string, bool) { return tube.LawOf(tube.Card{}, false, typ) }

// A benchAmp is one of the invented amps with its circuit.
type benchAmp struct {
	name  string
	sheet []amp.Position
	net   *Net
}

// benchAmps are the invented amps, in the order of their names.
func benchAmps(t testing.TB) []benchAmp {
	t.Helper()
	files, err := filepath.Glob("../../testdata/amps/*.csv")
	if err != nil || len(files) < 8 {
		t.Fatalf("%d amps, want 8 at least (%v)", len(files), err)
	}
	var out []benchAmp
	for _, f := range files {
		out = append(out, loadAmp(t, f))
	}
	return out
}

func loadAmp(t testing.TB, file string) benchAmp {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	sheet, problems := amp.ReadSheet(filepath.Base(file), data)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	net, err := Compile(sheet, fittedLaws)
	if err != nil {
		t.Fatal(file, err)
	}
	return benchAmp{strings.TrimSuffix(filepath.Base(file), ".csv"), sheet, net}
}

// longRun reports the long run.
func longRun() bool { return strings.Contains(os.Getenv("LUGWORTH_LONG"), "oracle") }

// often is how many of a trial a run takes: few of each under Node, which is
// three times slower, all in the long run.
func often(node, usual, long int) int {
	switch {
	case longRun():
		return long
	case runtime.GOOS == "js":
		return node
	}
	return usual
}
