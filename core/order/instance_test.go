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
		"need N1: no offer arrives in 2 days":                                   {Days: 2, HasDays: true},
		"there is no order with a score of at least 3 (2 is the most there is)": {Score: 3},
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

// Odd instances, with the cost by hand in minor units.
func TestOddInstances(t *testing.T) {
	const offer = `{"id":"O1","supplier":"S","piecesPerPack":5,"minPacks":1,"stockPacks":20,"leadDays":3,"prices":[{"fromPacks":1,"perPack":400},{"fromPacks":3,"perPack":350}]}`
	for _, tt := range []struct{ name, from, to, cost, why string }{
		{"as it is: 2 packs at 400, 950 carriage, times 1.2", "", "", "2100", ""},
		{"no carriage: 800 times 1.2", `"carriage":[{"fromGoods":0,"fee":950},{"fromGoods":6000,"fee":0}]`, `"carriage":[]`, "960", ""},
		{"carriage from 1000: topped up by 200, fee 950", `"fromGoods":0`, `"fromGoods":1000`, "2340", ""},
		{"least goods 6000 with free carriage: 6000 times 1.2", `"minGoods":0`, `"minGoods":6000`, "7200", ""},
		{"a factor of nine places: 1750 times 1.200000001", `"1.2"`, `"1.200000001"`, "2100.00000175", ""},
		{"a factor as a number", `"1.2"`, `1.25`, "2187.5", ""},
		{"no stock", `"stockPacks":20`, `"stockPacks":0`, "", "need N1: no offer has 7 pieces"},
		{"unstated stock has no end", `"stockPacks":20,`, ``, "2100", ""},
		{"at least 3 packs: 3 at 350", `"minPacks":1`, `"minPacks":3`, "2400", ""},
		{"no price below 3 packs", `{"fromPacks":1,"perPack":400},`, ``, "2400", ""},
		{"nothing fits", `[{"offer":"O1","score":2}]`, `[]`, "", "need N1: no offer fits"},
		{"nothing wanted", `{"id":"N1","qty":7,"fits":[{"offer":"O1","score":2}]}`, ``, "0", ""},
		{"for nothing there is no parcel and no carriage", `"prices":[{"fromPacks":1,"perPack":400}`, `"prices":[{"fromPacks":1,"perPack":0}`, "0", ""},
		{"10,000,000 pieces: 2,000,000 packs at 350, times 1.2", `"stockPacks":20,`, ``, "2100", ""},
		{"a dear twin is no matter", offer, offer + `,{"id":"O2","supplier":"S","piecesPerPack":1,"minPacks":0,"leadDays":0,"prices":[{"fromPacks":1,"perPack":999999999999}]}`, "2100", ""},
	} {
		text := strings.Replace(instance, tt.from, tt.to, 1)
		if strings.HasPrefix(tt.name, "10,000,000") {
			text, tt.cost = strings.Replace(text, `"qty":7`, `"qty":10000000`, 1), "840000000"
		}
		m, err := ReadMarket([]byte(text))
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		a := solve(t, m, Limits{})
		if a.Feasible != (tt.cost != "") || a.Why != tt.why || a.Feasible && Exact(a.Cost, a.Places) != tt.cost {
			t.Errorf("%s: %v %s (%s), want %s %s", tt.name, a.Feasible, Exact(a.Cost, a.Places), a.Why, tt.cost, tt.why)
		}
	}
}

// A lead that is not stated is in time for no limit, and told of as such.
func TestUnstatedLeadIsNeverInTime(t *testing.T) {
	m, err := ReadMarket([]byte(strings.Replace(instance, `"leadDays":3,`, ``, 1)))
	if err != nil {
		t.Fatal(err)
	}
	a := solve(t, m, Limits{})
	data, err := a.JSON(&m)
	if err != nil || a.Days >= 0 || !strings.Contains(string(data), `"lead_days": null`) {
		t.Errorf("%d days, %v, %s", a.Days, err, data)
	}
	if a := solve(t, m, Limits{Days: 1000, HasDays: true}); a.Feasible || a.Why != "need N1: no offer is stated to arrive in 1000 days" {
		t.Errorf("%+v", a)
	}
}

// An instance of any kind is read, refused or worked; it never panics, and
// what is found costs what trying all finds.
func FuzzReadMarket(f *testing.F) {
	f.Add([]byte(instance))
	f.Add([]byte(strings.ReplaceAll(instance, "7", "9007199254740993")))
	f.Add([]byte(`{"needs":[{"id":"a","qty":1}]}`))
	f.Add([]byte(strings.Replace(instance, `"perPack":350`, `"perPack":999999999999`, 1)))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := ReadMarket(data)
		if err != nil || len(m.Wants) > 4 || len(m.Packs) > 8 || len(m.Sellers) > 4 {
			return
		}
		s, err := NewSearch(m, Limits{})
		if err != nil {
			return
		}
		for range 50 {
			if s.Step() {
				break
			}
		}
		a := s.Answer()
		if a.Feasible && a.Lower > a.Cost {
			t.Errorf("lower %d above cost %d", a.Lower, a.Cost)
		}
		if a.Proven && modest(m) {
			if want, _ := byTrying(m, Limits{}); a.Feasible != (want != Never) || a.Feasible && a.Cost != want {
				t.Errorf("%v %d, trying all gives %d (%s)", a.Feasible, a.Cost, want, a.Why)
			}
		}
	})
}

// modest reports whether a market can be tried out in a moment.
func modest(m Market) bool {
	for _, w := range m.Wants {
		if w.Pieces > 50 || len(w.Fits) == 0 {
			return false
		}
	}
	for _, p := range m.Packs {
		if p.Least > 50 || p.Prices[len(p.Prices)-1].From > 50 || p.Prices[len(p.Prices)-1].Price > 1e9 || p.Prices[0].Price > 1e9 {
			return false
		}
	}
	for _, s := range m.Sellers {
		if s.Factor.Digits > 1e5 || s.MinGoods > 1e9 || len(s.Carriage) > 0 && s.Carriage[len(s.Carriage)-1].From > 1e9 {
			return false
		}
	}
	return true
}
