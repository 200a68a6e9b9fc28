package order

import (
	"errors"
	"fmt"
	"slices"
)

// An option is one way to serve the needs of a group: goods at each seller.
type option struct {
	goods []int64 // by seller, before its factor
	base  int64   // goods times factors, in all
	score int
	mask  uint32 // sellers it uses
	packs []int  // by need of the group
}

// A group is needs that must be looked at together, because they may pool
// their pieces in one offer whose price is not proportional. Given all other
// choices a group enters the cost only through its goods at each seller, and
// the cost of a seller never falls with its goods, so only options that no
// other betters are kept.
type group struct {
	wants   []int
	options []option // cheapest first
}

// fit is one offer a need may take, with what it costs there alone.
type fit struct {
	pack, score int
}

// builder makes groups of a market.
type builder struct {
	m       *Market
	lim     Limits
	factor  []int64
	fits    [][]fit // by need
	users   [][]int // by pack: needs
	table   [][]int64
	why     []string
	limited bool // score counts
}

// tooMany is how many ways to serve one group are tried.
const tooMany = 400_000

var errEntangled = errors.New("too many needs share offers in too many ways: split a need or leave offers out")

// groups reduces the market to groups with their options. A need nothing can
// serve is told of.
func (b *builder) groups() ([]group, error) {
	b.keepUsable()
	if len(b.why) > 0 {
		return nil, nil
	}
	b.dropBeaten()
	var out []group
	for _, wants := range b.components() {
		g := group{wants: wants}
		if err := b.enumerate(&g); err != nil {
			return nil, err
		}
		if len(g.options) == 0 {
			b.why = append(b.why, "needs "+b.names(wants)+" cannot all be served: their offers run out of stock")
		}
		out = append(out, g)
	}
	return out, nil
}

func (b *builder) names(wants []int) string {
	s := ""
	for i, w := range wants {
		if i > 0 {
			s += ", "
		}
		s += b.m.Wants[w].ID
	}
	return s
}

// keepUsable leaves the offers that can serve a need alone and in time.
func (b *builder) keepUsable() {
	b.fits = make([][]fit, len(b.m.Wants))
	b.users = make([][]int, len(b.m.Packs))
	for i, w := range b.m.Wants {
		late := false
		for _, f := range w.Fits {
			p := &b.m.Packs[f.Pack]
			if b.lim.HasDays && p.Days > b.lim.Days {
				late = true
				continue
			}
			if c, _ := p.Cost(w.Pieces); c == Never {
				continue
			}
			if k := slices.IndexFunc(b.fits[i], func(have fit) bool { return have.pack == f.Pack }); k >= 0 {
				b.fits[i][k].score = max(b.fits[i][k].score, f.Score)
				continue
			}
			b.fits[i] = append(b.fits[i], fit{f.Pack, f.Score})
			b.users[f.Pack] = append(b.users[f.Pack], i)
		}
		switch {
		case len(b.fits[i]) > 0:
		case late:
			b.why = append(b.why, fmt.Sprintf("need %s: no offer arrives in %d days", w.ID, b.lim.Days))
		default:
			b.why = append(b.why, fmt.Sprintf("need %s: no offer has %d pieces", w.ID, w.Pieces))
		}
	}
	b.table = make([][]int64, len(b.m.Packs))
}

// costs tabulates what 0 … all pieces that could be asked of an offer cost.
func (b *builder) costs(pack int) []int64 {
	if b.table[pack] == nil {
		most := 0
		for _, w := range b.users[pack] {
			most += b.m.Wants[w].Pieces
		}
		t := make([]int64, most+1)
		for q := 1; q <= most; q++ {
			t[q], _ = b.m.Packs[pack].Cost(q)
		}
		b.table[pack] = t
	}
	return b.table[pack]
}

// dropBeaten leaves out an offer that another of the same seller beats: it
// serves every need the first serves, no less original, and moving all its
// pieces there never costs more. Removed one at a time, by offers still kept.
func (b *builder) dropBeaten() {
	for i := range b.fits {
		for k := 0; k < len(b.fits[i]); k++ {
			f := b.fits[i][k].pack
			for _, h := range b.fits[i] {
				if h.pack != f && b.beats(h.pack, f) {
					b.remove(f)
					k--
					break
				}
			}
		}
	}
}

func (b *builder) remove(pack int) {
	for _, w := range b.users[pack] {
		b.fits[w] = slices.DeleteFunc(b.fits[w], func(f fit) bool { return f.pack == pack })
	}
	b.users[pack] = nil
}

