package order

import (
	"fmt"
	"strings"
)

// program writes a market as a mixed-integer program in LP form. x takes an
// offer for a need, y counts packs at a price row, z says which row, u which
// row of carriage a seller is at, v the goods paid for there.
func program(m Market, lim Limits) string {
	places := 0
	for _, s := range m.Sellers {
		places = max(places, s.Factor.Places)
	}
	var obj, con, bin, gen strings.Builder
	row := 0
	add := func(format string, args ...any) {
		row++
		fmt.Fprintf(&con, " r%d: "+format+"\n", append([]any{row}, args...)...)
	}
	goods := make([]string, len(m.Sellers))
	all := make([]int64, len(m.Sellers)) // what could be bought there at most
	asked := make([]string, len(m.Packs))
	most := make([]int, len(m.Packs))
	for i, w := range m.Wants {
		seen := map[int]bool{}
		sum := ""
		for k, f := range w.Fits {
			if lim.HasDays && m.Packs[f.Pack].Days > lim.Days {
				continue
			}
			x := fmt.Sprintf("x%d_%d", i, k)
			fmt.Fprintf(&bin, " %s\n", x)
			sum += " + " + x
			asked[f.Pack] += fmt.Sprintf(" - %d %s", w.Pieces, x)
			if !seen[f.Pack] {
				most[f.Pack] += w.Pieces
				seen[f.Pack] = true
			}
		}
		if sum == "" {
			sum = " 0 nothing"
		}
		add("%s = 1", sum)
	}
	for j, p := range m.Packs {
		if asked[j] == "" {
			continue
		}
		pieces, rows, dearest := "", "", int64(0)
		for k, b := range p.Prices {
			y, z := fmt.Sprintf("y%d_%d", j, k), fmt.Sprintf("z%d_%d", j, k)
			fmt.Fprintf(&gen, " %s\n", y)
			fmt.Fprintf(&bin, " %s\n", z)
			high := most[j] + p.Least + b.From
			if k+1 < len(p.Prices) {
				high = p.Prices[k+1].From - 1
			}
			if p.Stock >= 0 {
				high = min(high, p.Stock)
			}
			add("%s - %d %s >= 0", y, max(b.From, p.Least), z)
			add("%s - %d %s <= 0", y, high, z)
			pieces += fmt.Sprintf(" + %d %s", p.Pieces, y)
			rows += " + " + z
			goods[p.Seller] += fmt.Sprintf(" - %d %s", b.Price, y)
			dearest = max(dearest, int64(high)*b.Price)
		}
		all[p.Seller] += dearest
		add("%s%s >= 0", pieces, asked[j])
		add("%s <= 1", rows)
	}
	parcels := ""
	for s, x := range m.Sellers {
		if goods[s] == "" {
			continue
		}
		f := int64(1)
		if x.Factor != (Factor{}) {
			f = x.Factor.Digits
		}
		for i := x.Factor.Places; i < places; i++ {
			f *= 10
		}
		rows := x.Carriage
		if len(rows) == 0 {
			rows = []Fee{{0, 0}}
		}
		paid, open := "", ""
		for k, c := range rows {
			u, v := fmt.Sprintf("u%d_%d", s, k), fmt.Sprintf("v%d_%d", s, k)
			fmt.Fprintf(&bin, " %s\n", u)
			fmt.Fprintf(&obj, " + %d %s + %d %s", f, v, f*c.Fee, u)
			high := max(all[s], c.From, x.MinGoods)
			if k+1 < len(rows) {
				high = rows[k+1].From - 1
			}
			add("%s - %d %s >= 0", v, max(c.From, x.MinGoods), u)
			add("%s - %d %s <= 0", v, high, u)
			paid += " + " + v
			open += " + " + u
		}
		add("%s%s >= 0", paid, goods[s])
		add("%s <= 1", open)
		parcels += open
	}
	if lim.Parcels > 0 {
		add("%s <= %d", parcels, lim.Parcels)
	}
	if lim.Score > 0 {
		sum := ""
		for i, w := range m.Wants {
			for k, f := range w.Fits {
				if f.Score > 0 && !(lim.HasDays && m.Packs[f.Pack].Days > lim.Days) {
					sum += fmt.Sprintf(" + %d x%d_%d", f.Score, i, k)
				}
			}
		}
		if sum == "" {
			sum = " 0 nothing"
		}
		add("%s >= %d", sum, lim.Score)
	}
	return "Minimize\n cost:" + obj.String() + " + 0 nothing\nSubject To\n" + con.String() + "Binary\n" + bin.String() + "General\n" + gen.String() + "End\n"
}
