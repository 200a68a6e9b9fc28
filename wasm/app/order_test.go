package app

import (
	"os"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/order"
	"lugworth/wasm/port"
)

// atOrder has the amp open whose parts three suppliers sell, with Order in
// sight. Pairs of texts replace what its files say. As planned it costs 79.81
// in three parcels, at least 72.89 in two, 77.10 in one: reckoned by hand
// beside the test of the market in core/job.
func atOrder(t testing.TB, replace ...string) *bench {
	t.Helper()
	data, err := os.ReadFile("../../testdata/orders/marten.txtar")
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for i := 0; i+1 < len(replace); i += 2 {
		if !strings.Contains(text, replace[i]) {
			t.Fatalf("the job does not say %q", replace[i])
		}
		text = strings.Replace(text, replace[i], replace[i+1], 1)
	}
	b := started(t)
	b.send(port.FileOpened{Fresh: b.fresh(), Files: []port.File{{Name: "marten.txtar", Bytes: []byte(text)}}})
	if len(b.m.Screen.Problems) > 0 {
		t.Fatal(b.m.Screen.Problems)
	}
	b.press("posture", "order", "", "")
	return b
}

func (b *bench) seek() *Seek {
	b.t.Helper()
	s, err := b.m.Seek()
	if err != nil || s == nil {
		b.t.Fatal("nothing is looked for", err)
	}
	return s
}

// settle lets moments pass until nothing is left to do, and counts them.
func (b *bench) settle() (moments int) {
	b.t.Helper()
	for b.m.seeking {
		if moments++; moments > 10_000 {
			b.t.Fatal("the search does not end")
		}
		b.send(port.Elapsed{Fresh: b.fresh(), Tag: tagSeek})
	}
	return moments
}

func (b *bench) suppliers() string {
	var out []string
	for _, k := range b.m.Open.Result.Buy.Baskets {
		out = append(out, k.Supplier)
	}
	return strings.Join(out, " ")
}

func asksForMore(effects []port.Effect) bool {
	for _, e := range effects {
		if e == (port.After{Tag: tagSeek}) {
			return true
		}
	}
	return false
}

// A bound and an order are there at once; from moment to moment the bound
// only rises and the cost only falls, until both are one.
func TestTheBoundIsThereAtOnce(t *testing.T) {
	b := atOrder(t)
	s := b.seek()
	was := s.Best()
	if !was.Feasible || was.Proven || !s.Looking() || was.Lower <= 0 || was.Lower > 72890 || was.Cost < 72890 {
		t.Fatalf("at once: %+v", was)
	}
	for b.m.seeking {
		b.send(port.Elapsed{Fresh: b.fresh(), Tag: tagSeek})
		now := s.Best()
		if now.Lower < was.Lower || now.Cost > was.Cost {
			t.Errorf("from %d..%d to %d..%d", was.Lower, was.Cost, now.Lower, now.Cost)
		}
		was = now
	}
	if !was.Proven || was.Cost != 72890 || was.Lower != 72890 || s.Planned.Cost != 79810 {
		t.Errorf("proven %+v, planned %d", was, s.Planned.Cost)
	}
	if asksForMore(b.press("order-point", "", "", "")) {
		t.Error("all is known, and a further moment is asked for")
	}
}

// Only Order has it looked for: on the telephone nothing of it is worked out.
func TestNothingIsLookedForElsewhere(t *testing.T) {
	b := atOrder(t)
	if asksForMore(b.press("posture", "call", "", "")) {
		t.Error("Call asks for a step of the search")
	}
	b.send(port.Elapsed{Fresh: b.fresh(), Tag: tagSeek})
	if s := b.seek(); s.steps > 0 || b.m.seeking {
		t.Errorf("%d steps while Call is looked at", s.steps)
	}
	if !asksForMore(b.press("posture", "order", "", "")) {
		t.Error("back on Order nothing goes on")
	}
}

