package order

import (
	"cmp"
	"slices"

	"lugworth/core/sorted"
)

// An option is one way to serve the needs of a group: goods at each seller it
// uses.
type option struct {
	base        int64 // goods times factors, in all
	mask        uint32
	score       int32
	first, past int32 // of its parts
	packs       int32 // where its offers begin
}

// part is goods at one seller, before its factor.
type part struct {
	seller int32
	goods  int64
}

// A group is needs that must be looked at together, because they may pool
// their pieces in one offer whose price does not simply add up. Given all
// other choices a group enters the cost only through its goods at each seller,
// and the cost of a seller never falls with its goods, so only options that
// no other betters are kept, cheapest first.
type group struct {
	wants   span
	options span
	loose   bool // its options cost at least what they say, and perhaps more
}

func (r *reduction) wantsOf(g *group) []int32    { return r.wants[g.wants.from:g.wants.to] }
func (r *reduction) optionsOf(g *group) []option { return r.options[g.options.from:g.options.to] }

// packsOf is the offers an option takes, by need of its group.
func (r *reduction) packsOf(g *group, o *option) []int32 {
	return r.packs[o.packs : o.packs+g.wants.to-g.wants.from]
}

// group parts the needs by the offers that couple them and lists the options.
func (b *builder) group() {
	n := 0
	for i := range b.fits {
		if b.fits[i].pack >= 0 {
			n++
		}
	}
	b.options, b.parts, b.packs = make([]option, 0, n), make([]part, 0, n), make([]int32, 0, n)
	for _, s := range b.components() {
		g := group{wants: s}
		g.options.from = int32(len(b.options))
		if s.to == s.from+1 {
			b.single(b.wants[s.from])
		} else if !b.enumerate(&g) {
			b.loosen(&g)
			continue
		}
		g.options.to = int32(len(b.options))
		if g.options.from == g.options.to {
			b.tell("needs " + b.names(b.wantsOf(&g)) + " cannot all be served: their offers run out of stock")
		}
		b.groups = append(b.groups, g)
	}
}

func (b *builder) names(wants []int32) string {
	s := ""
	for i, w := range wants {
		if i > 0 {
			s += ", "
		}
		s += b.market.Wants[w].ID
	}
	return s
}

// components writes the needs in the order of the groups they belong to.
func (b *builder) components() []span {
	of := make([]int32, len(b.of))
	for i := range of {
		of[i] = int32(i)
	}
	root := func(i int32) int32 {
		for of[i] != i {
			of[i] = of[of[i]]
			i = of[i]
		}
		return i
	}
	for p := range b.by {
		if !b.pooled[p] {
			continue
		}
		users := b.usersOf(p)
		for _, w := range users[1:] {
			x, y := root(users[0]), root(w)
			of[max(x, y)] = min(x, y)
		}
	}
	for i := range of {
		of[i] = root(int32(i))
	}
	b.wants = make([]int32, len(of))
	for i := range b.wants {
		b.wants[i] = int32(i)
	}
	sorted.By(b.wants, func(x, y int32) int { return cmp.Compare(of[x], of[y]) })
	var out []span
	for i, w := range b.wants {
		if i == 0 || of[w] != of[b.wants[i-1]] {
			out = append(out, span{int32(i), int32(i)})
		}
		out[len(out)-1].to++
	}
	b.groups = make([]group, 0, len(out))
	return out
}

// single lists the options of a need that shares nothing.
func (b *builder) single(w int32) {
	from := len(b.options)
	free := int32(-1) // the best score there is for nothing
	for _, f := range b.fits[b.of[w].from:b.of[w].to] {
		if f.pack < 0 {
			continue
		}
		if o := b.one(&f); o.mask == 0 {
			free = max(free, o.score)
		}
	}
	own := b.options[from:]
	for i := range own { // they are few
		for k := i; k > 0 && cheapest(own[k], own[k-1]) < 0; k-- {
			own[k], own[k-1] = own[k-1], own[k]
		}
	}
	if free >= 0 { // nothing that costs betters what is free, unless it scores more
		taken := false
		own = slices.DeleteFunc(own, func(o option) bool {
			first := o.mask == 0 && o.score == free && !taken
			taken = taken || first
			return !first && o.score <= free
		})
		b.options = b.options[:from+len(own)]
	}
}

// one writes one fit down as an option.
func (b *builder) one(f *fit) *option {
	s := b.market.Packs[f.pack].Seller
	o := option{base: f.cost * b.factor[s], score: b.counted(f.score), first: int32(len(b.parts)), packs: int32(len(b.packs))}
	if f.cost > 0 {
		o.mask = 1 << s
		b.parts = append(b.parts, part{int32(s), f.cost})
	}
	o.past = int32(len(b.parts))
	b.packs = append(b.packs, f.pack)
	b.options = append(b.options, o)
	return &b.options[len(b.options)-1]
}

// counted is a score as far as it counts.
func (b *builder) counted(score int32) int32 { return min(score, int32(b.lim.Score)) }

// cheapest puts the cheaper option first, the more original one of equals.
func cheapest(a, b option) int {
	if c := cmp.Compare(a.base, b.base); c != 0 {
		return c
	}
	return cmp.Compare(b.score, a.score)
}
