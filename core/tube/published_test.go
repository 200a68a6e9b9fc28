package tube

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"lugworth/core/limit"
)

// published reads a published table, each row by its headings.
func published(t *testing.T, file string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/published/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, h := range rows[0] {
			m[h] = r[i]
		}
		out = append(out, m)
	}
	return out
}

func figure(t *testing.T, row map[string]string, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(row[name], 64)
	if err != nil {
		t.Fatalf("%v: %s: %v", row, name, err)
	}
	return v
}

// The 6SL7GT plate curve at -2 V, read from a graph to 0.1 mA, must pass
// through the operating point on the card. By hand: between (235 V, 2 mA)
// and (280 V, 3 mA), 250 V gives 2 + 15/45 = 2.33 mA; the card has 2.3.
func TestCurveMeetsCard(t *testing.T) {
	var low, high map[string]string
	for _, r := range published(t, "electrical-curves.csv") {
		switch v := figure(t, r, "plate_volts"); {
		case r["grid_volts"] != "-2":
		case v <= 250:
			low = r
		case high == nil:
			high = r
		}
	}
	v0, v1 := figure(t, low, "plate_volts"), figure(t, high, "plate_volts")
	i0, i1 := figure(t, low, "plate_ma"), figure(t, high, "plate_ma")
	curve := i0 + (i1-i0)*(250-v0)/(v1-v0)
	cards, _ := shippedCards(t)
	c, _ := NewSet(cards).Find("6SL7GT")
	card, ok := c.Points()[0].Figure("plate current")
	if !ok || math.Abs(curve-1000*card) > 0.1 {
		t.Errorf("curve gives %.2f mA at 250 V, card %.2f mA", curve, 1000*card)
	}
}

// In each published stage the plate stands at supply less the drop of its
// load, and the cathode at its own current times its resistor: to 1 V and
// 0.02 V, as the rows are printed.
func TestPublishedStagesAddUp(t *testing.T) {
	for _, r := range published(t, "electrical-stages.csv") {
		ia := figure(t, r, "plate_ma") / 1000
		va := figure(t, r, "supply_volts") - ia*figure(t, r, "plate_load_ohms")
		vk := ia * figure(t, r, "cathode_ohms")
		if math.Abs(va-figure(t, r, "plate_to_ground_volts")) > 1 || math.Abs(vk-figure(t, r, "cathode_volts")) > 0.02 {
			t.Errorf("%v: plate %.1f V, cathode %.2f V", r, va, vk)
		}
	}
}

// The recalled rectifier rows lie inside the limits on the shipped cards
// (both from memory: agreement makes neither of them seen).
func TestRectifierRowsLieInsideTheCards(t *testing.T) {
	cards, _ := shippedCards(t)
	set := NewSet(cards)
	for _, r := range published(t, "electrical-rectifier-rows.csv") {
		c, ok := set.Find(r["type"])
		if !ok || r["mark"] != "memory" {
			t.Errorf("%v: no card, or not marked memory", r)
			continue
		}
		for _, l := range c.LimitsOf(limit.FirstCapacitor) {
			if !l.Holds(figure(t, r, "first_capacitor_uf") * 1e-6 * (1 - 1e-9)) {
				t.Errorf("%v: first capacitor outside %s", r, l.Range())
			}
		}
		for _, v := range c.Values {
			if v.Quantity == "least supply ohms at "+r["ac_volts"]+" V" && !near(v.Amount, figure(t, r, "rs_ohms")) {
				t.Errorf("%v: card has %v Ω", r, v.Amount)
			}
		}
		if dc, simulated := figure(t, r, "dc_volts"), figure(t, r, "simulated_volts"); math.Abs(dc-simulated) > 0.03*dc {
			t.Errorf("%v: %v V recalled, %v V simulated", r, dc, simulated)
		}
	}
}
