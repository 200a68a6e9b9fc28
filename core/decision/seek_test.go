package decision

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"lugworth/core/labor"
	"lugworth/core/money"
	"lugworth/core/shop"
)

// A small shop priced by rule: own costs, charges counted once, a tax on all
// of it, and options that change what the others cost and wait for.
type shopModel struct {
	Model
	cost, moved    []money.Amount // as found, and where any mover is taken
	days, movedDay []int          // −1 not stated
	charges        []uint64
	shared         []money.Amount
	moves          []bool
	tax            int64 // percent
	at             map[string]int
	priced         int
}

func (s *shopModel) price(accept []string) (Price, error) {
	s.priced++
	moved, bits := false, uint64(0)
	for _, id := range accept {
		moved = moved || s.moves[s.at[id]]
	}
	var p Price
	for _, id := range accept {
		i := s.at[id]
		cost, days := s.cost[i], s.days[i]
		if moved {
			cost, days = s.moved[i], s.movedDay[i]
		}
		if cost < 0 {
			return p, fmt.Errorf("no price for %s", id)
		}
		p.Total += cost
		bits |= s.charges[i]
		if days < 0 {
			p.NoLead = append(p.NoLead, id)
		}
		p.ReadyDays = max(p.ReadyDays, days)
	}
	for k, c := range s.shared {
		if bits>>k&1 == 1 {
			p.Total += c
		}
	}
	p.Total += (p.Total*money.Amount(s.tax) + 50) / 100 // half up
	return p, nil
}

func (s *shopModel) floor(moving []string, known bool) *Floor {
	f := &Floor{Slack: 500}
	for _, c := range s.shared {
		f.Shared = append(f.Shared, int64(c)*(1000+10*s.tax))
	}
	for i := range s.cost {
		cost, days, no := max(s.cost[i], 0), max(s.days[i], 0), s.days[i] < 0
		switch {
		case known && len(moving) > 0:
			cost, days, no = max(s.moved[i], 0), max(s.movedDay[i], 0), s.movedDay[i] < 0
		case !known:
			cost, days, no = min(cost, max(s.moved[i], 0)), min(days, max(s.movedDay[i], 0)), no && s.movedDay[i] < 0
		}
		f.Shares = append(f.Shares, Share{Cost: int64(cost) * (1000 + 10*s.tax), Shared: s.charges[i], Days: days, NoLead: no, Steady: true, Moves: s.moves[i]})
	}
	return f
}

// randomShop draws one. Sums are small so that ties come up.
func randomShop(random *rand.Rand, decisions, most int) *shopModel {
	s := &shopModel{at: map[string]int{}, tax: int64(random.IntN(3)) * 7}
	for range random.IntN(4) {
		s.shared = append(s.shared, money.Amount(random.IntN(60)))
	}
	s.Model = Model{Currency: gbp, Limits: Limits{Ceiling: money.Amount(100 + random.IntN(150*decisions)), HasCeiling: random.IntN(6) > 0, Days: 2 + random.IntN(12), HasDays: random.IntN(4) > 0}}
	step := []int{1, 10, 25}[random.IntN(3)]
	for f := range decisions {
		d := Decision{Finding: fmt.Sprint("F", f), Pile: []shop.Pile{shop.Must, shop.Should, shop.Could}[random.IntN(3)]}
		for range 1 + random.IntN(most) {
			i := len(s.cost)
			id := fmt.Sprint("T", i)
			s.at[id] = i
			d.Options = append(d.Options, Option{ID: id, Value: random.IntN(6), Both: random.IntN(5) == 0, Answer: Answer(max(random.IntN(14)-11, 0))})
			s.cost, s.moved = append(s.cost, money.Amount(random.IntN(120/step)*step)), append(s.moved, money.Amount(random.IntN(120/step)*step))
			s.days, s.movedDay = append(s.days, random.IntN(15)-random.IntN(2)), append(s.movedDay, random.IntN(15))
			s.charges = append(s.charges, random.Uint64()&(1<<len(s.shared)-1))
			s.moves = append(s.moves, random.IntN(9) == 0)
		}
		s.Decisions = append(s.Decisions, d)
	}
	for range random.IntN(3) {
		d := &s.Decisions[random.IntN(decisions)]
		o := &d.Options[random.IntN(len(d.Options))]
		o.Needs = append(o.Needs, fmt.Sprint("T", random.IntN(len(s.cost))))
	}
	s.Price = s.price
	s.Floor = s.floor
	if random.IntN(3) == 0 {
		s.Ready = s.ready
	}
	if pieces := random.IntN(4); pieces > 0 { // to be done before each answer
		left := pieces
		s.Ahead = func([]string) bool {
			if left--; left < 0 {
				left = pieces
			}
			return left < pieces
		}
	}
	if salt := random.IntN(40); salt < 12 {
		s.Refused = func(accept []string, whole bool) string {
			if whole && (len(accept)*7+salt)%11 < 3 || salt < 4 && s.movers(accept) == 1+salt%2 {
				return "refused"
			}
			return ""
		}
	}
	return s
}

