package decision

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"lugworth/core/money"
)

// A turner gives what the model gives, for every option from many choices:
// with ways that stand beside others, needs, limits, prices that share and
// prices that cannot be had.
func TestTurnerIsTheModel(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 3))
	compared := 0
	for n := range 60 {
		m := Model{Limits: Limits{Ceiling: 900, HasCeiling: n%2 == 0, Days: 9, HasDays: n%3 == 0}}
		var ids []string
		for d := range 1 + r.IntN(7) {
			var options []Option
			for o := range 1 + r.IntN(4) {
				x := Option{ID: fmt.Sprintf("%d/%d", d, o), Value: r.IntN(4), Both: r.IntN(4) == 0}
				if len(ids) > 0 && r.IntN(4) == 0 {
					x.Needs = []string{ids[r.IntN(len(ids))]}
				}
				ids = append(ids, x.ID)
				options = append(options, x)
			}
			m.Decisions = append(m.Decisions, Decision{Finding: fmt.Sprint(d), Pile: "should", Options: options})
		}
		barred := ids[r.IntN(len(ids))]
		m.Price = func(accept []string) (Price, error) {
			if n%5 == 0 && slices.Contains(accept, barred) {
				return Price{}, errors.New("no price for " + barred)
			}
			p := Price{}
			for i, id := range accept {
				p.Total += money.Amount(100 + 37*len(id) + 11*i)
				p.Hours += 0.5
				p.ReadyDays = max(p.ReadyDays, int(id[0]-'0')*2)
			}
			return p, nil
		}
		for range 8 {
			var accept []string
			for _, d := range m.Decisions {
				single := false
				for _, o := range d.Options {
					if r.IntN(3) == 0 && (o.Both || !single) {
						accept, single = append(accept, o.ID), single || !o.Both
					}
				}
			}
			now, err := m.Stand(accept)
			if err != nil {
				continue
			}
			turner := m.From(now)
			for _, id := range append(ids, "nobody's") {
				want, errWant := m.TurnFrom(now, id)
				got, errGot := turner.Turn(id)
				compared++
				if fmt.Sprint(errGot) != fmt.Sprint(errWant) || errWant == nil && !reflect.DeepEqual(got, want) {
					t.Fatalf("model %d, %s from %v:\n got %+v %v\nwant %+v %v", n, id, now.Accept, got, errGot, want, errWant)
				}
			}
		}
	}
	if compared < 2000 {
		t.Errorf("%d turns were compared", compared)
	}
}
