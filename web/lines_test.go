package web

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// A program without its lines still panics, recovers, collects and names its
// functions: run under Node, beside itself with them.
func TestWithoutLinesRuns(t *testing.T) {
	dir := t.TempDir()
	source := filepath.Join(dir, "main.go")
	text := `package main

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"strings"
)

type tree struct{ left, right *tree }

func grow(n int) *tree {
	if n == 0 {
		return &tree{}
	}
	return &tree{grow(n - 1), grow(n - 1)}
}

func (t *tree) count() int {
	if t == nil {
		return 0
	}
	return 1 + t.left.count() + t.right.count()
}

//go:noinline
func fails(xs []int) int { return xs[3] }

func deep(n int, xs []int) (said string) {
	if n > 0 {
		defer func() { said += "." }()
		return deep(n-1, xs)
	}
	defer func() {
		said = fmt.Sprint(recover()) + " " + fmt.Sprint(strings.Contains(string(debug.Stack()), "main.fails"))
	}()
	return fmt.Sprint(fails(xs))
}

func main() {
	sum := 0
	for i := range 40 {
		sum += grow(12).count()
		if i%10 == 0 {
			runtime.GC()
		}
	}
	done := make(chan int)
	for i := range 50 {
		go func() { done <- grow(i % 9).count() }()
	}
	for range 50 {
		sum += <-done
	}
	fmt.Println(sum, deep(30, []int{1}))
}
`
	if err := os.WriteFile(source, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	plain := filepath.Join(dir, "plain.wasm")
	cmd := exec.Command("go", "build", "-ldflags=-s -w", "-o", plain, source)
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=", "GOTOOLCHAIN=local")
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	program, err := os.ReadFile(plain)
	if err != nil {
		t.Fatal(err)
	}
	small := gather(program)
	if bytes.Equal(small, program) || bytes.Equal(memoryIn(t, small), bytes.TrimRight(memoryIn(t, program), "\x00")) {
		t.Fatal("nothing was taken out: the table has another form")
	}
	less := filepath.Join(dir, "less.wasm")
	if err := os.WriteFile(less, small, 0o644); err != nil {
		t.Fatal(err)
	}
	want, got := node(t, plain), node(t, less)
	if got != want || !strings.Contains(want, "index out of range [3] with length 1 true") {
		t.Errorf("says %q, with its lines %q", got, want)
	}
}

func memoryIn(t *testing.T, program []byte) []byte {
	for _, s := range sections(t, program) {
		if s.id == dataSection {
			m, err := memoryOf(s.body)
			if err != nil {
				t.Fatal(err)
			}
			return bytes.TrimRight(m, "\x00")
		}
	}
	t.Fatal("no memory")
	return nil
}

func node(t *testing.T, program string) string {
	t.Helper()
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "go_js_wasm_exec"), program)
	cmd.Env = []string{"PATH=" + os.Getenv("PATH"), "HOME=" + os.Getenv("HOME")}
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return strings.TrimSpace(string(out))
}

// Memory without such a table, or with one that does not hold together, stays
// as it is.
func TestWithoutLinesLeavesTheRest(t *testing.T) {
	start := string(tableStart)
	for _, m := range []string{"", "hello", start, start + strings.Repeat("\x00", 80), start + strings.Repeat("\xff", 80), start + strings.Repeat("\x01\x00\x00\x00\x00\x00\x00\x00", 9) + start} {
		if got := withoutLines([]byte(m)); string(got) != m {
			t.Errorf("%q became %q", m, got)
		}
	}
}
