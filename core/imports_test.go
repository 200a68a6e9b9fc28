package core_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "lugworth/"

// stages is the way facts flow: a stage imports only stages before it.
var stages = []string{
	"sorted",   // sorting; knows nothing of the trade
	"linear",   // equations; knows nothing of the trade
	"record",   // who wrote what and when; knows nothing of the trade
	"unit",     // quantities and what can be wrong with a cell
	"money",    // exact amounts
	"why",      // the reason behind a figure
	"limit",    // what a maker says a part may bear
	"formula",  // pencil formulas
	"tube",     // data cards: limits of a type
	"catalog",  // price lists
	"shop",     // the shop's policy; its tasks name parts of price lists
	"intake",   // the owner and the mains
	"amp",      // the amp as found
	"circuit",  // what its own circuit does
	"finding",  // what was seen; its piles are the shop's words
	"stress",   // what a place must bear
	"rating",   // limits against stresses
	"proof",    // certificates of verdicts, and their checker
	"plan",     // parts for places
	"labor",    // hours
	"order",    // baskets
	"quote",    // bills
	"decision", // choices
	"bench",    // what stands on the bench beside the figures
	"report",   // words for the owner
	"job",      // the whole chain
}

// bans lists what core does not import, and why.
var bans = map[string]string{
	"syscall/js":    "core runs on any machine",
	"os":            "files are handed in as bytes",
	"os/exec":       "core starts nothing",
	"io/ioutil":     "files are handed in as bytes",
	"net":           "core has no network",
	"net/http":      "core has no network",
	"log":           "a problem is a value, and shown",
	"text/template": "large in the page and found wrong only when run",
	"html/template": "large in the page and found wrong only when run",
	"math/rand":     "the same job gives the same result: a seeded generator of math/rand/v2 is fine",
}

// A source is one parsed file of the module.
type source struct {
	path string // from the root, with slashes
	file *ast.File
}

func (s source) test() bool { return strings.HasSuffix(s.path, "_test.go") }

func (s source) imports() []string {
	var out []string
	for _, i := range s.file.Imports {
		if p, err := strconv.Unquote(i.Path.Value); err == nil {
			out = append(out, p)
		}
	}
	return out
}

// sources parses every Go file below a folder of the module.
func sources(t *testing.T, dir string) []source {
	t.Helper()
	var out []source
	root := filepath.FromSlash("..")
	err := filepath.WalkDir(filepath.Join(root, dir), func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "node_modules" || d.Name() == "testdata" || d.Name() == ".git") {
			return fs.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(path, ".go") {
			return nil
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, data, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, path)
		out = append(out, source{filepath.ToSlash(rel), f})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestStagesImportOnlyEarlierOnes(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range sources(t, "core") {
		stage, _, inside := strings.Cut(strings.TrimPrefix(s.path, "core/"), "/")
		if !inside || s.test() {
			continue
		}
		seen[stage] = true
		at := slices.Index(stages, stage)
		if at < 0 {
			t.Errorf("%s: stage %q has no place in the order", s.path, stage)
		}
		for _, p := range s.imports() {
			if other, ok := strings.CutPrefix(p, module+"core/"); ok {
				if i := slices.Index(stages, other); i < 0 || i >= at {
					t.Errorf("%s imports %s, which does not stand before %s", s.path, p, stage)
				}
			} else if strings.HasPrefix(p, module) {
				t.Errorf("%s imports %s: core stands alone", s.path, p)
			}
		}
	}
	for _, stage := range stages {
		if !seen[stage] {
			t.Errorf("stage %s of the order does not exist", stage)
		}
	}
}

func TestCoreImportsNothingBanned(t *testing.T) {
	for _, s := range sources(t, "core") {
		if s.test() {
			continue
		}
		for _, p := range s.imports() {
			if why, banned := bans[p]; banned {
				t.Errorf("%s imports %s: %s", s.path, p, why)
			}
		}
	}
}

// calls lists what core does not call of packages it may import, and why.
var calls = map[string]struct {
	pkg  string
	bans func(name string) bool
	why  string
}{
	"time": {"time", func(name string) bool {
		return slices.Contains([]string{"Now", "Since", "Until", "Sleep", "After", "AfterFunc", "Tick", "NewTimer", "NewTicker"}, name)
	}, "what the time is comes in as an argument"},
	"math/rand/v2": {"rand", func(name string) bool {
		return !slices.Contains([]string{"New", "NewPCG", "NewChaCha8", "NewZipf", "Rand", "Source", "PCG", "ChaCha8", "Zipf"}, name)
	}, "the same job gives the same result: seed a generator"},
}

func TestCoreCallsNoClockAndNoChance(t *testing.T) {
	for _, s := range sources(t, "core") {
		if s.test() {
			continue
		}
		for path, ban := range calls {
			if !slices.Contains(s.imports(), path) {
				continue
			}
			for _, name := range selected(s.file, ban.pkg) {
				if ban.bans(name) {
					t.Errorf("%s uses %s.%s: %s", s.path, ban.pkg, name, ban.why)
				}
			}
		}
	}
}

// selected returns the names taken from a package.
func selected(f *ast.File, pkg string) []string {
	var out []string
	ast.Inspect(f, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			if x, ok := sel.X.(*ast.Ident); ok && x.Name == pkg {
				out = append(out, sel.Sel.Name)
			}
		}
		return true
	})
	return out
}

