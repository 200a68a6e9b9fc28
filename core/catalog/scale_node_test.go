//go:build !js

package catalog

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// BenchmarkUnderNode runs the benchmarks of long lists as the page would run
// them: as WebAssembly, under Node.
func BenchmarkUnderNode(b *testing.B) {
	program := filepath.Join(b.TempDir(), "catalog.wasm")
	build := exec.Command("go", "test", "-c", "-o", program, ".")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if say, err := build.CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, say)
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		b.Fatal(err)
	}
	run := exec.Command(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "go_js_wasm_exec"), program, "-test.run=^$", "-test.bench=Wide|Index", "-test.benchtime=10x")
	run.Env = []string{"PATH=" + os.Getenv("PATH"), "HOME=" + os.Getenv("HOME")} // the loader has room for little environment
	say, err := run.CombinedOutput()
	if err != nil {
		b.Fatalf("%v\n%s", err, say)
	}
	for b.Loop() { // measured in the other process
	}
	for line := range strings.Lines(string(say)) {
		if strings.HasPrefix(line, "figure") {
			os.Stdout.WriteString(line)
		}
	}
}