func (b *builder) beats(h, f int) bool {
	if b.m.Packs[h].Seller != b.m.Packs[f].Seller || len(b.users[h]) < len(b.users[f]) {
		return false
	}
	for _, w := range b.users[f] {
		if !slices.Contains(b.users[h], w) || b.limited && b.score(w, h) < b.score(w, f) {
			return false
		}
	}
	return b.noDearer(b.costs(h), b.costs(f))
}

func (b *builder) score(want, pack int) int {
	for _, f := range b.fits[want] {
		if f.pack == pack {
			return f.score
		}
	}
	return 0
}

// noDearer reports whether C_h(a+b) ≤ C_h(a) + C_f(b) wherever both can be.
func (b *builder) noDearer(h, f []int64) bool {
	for moved := 1; moved < len(f); moved++ {
		if f[moved] == Never {
			continue
		}
		for own := 0; own+moved < len(h); own++ {
			if h[own] != Never && (h[own+moved] == Never || h[own+moved] > h[own]+f[moved]) {
				return false
			}
		}
	}
	return true
}

// components parts the needs by the offers that couple them.
func (b *builder) components() [][]int {
	of := make([]int, len(b.m.Wants))
	for i := range of {
		of[i] = i
	}
	var root func(int) int
	root = func(i int) int {
		for of[i] != i {
			i = of[i]
		}
		return i
	}
	for p, users := range b.users {
		if len(users) < 2 || b.proportional(p) {
			continue
		}
		for _, w := range users[1:] {
			x, y := root(users[0]), root(w)
			of[max(x, y)] = min(x, y)
		}
	}
	var out [][]int
	at := map[int]int{}
	for i := range of {
		r := root(i)
		k, known := at[r]
		if !known {
			k = len(out)
			at[r] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], i)
	}
	return out
}

// proportional reports whether pieces cost the same however they are pooled.
func (b *builder) proportional(pack int) bool {
	t := b.costs(pack)
	if len(t) < 2 || t[1] == Never {
		return false
	}
	for q := range t {
		if t[q] == Never || t[q] != int64(q)*t[1] {
			return false
		}
	}
	return true
}

// enumerate lists the options of a group that no other betters.
func (b *builder) enumerate(g *group) error {
	ways := 1
	for _, w := range g.wants {
		if ways *= len(b.fits[w]); ways > tooMany {
			return errEntangled
		}
	}
	pick := make([]int, len(g.wants))
	var all []option
	for {
		if o, ok := b.option(g, pick); ok {
			all = append(all, o)
		}
		i := 0
		for ; i < len(pick); i++ {
			if pick[i]++; pick[i] < len(b.fits[g.wants[i]]) {
				break
			}
			pick[i] = 0
		}
		if i == len(pick) {
			break
		}
	}
	g.options = undominated(all, b.limited)
	return nil
}

// option prices one way to serve a group.
func (b *builder) option(g *group, pick []int) (option, bool) {
	o := option{goods: make([]int64, len(b.m.Sellers)), packs: make([]int, len(pick))}
	for i, w := range g.wants {
		f := b.fits[w][pick[i]]
		o.packs[i] = f.pack
		o.score += f.score
		pieces, first := 0, true
		for k, v := range g.wants {
			if b.fits[v][pick[k]].pack == f.pack {
				pieces += b.m.Wants[v].Pieces
				first = first && k >= i
			}
		}
		if !first {
			continue // pooled with an earlier need, and counted there
		}
		cost := b.costs(f.pack)[pieces]
		if cost == Never {
			return o, false
		}
		s := b.m.Packs[f.pack].Seller
		o.goods[s] += cost
		o.base += cost * b.factor[s]
		if cost > 0 {
			o.mask |= 1 << s
		}
	}
	return o, true
}

// undominated leaves the options that no other one betters in goods at every
// seller, and in score where that counts; cheapest first.
func undominated(all []option, scored bool) []option {
	slices.SortStableFunc(all, func(a, b option) int {
		switch {
		case a.base != b.base:
			if a.base < b.base {
				return -1
			}
			return 1
		case scored:
			return b.score - a.score
		}
		return 0
	})
	var kept []option
next:
	for _, o := range all {
		for i := range kept {
			if k := &kept[i]; (!scored || k.score >= o.score) && covers(k.goods, o.goods) {
				continue next
			}
		}
		kept = append(kept, o)
	}
	return kept
}

func covers(a, b []int64) bool {
	for s := range a {
		if a[s] > b[s] {
			return false
		}
	}
	return true
}