func (s *shopModel) movers(accept []string) (n int) {
	for _, id := range accept {
		if s.moves[s.at[id]] {
			n++
		}
	}
	return n
}

// ready is a date by rule: what the longest of its options takes alone, and a
// little for each more. Where a lead is missing it cannot tell.
func (s *shopModel) ready(accept []string) (days int, ok bool) {
	p, err := s.price(accept)
	if err != nil || len(p.NoLead) > 0 {
		return 0, false
	}
	for _, id := range accept {
		days = max(days, s.days[s.at[id]]/2+s.at[id]%5)
	}
	return days + len(accept)*len(accept)/8, true
}

// sought is the answer however long it takes.
func (s *shopModel) sought() (Best, error) {
	k, err := NewSeek(s.Model)
	if err != nil {
		return Best{}, err
	}
	k.most = math.MaxInt
	for k.Step() {
	}
	return k.Best(), k.Err()
}

// alike compares an answer with the plain enumeration's.
func alike(t *testing.T, name string, got Best, gotErr error, want Best, wantErr error) {
	t.Helper()
	if (gotErr == nil) != (wantErr == nil) {
		t.Fatalf("%s: %v, the enumeration says %v", name, gotErr, wantErr)
	}
	if gotErr != nil {
		return
	}
	same := got.Found == want.Found && slices.Equal(got.Accept, want.Accept) && reflect.DeepEqual(got.Price, want.Price) && got.Value == want.Value && got.Say == want.Say &&
		(got.RunnerUp == nil) == (want.RunnerUp == nil) && (got.RunnerUp == nil || slices.Equal(got.RunnerUp.Accept, want.RunnerUp.Accept)) && got.Proven && got.Settled
	if !same {
		t.Fatalf("%s:\n got %+v, runner-up %+v\nwant %+v, runner-up %+v", name, got, got.RunnerUp, want, want.RunnerUp)
	}
}

// The search against the plain enumeration: 8 decisions with set-ups counted
// once, tasks shared, a tax, needs, answers, leads not stated, and options
// that change the price of the others.
func TestSeekIsTheEnumerationOracle(t *testing.T) {
	random := rand.New(rand.NewPCG(16, 8))
	found, fits := 0, 0
	rounds := 150
	switch {
	case long():
		rounds = 3000
	case runtime.GOARCH == "wasm":
		rounds = 100
	}
	for round := range rounds {
		s := randomShop(random, 8, 3)
		want, wantErr := s.everyChoice()
		tried := s.priced
		s.priced = 0
		got, err := s.sought()
		alike(t, fmt.Sprint("round ", round), got, err, want, wantErr)
		if err == nil {
			found++
		}
		if got.Found {
			fits++
		}
		if s.Ready == nil && s.Refused == nil && s.priced > tried+8 {
			t.Errorf("round %d: %d choices priced, the enumeration prices %d", round, s.priced, tried)
		}
		s.Floor = nil // slower, not otherwise
		got, err = s.sought()
		alike(t, fmt.Sprint("without floors, round ", round), got, err, want, wantErr)
	}
	if found < rounds*2/3 || fits < rounds*2/5 {
		t.Errorf("%d answers, %d that fit: the jobs drawn are too tame", found, fits)
	}
}

// BenchmarkBest: 16 undecided options priced by labor and quote, with limits
// that fit most choices, few of them, and none. Each costs 24.00, and two
// set-ups come to 90.00 once.
func BenchmarkBest(b *testing.B) {
	for _, ceiling := range []money.Amount{100000, 30000, 100} {
		b.Run(gbp.Format(ceiling), func(b *testing.B) {
			m := Model{Currency: gbp, Limits: Limits{Ceiling: ceiling, HasCeiling: true}}
			for i := range 16 {
				m.Decisions = append(m.Decisions, one(fmt.Sprint("F", i), shop.Could, 1+i%5, fmt.Sprint("T", i)))
			}
			m.Price = func(accept []string) (Price, error) {
				var tasks []labor.Task
				for _, id := range accept {
					tasks = append(tasks, labor.Task{ID: id, Three: setUps()[0].Three, SetUps: both})
				}
				e, err := labor.Sum(tasks, setUps(), labor.Rate{Hour: money.Whole(60), Currency: gbp})
				return Price{Total: e.Amount, Hours: float64(e.Hours)}, err
			}
			m.Floor = func([]string, bool) *Floor {
				f := &Floor{Shared: []int64{2400_000, 6600_000}}
				for range 16 {
					f.Shares = append(f.Shares, Share{Cost: 2400_000, Shared: 3})
				}
				return f
			}
			for b.Loop() {
				if _, err := m.Best(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