func TestOrderThisWayAndAsPlanned(t *testing.T) {
	b := atOrder(t)
	b.settle()
	if b.suppliers() != "M N P" {
		t.Fatalf("as planned from %s", b.suppliers())
	}
	effects := b.press("order-this", "", "", "")
	want := []job.Swap{{Option: "T2b", Part: "0", List: "M", Number: "M-20"}, {Option: "T6", Part: "0", List: "M", Number: "M-50"}}
	if !saves(effects) || !reflect.DeepEqual(b.m.Open.Job.Buying.Swaps, want) || b.suppliers() != "M N" {
		t.Errorf("saved %v, swaps %v, from %s", saves(effects), b.m.Open.Job.Buying.Swaps, b.suppliers())
	}
	if b.seek().Force.Cost != 72890 || !b.m.Screen.Toast.Undo {
		t.Errorf("the order in force costs %d, toast %+v", b.seek().Force.Cost, b.m.Screen.Toast)
	}
	for _, step := range []struct{ act, from string }{{"undo", "M N P"}, {"redo", "M N"}, {"order-planned", "M N P"}, {"undo", "M N"}} {
		b.press(step.act, "", "", "")
		if b.suppliers() != step.from {
			t.Errorf("after %s ordered from %s, want %s", step.act, b.suppliers(), step.from)
		}
	}
}

// What is bought of the market changes nothing about it: neither the proof
// nor the other orders are looked for again.
func TestAnOrderDoesNotBeginTheSearchAnew(t *testing.T) {
	b := atOrder(t)
	b.settle()
	points, _ := b.seek().Points(false)
	if effects := b.press("order-this", "", "", ""); asksForMore(effects) {
		t.Error("the search begins anew")
	}
	again, more := b.seek().Points(false)
	if more || !reflect.DeepEqual(points, again) || len(points) != 2 {
		t.Errorf("%d orders before, %d after, more %v", len(points), len(again), more)
	}
	b.press("accept", "T4", "", "")
	if !b.m.seeking {
		t.Error("a choice that changes the parts leaves the search as it was")
	}
}

// The other orders keep their letters as further ones come, and each can be
// taken.
func TestAnotherOrderIsTakenByItsKey(t *testing.T) {
	b := atOrder(t)
	for b.m.seeking {
		before, _ := b.seek().Points(false)
		b.send(port.Elapsed{Fresh: b.fresh(), Tag: tagSeek})
		after, _ := b.seek().Points(false)
		for i := range before {
			if i < len(after) && (after[i].Name != before[i].Name || after[i].Key() != before[i].Key()) {
				t.Errorf("order %s moved", before[i].Name)
			}
		}
	}
	points, _ := b.seek().Points(false)
	if len(points) != 2 || points[0].Name != "a" || points[0].Cost != 72890 || points[1].Name != "b" || points[1].Cost != 77100 || points[1].Parcels != 1 || points[1].Days != 2 {
		t.Fatalf("the orders are %+v", points)
	}
	b.press("order-point", points[1].Key(), "", "")
	b.press("order-this", points[1].Key(), "", "")
	if b.suppliers() != "M" {
		t.Errorf("ordered from %s, want M alone", b.suppliers())
	}
	if saves(b.press("order-this", "9/9/9/9", "", "")) {
		t.Error("an order that is not there is recorded")
	}
}

// A paper capacitor of .02 µF stands there: one like it scores 2 for the make
// and 1 for the value, a film of 22 nF neither. Four at 2.00 in place of 0.60
// are 5.60 EUR more, 6.16 USD.
func TestOriginalityIsAskedFor(t *testing.T) {
	b := atOrder(t, "N-40;ELKO", "N-31;PAPER 0,02uF 630V;2,00;1;4\nN-40;ELKO")
	b.settle()
	if points, _ := b.seek().Points(true); len(points) > 0 {
		t.Error("originality is worked out before anybody asks")
	}
	if !asksForMore(b.press("order-front", "", "", "originality")) {
		t.Fatal("nothing is asked for")
	}
	b.settle()
	points, more := b.seek().Points(true)
	if len(points) != 2 || more || points[0].Cost != 72890 || points[1].Cost != 79050 || points[1].Score != points[0].Score+3 {
		t.Errorf("points %+v", points)
	}
	b.press("order-this", points[1].Key(), "", "")
	if got := b.m.Open.Job.Buying.Swaps; len(got) != 3 || !strings.Contains(numbers(got), "N-31") {
		t.Errorf("swaps %v", got)
	}
}

