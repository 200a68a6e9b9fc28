package quote

import (
	"fmt"
	"strings"
	"testing"

	"lugworth/core/labor"
	"lugworth/core/money"
)

// A bench is one invented shop with one invented amp: what the tests price.
type bench struct {
	policy Policy
	rate   labor.Rate
	markup string // percent
	setUps string // "S1 low mode high"
	tasks  string // "T1 low mode high set-ups..."
	list   string // "number price rate unrecovered lead"
	parts  string // "option number pieces"
	subs   []Subcontract
}

func dollars(text string) money.Amount { return sumOf("USD", text) }

func sumOf(code, text string) money.Amount {
	a, err := currency(code).Read(text)
	if err != nil {
		panic(err)
	}
	return a
}

func currency(code string) money.Currency {
	c, err := money.CurrencyOf(code)
	if err != nil {
		panic(err)
	}
	return c
}

var dec = money.MustDecimal

// A cathode-biased amp of about 1957: 80.00 an hour, mark-up 25 %, 8 % on
// parts, subcontracts +10 %, 10 % of labor kept for finds.
var drover = bench{
	policy: Policy{Currency: currency("USD"), Fee: dollars("80.00"), SubMarkup: dec("10"), Allowance: dec("10"),
		Tax: TaxRule{Percent: dec("8"), On: []Class{Parts}, Source: "the shop's own sheet"}, Where: "shop.csv"},
	rate:   labor.Rate{Hour: dec("80"), Currency: currency("USD")},
	markup: "25",
	setUps: "S1 .4 .6 1.4\nS2 .8 1.0 1.8",
	tasks: `
T1 .5 .7 1.5 S1 S2
T2b .8 1.0 1.8 S1 S2
T2c 1.2 1.8 3.6 S1 S2
T3 .4 .6 1.4 S1 S2
T4 .2 .3 .4 S1 S2
T5 .2 .3 .4 S1 S2
T6 .2 .4 .6 S2
T6r .1 .2 .3 S1 S2
T7a .3 .4 .5
T7b .3 .5 .7
T8 .1 .2 .3 S1 S2
T9 .5 .7 1.5
T10 .2 .3 .4 S1 S2`,
	list: `
K-1501 9.50 1 0 2
K-1502 0.60 1 0 2
K-1002 5.20 1 0 2
K-1101 0.75 1 0 2
K-1201 1.40 1 0 2
K-1301 0.90 1 0 2
K-1401 54.00 1 0 2
K-1601 1.20 1 0 2
R-2301 14.00 1 0 -1`,
	parts: `
T1 K-1501 1
T1 K-1502 2
T2b K-1002 3
T2c K-1002 3
T3/film K-1101 4
T3/paper-look R-2301 4
T4 K-1201 3
T5 K-1301 2
T6 K-1401 1
T6r K-1601 1`,
	subs: []Subcontract{{Option: "T7a", Finding: "A7", Say: "recone", Price: dec("95.00"), Carriage: dec("36.00"), LeadDays: 21}},
}

// A four-tube amp of about 1964: 60.00 an hour, not registered for the tax,
// supplier tax 20 % stays a cost, mark-up 20 %, 1 EUR = 0.86 GBP.
var tern = bench{
	policy: Policy{Currency: currency("GBP"), Fee: sumOf("GBP", "60.00"), Where: "shop.csv"},
	rate:   labor.Rate{Hour: dec("60"), Currency: currency("GBP")},
	markup: "20",
	setUps: "S1 .3 .4 .5\nS2 .8 1.0 1.8",
	tasks: `
T1 .1 .1 .1 S2
T2 .2 .3 .4 S1 S2
T3i .4 .6 1.4 S1 S2
T3ii .8 1.0 1.8 S1 S2
T4 .2 .3 .4 S1 S2
T5 .2 .2 .2 S2
T6 .4 .6 1.4 S1 S2
T7 .3 .4 .5 S1 S2
T8 .5 1.0 2.7 S1 S2
T9 .2 .3 .4 S1 S2`,
	list: `
U-101 14.50 1 20 35
U-120 52.00 1 20 3
U-130 1.10 1 20 3
U-131 0.60 1 20 3
U-140 0.36 1 20 3
U-150 5.20 1 20 3
U-160 2.10 1 20 3
E-77 4.20 0.86 0 4
E-81 1.30 0.86 0 4`,
	parts: `
T1 U-140 1
T2 U-150 1
T3i U-101 1
T3ii E-77 2
T4 U-130 1
T4 U-131 1
T5 U-120 1
T6 E-81 4
T9 U-160 1`,
}

func rows(text string) [][]string {
	var all [][]string
	for _, line := range strings.Split(strings.TrimSpace(text), "\n") {
		all = append(all, strings.Fields(line))
	}
	return all
}

// input prices what accept names: "T3/film" is task T3 with its film parts.
func (b bench) input(t *testing.T, accept string) Input {
	t.Helper()
	in := Input{Policy: b.policy}
	var tasks []labor.Task
	for _, option := range strings.Fields(accept) {
		tasks = append(tasks, b.task(t, strings.Split(option, "/")[0]))
		in.Parts = append(in.Parts, b.partsOf(t, option)...)
		for _, s := range b.subs {
			if s.Option == option {
				in.Subcontracts = append(in.Subcontracts, s)
			}
		}
	}
	var sets []labor.SetUp
	for _, f := range rows(b.setUps) {
		sets = append(sets, labor.SetUp{ID: f[0], Three: three(t, f)})
	}
	var err error
	if in.Labor, err = labor.Sum(tasks, sets, b.rate); err != nil {
		t.Fatal(err)
	}
	return in
}

func three(t *testing.T, f []string) labor.Three {
	t.Helper()
	h, err := labor.ReadThree(f[1], f[2], f[3])
	if err != nil {
		t.Fatal(err)
	}
	return h
}

func (b bench) task(t *testing.T, id string) labor.Task {
	t.Helper()
	for _, f := range rows(b.tasks) {
		if f[0] == id {
			return labor.Task{ID: id, Say: "work " + id, Three: three(t, f), SetUps: f[4:]}
		}
	}
	t.Fatalf("no task %s", id)
	return labor.Task{}
}

func (b bench) partsOf(t *testing.T, option string) []Part {
	t.Helper()
	var parts []Part
	for _, f := range rows(b.parts) {
		if f[0] != option {
			continue
		}
		p := b.part(t, f[1])
		p.Option = option
		fmt.Sscan(f[2], &p.Pieces)
		parts = append(parts, p)
	}
	return parts
}

func (b bench) part(t *testing.T, number string) Part {
	t.Helper()
	for _, f := range rows(b.list) {
		if f[0] != number {
			continue
		}
		landed, err := money.Landed(dec(f[1]), dec(f[2]), dec(f[3]))
		if err != nil {
			t.Fatal(err)
		}
		p := Part{Say: "part " + number, List: number[:1], Number: number}
		if p.Selling, err = money.Selling(landed, dec(b.markup), b.policy.Currency, b.policy.Rounding); err != nil {
			t.Fatal(err)
		}
		fmt.Sscan(f[4], &p.LeadDays)
		return p
	}
	t.Fatalf("no part %s", number)
	return Part{}
}

func (b bench) bill(t *testing.T, accept string) Bill {
	t.Helper()
	bill, err := Price(b.input(t, accept))
	if err != nil {
		t.Fatal(err)
	}
	return bill
}
