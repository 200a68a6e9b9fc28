package decision

import (
	"math"
	"math/bits"

	"lugworth/core/money"
)

// A relief is a board under one floor: what each way costs there at the
// least, and tables of the least that decisions still open can come to. It is
// the relaxation of the multiple-choice knapsack that leaves shared charges
// and needs out: exact where a choice brings none that are not sure anyway,
// never above the truth elsewhere.
type relief struct {
	b       *board
	floor   *Floor
	cost    [][]int64 // by decision and way
	brings  [][]uint64
	days    [][]int
	barred  [][]bool // ways this search does not look at
	low     []int    // by depth: least value of the decisions from there on
	sure    []uint64 // by depth: charges they bring whichever way they go
	lead    []int    // by depth: the longest of their shortest leads
	table   [][]int64
	grain   int // values are counted in steps of so many, rounded up
	nothing bool
}

// never is a sum no choice comes to.
const never = math.MaxInt64 / 4

// mostCells keeps a table small: where weights are large they are counted
// coarsely, which keeps the bound below the truth.
const mostCells = 1 << 17

// newRelief works the tables out for the ways that bar does not rule out.
func newRelief(b *board, f *Floor, bar func(Share) bool) *relief {
	r := &relief{b: b, floor: f}
	n := len(b.spots)
	r.cost, r.brings, r.days, r.barred = make([][]int64, n), make([][]uint64, n), make([][]int, n), make([][]bool, n)
	for i, s := range b.spots {
		k := len(s.ways)
		r.cost[i], r.brings[i], r.days[i], r.barred[i] = make([]int64, k), make([]uint64, k), make([]int, k), make([]bool, k)
		open := false
		for w, t := range s.ways {
			r.way(i, w, t, bar)
			open = open || !r.barred[i][w]
		}
		r.nothing = r.nothing || !open
	}
	if !r.nothing {
		r.tables()
	}
	return r
}

// way adds the options of one way up.
func (r *relief) way(i, w int, t taken, bar func(Share) bool) {
	for _, o := range t.options {
		s := r.b.share(r.floor, o)
		r.cost[i][w] += s.Cost
		r.brings[i][w] |= s.Shared
		r.days[i][w] = max(r.days[i][w], s.Days)
		r.barred[i][w] = r.barred[i][w] || bar(s)
	}
}

// tables go from the last decision back to the first.
func (r *relief) tables() {
	n := len(r.b.order)
	r.low, r.sure, r.lead, r.table = make([]int, n+1), make([]uint64, n+1), make([]int, n+1), make([][]int64, n+1)
	span := make([]int, n+1) // by depth: how much more than low the value can be
	ways := 0
	for depth := n - 1; depth >= 0; depth-- {
		dec := r.b.order[depth]
		low, high := r.spanOf(dec)
		r.low[depth], span[depth] = r.low[depth+1]+low, span[depth+1]+high-low
		sure, lead := r.surely(dec)
		r.sure[depth], r.lead[depth] = r.sure[depth+1]|sure, max(r.lead[depth+1], lead)
		ways += len(r.b.spots[dec].ways)
	}
	r.grain = 1 + span[0]/max(mostCells/max(ways, 1), 1)
	r.table[n] = []int64{0}
	for depth := n - 1; depth >= 0; depth-- {
		r.table[depth] = r.row(r.b.order[depth], r.table[depth+1])
	}
}

func (r *relief) spanOf(dec int) (low, high int) {
	low, high = math.MaxInt, math.MinInt
	for w, t := range r.b.spots[dec].ways {
		if !r.barred[dec][w] {
			low, high = min(low, t.value), max(high, t.value)
		}
	}
	return low, high
}

// surely is what a decision brings whichever way it goes: charges, and days
// to wait.
func (r *relief) surely(dec int) (charges uint64, days int) {
	charges, days = math.MaxUint64, math.MaxInt
	for w := range r.b.spots[dec].ways {
		if !r.barred[dec][w] {
			charges &= r.brings[dec][w]
			days = min(days, r.days[dec][w])
		}
	}
	return charges, days
}

// row is the least cost, by value from here on, with one more decision open.
func (r *relief) row(dec int, next []int64) []int64 {
	low, high := r.spanOf(dec)
	row := make([]int64, len(next)+r.steps(high-low))
	for v := range row {
		row[v] = never
	}
	for w, t := range r.b.spots[dec].ways {
		if r.barred[dec][w] {
			continue
		}
		gain, cost := r.steps(t.value-low), r.cost[dec][w]
		for v := range row {
			if at := max(v-gain, 0); at < len(next) && next[at] < never {
				row[v] = min(row[v], cost+next[at])
			}
		}
	}
	return row
}

// steps counts a value in grains, rounded up: what is worth it has as many.
func (r *relief) steps(v int) int {
	if v <= 0 {
		return 0
	}
	return (v-1)/r.grain + 1
}

// A state is a choice decided to some depth.
type state struct {
	depth  int
	spent  int64  // shared charges among it
	brings uint64 // charges in spent
	value  int
	days   int
	touch  Touch
	taken  int // options
}

// begin is the state with nothing decided.
func (r *relief) begin() state { return state{spent: r.floor.Base} }

// with decides the next decision.
func (r *relief) with(s state, w int) state {
	dec := r.b.order[s.depth]
	news := r.brings[dec][w] &^ s.brings
	s.spent += r.cost[dec][w] + r.charge(news)
	s.brings |= news
	s.value += r.b.spots[dec].ways[w].value
	s.days = max(s.days, r.days[dec][w])
	s.touch = s.touch.plus(r.b.spots[dec].ways[w].touch)
	s.taken += len(r.b.spots[dec].ways[w].options)
	s.depth++
	return s
}

func (r *relief) charge(set uint64) int64 {
	var sum int64
	for ; set != 0; set &= set - 1 {
		sum += r.floor.Shared[bits.TrailingZeros64(set)]
	}
	return sum
}

// least is a total that no choice from s on falls below if it is to be worth
// value or more; impossible where none can be.
func (r *relief) least(s state, value int) money.Amount {
	row := r.table[s.depth]
	at := max(r.steps(value-s.value-r.low[s.depth]), 0)
	if at >= len(row) || row[at] >= never {
		return impossible
	}
	x := s.spent + row[at] + r.charge(r.sure[s.depth]&^s.brings) - r.floor.Slack
	return money.Amount(upward(x))
}

// impossible is a total over every ceiling.
const impossible = money.Amount(math.MaxInt64)

// upward is thousandths in whole units, rounded up.
func upward(x int64) int64 {
	q := x / 1000
	if x%1000 > 0 {
		q++
	}
	return q
}

// reach is a value no choice from s on gets above under a ceiling.
func (r *relief) reach(s state, ceiling money.Amount) int {
	low := s.value + r.low[s.depth]
	lo, hi := low-1, low+r.grain*(len(r.table[s.depth])-1)
	for lo < hi {
		mid := lo + (hi-lo+1)/2
		if r.least(s, mid) <= ceiling {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return lo
}

// wait is a day no choice from s on is ready before.
func (r *relief) wait(s state) int { return max(s.days, r.lead[s.depth]) }