func numbers(swaps []job.Swap) string {
	var out []string
	for _, s := range swaps {
		out = append(out, s.Number)
	}
	return strings.Join(out, " ")
}

// From two parcels one fewer is one, and no fewer; from day 4 sooner is day
// 2, and no sooner.
func TestLimitsStepByWhatThereIs(t *testing.T) {
	b := atOrder(t)
	b.settle()
	for i, step := range []struct {
		act, way string
		want     order.Limits
		cost     int64
	}{
		{"order-parcels", "less", order.Limits{Parcels: 1}, 77100},
		{"order-parcels", "less", order.Limits{Parcels: 1}, 77100},
		{"order-parcels", "more", order.Limits{Parcels: 2}, 72890},
		{"order-parcels", "none", order.Limits{}, 72890},
		{"order-days", "more", order.Limits{}, 72890},
		{"order-days", "less", order.Limits{Days: 2, HasDays: true}, 77100},
		{"order-days", "less", order.Limits{Days: 2, HasDays: true}, 77100},
		{"order-days", "more", order.Limits{Days: 4, HasDays: true}, 72890},
		{"order-days", "more", order.Limits{Days: 4, HasDays: true}, 72890},
		{"order-days", "none", order.Limits{}, 72890},
	} {
		b.press(step.act, "", "", step.way)
		b.settle()
		if a := b.seek().Best(); b.seek().Limits != step.want || a.Cost != step.cost || !a.Proven {
			t.Errorf("%d: %s %s: limits %+v, cost %d proven %v; want %+v, %d", i, step.act, step.way, b.seek().Limits, a.Cost, a.Proven, step.want, step.cost)
		}
	}
}

// What keeps every order from meeting the limits is told by need: the cord
// comes on day 9 from anybody, and one parcel cannot hold what two suppliers
// alone sell.
func TestWhatNoOrderMeets(t *testing.T) {
	late := atOrder(t, "M-10,3-core lead kit,,,9.50,1,12,2", "M-10,3-core lead kit,,,9.50,1,12,9")
	late.settle()
	late.press("order-days", "", "", "less")
	late.settle()
	s := late.seek()
	if lacks := s.Late(); s.Best().Feasible || len(lacks) != 1 || lacks[0].Earliest != 9 || s.Wants[lacks[0].Want].Lines[0].Option != "T1" {
		t.Errorf("feasible %v under %+v, late %+v", s.Best().Feasible, s.Limits, lacks)
	}
	if saves(late.press("order-this", "", "", "")) {
		t.Error("an order that is not there is recorded")
	}

	alone := atOrder(t, "M-50,6V6GT matched pair,,,36.00,1,3,2\n", "")
	alone.settle()
	for range 2 { // the cheapest takes three
		alone.press("order-parcels", "", "", "less")
		alone.settle()
	}
	s = alone.seek()
	var names []string
	for _, x := range s.Soles() {
		names = append(names, s.Sellers[x.Seller].List)
	}
	if s.Best().Feasible || s.Limits.Parcels != 1 || strings.Join(names, " ") != "M P" {
		t.Errorf("feasible %v under %+v, alone sell %v", s.Best().Feasible, s.Limits, names)
	}
}

