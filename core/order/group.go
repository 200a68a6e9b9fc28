package order

import (
	"cmp"
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

// A partial is a way to serve the first needs of a group.
type partial struct {
	option
	asked []int // pieces asked so far, by shared offer of the group
}

// enumerate lists the options of a group that no other betters, need by need.
// The cost of an offer is added once the last need that could take it is past;
// until then two ways compare only if they ask the same of every shared offer.
func (b *builder) enumerate(g *group) error {
	shared, last := b.shared(g)
	ways := []partial{{option{goods: make([]int64, len(b.m.Sellers)), packs: make([]int, 0, len(g.wants))}, make([]int, len(shared))}}
	for at, w := range g.wants {
		next := make([]partial, 0, len(ways)*len(b.fits[w]))
		for i := range ways {
			for _, f := range b.fits[w] {
				if p, ok := b.take(&ways[i], w, f, shared); ok {
					next = append(next, p)
				}
			}
		}
		if next = b.pass(next, at, shared, last); len(next) > tooMany {
			return errEntangled
		}
		ways = next
	}
	all := make([]option, len(ways))
	for i := range ways {
		all[i] = ways[i].option
	}
	g.options = undominated(all, b.limited)
	return nil
}

// shared lists the offers that several needs of a group may take, and the
// last of those needs for each.
func (b *builder) shared(g *group) (packs, last []int) {
	for at, w := range g.wants {
		for _, f := range b.fits[w] {
			if len(b.users[f.pack]) < 2 {
				continue
			}
			if k := slices.Index(packs, f.pack); k >= 0 {
				last[k] = at
			} else {
				packs, last = append(packs, f.pack), append(last, at)
			}
		}
	}
	return packs, last
}

// take serves one more need.
func (b *builder) take(from *partial, w int, f fit, shared []int) (partial, bool) {
	p := partial{option: from.option, asked: from.asked}
	p.packs = append(slices.Clip(p.packs), f.pack)
	// Past the score asked for, more counts for nothing.
	p.score = min(p.score+f.score, b.lim.Score)
	pieces := b.m.Wants[w].Pieces
	if k := slices.Index(shared, f.pack); k >= 0 {
		p.asked = slices.Clone(p.asked)
		p.asked[k] += pieces
		return p, true
	}
	return p, b.buy(&p.option, f.pack, pieces)
}

// buy adds what pieces of an offer cost; false where they cannot be had.
func (b *builder) buy(o *option, pack, pieces int) bool {
	cost := b.costs(pack)[pieces]
	if cost == Never {
		return false
	}
	if cost == 0 {
		return true
	}
	s := b.m.Packs[pack].Seller
	o.goods = slices.Clone(o.goods)
	o.goods[s] += cost
	o.base += cost * b.factor[s]
	o.mask |= 1 << s
	return true
}

// pass settles the shared offers no later need can take, and drops ways that
// another betters.
func (b *builder) pass(ways []partial, at int, shared, last []int) []partial {
	kept := ways[:0]
	for _, p := range ways {
		ok := true
		for k, pack := range shared {
			if last[k] == at && p.asked[k] > 0 {
				ok = ok && b.buy(&p.option, pack, p.asked[k])
				p.asked = slices.Clone(p.asked)
				p.asked[k] = 0
			}
		}
		if ok {
			kept = append(kept, p)
		}
	}
	if len(shared) == 0 {
		return kept
	}
	return unbettered(kept, b.limited)
}

// near is how many kept ways that ask otherwise one is held against.
const near = 100

// unbettered drops a way that a kept one betters: its goods are no more, its
// score no less, and it asks no more of any shared offer, whose cost never
// falls with the pieces asked.
func unbettered(ways []partial, scored bool) []partial {
	slices.SortStableFunc(ways, func(x, y partial) int {
		return cmp.Or(slices.Compare(x.asked, y.asked), byBase(x.option, y.option, scored))
	})
	out, from := ways[:0], 0
	for _, p := range ways {
		if len(out) > 0 && !slices.Equal(out[len(out)-1].asked, p.asked) {
			from = len(out)
		}
		if !bettered(out[from:], &p, scored) {
			out = append(out, p)
		}
	}
	slices.SortStableFunc(out, func(x, y partial) int {
		return cmp.Or(cmp.Compare(x.base, y.base), cmp.Compare(total(x.asked), total(y.asked)))
	})
	kept := out[:0]
	for _, p := range out {
		n := len(kept)
		if !bettered(kept[:min(n, near)], &p, scored) && !bettered(kept[max(min(n, near), n-near):], &p, scored) {
			kept = append(kept, p)
		}
	}
	return kept
}

func bettered(by []partial, p *partial, scored bool) bool {
	for k := range by {
		if o := &by[k]; (!scored || o.score >= p.score) && covers(o.goods, p.goods) && noMore(o.asked, p.asked) {
			return true
		}
	}
	return false
}

func total(asked []int) int {
	sum := 0
	for _, n := range asked {
		sum += n
	}
	return sum
}

func noMore(a, b []int) bool {
	for i := range a {
		if a[i] > b[i] {
			return false
		}
	}
	return true
}

// undominated leaves the options that no other one betters in goods at every
// seller, and in score where that counts; cheapest first.
func undominated(all []option, scored bool) []option {
	slices.SortStableFunc(all, func(x, y option) int { return byBase(x, y, scored) })
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

// byBase puts the cheaper option first, the more original one of equals.
func byBase(a, b option, scored bool) int {
	if c := cmp.Compare(a.base, b.base); c != 0 || !scored {
		return c
	}
	return cmp.Compare(b.score, a.score)
}
