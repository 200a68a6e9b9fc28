package view

import (
	"lugworth/core/job"
	"lugworth/core/labor"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// An enough is one figure out of ten cases.
type enough struct {
	of    int
	hours unit.Hours
}

func enoughOf(h job.Hours) []enough { return []enough{{5, h.P50}, {8, h.P80}, {9, h.P90}} }

// hoursBeside is the doubt of the work: both plain spreads, and what is enough
// in some of ten cases.
func hoursBeside(m app.Model, e labor.Estimate) keyed.Item {
	r := m.Open.Result
	h := r.HoursOf(r.Accepted())
	return keyed.El("div", keyed.Class("labor-beside"), part.Picture(draw.LaborSpread(spreadOf(e, h))), keyed.El("div", keyed.Class("labor-says"),
		part.Note("Each for itself: as if every line had its own luck (root of the squares). All together: as if one rusty amp slowed every line (plain sum). The truth lies between."),
		part.Facts(keyed.Map(enoughOf(h), func(x enough) keyed.Item {
			key := "enough-" + itoa(x.of)
			say := "enough in " + itoa(x.of) + " of 10 cases"
			return part.Fact(capital(say), part.Why(m.Screen.Whys.Put(key, r.WhyEnough(h, say, x.hours, r.Accepted())), hoursText(x.hours, 1)+" h"), calibrationMark(h.Calibrated))
		})),
		part.Note(capital(h.Method)+".")))
}

// calibrationMark stands behind every figure that the shop's own jobs do not
// yet bear.
func calibrationMark(calibrated bool) keyed.Item {
	return keyed.If(!calibrated, keyed.El("span", keyed.Class("soft small"), keyed.Text(" not yet calibrated")))
}

// pastRow is what the shop's own finished jobs say, and the chance that the
// ceiling holds.
func pastRow(m app.Model) keyed.Node {
	r := m.Open.Result
	h, c := r.History(), r.CeilingHolds(r.Accepted())
	calibrated := r.HoursOf(r.Accepted()).Calibrated
	ceiling, own := keyed.Several(part.Why(m.Screen.Whys.Put("ceiling-holds", r.WhyCeiling(c)), c.Says), calibrationMark(calibrated)), keyed.Text(capital(c.Own)+".")
	if c.Missing != "" {
		ceiling, own = keyed.Text("Not said: "+c.Missing+"."), keyed.Text("Not said.")
	}
	return keyed.Row("section", "labor-past", keyed.Class("card"), keyed.El("h2", keyed.Text("What do our own jobs say?")),
		part.Facts(
			part.Fact("Ceiling holds, were hours billed as they come", ceiling),
			part.Fact("The same by our own ratios", own),
			part.Fact("Finished jobs", keyed.Text(capital(h.Say)+".")),
			part.Fact("Own score", keyed.Text(scoreSays(h)))),
		part.Note("The bill stays as it is quoted: these are chances, beside it."))
}

func scoreSays(h job.History) string {
	if h.Score.Jobs == 0 {
		return "None yet: there is nothing to keep it by."
	}
	return "Of the last " + count(h.Score.Jobs, "job") + ", each judged by those before it, the hours said to be enough in 8 of 10 held " + itoa(h.Score.Held) + " times."
}

// findsRow are the items that may be found: priced apart, in no total.
func findsRow(m app.Model) []keyed.Node {
	r := m.Open.Result
	finds := r.Finds(r.Accepted())
	if len(finds) == 0 {
		return nil
	}
	with := r.HoursWithFinds(r.Accepted())
	c := r.Policy.Currency
	cols := []part.Col{{Say: "If found", Wide: true}, {Say: "Chance", Num: true}, {Say: "Adds hours", Num: true}, {Say: "Adds " + c.Code, Num: true}, {Say: "Found?"}}
	return []keyed.Node{keyed.Row("section", "labor-finds", keyed.Class("card"), keyed.El("h2", keyed.Text("What may be found besides?")),
		part.Table("Priced apart, from the present choice, in no total; two of them may share a set-up, so they add up to nothing", cols, keyed.Each(finds, func(f job.Find) keyed.Node {
			money := keyed.Text(c.Format(f.More))
			if f.Err != "" {
				money = keyed.Text(f.Err)
			}
			return part.TR("find-"+slug(f.Option), cols, keyed.Several(keyed.El("b", keyed.Text(f.Option)), keyed.Text(" "+f.Say)), keyed.Text(itoa(f.Chance)+" %"), keyed.Text(hoursText(f.Hours, 2)), money,
				part.Press("quiet", "It was found", "set", f.Option, keyed.Attr("data-k", job.KindOption+"/chance"), keyed.Attr("aria-label", "It was found: "+f.Option), keyed.Flag("disabled", m.ReadOnly() != "")))
		}), keyed.Item{}),
		part.Note("With each of them by its chance, "+hoursText(with.P50, 1)+" / "+hoursText(with.P80, 1)+" / "+hoursText(with.P90, 1)+" h are enough in 5 / 8 / 9 of 10 cases. "+capital(with.Method)+"."))}
}
