package app

import (
	"slices"
	"strconv"
	"strings"

	"lugworth/core/decision"
	"lugworth/core/job"
	"lugworth/core/labor"
	"lugworth/wasm/port"
)

func init() {
	submitted["best"] = func(m *Model, e event) []port.Effect {
		if m.Open == nil {
			return nil
		}
		m.Screen.Said = Said{strings.TrimSpace(e.form.Get("ceiling")), strings.TrimSpace(e.form.Get("day")), true, m.Open.ID}
		m.dropDrafts("best-said")
		return nil
	}
	pressed["best-record"] = func(m *Model, e event) []port.Effect {
		m.Screen.Said = Said{}
		return nil
	}
	pressed["best-stop"] = func(m *Model, e event) []port.Effect {
		if w := m.Weigh(); w != nil {
			w.stop()
		}
		return nil
	}
	pressed["best-agree"] = func(m *Model, e event) []port.Effect { return m.agreeSaid(e) }
	pressed["take-least"] = func(m *Model, e event) []port.Effect { return m.takeLeast(e) }
}

// Said is the ceiling and the day the owner names on the telephone, as typed.
type Said struct {
	Ceiling, Day string
	Asked        bool   // they stand in place of those on record
	job          string // of this job
}

// Said is what the owner of the open job named last.
func (m Model) Said() Said {
	if m.Open == nil || m.Screen.Said.job != m.Open.ID {
		return Said{}
	}
	return m.Screen.Said
}

// dropDrafts forgets what was typed into a form that was sent.
func (m *Model) dropDrafts(form string) {
	for k := range m.Screen.Drafts {
		if strings.HasPrefix(k, "draft/"+form+"/") {
			delete(m.Screen.Drafts, k)
		}
	}
}

// saidLimits are the limits to seek inside: those the owner names, else those
// on record.
func (m Model) saidLimits(model decision.Model) (decision.Limits, error) {
	s := m.Said()
	if !s.Asked {
		return model.Limits, nil
	}
	var l decision.Limits
	if s.Ceiling != "" {
		c, err := model.Currency.Read(s.Ceiling)
		if err != nil {
			return l, err
		}
		l.Ceiling, l.HasCeiling = c, true
	}
	if s.Day != "" {
		n, err := SaidDay(s.Day, m.Screen.Today)
		if err != nil {
			return l, err
		}
		l.Days, l.HasDays = n, true
	}
	return l, nil
}

// notADay says what may be typed for a day.
type notADay string

func (d notADay) Error() string {
	return strconv.Quote(string(d)) + " is not a day: a number of days, \"the 20th\" or 2026-11-20"
}

// SaidDay reads a day as it is said: "21", "21 days", "the 20th", which is the
// next such day of a month, "2026-11-20". It is counted from today, day 0.
func SaidDay(text, today string) (int, error) {
	s := strings.ToLower(strings.TrimSpace(text))
	s = strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(s, "by "), "the "))
	if n, ok := cutNumber(s, "", " days", " day", "days"); ok {
		return n, nil
	}
	day, th := cutNumber(s, "st", "nd", "rd", "th")
	for n := 0; n <= 800 && today != ""; n++ {
		date := labor.Date(today, n)
		if date == s || th && len(date) > 2 && n <= 62 && trimZero(date[len(date)-2:]) == strconv.Itoa(day) {
			return n, nil
		}
	}
	return 0, notADay(text)
}

func trimZero(s string) string { return strings.TrimPrefix(s, "0") }

// cutNumber reads a whole number that one of the endings follows.
func cutNumber(s string, endings ...string) (int, bool) {
	for _, e := range endings {
		if before, ok := strings.CutSuffix(s, e); ok {
			if n, err := strconv.Atoi(before); err == nil && n >= 0 && n < 10_000 {
				return n, true
			}
		}
	}
	return 0, false
}

// agreeSaid puts what the owner named on record as ceiling and date.
func (m *Model) agreeSaid(e event) []port.Effect {
	w := m.Weigh()
	if w == nil || !m.Said().Asked || w.noSeek != "" {
		return nil
	}
	ceiling, days := "", ""
	if w.Limits.HasCeiling {
		ceiling = m.Open.Result.Policy.Currency.Format(w.Limits.Ceiling)
	}
	if w.Limits.HasDays {
		days = strconv.Itoa(w.Limits.Days)
	}
	m.Screen.Said = Said{}
	return m.commit(e.Fresh, "ceiling and date put on record", change{job.KindBounds, map[string]any{"ceiling": ceiling, "days": days}})
}

// takeBest makes the best choice the one in force.
func (m *Model) takeBest(e event) []port.Effect {
	w := m.Weigh()
	if w == nil {
		return nil
	}
	for w.Seeking() {
		w.seek.Step()
	}
	b, wrong := w.Best()
	if wrong != "" {
		m.Screen.Problems = append(m.Screen.Problems, wrong)
		return nil
	}
	return m.takeChoice(e, "best choice taken", b.Accept)
}

// takeLeast makes one of the choices that touch least the one in force. The ID
// names its options.
func (m *Model) takeLeast(e event) []port.Effect {
	w := m.Weigh()
	if w == nil {
		return nil
	}
	l, _ := w.Least()
	at := slices.IndexFunc(l.Points, func(p decision.Point) bool { return strings.Join(p.Accept, " ") == e.ID })
	if at < 0 {
		return nil
	}
	return m.takeChoice(e, "choice taken", l.Points[at].Accept)
}

func (m *Model) takeChoice(e event, say string, accept []string) []port.Effect {
	name := m.Open.Job.Pick
	if m.Open.Result.Force < 0 {
		name = firstSet
	}
	m.Screen.Moved++
	return m.commit(e.Fresh, say, change{job.KindSet, map[string]any{"name": name, "accept": list(accept)}}, change{job.KindPick, map[string]any{"name": name}})
}
