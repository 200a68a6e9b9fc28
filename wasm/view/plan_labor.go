package view

import (
	"strconv"

	"lugworth/core/job"
	"lugworth/core/labor"
	"lugworth/core/money"
	"lugworth/core/plan"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

func amountOf(n int64) money.Amount { return money.Amount(n) }

func hoursText(h unit.Hours, decimals int) string {
	return strconv.FormatFloat(float64(h), 'f', decimals, 64)
}

var laborCols = []part.Col{{Say: "Work", Wide: true}, {Say: "Least", Num: true}, {Say: "Likely", Num: true}, {Say: "Most", Num: true}, {Say: "Expected", Num: true}, {Say: "±", Num: true}, {Say: "Amount", Num: true}}

// laborRows are the lines of an estimate as rows of a table.
func laborRows(m app.Model, in string, e labor.Estimate) keyed.Item {
	c := m.Open.Result.Policy.Currency
	return keyed.Each(e.Lines, func(l labor.Line) keyed.Node {
		key := in + "-" + slug(l.ID)
		return part.TR(key, laborCols, laborSay(l), keyed.Text(l.Three.Low.String()), keyed.Text(l.Three.Mode.String()), keyed.Text(l.Three.High.String()),
			keyed.Text(hoursText(l.Hours, 2)), keyed.Text(hoursText(l.Spread, 2)), part.Why(m.Screen.Whys.Put(key, l.Why), c.Format(l.Amount)))
	})
}

func laborSay(l labor.Line) keyed.Item {
	if !l.SetUp {
		return keyed.Several(keyed.El("b", keyed.Text(l.ID)), keyed.Text(" "+l.Say))
	}
	often := " set-up, once for "
	if l.Times > 0 {
		often = " opened for "
	}
	return keyed.Several(keyed.El("b", keyed.Text(l.ID)), keyed.Text(" "+l.Say),
		keyed.El("span", keyed.Class("soft small"), keyed.Text(often+joined(", ", l.For...))))
}

func laborSum(m app.Model, key string, e labor.Estimate) keyed.Item {
	c := m.Open.Result.Policy.Currency
	return part.Sum(laborCols, keyed.Text("Together"), keyed.Item{}, keyed.Item{}, keyed.Item{}, keyed.Text(hoursText(e.Hours, 1)), keyed.Text(hoursText(e.Independent, 2)),
		part.Why(m.Screen.Whys.Put(key, e.Why), c.Format(e.Amount)))
}

// taskMoney is the labor of a way without the set-ups it shares.
func taskMoney(m app.Model, key string, o *job.OptionResult) keyed.Item {
	r := m.Open.Result
	e, err := r.LaborOf(o.Option.ID)
	if err != nil {
		return keyed.Text("wrong")
	}
	for _, l := range e.Lines {
		if !l.SetUp {
			return part.Why(m.Screen.Whys.Put(key+"/labor", l.Why), r.Policy.Currency.Format(l.Amount))
		}
	}
	return keyed.Text("–")
}

// wayLabor is the work of one way by itself, and what is sent out.
func wayLabor(m app.Model, o *job.OptionResult) keyed.Item {
	key := "hours-" + slug(o.Option.ID)
	e, err := m.Open.Result.LaborOf(o.Option.ID)
	if err != nil {
		return keyed.Several(keyed.El("h3", keyed.Text("Hours")), part.Note(err.Error()))
	}
	return keyed.Several(keyed.El("h3", keyed.Text("Hours of "+o.Option.ID+", taken alone")),
		part.Table("Hours: least, most likely, most", laborCols, laborRows(m, key, e), laborSum(m, key, e)),
		shareNote(m, o), chanceField(m, o),
		keyed.Map(o.Option.Other, func(s plan.Subcontract) keyed.Item {
			return keyed.El("p", keyed.Text("Sent out: "+s.Say+", "+s.Price.String()+" and carriage "+s.Carriage.String()+" "+m.Open.Result.Policy.Currency.Code+", "+leadSays(s.Days)+"."))
		}),
		keyed.If(o.Option.Disclosure != "", keyed.El("p", keyed.Class("soft"), keyed.Text("In the report: "+o.Option.Disclosure))))
}

// chanceField makes work one that may be found, or takes that back.
func chanceField(m app.Model, o *job.OptionResult) keyed.Item {
	value := ""
	if o.Option.Chance > 0 {
		value = itoa(o.Option.Chance)
	}
	k := job.KindOption + "/chance"
	return part.Field{ID: "chance-" + slug(o.Option.ID), Label: "Chance that it is needed at all", Unit: "%", Number: true, Act: "set", For: o.Option.ID, K: k, Value: m.Draft("set", o.Option.ID, k, value),
		Hint: "blank: it is needed, and decided on; 30: it may be found, and is priced apart", Off: m.ReadOnly() != "" || o.Accepted}.Item()
}

// shareNote says which set-ups the choice in force already pays for.
func shareNote(m app.Model, o *job.OptionResult) keyed.Item {
	r := m.Open.Result
	if r.Force < 0 || len(o.Option.SetUps) == 0 {
		return keyed.Item{}
	}
	e, err := r.LaborOf(r.Accepted()...)
	if err != nil {
		return keyed.Item{}
	}
	var say []string
	for _, l := range e.Lines {
		for _, s := range o.Option.SetUps {
			if l.SetUp && l.ID == s {
				say = append(say, s+" with "+joined(", ", l.For...))
			}
		}
	}
	if len(say) == 0 {
		return keyed.Item{}
	}
	return part.Note("In " + forceName(m) + " the set-ups are shared and paid once: " + joined("; ", say...) + ".")
}

// laborLeaf is the work of the choice in force, with its doubt.
func laborLeaf(m app.Model) []keyed.Node {
	r := m.Open.Result
	q := part.Question("How long does it take?", "Three points to each line: if all goes well, most likely, if it goes badly. Expected is (least + 4 × likely + most) ÷ 6; ± is (most − least) ÷ 6.")
	if r.Force < 0 {
		return []keyed.Node{keyed.Row("section", "labor", q, noChoice("The hours are those of a choice."))}
	}
	e, err := r.LaborOf(r.Accepted()...)
	if err != nil {
		return []keyed.Node{keyed.Row("section", "labor", q, part.Note(err.Error()))}
	}
	if len(e.Lines) == 0 {
		return []keyed.Node{keyed.Row("section", "labor", q, part.Note(forceName(m)+" holds no work."))}
	}
	out := []keyed.Node{keyed.Row("section", "labor", q, keyed.El("div", keyed.Class("stack-wide labor-leaf"),
		keyed.El("div", part.Table("Work of "+forceName(m), laborCols, laborRows(m, "force-hours", e), laborSum(m, "force-hours", e)),
			keyed.If(e.Again != "", part.Note(capital(e.Again)+"."))),
		hoursBeside(m, e))), readyRow(m)}
	out = append(out, findsRow(m)...)
	return append(out, pastRow(m), doneRow(m))
}

func spreadOf(e labor.Estimate, h job.Hours) draw.Spread {
	s := draw.Spread{Expected: float64(e.Hours), Independent: float64(e.Independent), Linked: float64(e.Linked)}
	for _, x := range enoughOf(h) {
		s.Enough = append(s.Enough, draw.Enough{Of10: x.of, Hours: float64(x.hours)})
	}
	for _, l := range e.Lines {
		s.Lines = append(s.Lines, draw.Work{Say: l.ID + " " + l.Say, Low: l.Three.Low.Float(), Mode: l.Three.Mode.Float(), High: l.Three.High.Float()})
	}
	return s
}

func noChoice(why string) keyed.Item {
	return part.Empty("No choice is in force", why+" Take options on Plan or Call, or pick a choice made before.", "", part.Press("main", "To Call", "posture", "call"))
}
