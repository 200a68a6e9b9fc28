//go:build !js

package circuit_test

import (
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// A drawing is a sheet as the deck writer sees it: positions with nodes, and
// which nodes are one because a fuse, a jack or a closed switch joins them.
// It is worked out here from the sheet alone; nothing of the solver is asked.
type drawing struct {
	name  string
	parts []amp.Position
	one   map[string]string // node → the node it is joined to
	law   func(string) (tube.Law, bool)
	cold  bool // the indirectly heated tubes draw nothing
	mains float64
}

func drawn(name string, sheet []amp.Position, law func(string) (tube.Law, bool), mains float64) *drawing {
	d := &drawing{name: name, one: map[string]string{}, law: law, mains: mains}
	for _, p := range sheet {
		if len(p.Nodes) > 0 || p.Kind == "mains" {
			d.parts = append(d.parts, p)
		}
		if closed(p) {
			d.join(p.Nodes[0].Name, p.Nodes[1].Name)
		}
	}
	return d
}

// closed reports a two-lead part that is nothing but wire while it is whole.
func closed(p amp.Position) bool {
	return len(p.Nodes) == 2 && (p.Kind == "fuse" || p.Kind == "switch" || p.Kind == "jack")
}

func (d *drawing) join(a, b string) {
	a, b = d.at(a), d.at(b)
	if a == "0" {
		a, b = b, a
	}
	if a != b {
		d.one[a] = b
	}
}

// at returns the node that stands for all joined to this one.
func (d *drawing) at(node string) string {
	for d.one[node] != "" {
		node = d.one[node]
	}
	return node
}

// lead returns the node of the first of the leads that the part has.
func (d *drawing) lead(p *amp.Position, leads ...string) string {
	for _, l := range leads {
		if n, ok := p.Node(l); ok {
			return d.at(n)
		}
	}
	return ""
}

// ends returns the two nodes of a two-lead part.
func (d *drawing) ends(p *amp.Position) (string, string) {
	return d.lead(p, "a", "plus", "plate"), d.lead(p, "b", "minus", "cathode")
}

// number reads one of the extra numbers of a position, or what it is if not
// stated.
func number(p *amp.Position, key string, u unit.Unit, missing float64) float64 {
	text, ok := p.Extra[key]
	if !ok {
		return missing
	}
	v, err := unit.Read(text, u)
	if err != nil {
		panic(p.Ref + ": " + key + "=" + text + ": " + err.Error())
	}
	return v
}

func capacitive(p *amp.Position) bool {
	return p.Kind == "electrolytic" || strings.HasSuffix(p.Kind, "capacitor")
}

func rectifying(p *amp.Position) bool { return p.Kind == "rectifier" || p.Kind == "diode" }

func (d *drawing) mainsRow() *amp.Position {
	for i := range d.parts {
		if d.parts[i].Kind == "mains" {
			return &d.parts[i]
		}
	}
	panic(d.name + ": no mains row")
}

// nodes returns the nodes of the drawing that a deck knows, in order.
func (d *drawing) nodes() []string {
	seen := map[string]bool{"0": true}
	var out []string
	for _, p := range d.parts {
		for _, n := range p.Nodes {
			if at := d.at(n.Name); !seen[at] {
				seen[at] = true
				out = append(out, at)
			}
		}
	}
	sort.Strings(out)
	return out
}

// readSheet reads a sheet of testdata; a problem in it fails the test.
func readSheet(t testing.TB, path string) []amp.Position {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return sheetOf(t, filepath.Base(path), data)
}

func sheetOf(t testing.TB, name string, data []byte) []amp.Position {
	t.Helper()
	sheet, problems := amp.ReadSheet(name, data)
	for _, p := range problems {
		t.Errorf("%v", p)
	}
	if t.Failed() {
		t.FailNow()
	}
	return sheet
}

func mustFind(t testing.TB, d *drawing, ref string) *amp.Position {
	t.Helper()
	for i := range d.parts {
		if d.parts[i].Ref == ref {
			return &d.parts[i]
		}
	}
	t.Fatalf("%s: no %s", d.name, ref)
	return nil
}
