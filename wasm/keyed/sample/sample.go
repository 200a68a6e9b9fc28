// Package sample makes trees for tests: any two of them differ in rows, order,
// nesting, texts, values and shells, but share many keys.
package sample

import (
	"fmt"
	"math/rand/v2"

	"lugworth/wasm/keyed"
)

// Tree is the tree of a seed; the same seed always gives the same one.
func Tree(seed uint64) keyed.Tree {
	g := maker{rand.New(rand.NewPCG(seed, 17))}
	free := g.Perm(24)[:4+g.IntN(20)]
	tree := keyed.Tree{Title: fmt.Sprint("tree ", seed)}
	for len(free) > 0 {
		var n keyed.Node
		n, free = g.node(free, 0)
		tree.Nodes = append(tree.Nodes, n)
	}
	return tree
}

type maker struct{ *rand.Rand }

// node takes keys from free, for itself and for what is inside it.
func (g maker) node(free []int, depth int) (keyed.Node, []int) {
	key := fmt.Sprint("k", free[0])
	free = free[1:]
	var kids [2][]keyed.Node
	for i := range kids {
		for depth < 3 && len(free) > 0 && g.IntN(3) == 0 {
			var kid keyed.Node
			kid, free = g.node(free, depth+1)
			kids[i] = append(kids[i], kid)
		}
	}
	return keyed.Row("div", key,
		keyed.LiveClass(g.word()),
		keyed.If(g.IntN(4) == 0, keyed.Attr("data-shape", g.word())),
		keyed.Flag("hidden", g.IntN(5) == 0),
		keyed.El("b", keyed.Text(g.word())),
		keyed.Input("text", g.word(), keyed.Do("type", key)),
		keyed.El("textarea", keyed.Do("write", key), keyed.Value("\n"+g.word())),
		keyed.El("input", keyed.Attr("type", "checkbox"), keyed.Do("tick", key), keyed.Checked(g.IntN(2) == 0)),
		keyed.El("select", keyed.Do("choose", key), keyed.Options(g.word(), keyed.Option{Value: "<a>"}, keyed.Option{Value: `"b"`}, keyed.Option{Value: "c&"})),
		keyed.El("i", keyed.Raw(`<svg viewBox="0 0 9 9"><path d="M0 0L`+fmt.Sprint(g.IntN(9))+` 9"></path></svg>`)),
		keyed.Nodes(kids[0]...),
		keyed.Text("mixed "), keyed.El("span", keyed.Text(g.word())),
		keyed.El("section", keyed.Nodes(kids[1]...)),
	), free
}

func (g maker) word() string {
	return []string{"<a>", `"b"`, "c&", "'d'", "", "22 nF"}[g.IntN(6)]
}