// The bans bite: each is held against a small source that breaks it.
func TestBansBite(t *testing.T) {
	for src, want := range map[string]string{
		"package p\nimport \"time\"\nvar T = time.Now()":            "Now",
		"package p\nimport \"math/rand/v2\"\nvar N = rand.IntN(3)":  "IntN",
		"package p\nimport \"math/rand/v2\"\nvar N = rand.New(nil)": "",
		"package p\nimport \"time\"\nvar D time.Duration":           "",
	} {
		f, err := parser.ParseFile(token.NewFileSet(), "p.go", src, 0)
		if err != nil {
			t.Fatal(err)
		}
		s, got := source{"p.go", f}, ""
		for path, ban := range calls {
			for _, name := range selected(f, ban.pkg) {
				if slices.Contains(s.imports(), path) && ban.bans(name) {
					got = name
				}
			}
		}
		if got != want {
			t.Errorf("%q: bans %q, want %q", src, got, want)
		}
	}
}

// Only files ending in _js.go know the browser, so that everything else is
// tested on any machine.
func TestOnlyBrowserFilesKnowTheBrowser(t *testing.T) {
	found := 0
	for _, dir := range []string{"core", "wasm", "web", "catalogs", "."} {
		for _, s := range sources(t, dir) {
			if dir == "." && strings.Contains(s.path, "/") {
				continue
			}
			for _, p := range s.imports() {
				if p != "syscall/js" && !strings.HasPrefix(p, "honnef.co/go/js/dom") {
					continue
				}
				found++
				if !strings.HasSuffix(s.path, "_js.go") {
					t.Errorf("%s imports %s and does not end in _js.go", s.path, p)
				}
			}
		}
	}
	if found == 0 {
		t.Error("no file knows the browser: the walk finds nothing")
	}
}

// The shipped catalogs are handed to core as bytes: only the program, the
// page, what is made of them and tests bring them along.
func TestOnlyTheProgramBringsCatalogs(t *testing.T) {
	found := 0
	for _, s := range sources(t, ".") {
		if !slices.Contains(s.imports(), module+"catalogs") {
			continue
		}
		found++
		program := !strings.Contains(s.path, "/") || strings.HasPrefix(s.path, "wasm/") || strings.HasPrefix(s.path, "catalogs/")
		if !program && !s.test() {
			t.Errorf("%s imports the catalogs", s.path)
		}
	}
	if found == 0 {
		t.Error("nobody brings the catalogs: the walk finds nothing")
	}
}
