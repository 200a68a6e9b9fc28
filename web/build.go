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
	out := filepath.Join(dir, "app.wasm")
	cmd := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-o", out, pkg)
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=", "GOTOOLCHAIN=local")
	if said, err := cmd.CombinedOutput(); err != nil {
		return Program{}, fmt.Errorf("build the page: %w\n%s", err, bytes.TrimSpace(said))
	}
	var p Program
	if p.Wasm, err = os.ReadFile(out); err != nil {
		return Program{}, fmt.Errorf("build the page: %w", err)
	}
	p.Exec, err = loader()
	return p, err
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
