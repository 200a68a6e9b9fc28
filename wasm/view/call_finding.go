package view

import (
	"slices"
	"strings"

	"lugworth/core/job"
	"lugworth/core/labor"
	"lugworth/core/limit"
	"lugworth/core/plan"
	"lugworth/core/rating"
	"lugworth/core/shop"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// callFinding is one finding with its ways and the no.
func callFinding(m app.Model, c *app.Weigh, f *job.FindingResult) keyed.Node {
	id := f.Finding.ID
	r := m.Open.Result
	if len(f.Options) == 0 {
		return keyed.Row("section", "call-"+id, keyed.Class("card call-finding"), callHead(f),
			part.Note("No work is attached on the bench yet."))
	}
	taken := false
	var ways []keyed.Node
	for _, i := range f.Options {
		o := &r.Options[i]
		taken = taken || o.Accepted
		ways = append(ways, wayRow(m, c, o))
	}
	no := keyed.Row("div", "no-"+id, keyed.Class("call-way"),
		keyed.El("button", keyed.ID("decline-"+id), keyed.Attr("type", "button"), keyed.Class("chip call-yes"), keyed.Do("decline", id), keyed.Live("aria-pressed", pressedWord(!taken && r.Force >= 0)), keyed.Flag("disabled", !taken && r.Force < 0),
			keyed.El("span", keyed.Text("No")), keyed.El("span", keyed.Class("chip-note"), keyed.Text("leave it as it is"))),
		keyed.El("p", keyed.Class("call-no"), keyed.Text(noWords(f))))
	return keyed.Row("section", "call-"+id, keyed.Class("card call-finding"), keyed.Attr("aria-label", "Finding "+id), callHead(f),
		keyed.El("div", keyed.Class("call-ways"), keyed.Nodes(append(ways, no)...)),
		closedNote(r, id), insightNotes(r, id))
}

// insightNotes say where the dearer way of a finding keeps less of the amp.
func insightNotes(r *job.Result, id string) keyed.Item {
	var items []keyed.Item
	for _, i := range r.Insights() {
		if i.Finding == id {
			items = append(items, part.Note(sentence(i.Say(r.Policy.Currency))))
		}
	}
	return keyed.Several(items...)
}

func callHead(f *job.FindingResult) keyed.Item {
	basis := ""
	if f.Finding.Basis == "inferred" {
		basis = "inferred, not seen"
	}
	return keyed.El("h3", keyed.Class("call-head"), keyed.El("span", keyed.Class("ref"), keyed.Text(f.Finding.ID)),
		keyed.El("span", keyed.Class("item-say"), keyed.Text(orWords(string(f.Finding.Seen), "not described yet"))),
		keyed.El("span", keyed.Class("soft small"), keyed.Text(joined(", ", string(f.Finding.Place), basis))))
}

// noWords is what a no means; a must that is declined changes whether the amp
// may leave.
func noWords(f *job.FindingResult) string {
	say := orWords(string(f.Finding.No), "What a no means is not written down yet.")
	if f.Finding.Pile == shop.Must && !strings.Contains(say, "for use") {
		say += " Declined, the amp is not released for use."
	}
	return say
}

func closedNote(r *job.Result, id string) keyed.Item {
	for _, c := range r.Closed {
		if c.Finding == id {
			return part.Note("Closes with " + c.By + ": no work of its own is paid for.")
		}
	}
	return keyed.Item{}
}

// wayRow is one option as a yes, with its price from the present choice. It
// is made anew only where that or its verdicts changed.
func wayRow(m app.Model, c *app.Weigh, o *job.OptionResult) keyed.Node {
	of, ok := factsOf(m, c, o)
	if !ok {
		return newWayRow(m, c, o)
	}
	return keep(m, "way-"+o.Option.ID, of, func() keyed.Node { return newWayRow(m, c, o) })
}

func newWayRow(m app.Model, c *app.Weigh, o *job.OptionResult) keyed.Node {
	id := o.Option.ID
	barred := o.Refused != "" && !o.Accepted
	return keyed.Row("div", "way-"+id, keyed.Class("call-way"),
		keyed.El("button", keyed.ID("accept-"+id), keyed.Attr("type", "button"), keyed.Class("chip call-yes"), keyed.Do("accept", id),
			keyed.Live("aria-pressed", pressedWord(o.Accepted)), keyed.Flag("disabled", barred),

			keyed.El("span", keyed.Text("Yes")), keyed.El("span", keyed.Class("chip-note"), keyed.Text(id))),
		keyed.El("div", keyed.Class("call-about"),
			keyed.El("p", keyed.El("b", keyed.Text(o.Option.Say))),
			deltaOf(m, c, o),
			keyed.El("p", keyed.Class("soft"), keyed.Text(aboutWay(o))),
			keyed.If(o.Option.Consequence != "", keyed.El("p", keyed.Text(o.Option.Consequence))),
			judged(m, o), effectOf(m, o), troubles(o), reasonField(m, o)))
}

// deltaOf is what a press would change, from the present choice, and what the
// option comes to by itself: the pair shows what is shared.
func deltaOf(m app.Model, c *app.Weigh, o *job.OptionResult) keyed.Item {
	t, ok := c.Turn(o.Option.ID)
	switch {
	case !ok:
		return keyed.Several(part.Delta("…", false, "being worked out"), alone(""))
	case t.Wrong != "" && c.NoTurn == "":
		return keyed.Several(part.Delta("no price", false, ""), alone(""))
	case t.Wrong != "":
		return keyed.Several(part.Delta("–", false, ""), alone(""))
	}
	cur := m.Open.Result.Policy.Currency
	over := !t.After.FitsCeiling
	return keyed.Several(part.Delta(signed(cur, t.Total), over && !t.Accepted, deltaWords(m, t)), aloneOf(m, c, o))
}

func deltaWords(m app.Model, t app.Turn) string {
	r := m.Open.Result
	words := "from the present choice"
	if t.Accepted {
		words += ", if left out"
	}
	if len(t.Swaps) > 0 {
		words += ", in place of " + strings.Join(t.Swaps, " ")
	}
	if t.Days != 0 {
		words += ", ready day " + itoa(t.After.ReadyDays)
	}
	if !t.After.FitsCeiling {
		words += ", over the ceiling by " + r.Policy.Currency.Format(-t.After.Left)
	}
	if !t.After.FitsDate && r.Job.Bounds.Days != "" {
		words += ", misses the date"
	}
	return words
}

// aloneOf is what an option adds where nothing else is done, shown where that
// is another sum.
func aloneOf(m app.Model, c *app.Weigh, o *job.OptionResult) keyed.Item {
	t, ok := c.Turn(o.Option.ID)
	a, okA := c.Alone(o.Option.ID)
	if !ok || !okA || a.Wrong != "" || a.Total == t.Total || a.Total == -t.Total {
		return alone("")
	}
	return alone(signed(m.Open.Result.Policy.Currency, a.Total) + " on its own, with nothing else done")
}

// alone is the line under a delta. It stands there though nothing is said, so
// that its words come and go without the row being written anew.
func alone(say string) keyed.Item {
	return keyed.El("p", keyed.Class("call-alone soft small"), keyed.Flag("hidden", say == ""), keyed.Text(say))
}

// aboutWay is hours, look, what becomes of the old part, and undo, in words.
func aboutWay(o *job.OptionResult) string {
	w := o.Option
	hours := ""
	if !w.High.IsZero() {
		hours = unit.FormatAmount(float64(labor.Three{Low: w.Low, Mode: w.Mode, High: w.High}.Expected()), unit.Hour, 1)
	}
	return joined(" · ", hours, lookSay[w.Look], matterSay[w.Matter], undoSay[w.Undo])
}

var (
	lookSay   = map[shop.Look]string{shop.AsMade: "looks as made", shop.Close: "looks close to it", shop.Modern: "looks modern inside"}
	matterSay = map[shop.Matter]string{shop.Untouched: "nothing original removed", shop.InPlace: "old part stays in place", shop.Bagged: "old part handed back", shop.Consumed: "old part used up"}
	undoSay   = map[shop.Undo]string{shop.U0: "nothing to undo", shop.U1: "undone with a soldering iron", shop.U2: "leaves a mark", shop.U3: "cannot be undone"}
)

// judged are the deciding ratings of the parts the option fits, one line for
// each part.
func judged(m app.Model, o *job.OptionResult) keyed.Item {
	var items []keyed.Item
	for _, l := range o.Lines {
		if l.Chosen == nil {
			continue
		}
		if l.Unrated() {
			items = append(items, keyed.El("p", keyed.Class("call-verdict"), part.Verdict(kind(rating.NotEnoughData), ""),
				keyed.El("span", keyed.Class("call-said"), keyed.Text(partSaid(o, l.Part)+"Nothing says what its place bears."))))
			continue
		}
		j, ok := l.Chosen.Decides()
		if !ok {
			continue
		}
		key := m.Screen.Whys.Put("call/"+o.Option.ID+"/"+itoa(l.Part), j.Why())
		items = append(items, keyed.El("p", keyed.Class("call-verdict"), part.Verdict(kind(j.Kind), ""),
			keyed.If(key != "", part.Why(key, "why", keyed.ID("why-call-"+o.Option.ID+"-"+itoa(l.Part)), keyed.Attr("aria-label", "Why, "+o.Option.ID+" "+o.Option.Parts[l.Part].Is))),
			keyed.El("span", keyed.Class("call-said"), keyed.Text(partSaid(o, l.Part)+plainly(j)))))
	}
	return keyed.Several(items...)
}

// plainly is a verdict as one would say it on the telephone.
func plainly(j rating.Judgment) string {
	figure := func(v float64) string { return unit.Quantity{Amount: v, Unit: j.Unit}.String() }
	worst, bound := figure(j.Worst), figure(j.Bound)
	switch {
	case j.Kind == rating.Within && j.Quantity == limit.FuseCurrent:
		return "The fuse the label asks for: " + bound + "."
	case j.Kind == rating.Within && j.Quantity == limit.FirstCapacitor:
		return "The rectifier can charge a first capacitor of this size: " + worst + " at most, " + bound + " allowed."
	case j.Kind == rating.Within && j.Because == rating.Inside:
		return "At worst it has to bear " + worst + ", and it is made for " + bound + "."
	case j.Kind == rating.BelowReserve:
		return "At worst it has to bear " + worst + ". It is made for " + bound + ", which leaves less in hand than this shop wants."
	case j.Kind.Over():
		return "At worst it would have to bear " + worst + ", more than the " + bound + " allowed."
	case j.Kind == rating.NotEnoughData:
		return "Too little is known: " + j.Reason() + "."
	}
	return sentence(string(j.Quantity) + ": " + j.Reason())
}

// partSaid names the part a verdict is about, where an option fits several or
// makes one of several pieces.
func partSaid(o *job.OptionResult, part int) string {
	p := &o.Option.Parts[part]
	switch {
	case p.Made.Is():
		return capital(p.Is) + ", made of " + madeWords(p.Made) + ", each: "
	case len(o.Lines) < 2:
		return ""
	}
	return capital(p.Is) + ": "
}

// effectOf says what the option does to the amp beside its own parts.
func effectOf(m app.Model, o *job.OptionResult) keyed.Item {
	var items []keyed.Item
	line := func(js []rating.Judgment, say string) {
		seen := map[string]bool{}
		for _, j := range js {
			k := joined(" ", j.Subject, string(j.Quantity))
			if seen[k] {
				continue
			}
			seen[k] = true
			items = append(items, keyed.El("p", keyed.Class("call-verdict"), part.Verdict(kind(j.Kind), ""), keyed.El("span", keyed.Class("call-said"), keyed.Text(k+" "+say+": "+j.Reason()+"."))))
		}
	}
	e := o.Beside
	line(e.Breaks, "would go over its limit")
	line(e.Worsens, "goes further over than found")
	line(e.Cures, "comes inside its limit")
	return keyed.Several(items...)
}

// troubles are why an option is refused, and what stands in its way.
func troubles(o *job.OptionResult) keyed.Item {
	var items []keyed.Item
	if o.Refused != "" {
		items = append(items, keyed.El("p", keyed.Class("call-refused"), keyed.El("b", keyed.Text("Not offered: ")), keyed.El("span", keyed.Text(o.Refused))))
	}
	for _, p := range o.Problems {
		items = append(items, part.Note(sentence(p)))
	}
	return keyed.Several(items...)
}

// reasonField is the technician's recorded reason, where a verdict asks for
// one: beside the other work, or on the amp as found.
func reasonField(m app.Model, o *job.OptionResult) keyed.Item {
	id := o.Option.ID
	have := m.Open.Job.Reasons[id]
	below := slices.ContainsFunc(o.Lines, func(l plan.Line) bool { return l.NeedsReason })
	if !o.Beside.NeedsReason() && !o.Apart.NeedsReason() && !below && have == "" {
		return keyed.Item{}
	}
	f := part.Field{ID: "reason-" + id, Label: "The technician's reason, on record", Value: m.Draft("reason", id, "", have), Act: "reason", For: id, Lines: 2}
	return f.Item()
}
