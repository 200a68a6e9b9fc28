package web

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// Page is the package of the page's program.
const Page = "lugworth/wasm"

// Program is the page's program as built.
type Program struct {
	Wasm []byte
	Exec []byte // the toolchain's own loader; it must fit the compiler
}

// Build compiles a package for the browser. It must run inside the module.
// The output depends on the sources alone, not on the folder.
func Build(pkg string) (Program, error) {
	dir, err := os.MkdirTemp("", "lugworth")
	if err != nil {
		return Program{}, fmt.Errorf("build the page: %w", err)
	}
	defer os.RemoveAll(dir)
	plain, err := compile(pkg, dir)
	if err != nil {
		return Program{}, err
	}
	p := Program{Wasm: gather(plain)}
	p.Exec, err = loader()
	return p, err
}

// compile returns the program as the toolchain writes it.
func compile(pkg, dir string) ([]byte, error) {
	out := filepath.Join(dir, "app.wasm")
	args := append([]string{"build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w"}, inlining()...)
	cmd := exec.Command("go", append(args, "-o", out, pkg)...)
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=", "GOTOOLCHAIN=local")
	if said, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("build the page: %w\n%s", err, bytes.TrimSpace(said))
	}
	plain, err := os.ReadFile(out)
	if err != nil {
		return nil, fmt.Errorf("build the page: %w", err)
	}
	return plain, nil
}

// inlined are the packages whose small functions the compiler copies to where
// they are called: where the page spends its time. Everywhere would make the
// program a twelfth larger to load; nowhere would double the time a job takes
// to be worked out.
var inlined = []string{
	"runtime", "internal/runtime/...", "internal/bytealg", "math", "math/bits", "strings", "unicode/utf8",
	"lugworth/core/catalog", "lugworth/core/money", "lugworth/core/unit", "lugworth/wasm/keyed",
}

// inlining is the compiler's flags for that. Of several that fit a package
// the last one holds.
func inlining() []string {
	flags := []string{"-gcflags=all=-l"}
	for _, pkg := range inlined {
		flags = append(flags, "-gcflags="+pkg+"=")
	}
	return flags
}

func loader() ([]byte, error) {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, fmt.Errorf("find the Go installation: %w", err)
	}
	body, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"))
	if errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("this Go installation has no lib/wasm/wasm_exec.js, which the page needs: %w", err)
	}
	return body, err
}
