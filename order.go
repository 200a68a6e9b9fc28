package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"time"

	"lugworth/core/order"
)

func init() {
	add(verb{"order", "FILE.json [-max-parcels N] [-by-days N] [-min-score N] [-json]",
		"find the cheapest order of an instance file and prove it", cheapest})
}

// patience is how long an order may be worked on; then the best one found is
// given with the bound proven so far.
const patience = 60 * time.Second

// cheapest works one order instance.
func cheapest(args []string, out, notes io.Writer) error {
	asJSON := slices.Contains(args, "-json") || slices.Contains(args, "--json")
	args = slices.DeleteFunc(slices.Clone(args), func(a string) bool { return a == "-json" || a == "--json" })
	f, err := flags(args, "max-parcels", "by-days", "min-score")
	if err != nil {
		return err
	}
	if len(f.rest) != 1 {
		return wrongUse{"order: give one instance file"}
	}
	lim, err := orderLimits(f)
	if err != nil {
		return err
	}
	data, err := os.ReadFile(f.rest[0])
	if err != nil {
		return err
	}
	m, err := order.ReadMarket(data)
	if err != nil {
		return fmt.Errorf("%s: %w", f.rest[0], err)
	}
	a, err := bestOrder(m, lim)
	if err != nil {
		return fmt.Errorf("%s: %w", f.rest[0], err)
	}
	if asJSON {
		data, err := a.JSON(&m)
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(out, "%s\n", data)
		return err
	}
	tellOrder(out, &m, a)
	return nil
}

// orderLimits reads the limits of the command line.
func orderLimits(f given) (order.Limits, error) {
	var lim order.Limits
	for _, x := range []struct {
		name  string
		least int
		set   func(int)
	}{
		{"max-parcels", 1, func(n int) { lim.Parcels = n }},
		{"by-days", 0, func(n int) { lim.Days, lim.HasDays = n, true }},
		{"min-score", 0, func(n int) { lim.Score = n }},
	} {
		text, has := f.given[x.name]
		if !has {
			continue
		}
		n, err := strconv.Atoi(text)
		if err != nil || n < x.least {
			return lim, wrongUse{fmt.Sprintf("order: -%s %s: want a whole number of %d or more", x.name, text, x.least)}
		}
		x.set(n)
	}
	return lim, nil
}

// bestOrder steps a search until it is proven or patience ends.
func bestOrder(m order.Market, lim order.Limits) (order.Answer, error) {
	s, err := order.NewSearch(m, lim)
	if err != nil {
		return order.Answer{}, err
	}
	for end := time.Now().Add(patience); !s.Step() && time.Now().Before(end); {
	}
	return s.Answer(), nil
}

// tellOrder writes an answer for people.
func tellOrder(out io.Writer, m *order.Market, a order.Answer) {
	if !a.Feasible {
		fmt.Fprintln(out, "no order: "+jsonText(a.Why))
		return
	}
	proof := "proven: no order costs less"
	if !a.Proven {
		proof = "not proven: the cheapest may cost as little as " + order.Exact(a.Lower, a.Places)
	}
	days := "a lead that is not stated"
	if a.Days >= 0 {
		days = fmt.Sprintf("%d days", a.Days)
	}
	fmt.Fprintf(out, "cost %s minor units, %d parcels, %s (%s)\n", order.Exact(a.Cost, a.Places), a.Parcels, days, proof)
	for _, b := range a.Baskets {
		fmt.Fprintf(out, "%s: goods %d, top-up with spares %d, landed %s\n", jsonText(m.Sellers[b.Seller].ID), b.Goods, b.TopUp, order.Exact(b.Landed, a.Places))
		for p, n := range a.Packs {
			if n > 0 && m.Packs[p].Seller == b.Seller {
				fmt.Fprintf(out, "  %s x %s\n", strconv.Itoa(n), jsonText(m.Packs[p].ID))
			}
		}
	}
}

// jsonText keeps control characters of a name off the terminal.
func jsonText(s string) string {
	b, err := json.Marshal(s)
	if err != nil {
		return "?"
	}
	return string(b[1 : len(b)-1])
}