// Carriage of M ends at 66.00. Its goods are 65.30: 0.70 of spares save 6.00 −
// 0.70 = 5.30; the cheapest that reach it are one more resistor at 1.20, so
// that 4.80 are saved in the end. They are bought with the order.
func TestSparesThatPayOffAreBoughtToo(t *testing.T) {
	b := atOrder(t, "6.00; 0 from 60.00", "6.00; 0 from 66.00")
	b.settle()
	if a := b.seek().Best(); a.Cost != 73590 { // 66.00 + 7.59
		t.Fatalf("the cheapest costs %d", a.Cost)
	}
	b.press("order-this", "", "", "")
	want := []job.Spare{{List: "M", Number: "M-60", Packs: "1"}}
	if got := b.m.Open.Job.Buying.Spares; !reflect.DeepEqual(got, want) {
		t.Errorf("spares %v, want %v", got, want)
	}
	if k := b.m.Open.Result.Buy.Baskets[0]; k.Goods != 6650 || k.Carriage != 0 || k.TopUp.Amount != 0 {
		t.Errorf("goods %d, carriage %d, top-up %d", k.Goods, k.Carriage, k.TopUp.Amount)
	}
}

// Spares may also be added by hand to the order as it is.
func TestSparesAreAddedByHand(t *testing.T) {
	b := atOrder(t, "6.00; 0 from 60.00", "6.00; 0 from 14.00")
	b.settle()
	if !saves(b.press("order-spares", "M", "", "")) { // 13.70 + 0.60·5 = 16.70 or + 1.20 = 14.90
		t.Fatal("the basket proposes no spares")
	}
	if k := b.m.Open.Result.Buy.Baskets[0]; k.Carriage != 0 || k.Goods != 1490 {
		t.Errorf("goods %d, carriage %d", k.Goods, k.Carriage)
	}
	if saves(b.press("order-spares", "M", "", "")) || saves(b.press("order-spares", "nobody", "", "")) {
		t.Error("spares are added where none are proposed")
	}
}

// A line that is opened is answered while the page stays alive: what nearly
// passes, and what each other offer does to the whole order.
func TestWhyThisSupplier(t *testing.T) {
	b := atOrder(t)
	b.settle()
	if !asksForMore(b.press("order-line", "N", "N-20", "")) || b.m.Screen.Dialog != "supplier" {
		t.Fatal("nothing is asked for")
	}
	s := b.seek()
	if _, known := s.Near(s.Opened()[0]); known {
		t.Error("what nearly passes is weighed within the press")
	}
	b.settle()
	w := s.Opened()
	if len(w) != 1 || s.Wants[w[0]].Lines[0].Option != "T2b" {
		t.Fatalf("opened %v", w)
	}
	k := s.Ranking(w[0])
	if len(k.Rows) != 2 || k.Rows[0].Delta != 4780 || !k.Rows[1].Chosen { // M 13.70 + 36.00 + 6.40 + 5.40 = 61.50 without carriage, N (13.20 + 1.50) · 1.10 = 16.17: 77.67 − 72.89
		t.Errorf("ranked %+v", k.Rows)
	}
	misses, known := s.Near(w[0])
	if !known || len(misses) == 0 {
		t.Error("nothing nearly passes")
	}
	b.press("order-take", itoa(w[0]), itoa(k.Rows[1].Pack), "")
	if got := b.m.Open.Job.Buying.Swaps; len(got) != 1 || got[0].Number != "M-20" || b.m.Screen.Dialog != "" {
		t.Errorf("swaps %v, dialog %q", got, b.m.Screen.Dialog)
	}
	for _, wrong := range [][2]string{{"99", "0"}, {"x", "0"}, {itoa(w[0]), "0"}, {"", ""}} {
		if saves(b.press("order-take", wrong[0], wrong[1], "")) {
			t.Errorf("an offer that is none is taken: %v", wrong)
		}
	}
}

func itoa(n int) string { return strconv.Itoa(n) }

// Who only follows another window orders nothing.
func TestAFollowerOrdersNothing(t *testing.T) {
	b := atOrder(t)
	b.settle()
	b.m.Screen.Tab.Writer = false
	if saves(b.press("order-this", "", "", "")) || saves(b.press("order-planned", "", "", "")) {
		t.Error("a window that follows writes")
	}
}
