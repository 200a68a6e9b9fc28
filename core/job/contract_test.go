package job_test

import (
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"testing"
)

// The documented fields of result.json. More may be added; none changes.
var contract = map[string][]string{
	"":         {"sets", "best", "verdicts", "stresses", "orders"},
	"sets":     {"name", "accept", "hours", "spread_independent", "spread_linked", "labor", "parts", "other", "fee", "tax", "total", "with_allowance", "ready_days", "fits_ceiling", "fits_date"},
	"best":     {"accept", "total", "value", "runner_up", "say"},
	"verdicts": {"set", "option", "part", "subject", "quantity", "scenario", "mains", "low", "high", "worst", "limit", "unit", "system", "margin_percent", "kind", "tier", "reason"},
	"stresses": {"set", "subject", "quantity", "scenario", "mains", "low", "expected", "high", "unit", "tier"},
	"orders":   {"supplier", "lines", "goods", "carriage", "total"},
	"lines":    {"part", "packs", "pieces", "pack_price", "amount"},
}

func result(t *testing.T, name string) map[string]any {
	t.Helper()
	data, err := derived(t, name).JSON()
	if err != nil {
		t.Fatal(err)
	}
	var out map[string]any
	if err := json.Unmarshal(data, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// rows returns the objects of a section.
func rows(v any) []map[string]any {
	switch v := v.(type) {
	case []any:
		var out []map[string]any
		for _, e := range v {
			out = append(out, rows(e)...)
		}
		return out
	case map[string]any:
		return []map[string]any{v}
	}
	return nil
}

func TestResultHoldsItsContract(t *testing.T) {
	for _, name := range wholeJobs {
		r := result(t, name)
		sections := map[string][]map[string]any{"": {r}}
		for _, s := range contract[""] {
			sections[s] = rows(r[s])
		}
		for _, o := range sections["orders"] {
			sections["lines"] = append(sections["lines"], rows(o["lines"])...)
		}
		for section, fields := range contract {
			if len(sections[section]) == 0 {
				t.Errorf("%s: section %q is empty", name, section)
			}
			for _, row := range sections[section] {
				for _, f := range fields {
					if _, ok := row[f]; !ok {
						t.Fatalf("%s: %s has no %q: %v", name, section, f, row)
					}
				}
			}
		}
	}
}

var kinds = []string{"not-enough-data", "not-proven", "over-worsened", "over-inherited", "below-reserve", "within"}

func TestVerdictsOfTheResult(t *testing.T) {
	for _, name := range wholeJobs {
		seen := map[string]bool{}
		for _, v := range rows(result(t, name)["verdicts"]) {
			kind, _ := v["kind"].(string)
			seen[kind] = true
			if !slices.Contains(kinds, kind) {
				t.Errorf("%s: kind %q", name, kind)
			}
			if (v["limit"] == nil) != (v["margin_percent"] == nil) && v["worst"] != nil {
				t.Errorf("%s: limit %v and margin %v", name, v["limit"], v["margin_percent"])
			}
			if v["limit"] == nil && kind != "not-enough-data" {
				t.Errorf("%s: %s without a limit: %v", name, kind, v)
			}
			checkMargin(t, name, v)
		}
		for _, k := range kinds {
			if !seen[k] {
				t.Errorf("%s: no verdict is %s", name, k)
			}
		}
	}
}

// checkMargin works margin_percent out again, by hand: 100 × (limit − worst) ÷
// limit, negative when over, to the places printed.
func checkMargin(t *testing.T, name string, v map[string]any) {
	t.Helper()
	if v["margin_percent"] == nil || v["quantity"] == "heater volts" {
		return // of two-sided limits the sign depends on the side
	}
	worst, limit, margin := number(t, v["worst"]), number(t, v["limit"]), number(t, v["margin_percent"])
	if want := 100 * (limit - worst) / limit; math.Abs(margin-want) > 0.05+100*0.05/limit {
		t.Errorf("%s: margin %g, want %g: %v", name, margin, want, v)
	}
}

// number reads a decimal string.
func number(t *testing.T, v any) float64 {
	t.Helper()
	s, _ := v.(string)
	f, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatalf("%v is no decimal string", v)
	}
	return f
}

func TestSetsOfTheResultAddUp(t *testing.T) {
	for _, name := range wholeJobs {
		r := result(t, name)
		for _, s := range rows(r["sets"]) {
			sum := 0.0
			for _, f := range []string{"labor", "parts", "other", "fee", "tax"} {
				sum += number(t, s[f])
			}
			if total := number(t, s["total"]); math.Abs(sum-total) > 1e-6 {
				t.Errorf("%s, %v: parts come to %g, total %g", name, s["name"], sum, total)
			}
			if name == "tern" && s["with_allowance"] != s["total"] {
				t.Errorf("no allowance is set: with_allowance %v, total %v", s["with_allowance"], s["total"])
			}
		}
		for _, f := range []string{"low", "expected", "high"} {
			for _, s := range rows(r["stresses"]) {
				number(t, s[f])
			}
		}
	}
}

// The set in force gives the orders: A Player, B musts T5 T9.
func TestPickOfTheResult(t *testing.T) {
	for name, want := range map[string]string{"drover": "Player", "tern": "musts T5 T9"} {
		r := result(t, name)
		if r["pick"] != want || r["chain"] != "no chain" {
			t.Errorf("%s: pick %v, chain %v; want %s, no chain", name, r["pick"], r["chain"], want)
		}
	}
}
