package job

import (
	"fmt"
	"os"
	"testing"

	"lugworth/catalogs"
	"lugworth/core/tube"
)

func open(t *testing.T, path string) *Result {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	c, err := OpenCase(path, data, nil)
	if err != nil {
		t.Fatal(err)
	}
	builtin, _ := tube.ReadCards("cards.csv", catalogs.Cards)
	j, b := c.Open(builtin)
	return Derive(j, b, "2026-01-05")
}

func TestLook(t *testing.T) {
	for _, n := range []string{"drover", "tern"} {
		r := open(t, "../../testdata/jobs/"+n+".txtar")
		for _, p := range r.Problems {
			fmt.Println("PROBLEM", p)
		}
		o := r.Output()
		for _, s := range o.Sets {
			fmt.Printf("%+v\n", s)
		}
		fmt.Printf("BEST %+v\n", o.Best)
		for _, v := range o.Verdicts {
			fmt.Println(v.Set, "|", v.Option, "|", v.Part, "|", v.Subject, v.Quantity, v.Scenario, v.Mains, or(v.Low), or(v.High), "lim", or(v.Limit), or(v.MarginPercent), v.Kind, "|", v.Reason)
		}
		for _, c := range o.Checks {
			fmt.Println("CHECK", c)
		}
		for _, x := range r.Options {
			fmt.Println("OPT", x.Option.ID, x.Refused, x.Problems, x.Apart.Least)
		}
		for _, x := range o.Findings {
			fmt.Println(x)
		}
		fmt.Println(o.Orders, o.Held)
	}
}

func or(s *string) string {
	if s == nil {
		return "-"
	}
	return *s
}
