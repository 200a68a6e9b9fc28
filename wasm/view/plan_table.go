package view

import (
	"lugworth/core/job"
	"lugworth/core/plan"
	"lugworth/core/rating"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// How many candidates stand open before one asks for more: those that may be
// offered, and the first of those that never are, with the number that
// rejects them.
const (
	offeredShown  = 8
	rejectedShown = 4
	mostShown     = 200
)

var candidateCols = []string{"Verdict", "Margin", "Look", "Matter", "Undo", "Piece", "Total", "Lead"}

// candidateTable weighs every offer for one part, the best first. Each has
// two rows: what it is with the number that decides, and the eight figures.
func candidateTable(m app.Model, o *job.OptionResult, i int, all []plan.Candidate) keyed.Item {
	if len(all) == 0 {
		return part.Empty("No list holds such a part", "Bring a price list that has it, or ask about one below. The lists are under Shop books.", "", part.Press("", "Open files", "open-file", ""))
	}
	shown := shownCandidates(m, all)
	key := slug(o.Option.ID) + "-" + itoa(i)
	caption := count(len(all), "candidate") + " from the lists and trials"
	table := keyed.El("div", keyed.Class("scroll"), keyed.Attr("role", "region"), keyed.Attr("aria-label", "Candidates for "+o.Option.Parts[i].Is+", part "+itoa(i+1)), keyed.Attr("tabindex", "0"),
		keyed.El("table", keyed.Class("table candidates"), keyed.El("caption", keyed.Text(caption)),
			keyed.El("thead", keyed.El("tr", keyed.Map(candidateCols, func(s string) keyed.Item {
				return keyed.El("th", keyed.Attr("scope", "col"), keyed.If(s == "Margin" || s == "Piece" || s == "Total" || s == "Lead", keyed.Class("num")), keyed.Text(s))
			}))),
			keyed.Each(shown, func(c plan.Candidate) keyed.Node { return candidate(m, o, i, key, c) })))
	return keyed.Several(table,
		keyed.If(len(shown) < len(all) || m.Screen.Desk.All && len(all) > offeredShown, allPress(m, len(shown), len(all))),
		keyed.El("p", keyed.Class("soft small"), keyed.Text("Piece and total are what the owner pays. Undo: U0 nothing touched, U1 solder or plug only, U2 leaves a mark, U3 cannot be undone.")))
}

func allPress(m app.Model, shown, all int) keyed.Item {
	if m.Screen.Desk.All {
		return keyed.El("div", keyed.Class("line"), keyed.If(shown < all, keyed.El("span", keyed.Class("soft"), keyed.Text(itoa(shown)+" of "+itoa(all)+" shown, the best first"))), part.Press("quiet", "Show fewer", "plan-all", ""))
	}
	return part.Press("quiet", itoa(shown)+" of "+itoa(all)+" shown: show more", "plan-all", "")
}

func shownCandidates(m app.Model, all []plan.Candidate) []plan.Candidate {
	if m.Screen.Desk.All {
		return all[:min(len(all), mostShown)]
	}
	var out []plan.Candidate
	offered, rejected := 0, 0
	for _, c := range all {
		trial := c.Offer.List == trialList
		switch {
		case c.Named || trial:
		case c.Offered():
			if offered++; offered > offeredShown {
				continue
			}
		default:
			if rejected++; rejected > rejectedShown {
				continue
			}
		}
		out = append(out, c)
	}
	return out
}

// trialList is where a part stands that was asked about without a list.
const trialList = "trial"

func candidate(m app.Model, o *job.OptionResult, i int, key string, c plan.Candidate) keyed.Node {
	of := c.Offer
	id := "cand-" + key + "-" + slug(of.List+"-"+of.Number+"-"+itoa(of.Line))
	chosen := o.Lines[i].Chosen
	is := chosen != nil && chosen.Offer == of
	class := "candidate"
	if is {
		class += " is-named"
	}
	return keyed.Row("tbody", id, keyed.LiveClass(class),
		keyed.El("tr", keyed.El("th", keyed.Attr("scope", "rowgroup"), keyed.Attr("colspan", "5"), keyed.Class("candidate-name"),
			keyed.El("span", keyed.Class("candidate-part"), keyed.El("b", keyed.Text(offerName(c))), keyed.Text(" "+of.Text)),
			keyed.El("span", keyed.Class("candidate-why"), keyed.Text(candidateWhy(c)))),
			keyed.El("td", keyed.Attr("colspan", "3"), keyed.Class("candidate-do"), candidateDo(o, i, c, is))),
		keyed.El("tr", candidateCells(m, o, i, id, c)))
}

func offerName(c plan.Candidate) string {
	if c.Offer.List == trialList {
		return "Asked about:"
	}
	return c.Offer.List + " " + c.Offer.Number
}

// candidateWhy is the number that rejects or decides.
func candidateWhy(c plan.Candidate) string {
	if c.Refused != "" {
		return "never offered: " + c.Refused
	}
	j, ok := c.Decides()
	if !ok {
		return "nothing rated is asked of it"
	}
	if !c.Offered() {
		return "never offered: " + j.Reason()
	}
	return j.Reason()
}

// candidateDo is the press that names the part; there is none for a part that
// is never offered.
func candidateDo(o *job.OptionResult, i int, c plan.Candidate, is bool) keyed.Item {
	id, k := o.Option.ID, itoa(i)
	switch {
	case c.Offer.List == trialList:
		return keyed.El("button", keyed.Attr("type", "button"), keyed.Class("press press-quiet"), keyed.Do("remove", c.Offer.Number, job.KindTrial), keyed.Text("Forget it"))
	case c.Named:
		return keyed.Several(keyed.El("span", keyed.Class("taken"), keyed.Text("named by you")),
			keyed.El("button", keyed.Attr("type", "button"), keyed.Class("press press-quiet"), keyed.Do("choose", id, k), keyed.Attr("value", ""), keyed.Text("Let the plan choose")))
	case !c.Offered() || c.Offer.Number == "":
		return keyed.El("span", keyed.Class("soft small"), keyed.Text("not offered"))
	case is:
		return keyed.El("span", keyed.Class("taken"), keyed.Text("the plan's choice"))
	}
	say := "Choose"
	if c.Kind == rating.BelowReserve {
		say = "Choose, with a reason"
	}
	return keyed.El("button", keyed.Attr("type", "button"), keyed.Class("press"), keyed.Do("choose", id, k), keyed.Attr("value", c.Offer.List+"\t"+c.Offer.Number),
		keyed.Attr("aria-label", say+": "+offerName(c)), keyed.Text(say))
}

func candidateCells(m app.Model, o *job.OptionResult, i int, id string, c plan.Candidate) keyed.Item {
	p := o.Option
	num := func(item keyed.Item) keyed.Item { return keyed.El("td", keyed.Class("num"), item) }
	return keyed.Several(
		keyed.El("td", candidateVerdict(c)), num(candidateMargin(m, id, c)),
		keyed.El("td", keyed.Text(string(p.Look))), keyed.El("td", keyed.Text(string(p.Matter))), keyed.El("td", keyed.Text(string(p.Undo))),
		num(piecePrice(m, id, c)), num(keyed.Text(totalPrice(m, c, o.Lines[i].Qty))), num(keyed.Text(leadSays(c.Offer.LeadDays))))
}

func candidateVerdict(c plan.Candidate) keyed.Item {
	switch {
	case c.Refused != "":
		return part.Verdict(kind(rating.OverWorsened), "never offered")
	case !c.Judged:
		return keyed.El("span", keyed.Class("soft"), keyed.Text("not rated"))
	}
	return part.Verdict(kind(c.Kind), "")
}

func candidateMargin(m app.Model, id string, c plan.Candidate) keyed.Item {
	j, ok := c.Decides()
	if !ok {
		return keyed.Text("–")
	}
	v, ok := j.Margin()
	if !ok {
		return keyed.Text("–")
	}
	return part.Why(m.Screen.Whys.Put(id, j.Why()), percentOf(v))
}

func piecePrice(m app.Model, id string, c plan.Candidate) keyed.Item {
	r := m.Open.Result
	if !c.Offer.Priced || c.Cost.Err != nil {
		return keyed.Text("no price")
	}
	return part.Why(m.Screen.Whys.Put(id+"/price", r.WhySelling(&c)), r.Policy.Currency.Format(c.Cost.Selling))
}

func totalPrice(m app.Model, c plan.Candidate, qty int) string {
	if !c.Offer.Priced || c.Cost.Err != nil {
		return "–"
	}
	sum, err := c.Cost.Selling.Times(int64(qty))
	if err != nil {
		return "too large"
	}
	return m.Open.Result.Policy.Currency.Format(sum)
}

func leadSays(days int) string {
	switch {
	case days < 0:
		return "not stated"
	case days == 1:
		return "1 day"
	}
	return itoa(days) + " days"
}

// waysTable sets the ways of one finding side by side.
func waysTable(m app.Model, ways []*job.OptionResult) keyed.Item {
	cols := []part.Col{{Say: "Way"}, {Say: "Verdict"}, {Say: "Margin", Num: true}, {Say: "Look"}, {Say: "Matter"}, {Say: "Undo"}, {Say: "Labor", Num: true}, {Say: "Parts", Num: true}, {Say: "Lead", Num: true}}
	return keyed.Several(keyed.El("h3", keyed.Text("The ways of "+ways[0].Option.Finding+" side by side")),
		part.Table("The ways of "+ways[0].Option.Finding+", without the set-ups they share", cols, keyed.Each(ways, func(o *job.OptionResult) keyed.Node {
			return part.TR("side-"+slug(o.Option.ID), cols, wayCells(m, o)...)
		}), keyed.Item{}))
}

func wayCells(m app.Model, o *job.OptionResult) []keyed.Item {
	p, key := o.Option, "side/"+o.Option.ID
	return []keyed.Item{keyed.El("b", keyed.Text(p.ID)), sideVerdict(o), sideMargin(m, key, o), keyed.Text(string(p.Look)), keyed.Text(string(p.Matter)), keyed.Text(string(p.Undo)),
		taskMoney(m, key, o), keyed.Text(partsMoney(m, o)), keyed.Text(wayLead(o))}
}

func sideVerdict(o *job.OptionResult) keyed.Item {
	k, any := wayKind(o)
	if !any {
		return keyed.El("span", keyed.Class("soft"), keyed.Text("not rated"))
	}
	return part.Verdict(kind(k), "")
}

// sideMargin is the least margin among the parts of a way.
func sideMargin(m app.Model, key string, o *job.OptionResult) keyed.Item {
	var least rating.Judgment
	at, any := 0.0, false
	for _, l := range o.Lines {
		if l.Chosen == nil {
			continue
		}
		if j, ok := l.Chosen.Decides(); ok {
			if v, ok := j.Margin(); ok && (!any || v < at) {
				least, at, any = j, v, true
			}
		}
	}
	if !any {
		return keyed.Text("–")
	}
	return part.Why(m.Screen.Whys.Put(key, least.Why()), percentOf(at))
}

func partsMoney(m app.Model, o *job.OptionResult) string {
	if len(o.Lines) == 0 {
		return "–"
	}
	sum := m.Open.Result.Policy.Currency
	total := int64(0)
	for _, l := range o.Lines {
		if l.Chosen == nil || !l.Chosen.Offer.Priced || l.Chosen.Cost.Err != nil {
			return "no price"
		}
		total += int64(l.Chosen.Cost.Selling) * int64(l.Qty)
	}
	return sum.Format(amountOf(total))
}

// wayLead is the longest lead of a way's parts and of work sent out.
func wayLead(o *job.OptionResult) string {
	days := 0
	for _, l := range o.Lines {
		if l.Chosen == nil || l.Chosen.Offer.LeadDays < 0 {
			return "not stated"
		}
		days = max(days, l.Chosen.Offer.LeadDays)
	}
	for _, s := range o.Option.Other {
		if s.Days < 0 {
			return "not stated"
		}
		days = max(days, s.Days)
	}
	return leadSays(days)
}

// insights says where the dearer way keeps less of the amp.
func insights(m app.Model, o *job.OptionResult) keyed.Item {
	r := m.Open.Result
	var out []keyed.Item
	for _, i := range r.Insights() {
		if i.Finding == o.Option.Finding {
			out = append(out, part.Note(i.Say(r.Policy.Currency)+"."))
		}
	}
	return keyed.Several(out...)
}
