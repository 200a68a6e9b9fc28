package view

import (
	"lugworth/core/job"
	"lugworth/core/money"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// exposure says what the order comes to if a currency it is bought in moves:
// one line for each, with its rate and the day of that.
func exposure(m app.Model) keyed.Item {
	all, err := m.Exposure()
	if err != nil || len(all) == 0 {
		return keyed.Item{}
	}
	c := m.Open.Result.Policy.Currency
	return keyed.El("div", keyed.Class("order-exposure"), keyed.El("h3", keyed.Text("If a currency moves")),
		part.Facts(keyed.Map(all, func(e job.Exposure) keyed.Item { return exposureLine(c, e) })))
}

func exposureLine(c money.Currency, e job.Exposure) keyed.Item {
	day := "day of the rate not stated"
	if e.Date != "" {
		day = "rate of " + e.Date
	}
	return part.Fact("If "+e.Currency+" moves by "+e.Percent.String()+" %: the order "+moves(c, e.Order)+", the owner's total until it is agreed "+moves(c, e.Owner),
		keyed.El("span", keyed.Class("small"), keyed.Text("1 "+e.Currency+" = "+e.Rate.String()+" "+c.Code+", "+day)))
}

// moves is what an amount gains and loses: "±1.20", else both ends.
func moves(c money.Currency, m job.Moved) string {
	up, down := m.More-m.Now, m.Now-m.Less
	if up == down {
		return "±" + c.Format(up)
	}
	return "+" + c.Format(up) + " or −" + c.Format(down)
}
