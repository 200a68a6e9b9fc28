package view

import (
	"strings"

	"lugworth/core/job"
	"lugworth/core/plan"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
)

// keep returns the row made last under a key while what it was made of is the
// same, and makes it anew otherwise: a yes or no of a large job leaves most of
// hundreds of rows as they are. of must tell everything the row shows.
func keep(m app.Model, key string, of any, row func() keyed.Node) keyed.Node {
	type kept struct {
		of  any
		row keyed.Node
	}
	if k, ok := m.Screen.Rows.Get(key).(kept); ok && k.of == of {
		return k.row
	}
	k := kept{of, row()}
	m.Screen.Rows.Put(key, k)
	return k.row
}

// wayFacts is all that the row of an option on the call is made of. Lines are
// made once for a state of the amp and the books, so that the first stands for
// all of them, and the option for what it says.
type wayFacts struct {
	option                  *plan.Option
	line                    *plan.Line
	lines                   int
	accepted, known, over   bool
	refused, problems       string
	wrong, total, words, by string
}

// factsOf lists them; ok is false where the row holds more than they tell.
func factsOf(m app.Model, c *app.Weigh, o *job.OptionResult) (f wayFacts, ok bool) {
	if len(o.Beside.Breaks)+len(o.Beside.Worsens)+len(o.Beside.Cures) > 0 || reasonField(m, o) != (keyed.Item{}) {
		return f, false
	}
	f = wayFacts{option: o.Option, lines: len(o.Lines), accepted: o.Accepted, refused: o.Refused, problems: strings.Join(o.Problems, "\x00")}
	if f.lines > 0 {
		f.line = &o.Lines[0]
	}
	cur := m.Open.Result.Policy.Currency
	t, known := c.Turn(o.Option.ID)
	f.known, f.wrong = known, t.Wrong
	if known && t.Wrong == "" {
		f.total, f.words, f.over = signed(cur, t.Total), deltaWords(m, t), !t.After.FitsCeiling && !t.Accepted
	}
	if a, alone := c.Alone(o.Option.ID); alone && a.Wrong == "" && a.Total != t.Total && a.Total != -t.Total {
		f.by = signed(cur, a.Total)
	}
	return f, true
}
