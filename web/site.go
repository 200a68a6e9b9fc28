// Package web is what is served: it builds the page, puts its files together
// and hands them out.
package web

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Policy is what the page may load and run: its own files and nothing else.
const Policy = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; img-src 'self' blob: data:; object-src 'none'; base-uri 'none'"

//go:embed static
var static embed.FS

// Site is one whole version of the page.
type Site struct {
	Version string // names the content of all files together
	Files   []File // sorted by name
}

// File is one file of the page.
type File struct {
	Name string
	Body []byte
}

// NewSite puts the static files, the icons and the built program together.
// The same input gives the same bytes.
func NewSite(p Program) (*Site, error) {
	files, err := staticFiles()
	if err != nil {
		return nil, err
	}
	for _, size := range []int{192, 512} {
		body, err := iconPNG(size)
		if err != nil {
			return nil, fmt.Errorf("draw the icon: %w", err)
		}
		files = append(files, File{fmt.Sprintf("icon-%d.png", size), body})
	}
	files = append(files, File{"icon.svg", iconSVG()}, File{"app.wasm", p.Wasm}, File{"wasm_exec.js", p.Exec})
	slices.SortFunc(files, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	s := &Site{Version: version(files), Files: files}
	return s, s.fill()
}

func staticFiles() ([]File, error) {
	entries, err := static.ReadDir("static")
	if err != nil {
		return nil, fmt.Errorf("static files: %w", err)
	}
	var files []File
	for _, e := range entries {
		body, err := static.ReadFile("static/" + e.Name())
		if err != nil {
			return nil, fmt.Errorf("static files: %w", err)
		}
		files = append(files, File{e.Name(), body})
	}
	return files, nil
}

func version(files []File) string {
	sum := sha256.New()
	for _, f := range files {
		fmt.Fprintf(sum, "%s %d\n", f.Name, len(f.Body))
		sum.Write(f.Body)
	}
	return hex.EncodeToString(sum.Sum(nil))[:16]
}

// fill writes version, policy and file list into the files that name them.
func (s *Site) fill() error {
	names := []string{"./"}
	for _, f := range s.Files {
		if f.Name != "index.html" && f.Name != "sw.js" {
			names = append(names, f.Name)
		}
	}
	list, err := json.Marshal(names)
	if err != nil {
		return fmt.Errorf("file list: %w", err)
	}
	words := strings.NewReplacer("{{version}}", s.Version, "{{policy}}", Policy, "{{files}}", string(list))
	for i, f := range s.Files {
		if f.Name == "index.html" || f.Name == "sw.js" {
			s.Files[i].Body = []byte(words.Replace(string(f.Body)))
		}
	}
	return nil
}

// Find is the body of a file, nil if there is none of that name.
func (s *Site) Find(name string) []byte {
	for _, f := range s.Files {
		if f.Name == name {
			return f.Body
		}
	}
	return nil
}

// Write puts the site into a folder, for any https host. _headers is read by
// hosts that know such a file; the page states the policy itself as well.
func (s *Site) Write(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("write the site: %w", err)
	}
	var headers strings.Builder
	headers.WriteString("/*\n")
	for _, h := range headerLines() {
		headers.WriteString("  " + h.name + ": " + h.value + "\n")
	}
	files := append(slices.Clone(s.Files), File{"_headers", []byte(headers.String())})
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(dir, f.Name), f.Body, 0o644); err != nil {
			return fmt.Errorf("write the site: %w", err)
		}
	}
	return nil
}
