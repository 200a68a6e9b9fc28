package view

import (
	"lugworth/core/order"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// limits are what may be asked of the order: so many parcels at most, all of
// it there by a day.
func (d *buyingDesk) limits() keyed.Item {
	l := d.s.Limits
	parcels, day := "any number of parcels", "any day"
	if l.Parcels > 0 {
		parcels = parcelCount(l.Parcels)
	}
	if l.HasDays {
		day = "day " + itoa(l.Days)
	}
	days := d.s.Leads()
	return keyed.El("div", keyed.Class("order-limits"), keyed.El("h3", keyed.Text("What must it meet?")),
		stepper("order-parcels", "In at most", parcels, "Fewer", "More", l.Parcels != 1, l.Parcels > 0 && l.Parcels < d.s.Suppliers(), l.Parcels > 0),
		stepper("order-days", "All there by", day, "Sooner", "Later", len(days) > 0 && !(l.HasDays && l.Days <= days[0]), l.HasDays && l.Days < days[len(days)-1], l.HasDays))
}

// stepper is a limit with presses to lower, raise and lift it.
func stepper(act, label, value, less, more string, mayLess, mayMore, set bool) keyed.Item {
	press := func(say, way string, may bool) keyed.Item {
		return part.Press("", say, act, "", keyed.ID(act+"-"+way), keyed.Attr("value", way), keyed.Flag("disabled", !may))
	}
	return keyed.El("div", keyed.Class("order-limit"), keyed.Attr("role", "group"), keyed.Attr("aria-label", label),
		keyed.El("span", keyed.Class("soft"), keyed.Text(label)), keyed.El("output", keyed.Text(value)),
		keyed.El("div", keyed.Class("order-steps"), press(less, "less", mayLess), press(more, "more", mayMore), press("No limit", "none", set)))
}

// whyNone says in words what keeps every order from meeting the limits.
func (d *buyingDesk) whyNone(a order.Answer) string {
	var say []string
	for _, l := range d.s.Late() {
		when := "its first offer comes on day " + itoa(l.Earliest)
		if l.Earliest < 0 {
			when = "no offer states its lead time"
		}
		say = append(say, d.wantSays(l.Want)+" ("+d.wantFor(l.Want)+"): "+when)
	}
	soles := d.s.Soles()
	if len(say) == 0 && d.s.Limits.Parcels > 0 && len(soles) > d.s.Limits.Parcels {
		for _, x := range soles {
			say = append(say, "only "+sender(d.s.Sellers[x.Seller].List)+" sells "+d.wantSays(x.Wants[0])+" ("+d.wantFor(x.Wants[0])+")")
		}
	}
	if len(say) == 0 {
		return "No order meets it: " + a.Why + "."
	}
	return "No order meets it: " + joined("; ", say...) + "."
}
