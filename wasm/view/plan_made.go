package view

import (
	"lugworth/core/job"
	"lugworth/core/limit"
	"lugworth/core/money"
	"lugworth/core/plan"
	"lugworth/core/rating"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// several is how a part is made of more than one piece: as it is, or the ways
// the lists hold where no single offer serves or somebody asks.
func several(m app.Model, o *job.OptionResult, i int) keyed.Item {
	l, p := &o.Lines[i], &o.Option.Parts[i]
	key := slug(o.Option.ID) + "-" + itoa(i)
	switch {
	case p.Made.Is():
		return keyed.El("div", keyed.Class("several"), keyed.ID("several-"+key), madeNow(m, o, i, key))
	case p.Across > 0 || !l.Composable():
		return keyed.Item{}
	}
	asked := m.Screen.Desk.Several == plan.TrialKey(o.Option.ID, itoa(i))
	if !asked && l.Chosen != nil {
		return keyed.El("div", keyed.Class("several"), keyed.ID("several-"+key), severalPress(o, i, "Make it from two"))
	}
	return keyed.El("div", keyed.Class("several"), keyed.ID("several-"+key),
		keyed.El("h3", keyed.Text("Made of several pieces")),
		makings(m, o, i, key, l.Makings()),
		keyed.If(asked, severalPress(o, i, "Hide these")))
}

func severalPress(o *job.OptionResult, i int, say string) keyed.Item {
	return keyed.El("button", keyed.Attr("type", "button"), keyed.Class("press press-quiet"), keyed.Do("several", o.Option.ID, itoa(i)), keyed.Text(say))
}

// madeNow is the part as it is made: the value together, what each piece
// bears, and a press that goes back to one piece.
func madeNow(m app.Model, o *job.OptionResult, i int, key string) keyed.Item {
	l, p := &o.Lines[i], &o.Option.Parts[i]
	leak := part.Field{ID: "leak-" + key, Label: "No piece leaks more than", Act: "make-leak", For: o.Option.ID, K: itoa(i), Value: m.Draft("make-leak", o.Option.ID, itoa(i), leakText(p.Made)),
		Hint: "From its sheet, at its volts. For example: 0.3 mA. Without it the share in the long run is never proven."}
	return keyed.Several(
		keyed.El("h3", keyed.Text("Made of "+madeWords(p.Made))),
		keyed.If(l.Chosen != nil, bodyShares(m, key, l.Chosen)),
		keyed.If(p.Made.Way == plan.Series && l.Chosen != nil && l.Chosen.Offer.Part.Kind.IsCapacitor(), leak.Item()),
		keyed.El("button", keyed.Attr("type", "button"), keyed.Class("press press-quiet"), keyed.Do("make", o.Option.ID, itoa(i)), keyed.Attr("value", ""), keyed.Text("One piece again")))
}

func leakText(d plan.Made) string {
	if d.Leak == 0 {
		return ""
	}
	return unit.Short(d.Leak, unit.Ampere)
}

// madeWords says how pieces stand: "2 pieces in series".
func madeWords(d plan.Made) string {
	if d.Sections {
		return "all sections of one can, side by side"
	}
	if d.Way == plan.Parallel {
		return itoa(d.Pieces) + " pieces side by side"
	}
	return itoa(d.Pieces) + " pieces in series"
}

// bodyShares is the picture of who bears how much: for each situation the piece
// with the worst share and what the others then bear, each against its own
// rating.
func bodyShares(m app.Model, key string, c *plan.Candidate) keyed.Item {
	var out []keyed.Item
	if c.Value.High > 0 {
		out = append(out, part.Facts(part.Fact("Together", keyed.Text(unit.FormatInterval(c.Value, c.Offer.Part.Spec.Unit, -1)))))
	}
	for n, j := range c.Rows {
		if n > 0 && j.Subject != c.Rows[0].Subject { // every place is alike
			break
		}
		if j.Quantity == limit.FirstCapacitor || !j.HasFigure {
			out = append(out, keyed.El("p", keyed.Class("share-say"), keyed.Text(capital(string(j.Quantity))+": "+j.Reason()+".")))
			continue
		}
		pair := []keyed.Item{pieceShare("One piece", j, part.Why(m.Screen.Whys.Put("share/"+key+"/"+itoa(n), j.Why()), figure(j, j.Worst)))}
		if n < len(c.Rest) && c.Rest[n].HasFigure {
			pair = append(pair, pieceShare(otherPieces(c.Made), c.Rest[n], keyed.Text(figure(c.Rest[n], c.Rest[n].Worst))))
		}
		out = append(out, keyed.El("p", keyed.Class("share-say"), keyed.Text(capital(scenario(j))+": "+j.Reason()+".")), keyed.El("div", keyed.Class("share"), keyed.Several(pair...)))
	}
	return keyed.Several(append(out, chainCaution(c))...)
}

func pieceShare(name string, j rating.Judgment, bears keyed.Item) keyed.Item {
	return keyed.El("div", part.Facts(part.Fact(name, bears)), part.Picture(strip(j)))
}

// chainCaution says what stands on live volts in a chain of capacitors.
func chainCaution(c *plan.Candidate) keyed.Item {
	if c.Made.Way != plan.Series || !c.Offer.Part.Kind.IsCapacitor() {
		return keyed.Item{}
	}
	return part.Caution("The upper piece stands on live volts", "Its negative, and its case with it, lies at the share of the lower piece: keep it off the chassis and out of reach. Balancing resistors take the charge away slowly, and not at all once one is open: measure before touching. Local rules and licensed practice decide.")
}

func otherPieces(d plan.Made) string {
	if d.Pieces > 2 {
		return "Each other piece then"
	}
	return "The other piece then"
}

// makings lists the ways the lists hold, the best first, each with the number
// that decides and a press.
func makings(m app.Model, o *job.OptionResult, i int, key string, all []plan.Making) keyed.Item {
	if len(all) == 0 {
		return part.Note("The lists hold no pieces that together make this value and may be offered.")
	}
	cols := []part.Col{{Say: "Made of"}, {Say: "Together", Num: true}, {Say: "Verdict"}, {Say: "Total", Num: true}, {Say: "Lead", Num: true}, {Say: "Do"}}
	return keyed.Several(
		keyed.El("p", keyed.Class("soft small"), keyed.Text("Alike pieces of the lists, each judged against its own rating at its worst share. In series, balancing resistors are named with them.")),
		part.Table("Ways to make "+o.Option.Parts[i].Is+" of several pieces", cols, keyed.Each(all, func(g plan.Making) keyed.Node {
			return making(m, o, i, key, cols, g)
		}), keyed.Item{}))
}

func making(m app.Model, o *job.OptionResult, i int, key string, cols []part.Col, g plan.Making) keyed.Node {
	id := "making-" + key + "-" + slug(g.Offer.List+"-"+g.Offer.Number+"-"+itoa(g.Offer.Line)+"-"+g.Made.String())
	worst := makingDecides(g)
	press := keyed.El("button", keyed.Attr("type", "button"), keyed.Class("press"), keyed.Do("make", o.Option.ID, itoa(i)), keyed.Attr("value", app.MakeValue(g)),
		keyed.Attr("aria-label", "Make it so: "+makingName(g)), keyed.Text("Make it so"))
	return part.TR(id, cols,
		keyed.Several(keyed.El("b", keyed.Text(makingName(g))), keyed.El("span", keyed.Class("candidate-why"), keyed.Text(worst.Reason()))),
		keyed.Text(together(g)), part.Verdict(kind(worst.Kind), ""),
		keyed.Text(makingTotal(m, g)), keyed.Text(leadSays(makingLead(g))), press)
}

// makingName names pieces and resistors: "2 × K K-68 in series, R R-270k
// across each".
func makingName(g plan.Making) string {
	s := itoa(g.Pieces) + " × " + offerName(g.Candidate) + " " + g.Made.Way.String()
	if g.Made.Sections {
		s = itoa(g.Pieces) + " × " + offerName(g.Candidate) + ", its sections side by side"
	}
	if g.Balance != nil {
		s += ", " + offerName(*g.Balance) + " (" + unit.Short(g.Balance.Offer.Part.Spec.Value(), unit.Ohm) + ") across each"
	}
	return s
}

// makingDecides is the judgment that decides, of the pieces or of what
// balances them.
func makingDecides(g plan.Making) rating.Judgment {
	worst, _ := g.Decides()
	if g.Balance != nil {
		if j, ok := g.Balance.Decides(); ok && rating.Less(j.Kind, worst.Kind) {
			return j
		}
	}
	return worst
}

func together(g plan.Making) string {
	if g.Value.High == 0 {
		return "–"
	}
	return unit.FormatInterval(g.Value, g.Offer.Part.Spec.Unit, -1)
}

// makingTotal is what the owner pays for all of it.
func makingTotal(m app.Model, g plan.Making) string {
	sum, err := g.Cost.Selling.Times(int64(g.Pieces))
	if g.Balance != nil && err == nil {
		var more money.Amount
		if more, err = g.Balance.Cost.Selling.Times(int64(g.Resistors)); err == nil {
			sum, err = sum.Plus(more)
		}
	}
	if err != nil {
		return "too large"
	}
	return m.Open.Result.Policy.Currency.Format(sum)
}

// makingLead is the longer lead of the two; −1 where one states none.
func makingLead(g plan.Making) int {
	days := g.Offer.LeadDays
	if g.Balance == nil || days < 0 {
		return days
	}
	if g.Balance.Offer.LeadDays < 0 {
		return -1
	}
	return max(days, g.Balance.Offer.LeadDays)
}
