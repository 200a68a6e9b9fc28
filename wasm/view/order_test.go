package view

import (
	"os"
	"strings"
	"testing"

	"lugworth/core/order"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/port"
)

// ordering is the amp whose parts three suppliers sell, on Order. Pairs of
// texts replace what its files say.
func ordering(t *testing.T, replace ...string) app.Model {
	t.Helper()
	data, err := os.ReadFile("../../testdata/orders/marten.txtar")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.NewReplacer(replace...).Replace(string(data))
	m, _ := app.Update(started(), port.FileOpened{Fresh: fresh, Files: []port.File{{Name: "marten.txtar", Bytes: []byte(text)}}})
	if m.Open == nil || len(m.Screen.Problems) > 0 {
		t.Fatal(m.Screen.Problems)
	}
	return press(m, "posture", "order", "")
}

// moments lets the search go on to its end.
func moments(t *testing.T, m app.Model) app.Model {
	t.Helper()
	for range 1000 {
		var effects []port.Effect
		if m, effects = app.Update(m, port.Elapsed{Fresh: fresh, Tag: "order-step"}); len(effects) == 0 {
			return m
		}
	}
	t.Fatal("the search does not end")
	return m
}

// By hand, in USD: beside the test of the market in core/job. 6.92 = 79.81 −
// 72.89; 4.21 = 77.10 − 72.89. If EUR moves by 5 %, the order as planned to N,
// 20.46 + 1.65 = 22.11, becomes 21.48 + 1.73 or 19.44 + 1.57.
func TestTheCheapestOrderShows(t *testing.T) {
	proven := func() app.Model { return moments(t, ordering(t)) } // each anew: what is open is shared by all states of one page
	then := func(m app.Model, act, id, k string) app.Model { return moments(t, press(m, act, id, k)) }
	second := func(m app.Model) string {
		s, _ := m.Seek()
		all, _ := s.Points(false)
		return all[1].Key()
	}
	tests := []struct {
		name  string
		m     func() app.Model
		want  []string
		never []string
	}{
		{"a bound at once", func() app.Model { return ordering(t) },
			[]string{`data-proof="looking"`, "still looking: no order costs less than ", "79.81"}, []string{"Proven"}},
		{"then the proof", proven, []string{`data-proof="proven"`, "Yes: 72.89, 6.92 less.", "Proven: no order costs less.", "What the cheapest order buys elsewhere than planned",
			"Fills the order to M to 65.30 USD", "lead time not stated by P", "day 4 or later", "5.20 USD a piece"}, []string{"still looking"}},
		{"what a currency does", proven, []string{"If EUR moves by 5 %: the order ±1.10", "1 EUR = 1.1 USD, day of the rate not stated"}, nil},
		{"ordered that way", func() app.Model { return then(proven(), "order-this", "", "") },
			[]string{"As ordered", "No: it is ordered the cheapest way, 6.92 less than planned.", "M-50", "Undo"}, []string{"Order to P"}},
		{"with a limit", func() app.Model {
			return then(then(proven(), "order-this", "", ""), "order-parcels", "", "less")
		}, []string{"Within the limits it costs 4.21 more: 77.10.", "Proven: no order costs less within the limits."}, nil},
		{"what cannot be met", func() app.Model {
			return then(moments(t, ordering(t, "M-10,3-core lead kit,,,9.50,1,12,2", "M-10,3-core lead kit,,,9.50,1,12,9")), "order-days", "", "less")
		}, []string{`data-proof="none"`, "No order meets it.", "1 × 3-core lead kit (T1): its first offer comes on day 9"}, nil},
		{"carriage nobody states", func() app.Model { return moments(t, ordering(t, `0,",",Per,Tage,,1.50`, `0,",",Per,Tage,,`)) },
			[]string{"carriage not stated by N: the bound holds without it", "carriage of N left out, which is not stated", "and what N asks"}, nil},
		{"spares that pay off", func() app.Model { return moments(t, ordering(t, "0 from 60.00", "0 from 66.00")) }, // 66.00 − 65.30 = 0.70; 6.00 − 1.20 = 4.80
			[]string{"Order to M, in USD: spares for 0.70 more bring carriage to 0.00: 1 pack of M-60 Wirewound 5W for 1.20, and the order costs 4.80 less. They go to the shelf.", ">0.70<"}, nil},
		{"what the technician named", func() app.Model { return moments(t, press(opened(t, "drover"), "posture", "order", "")) },
			[]string{"7 of 7 parts named by the technician", "carriage not stated by K"}, nil},
		{"another order", func() app.Model { m := proven(); return press(m, "order-point", second(m), "") },
			[]string{"parcel-tags", "Order b: 77.10, 2.71 less than the order in force", "M: 7 lines, 77.10 at the door"}, nil},
		{"why a supplier", func() app.Model { return then(proven(), "order-line", "N", "N-20") },
			[]string{"Why this supplier?", "The cheapest order buys M M-20 in its place. Why:", "+4.78", "in the cheapest", "400.0 V, needs 445.2 V", ">never<"}, []string{"…"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			html := draws(t, tt.m())
			for _, w := range tt.want {
				if !strings.Contains(html, w) {
					t.Errorf("the page lacks %q", w)
				}
			}
			for _, n := range tt.never {
				if strings.Contains(html, n) {
					t.Errorf("the page shows %q", n)
				}
			}
		})
	}
}

// A part that would hurt somebody is told of and has no press.
func TestASafetyFailureHasNoPress(t *testing.T) {
	m := moments(t, press(moments(t, ordering(t)), "order-line", "N", "N-20"))
	for _, row := range strings.Split(draws(t, m), "<tr") {
		if strings.Contains(row, ">M M-21<") && strings.Contains(row, "<button") {
			t.Errorf("a capacitor of 400 V where 445.2 V stand can be pressed: %s", row)
		}
	}
}

// Where the order shown at once is the cheapest, the proof writes its words
// and moves nothing.
func TestTheProofMovesNothing(t *testing.T) {
	m := press(moments(t, ordering(t)), "order-parcels", "", "less") // one parcel: M alone
	before := Page(m)
	s, err := m.Seek()
	if err != nil || s.Best().Proven || s.Limits != (order.Limits{Parcels: 1}) {
		t.Fatalf("proven at once under %+v, %v", s.Limits, err)
	}
	for _, op := range keyed.Diff(before, Page(moments(t, m)), nil) {
		if op.Do != keyed.Write {
			t.Errorf("%+v", op)
		}
	}
}

func TestCallShowsNothingOfTheOrder(t *testing.T) {
	m := press(press(moments(t, ordering(t)), "order-this", "", ""), "posture", "call", "")
	html := draws(t, m)
	for _, hidden := range []string{"72.89", "79.81", "6.92", "65.30", "M-20", "supplier", "parcel"} {
		if strings.Contains(html, hidden) {
			t.Errorf("Call shows %q", hidden)
		}
	}
}

func TestOrderDrawsWithoutAnOrder(t *testing.T) {
	for name, m := range map[string]app.Model{"drover": opened(t, "drover"), "tern": opened(t, "tern"), "demo": started(), "new": press(started(), "job-new", "", "")} {
		t.Run(name, func(t *testing.T) {
			m = moments(t, press(m, "posture", "order", ""))
			draws(t, m)
			draws(t, moments(t, press(m, "order-front", "", "originality")))
			draws(t, press(m, "order-line", "K", "K-1101"))
		})
	}
}
