//go:build !js

package circuit_test

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// simulator is the general-purpose circuit simulator that the circuit is held
// against; `make deps` installs it.
const simulator = "ngspice"

// simulate runs a deck with the given control lines and returns what it
// printed. A simulator that is not there, or stops, fails the test.
func simulate(t testing.TB, text, control string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "deck.cir")
	text += ".control\nset numdgt=12\n" + control + "quit\n.endc\n.end\n"
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return execute(t, file)
}

// execute runs a file and returns what was printed; the other stream holds
// its progress, which would run into the numbers.
func execute(t testing.TB, file string) string {
	t.Helper()
	var out, progress bytes.Buffer
	cmd := exec.Command(simulator, "-b", file)
	cmd.Dir, cmd.Stdout, cmd.Stderr = filepath.Dir(file), &out, &progress
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s: %v (make deps installs it)\n%s%s", simulator, err, tail(out.String(), 30), tail(progress.String(), 30))
	}
	if said := progress.String(); strings.Contains(said, "aborted") || strings.Contains(said, "too small") {
		t.Fatalf("%s gave up:\n%s", simulator, tail(said, 30))
	}
	return out.String()
}

func tail(text string, n int) string {
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	return strings.Join(lines[max(0, len(lines)-n):], "\n")
}

// printed matches "n3 = 1.64e-01" and the first number of a measurement.
var printed = regexp.MustCompile(`(?m)^\s*([a-z][a-z0-9_#()]*)\s*=\s*([-+]?[0-9.]+(?:e[-+]?[0-9]+)?)\b`)

// values reads the numbers a run printed, by the simulator's names.
func values(text string) map[string]float64 {
	out := map[string]float64{}
	for _, m := range printed.FindAllStringSubmatch(text, -1) {
		if v, err := strconv.ParseFloat(m[2], 64); err == nil {
			out[m[1]] = v
		}
	}
	return out
}

// opVolts runs an op deck and returns its node volts by the drawing's names.
func opVolts(t testing.TB, k *deck) map[string]float64 {
	t.Helper()
	text := simulate(t, k.String(), "op\nprint all\n")
	got := values(text)
	out := map[string]float64{}
	for node, name := range k.name {
		if v, ok := got[name]; ok {
			out[node] = v
		}
	}
	if strings.Contains(text, "aborted") || strings.Contains(text, "Error") || len(out) == 0 {
		t.Fatalf("%s: the simulator found no operating point:\n%s", k.d.name, tail(text, 30))
	}
	return out
}

// version is what the simulator calls itself.
func version(t testing.TB) string {
	t.Helper()
	out, err := exec.Command(simulator, "--version").Output()
	if err != nil {
		t.Fatalf("%s: %v (make deps installs it)", simulator, err)
	}
	return regexp.MustCompile(simulator + `-[0-9.]+`).FindString(string(out))
}

// hash is the fingerprint of a deck's text.
func hash(text string) string { return fmt.Sprintf("%x", sha256.Sum256([]byte(text))) }
