package job_test

import (
	"fmt"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"lugworth/catalogs"
	"lugworth/core/job"
	"lugworth/core/order"
	"lugworth/core/record"
	"lugworth/core/tube"
)

const martenPath = "../../testdata/orders/marten.txtar"

// marten is an amp whose parts three suppliers sell, with files of the shop's
// replaced by others.
func marten(t testing.TB, files ...job.File) (*job.Job, *job.Books) {
	t.Helper()
	data, err := os.ReadFile(martenPath)
	if err != nil {
		t.Fatal(err)
	}
	a := txtar.Parse(data)
	for _, f := range files {
		at := slices.IndexFunc(a.Files, func(x txtar.File) bool { return x.Name == f.Name })
		if at < 0 {
			a.Files = append(a.Files, txtar.File{Name: f.Name})
			at = len(a.Files) - 1
		}
		a.Files[at].Data = f.Data
	}
	c, err := job.OpenCase(martenPath, txtar.Format(a), nil)
	if err != nil {
		t.Fatal(err)
	}
	builtin, problems := tube.ReadCards("cards.csv", catalogs.Cards)
	if len(problems) > 0 {
		t.Fatal(problems[0])
	}
	return c.Open(builtin)
}

func ordering(t testing.TB, r *job.Result) *job.Ordering {
	t.Helper()
	o, err := r.Ordering()
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// cheapest searches an ordering to its end.
func cheapest(t testing.TB, o *job.Ordering, lim order.Limits) order.Answer {
	t.Helper()
	s, err := o.Search(lim)
	if err != nil {
		t.Fatal(err)
	}
	for !s.Step() {
	}
	return s.Answer()
}

// By hand, in USD, N at 1 EUR = 1.10:
//
//	planned   M 9.50 + 3.00 + 1.20 = 13.70, carriage 6.00                     19.70
//	          N (3×4.40 + 4×0.60 + 3×1.00) 18.60 + 1.50 = 20.10 EUR × 1.10    22.11
//	          P 33.00 + 5.00                                                  38.00   79.81
//	cheapest  M 13.70 + 3×5.20 + 36.00 = 65.30, from 60.00 on carriage 0      65.30
//	          N (4×0.60 + 3×1.00) 5.40 + 1.50 = 6.90 EUR × 1.10                7.59   72.89
//
// All 2·2·2·2·3·2 other ways are gone through below.
func TestMovingALineFillsACarriageStep(t *testing.T) {
	j, b := marten(t)
	r := job.Derive(j, b, "2026-01-05")
	if len(r.Problems) > 0 {
		t.Errorf("problems: %v", r.Problems)
	}
	o := ordering(t, r)
	p, a := o.Planned(), cheapest(t, o, order.Limits{})
	if p.Places != 1 || p.Cost != 79810 || p.Parcels != 3 || !p.Proven {
		t.Errorf("planned: %+v", p)
	}
	if a.Cost != 72890 || a.Lower != 72890 || a.Parcels != 2 || a.Days != 4 || !a.Proven {
		t.Errorf("cheapest: %+v", a)
	}
	want := []job.Swap{{Option: "T2b", Part: "0", List: "M", Number: "M-20"}, {Option: "T6", Part: "0", List: "M", Number: "M-50"}}
	if got := o.Swaps(a); !reflect.DeepEqual(got, want) {
		t.Errorf("swaps %v, want %v", got, want)
	}
	if len(o.Swaps(p)) != 0 {
		t.Errorf("the plan swaps %v", o.Swaps(p))
	}
	least, ways := exhaustive(o)
	if least != a.Cost || ways < 24 {
		t.Errorf("%d ways gone through, the least costs %d, the search says %d", ways, least, a.Cost)
	}
	assumed := strings.Join(o.Assumed, "\n")
	for _, say := range []string{"stock not stated by N for 3 of the offers", "lead time not stated by P for 2 of the offers"} {
		if !strings.Contains(assumed, say) {
			t.Errorf("not said: %q in %q", say, assumed)
		}
	}
	if strings.Contains(assumed, "carriage") {
		t.Errorf("carriage is stated by all: %q", assumed)
	}
}

// exhaustive prices every way to serve a small market.
func exhaustive(o *job.Ordering) (least int64, ways int) {
	least = order.Never
	plan := make([]int, len(o.Market.Wants))
	var try func(w int)
	try = func(w int) {
		if w == len(plan) {
			ways++
			if c, _, err := o.Market.Price(plan); err == nil {
				least = min(least, c)
			}
			return
		}
		for _, f := range o.Market.Wants[w].Fits {
			plan[w] = f.Pack
			try(w + 1)
		}
	}
	try(0)
	return least, ways
}

// A part that is over, below reserve or named is never swapped: the 400 V
// capacitors of M are far cheaper and bear too little.
func TestOnlyWhatPassesFits(t *testing.T) {
	j, b := marten(t)
	o := ordering(t, job.Derive(j, b, ""))
	for w, want := range o.Market.Wants {
		line := o.Wants[w].Lines[0]
		chosen := o.Candidate(w, o.PlannedPack(w))
		for _, f := range want.Fits {
			c := o.Candidate(w, f.Pack)
			if !c.Offered() || c.Kind.String() != chosen.Kind.String() && line.Option != "T4" {
				t.Errorf("%s: %s fits and is %s", want.ID, o.Market.Packs[f.Pack].ID, c.Kind)
			}
			if id := o.Market.Packs[f.Pack].ID; id == "M M-31" || id == "M M-21" && line.Option == "T2b" {
				t.Errorf("%s: %s bears too little and fits", want.ID, id)
			}
		}
	}
	named, _ := opened(t, "drover")
	_ = named
	for _, w := range ordering(t, derived(t, "drover")).Wants {
		if !w.Named {
			t.Errorf("%v: the technician named the offer", w.Lines)
		}
	}
}

func TestWhyTheWinnerWon(t *testing.T) {
	j, b := marten(t)
	o := ordering(t, job.Derive(j, b, ""))
	a := cheapest(t, o, order.Limits{})
	for i, want := range []struct{ id, say string }{
		// 5.20 − 4.40·1.10 = 0.36; all else staying, N-20 costs 13.20·1.10 = 14.52, M falls to 49.70 + 6.00: 55.70 + 22.11 − 72.89 = 4.92
		{"T2b 0", "dearer by 0.36 USD a piece than N N-20, the cheapest, carriage aside|same parcel as A1, A6 and A6r|" +
			"fills the order to M to 65.30 USD: from 60.00 on carriage is 0.00 instead of 6.00|N N-20, as planned, would add 4.92 USD to the order if all else stayed"},
		// 36.00 against 33.00; P would be a parcel: 33 + 5, M falls to 29.30 + 6.00: 35.30 + 38.00 + 7.59 − 72.89 = 8.00
		{"T6 0", "dearer by 3.00 USD a piece than P P-50, the cheapest, carriage aside|same parcel as A1, A2 and A6r|" +
			"fills the order to M to 65.30 USD: from 60.00 on carriage is 0.00 instead of 6.00|P P-50, as planned, would add 8.00 USD to the order if all else stayed"},
		// 1.60 − 0.66 = 0.94
		{"T3/film 0", "cheaper by 0.94 USD a piece than M M-30, the next cheapest, carriage aside|same parcel as A4"},
	} {
		w := slices.IndexFunc(o.Market.Wants, func(w order.Want) bool { return w.ID == want.id })
		if got := strings.Join(o.Why(a, w), "|"); got != want.say {
			t.Errorf("%d: %s\n got %s\nwant %s", i, want.id, got, want.say)
		}
	}
}

// Insisting on an offer costs what the exhaustive search with it costs.
func TestRankingIsTheWholeOrder(t *testing.T) {
	j, b := marten(t)
	o := ordering(t, job.Derive(j, b, ""))
	a := cheapest(t, o, order.Limits{})
	ranked := 0
	for w := range o.Market.Wants {
		k := o.Rank(order.Limits{}, a, w)
		for !k.Step() {
		}
		for _, row := range k.Rows {
			only := *o
			only.Market.Wants = slices.Clone(o.Market.Wants)
			only.Market.Wants[w].Fits = []order.Fit{{Pack: row.Pack}}
			least, _ := exhaustive(&only)
			if !row.Known || !row.Exact || row.Delta != least-a.Cost {
				t.Errorf("%s with %s: %+v, want %d", o.Market.Wants[w].ID, o.Market.Packs[row.Pack].ID, row, least-a.Cost)
			}
			ranked++
		}
	}
	if ranked < 15 {
		t.Errorf("%d offers ranked, want 15 or more", ranked)
	}
}

// bought is the job with a record of kind buy.
func bought(t *testing.T, j *job.Job, body string) *job.Job {
	t.Helper()
	data := strings.Replace(string(jobIn(t, martenPath)), "\n]}", ",\n"+`{"kind":"buy","body":`+body+`}`+"\n]}", 1)
	f, err := record.Read([]byte(data))
	if err != nil {
		t.Fatal(err)
	}
	next := job.Read(f)
	next.Add(j.Amp.Positions[len(next.Amp.Positions):], j.Amp.Readings[len(next.Amp.Readings):])
	return next
}

// A recorded swap is bought; the owner's price does not move.
func TestASwapMovesTheOrderAndNotThePrice(t *testing.T) {
	j, b := marten(t)
	r := job.Derive(j, b, "")
	o := ordering(t, r)
	a := cheapest(t, o, order.Limits{})
	want, err := r.BuyOf(o, a)
	if err != nil {
		t.Fatal(err)
	}
	swapped := job.Derive(bought(t, j, `{"swaps":[{"option":"T2b","part":"0","list":"M","number":"M-20"},{"option":"T6","part":"0","list":"M","number":"M-50"}]}`), b, "")
	if len(swapped.Problems) > 0 {
		t.Errorf("problems: %v", swapped.Problems)
	}
	if !reflect.DeepEqual(swapped.Buy, want) {
		t.Errorf("bought %+v\nwant %+v", swapped.Buy, want)
	}
	if got, was := swapped.Sets[swapped.Force].Bill, r.Sets[r.Force].Bill; got.Total != was.Total || got.Parts != was.Parts || got.ReadyDays != was.ReadyDays {
		t.Errorf("the owner pays %d, %d before the swap", got.Total, was.Total)
	}
	// 79.81 − 72.89 = 6.92 more is left of the parts bill: 0.01 may go by
	// rounding, goods and carriage of N once each.
	before, err1 := r.Spend()
	after, err2 := swapped.Spend()
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	if d := after.Left - before.Left; d < 691 || d > 693 {
		t.Errorf("the swaps leave %d more, want 692", d)
	}
	waits := job.Derive(bought(t, j, `{"swaps":[{"option":"T8","part":"0","list":"M","number":"M-20"},{"option":"T10","part":"3","list":"M","number":"M-20"},{"option":"T99","list":"M","number":"M-20"}]}`), b, "")
	if len(waits.Problems) != 3 || !strings.Contains(fmt.Sprint(waits.Problems), "the job has no such part") {
		t.Errorf("swaps of parts there are not: %v", waits.Problems)
	}
	plain := job.Derive(bought(t, j, `{}`), b, "")
	if !reflect.DeepEqual(plain.Buy, r.Buy) {
		t.Error("an empty record of kind buy is not the order as planned")
	}
}

// A swap that does not pass as a fit is left out and told of.
func TestASwapThatNoLongerPassesIsToldOf(t *testing.T) {
	j, b := marten(t)
	r := job.Derive(j, b, "")
	for number, say := range map[string]string{
		"M-21": "over: 445.2 V > 400.0 V", // 400 V where 500 V are asked for
		"M-99": "no such",                 // in no list
		"M-31": "no such",                 // of another kind
		"N-20": "",                        // the plan's own
		"M-20": "",                        // a fit
	} {
		next := job.Derive(bought(t, j, `{"swaps":[{"option":"T2b","part":"0","list":"`+number[:1]+`","number":"`+number+`"}]}`), b, "")
		said := fmt.Sprint(next.Problems)
		if say == "" && len(next.Problems) > 0 || say != "" && (len(next.Problems) != 1 || !strings.Contains(said, say)) {
			t.Errorf("%s: %s, want %q", number, said, say)
		}
		if say != "" && !reflect.DeepEqual(next.Buy, r.Buy) {
			t.Errorf("%s is bought all the same", number)
		}
	}
}

// The day by the longest lead counts the plan: a swap that arrives
// later than all of it is told of.
func TestASwapThatArrivesLaterIsToldOf(t *testing.T) {
	j, b := marten(t, job.File{Name: "lists/N.csv", Data: []byte("Nummer;Text;Preis;Per;Tage\nN-20;ELKO AXIAL 22uF 500V;4,40;1;1\nN-30;FILM 22n 630V;0,60;1;9\nN-40;ELKO AXIAL 25uF 50V;2,00;1;1\nN-41;ELKO AXIAL 25uF 50V;2,00;1;12\n")})
	for swap, want := range map[string]string{
		`{"option":"T4","list":"N","number":"N-41"}`: "the order as chosen arrives in 12 days, as planned in 9: the day by the longest lead counts the plan's",
		`{"option":"T4","list":"N","number":"N-40"}`: "",
		`{"option":"T4","list":"P","number":"P-40"}`: "", // what the plan takes
	} {
		r := job.Derive(bought(t, j, `{"swaps":[`+swap+`]}`), b, "")
		if said := fmt.Sprint(r.Problems); want == "" && len(r.Problems) > 0 || !strings.Contains(said, want) {
			t.Errorf("%s: %s, want %q", swap, said, want)
		}
	}
}

// Two findings that take one offer reach its break together: 3 and 3 pieces
// at 1.20 a piece from 6 on, by the list of N alone.
func TestWhyABreakIsShared(t *testing.T) {
	m := "SKU,Description,Value,Volts,Price,Pack\nM-10,3-core lead kit,,,9.50,1\nM-11,Fuse slow 2A,2A T,,0.60,5\nM-60,Wirewound 5W,300R,,1.20,1\nM-50,6V6GT matched pair,,,36.00,1\nM-30,Film axial,.022,630,1.60,1\n" +
		"M-20,Axial electrolytic,22uF,500,1.40,1\nM-40,Axial electrolytic,25uF,50,1.30,1\n"
	n := "Number,Description,Value,Volts,Price,Price from 6\nN-20,Axial electrolytic,22uF,500,1.90,1.00\n"
	terms := "list,currency,rate,tax_in_price,tax_not_reclaimed,decimal,pack_column,lead_column,min_order,carriage\nM,USD,1,no,0,.,,,,0\nN,USD,1,no,0,.,,,,0\nP,USD,1,no,0,.,,,,9.00\n"
	j, b := marten(t, job.File{Name: "lists/M.csv", Data: []byte(m)}, job.File{Name: "lists/N.csv", Data: []byte(n)}, job.File{Name: "terms.csv", Data: []byte(terms)},
		job.File{Name: "stock.csv", Data: []byte("list,number,pieces\nP,P-50,1\n")})
	o := ordering(t, job.Derive(j, b, ""))
	a := cheapest(t, o, order.Limits{})
	// apart 3×1.40 + 3×1.30 = 8.10, together 6×1.00 = 6.00; one of them as
	// planned leaves three at N at 1.90: 4.20 + 5.70 − 6.00 = 3.90
	var got []string
	for w := range o.Market.Wants {
		if id := o.Market.Wants[w].ID; id == "T2b 0" || id == "T4 0" {
			got = append(got, o.Why(a, w)...)
		}
	}
	want := []string{
		"dearer by 0.50 USD a piece than M M-20, the cheapest, carriage aside", "shares the break at 6 pieces with A4", "same parcel as A4", "M M-20, as planned, would add 3.90 USD to the order if all else stayed",
		"dearer by 0.60 USD a piece than M M-40, the cheapest, carriage aside", "shares the break at 6 pieces with A2", "same parcel as A2", "M M-40, as planned, would add 3.60 USD to the order if all else stayed"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

// A choice that takes no parts is an order of nothing, and a choice with a
// part that may not be ordered is an order of the others.
func TestOrdersOfLittle(t *testing.T) {
	j, b := marten(t)
	for _, c := range []struct {
		accept []string
		wants  int
		held   int
	}{{[]string{"T8"}, 0, 0}, {[]string{"T1", "T6r"}, 2, 1}} {
		next := *j
		next.Sets = []job.Set{{Name: j.Sets[0].Name, Accept: c.accept}}
		next.Reasons = map[string]string{}
		r := job.Derive(&next, b, "")
		o := ordering(t, r)
		a, p := cheapest(t, o, order.Limits{}), o.Planned()
		if len(o.Market.Wants) != c.wants || len(o.Held) != c.held || !a.Feasible || !a.Proven || a.Cost != p.Cost || (c.wants == 0) != (a.Cost == 0) {
			t.Errorf("%v: %d needs, held %v, %+v, planned %+v", c.accept, len(o.Market.Wants), o.Held, a, p)
		}
		if got, err := r.BuyOf(o, a); err != nil || !reflect.DeepEqual(got, r.Buy) {
			t.Errorf("%v: %+v, %v", c.accept, got, err)
		}
	}
	next := *j
	next.Pick = ""
	if _, err := job.Derive(&next, b, "").Ordering(); err == nil {
		t.Error("an ordering without a choice")
	}
}

// Terms that cannot be counted in are told of once, however often an order is
// made.
func TestTermsTooLargeAreToldOfOnce(t *testing.T) {
	terms := "list,currency,rate,tax_in_price,tax_not_reclaimed,decimal,pack_column,lead_column,min_order,carriage\nM,USD,1,no,0,.,,,999999999999999999,0\nN,EUR,1.10,no,0,\",\",Per,Tage,,1.50\nP,USD,1,no,0,.,,,,5\n"
	j, b := marten(t, job.File{Name: "terms.csv", Data: []byte(terms)})
	r := job.Derive(j, b, "")
	told := len(r.Problems)
	if told != 1 || !strings.Contains(r.Problems[0].Error(), "terms of M") {
		t.Errorf("%v", r.Problems)
	}
	if _, err := r.Ordering(); err == nil || !strings.Contains(err.Error(), "terms of M") {
		t.Errorf("an ordering all the same: %v", err)
	}
	if len(r.Problems) != told {
		t.Errorf("told again: %v", r.Problems)
	}
}

// What a minor unit of a supplier costs in cents: rate · (1 + tax), and a
// hundred times that for a currency without cents.
//
//	EUR 1.10 · 1.2                 = 1.32
//	EUR 1.2345 · 1.0825            = 1.33634625, to six places 1.336346, which is said
//	JPY 0.0067 · 1.0825 · 100      = 0.725275
//	EUR 1.10, tax in the price     = 1.1
func TestFactorsOfSuppliers(t *testing.T) {
	for _, c := range []struct {
		terms  string
		digits int64
		places int
		told   bool
	}{
		{"EUR,1.10,no,20", 132, 2, false}, {"EUR,1.2345,no,8.25", 1336346, 6, true}, {"JPY,0.0067,no,8.25", 725275, 6, false}, {"EUR,1.10,yes,20", 11, 1, false},
	} {
		terms := "list,currency,rate,tax_in_price,tax_not_reclaimed,decimal,pack_column,lead_column,min_order,carriage\nM,USD,1,no,0,.,,,,0\nN," + c.terms + ",\",\",Per,Tage,,1\nP,USD,1,no,0,.,,,,5\n"
		list := "Nummer;Text;Preis;Per;Tage\nN-20;ELKO AXIAL 22uF 500V;4;1;4\nN-30;FILM 22n 630V;1;1;4\nN-40;ELKO AXIAL 25uF 50V;1;1;4\n"
		j, b := marten(t, job.File{Name: "terms.csv", Data: []byte(terms)}, job.File{Name: "lists/N.csv", Data: []byte(list)})
		o := ordering(t, job.Derive(j, b, ""))
		at := slices.IndexFunc(o.Sellers, func(s job.Sender) bool { return s.List == "N" })
		if got := o.Market.Sellers[at].Factor; got.Digits != c.digits || got.Places != c.places {
			t.Errorf("%s: %+v, want %d and %d places", c.terms, got, c.digits, c.places)
		}
		if said := strings.Contains(fmt.Sprint(o.Assumed), "six places"); said != c.told {
			t.Errorf("%s: assumed %v", c.terms, o.Assumed)
		}
	}
}
