package view

import (
	"slices"

	"lugworth/core/job"
	"lugworth/core/money"
	"lugworth/core/shop"
	"lugworth/core/why"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// Call draws the posture for the owner on the telephone: what each yes and no
// costs, and what a no means. Prices the shop pays are never on it.
func Call(m app.Model) []keyed.Node {
	r := m.Open.Result
	nodes := []keyed.Node{keyed.Row("div", "call-head", part.Question("What is the most it can cost?", callUnder(m)))}
	if len(r.Job.Options) == 0 {
		return append(nodes, keyed.Row("div", "call-none", part.Empty("Nothing to decide yet",
			"On the bench, attach work to each finding. It then stands here in three piles, each with what a yes costs and what a no means.",
			"", part.Press("main", "To the findings", "posture", "bench"))))
	}
	c := m.Weigh()
	return append(nodes, setsRow(m),
		keyed.Row("div", "call-two", keyed.Class("call-two"), keyed.Live("aria-busy", pressedWord(c.Busy())), keyed.Nodes(
			bestRow(m),
			keyed.Row("div", "call-piles", keyed.Class("call-piles"), keyed.Nodes(piles(m, c)...)),
			keyed.Row("div", "call-side", keyed.Class("stack call-side"), keyed.Nodes(moneyRow(m), consentRow(m), ownerRow(m), datesRow(m))))),
		leastRow(m))
}

func callUnder(m app.Model) string {
	o := m.Open.Job.Owner
	return joined(" · ", o.Name, o.Phone, boundsWords(m))
}

// shownWhy is the reason that is open. On the call the owner may see the page:
// what a piece costs the shop stays out of it.
func shownWhy(m app.Model) *why.Node {
	n := m.Screen.Whys.Get(m.Screen.Why)
	if m.Screen.Posture != "call" {
		return n
	}
	return withoutCosts(n, map[*why.Node]*why.Node{})
}

func withoutCosts(n *why.Node, done map[*why.Node]*why.Node) *why.Node {
	if n == nil || done[n] != nil {
		return done[n]
	}
	c := *n
	done[n] = &c
	c.From = nil
	if n.Rule != nil && n.Rule.Name == "selling price" {
		c.Rule = &why.Rule{Name: n.Rule.Name, Source: n.Rule.Source}
		return &c
	}
	for _, f := range n.From {
		c.From = append(c.From, withoutCosts(f, done))
	}
	return &c
}

// setsRow are the named choices with what each comes to.
func setsRow(m app.Model) keyed.Node {
	r := m.Open.Result
	var chips []keyed.Item
	for i, s := range r.Sets {
		chips = append(chips, doChip("pick", s.Name, "", "", s.Name, setNote(r, s), i == r.Force))
	}
	name := draft(m, nth("set", len(r.Sets)), "name", "Keep this choice under a name", "Player, Safety only")
	return keyed.Row("section", "call-sets", keyed.Class("stack"), keyed.Attr("aria-label", "Choices kept"),
		keyed.If(len(chips) > 0, group("Choices kept", "chips", chips...)),
		keyed.If(len(chips) == 0, part.Note("No choice is kept yet: the first yes begins one.")),
		more1("Keep this choice under another name", keyed.El("form", keyed.ID("set-form"), keyed.Class("line"), keyed.Do("set-save", ""), anew(nth("set", len(r.Sets)), name.Item()), send("Keep it"))))
}

func setNote(r *job.Result, s job.SetResult) string {
	if s.Err != "" {
		return "cannot be priced"
	}
	c := r.Policy.Currency
	note := c.Format(s.Bill.Total)
	if !s.FitsCeiling {
		note += ", over by " + c.Format(-s.Left)
	}
	if !s.FitsDate {
		note += ", too late"
	}
	return note
}

// piles are must, should, could, and before them what nobody sorted.
func piles(m app.Model, c *app.Weigh) []keyed.Node {
	out := []keyed.Node{keyed.Row("p", "call-deltas", keyed.Class("note"), keyed.Text("What stands beside a yes is what that one press would change, from the present choice. Two of them may share work or parts: they do not add up."))}
	if wrong := orWords(c.Wrong, c.NoTurn); wrong != "" {
		out = append(out, keyed.Row("p", "call-wrong", keyed.Class("bench-wrong"), keyed.Text(wrong)))
	}
	for _, p := range []struct {
		pile      shop.Pile
		say, note string
	}{
		{"", "Not sorted yet", "counted as must"},
		{shop.Must, "Must", "dangerous, or will destroy something dear"},
		{shop.Should, "Should", "a no is a risk on record"},
		{shop.Could, "Could", "a no is a preference"},
	} {
		var rows []keyed.Node
		for i := range m.Open.Result.Findings {
			if f := &m.Open.Result.Findings[i]; f.Finding.Pile == p.pile {
				rows = append(rows, callFinding(m, c, f))
			}
		}
		if len(rows) == 0 {
			continue
		}
		slug := orWords(string(p.pile), "unsorted")
		out = append(out, keyed.Row("section", "pile-"+slug, part.Pile(slug, p.say, p.note, pileSum(m, p.pile)),
			keyed.El("div", keyed.Class("call-list"), keyed.Nodes(rows...))))
	}
	return out
}

// pileSum is how many of a pile have a yes.
func pileSum(m app.Model, p shop.Pile) keyed.Item {
	yes, all := 0, 0
	for _, f := range m.Open.Result.Findings {
		if f.Finding.Pile != p || len(f.Options) == 0 {
			continue
		}
		all++
		if slices.ContainsFunc(f.Options, func(i int) bool { return m.Open.Result.Options[i].Accepted }) {
			yes++
		}
	}
	return keyed.El("span", keyed.Text(itoa(yes)+" of "+itoa(all)+" yes"))
}

func moneyRow(m app.Model) keyed.Node {
	r := m.Open.Result
	if r.Force < 0 || r.Sets[r.Force].Err != "" {
		say := "The first yes shows how the bill builds up."
		if r.Force >= 0 {
			say = r.Sets[r.Force].Err
		}
		return keyed.Row("section", "call-money", keyed.Class("card"), keyed.El("h2", keyed.Text("How it builds up")), part.Note(say))
	}
	s := r.Sets[r.Force]
	b := buildOf(r, s)
	return keyed.Row("section", "call-money", keyed.Class("card"), keyed.El("h2", keyed.Text("How it builds up")), part.Picture(draw.MoneyBuild(b)),
		keyed.If(s.Bill.Allowance > 0, part.Note("With all that is set aside for finds, each of which is asked about first: "+r.Policy.Currency.Format(s.Bill.WithAllowance)+".")))
}

func buildOf(r *job.Result, s job.SetResult) draw.Build {
	c := r.Policy.Currency
	b := draw.Build{Labor: int64(s.Bill.Labor), Parts: int64(s.Bill.Parts), Other: int64(s.Bill.Other), Fee: int64(s.Bill.Fee), Tax: int64(s.Bill.Tax), Allowance: int64(s.Bill.Allowance),
		Format: func(v int64) string { return c.Format(money.Amount(v)) }}
	if v, err := c.Read(r.Job.Bounds.Ceiling); err == nil && r.Job.Bounds.Ceiling != "" {
		b.Ceiling, b.HasCeiling = int64(v), true
	}
	return b
}
