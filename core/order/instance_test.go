package order

import (
	"strings"
	"testing"
)

const instance = `{"name":"t","suppliers":[{"id":"S","minGoods":0,"carriage":[{"fromGoods":0,"fee":950},{"fromGoods":6000,"fee":0}],"factor":"1.2"}],
"offers":[{"id":"O1","supplier":"S","piecesPerPack":5,"minPacks":1,"stockPacks":20,"leadDays":3,"prices":[{"fromPacks":1,"perPack":400},{"fromPacks":3,"perPack":350}]}],
"needs":[{"id":"N1","qty":7,"fits":[{"offer":"O1","score":2}]}]}`

func TestReadMarketTellsEverything(t *testing.T) {
	for _, tt := range []struct{ from, to, want string }{
		{`"factor":"1.2"`, `"factor":"one"`, `factor "one" is no decimal`},
		{`"factor":"1.2"`, `"factor":"0"`, `factor "0": nothing is for nothing`},
		{`"factor":"1.2"`, `"factor":[1]`, `is no decimal`},
		{`"supplier":"S"`, `"supplier":"T"`, `there is no supplier "T"`},
		{`"offer":"O1"`, `"offer":"O2"`, `there is no offer "O2"`},
		{`"qty":7`, `"qty":0`, `need N1: 0 pieces`},
		{`"qty":7`, `"qty":"7"`, `order instance: json`},
		{`"fee":950`, `"fee":-1`, `carriage row 1`},
		{`"fromGoods":6000`, `"fromGoods":0`, `carriage row 2`},
		{`"piecesPerPack":5`, `"piecesPerPack":0`, `packs of 0 pieces`},
		{`"fromPacks":3`, `"fromPacks":1`, `price row 2`},
		{`"score":2`, `"scores":2`, `unknown field "scores"`},
		{`}]}]}`, `}]}]} {}`, `more after the object`},
	} {
		text := strings.Replace(instance, tt.from, tt.to, 1)
		if _, err := ReadMarket([]byte(text)); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s → %s: %v, want %q", tt.from, tt.to, err, tt.want)
		}
	}
	m, err := ReadMarket([]byte(instance))
	if err != nil || m.Sellers[0].Factor != (Factor{12, 1}) || m.Packs[0].Stock != 20 {
		t.Errorf("%+v, %v", m, err)
	}
	if f, err := readFactor(nil); err != nil || f.Digits != 1 {
		t.Errorf("no factor is %+v, %v, want one", f, err)
	}
}

// A limit that nothing meets says which.
func TestOrdersThatCannotBe(t *testing.T) {
	m, err := ReadMarket([]byte(instance))
	if err != nil {
		t.Fatal(err)
	}
	for want, lim := range map[string]Limits{
		"need N1: no offer arrives in 2 days": {Days: 2, HasDays: true},
		"no order meets the limits":           {Score: 3},
	} {
		if a := solve(t, m, lim); a.Feasible || a.Why != want || !a.Proven {
			t.Errorf("%+v, want %q", a, want)
		}
	}
	m.Wants[0].Pieces = 101
	if a := solve(t, m, Limits{}); a.Feasible || a.Why != "need N1: no offer has 101 pieces" {
		t.Errorf("%+v", a)
	}
}

// An instance of any kind is read, refused or worked; it never panics, and
// what is found costs what its plan costs.
func FuzzReadMarket(f *testing.F) {
	f.Add([]byte(instance))
	f.Add([]byte(strings.ReplaceAll(instance, "7", "9007199254740993")))
	f.Add([]byte(`{"needs":[{"id":"a","qty":1}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := ReadMarket(data)
		if err != nil || len(m.Wants) > 4 || len(m.Packs) > 8 || len(m.Sellers) > 4 {
			return
		}
		for _, w := range m.Wants {
			if w.Pieces > 50 {
				return
			}
		}
		s, err := NewSearch(m, Limits{})
		if err != nil {
			return
		}
		for range 4 {
			if s.Step() {
				break
			}
		}
		if a := s.Answer(); a.Feasible && a.Lower > a.Cost {
			t.Errorf("lower %d above cost %d", a.Lower, a.Cost)
		}
	})
}
