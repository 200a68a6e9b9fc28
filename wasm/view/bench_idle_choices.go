package view

import (
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// choicesCard holds every tube type and way of biasing side by side against
// the limit that decides, each with the reading to dial.
func choicesCard(m app.Model, s sight) keyed.Node {
	if !s.FitAsked {
		return keyed.Row("section", "idle-choices-ask", keyed.Class("card stack"), keyed.El("h2", keyed.Text("Which tubes and which bias could go in?")),
			keyed.El("p", keyed.Text("Every tube type of the cards that fits the stage, with each way of biasing it, over the owner's whole range.")),
			part.Presses(part.Press("main", "Hold them side by side", "idle-options", "")))
	}
	if len(s.Choices) == 0 && s.Fitted == s.ToFit {
		return keyed.Row("section", "idle-choices-none", keyed.Class("card"), part.Note("No other tube or resistor of the plan and the cards can be worked out in this stage."))
	}
	return keyed.Row("section", "idle-choices", keyed.Class("card stack"), keyed.El("h2", keyed.Text("Which tubes and which bias could go in?")),
		keyed.If(s.Fitted < s.ToFit, part.Progress("Working out type "+itoa(s.Fitted+1)+" of "+itoa(s.ToFit), s.Fitted, s.ToFit, "", "")),
		keyed.If(len(s.Choices) > 0, choiceGroups(s)))
}

// choiceGroups are the choices with the type that is fitted, and under one
// line those with any other.
func choiceGroups(s sight) keyed.Item {
	if len(s.Choices) == 0 {
		return keyed.Item{}
	}
	var same, other []idleChoice
	for _, c := range s.Choices {
		if c.Type == s.Choices[0].Type {
			same = append(same, c)
		} else {
			other = append(other, c)
		}
	}
	grid := func(cs []idleChoice) keyed.Item {
		return keyed.El("div", keyed.Class("idle-choices"), keyed.Each(cs, choiceRow))
	}
	return keyed.Several(grid(same), keyed.If(len(other) > 0, more1("Other types of the cards: "+count(len(other), "way"),
		part.Note("As new tubes nobody has read: their band is as wide as tubes of one type differ. Socket, heater current and load are not looked at here."), grid(other))))
}

func choiceRow(c idleChoice) keyed.Node {
	now := ""
	if c.Now {
		now = "as it stands"
	}
	return keyed.Row("section", "choice-"+slug(c.Key), keyed.Class("idle-choice"), keyed.El("h3", keyed.Text(joined(", ", c.Name, now))),
		part.Verdict(c.Kind, ""), part.Picture(draw.MarginStrip(c.Strip)),
		keyed.If(c.Dial != "", keyed.El("p", keyed.El("b", keyed.Text("The meter will show "+c.Dial)))),
		keyed.If(c.Say != "", keyed.El("p", keyed.Class("soft small"), keyed.Text(c.Say))))
}
