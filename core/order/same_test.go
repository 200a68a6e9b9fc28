package order

import (
	"fmt"
	"hash/fnv"
	"testing"
)

// sameAnswers is the digest of the answers below: the same on every run, on
// the machine and in the page.
const sameAnswers = "d980eaa9bcd9fabb"

func TestAnswersAreTheSameEverywhere(t *testing.T) {
	first, second := digest(t), digest(t)
	if first != second {
		t.Errorf("two runs: %s and %s", first, second)
	}
	if first != sameAnswers {
		t.Errorf("digest %s, want %s: the answers changed, or they depend on the machine", first, sameAnswers)
	}
}

// digest is what every step of some searches and fronts says, in short.
func digest(t *testing.T) string {
	h := fnv.New64a()
	add := func(m *Market, a Answer) {
		data, err := a.JSON(m)
		if err != nil {
			t.Fatal(err)
		}
		h.Write(data)
	}
	for seed := range 24 {
		m := adversary{needs: 15, sellers: 5, perNeed: 12, cluster: 1 + seed%5, rising: seed%2 == 0, factors: seed%3 == 0}.market(uint64(seed))
		s, err := NewSearch(m, limited(m, seed))
		if err != nil {
			t.Fatal(err)
		}
		for !s.Step() {
			add(&m, s.Answer())
		}
		add(&m, s.Answer())
		if seed%10 != 0 {
			continue
		}
		for _, set := range []func(Market) (*Front, error){NewParcelFront, NewScoreFront} {
			f, err := set(m)
			for _, a := range front(t, f, err) {
				add(&m, a)
			}
		}
	}
	return fmt.Sprintf("%016x", h.Sum64())
}

// limited puts every kind of limit on one market in two.
func limited(m Market, n int) Limits {
	switch n % 8 {
	case 1:
		return Limits{Parcels: 2 + n%3}
	case 3:
		return Limits{Days: 12, HasDays: true}
	case 5:
		return Limits{Score: 5 * len(m.Wants) / 2}
	case 7:
		return Limits{Parcels: 4, Days: 16, HasDays: true, Score: len(m.Wants)}
	}
	return Limits{}
}
