package app

import (
	"slices"
	"strings"

	"lugworth/core/decision"
	"lugworth/core/job"
	"lugworth/wasm/port"
)

func init() {
	// owner-paper opens the paper from which the page to tick is saved.
	pressed["owner-paper"] = func(m *Model, e event) []port.Effect {
		m.Screen.Posture, m.Screen.Paper.Kind = "papers", SheetDecisions
		return []port.Effect{port.SetHash{Hash: "papers"}}
	}
	pressed["owner-file"] = func(m *Model, e event) []port.Effect { return m.ownerFile(e) }
	submitted["owner-code"] = func(m *Model, e event) []port.Effect {
		if m.Open == nil {
			return nil
		}
		m.Screen.Ticks = Ticks{Code: strings.TrimSpace(e.form.Get("code")), job: m.Open.ID}
		t := &m.Screen.Ticks
		read, err := m.Open.Job.ReadTicks(t.Code)
		if err != nil {
			t.Wrong = err.Error()
			return []port.Effect{port.FocusOn{ID: "owner-code-code", Select: true}}
		}
		t.Read, t.Moved = &read, m.movedSince(read.Frozen)
		return []port.Effect{port.FocusOn{ID: "owner-said"}}
	}
	pressed["owner-take"] = func(m *Model, e event) []port.Effect { return m.takeTicks(e) }
	pressed["owner-forget"] = func(m *Model, e event) []port.Effect {
		m.Screen.Ticks = Ticks{}
		m.dropDrafts("owner-code")
		return nil
	}
}

// Ticks is a code of the owner as it was typed, and what it says.
type Ticks struct {
	Code, Wrong string
	Read        *job.Ticked // nil where it cannot be read
	Moved       string      // what the estimate's own choice comes to when the code is read, where that is another sum
	job         string      // of this job
}

// movedSince says how the total of a frozen estimate's own choice has moved, ""
// if it has not.
func (m *Model) movedSince(f job.FrozenRecord) string {
	d, err := m.Open.Result.Drift(f)
	if err != nil {
		return err.Error()
	}
	if d.By() == 0 {
		return ""
	}
	c := m.Open.Result.Policy.Currency
	return "the estimate's own choice was " + c.Format(d.Was) + " and would be " + c.Format(d.Is) + " today, so the total the owner saw may be another: read today's out"
}

// TickedNow prices what was ticked as of today.
func (m Model) TickedNow() (decision.Standing, error) {
	model, err := m.Open.Result.Model()
	if err != nil {
		return decision.Standing{}, err
	}
	return model.Stand(m.Ticks().Read.Accept())
}

// Ticks is the code that was typed last for the open job.
func (m Model) Ticks() Ticks {
	if m.Open == nil || m.Screen.Ticks.job != m.Open.ID {
		return Ticks{}
	}
	return m.Screen.Ticks
}

// MayAsk reports whether some estimate was frozen with a page to tick.
func (m Model) MayAsk() bool {
	return m.Open != nil && slices.ContainsFunc(m.Open.Job.Frozen, func(f job.FrozenRecord) bool { return len(f.Asked) > 0 })
}

// ownerFile hands over the page on which the owner ticks, with the estimate it
// is of frozen beside it: without it nobody could tell later what was asked.
func (m *Model) ownerFile(e event) []port.Effect {
	if m.Open == nil {
		return nil
	}
	fail := func(say string) []port.Effect {
		m.Screen.Problems = append(m.Screen.Problems, say)
		return nil
	}
	r := m.Open.Result
	if r.Force < 0 {
		return fail("no choice is in force: pick one first")
	}
	if s := r.Sets[r.Force]; s.Err != "" {
		return fail(s.Err)
	}
	changes, number, err := m.frozenNow(e)
	if err != nil {
		return fail(err.Error())
	}
	var effects []port.Effect
	if len(changes) > 0 {
		if effects = m.commit(e.Fresh, "estimate "+number+" frozen", changes...); len(effects) == 0 {
			return fail("nothing may be written here, so the estimate cannot be frozen")
		}
		m.Open.undo = m.Open.undo[:len(m.Open.undo)-1] // a frozen estimate is superseded, never undone
		m.Screen.Toast.Undo = false
	}
	f, _ := m.Frozen(number)
	page, err := m.Open.Result.OwnerPage(f)
	if err != nil {
		m.Screen.Problems = append(m.Screen.Problems, err.Error())
		return effects
	}
	return append(effects, port.WriteFile{File: port.File{Name: "decide-" + number + ".html", Mime: "text/html", Bytes: page.HTML()}})
}

// Gone lists what was ticked and is no longer in the job.
func (m Model) Gone() []string {
	t := m.Ticks()
	if t.Read == nil {
		return nil
	}
	var out []string
	for _, id := range t.Read.Accept() {
		if m.optionFinding(id) == "" {
			out = append(out, id)
		}
	}
	return out
}

// takeTicks makes what the owner ticked the choice in force: one press, which
// can be taken back. Nothing is agreed by it.
func (m *Model) takeTicks(e event) []port.Effect {
	t := m.Ticks()
	if t.Read == nil || len(m.Gone()) > 0 || m.ReadOnly() != "" {
		return nil
	}
	m.Screen.Answers = map[string]string{}
	for _, a := range t.Read.Answers {
		m.Screen.Answers[a.Finding] = "think"
		if a.No {
			m.Screen.Answers[a.Finding] = "no"
		}
	}
	if m.AsTicked() {
		return nil
	}
	s, err := m.TickedNow()
	if err != nil {
		m.Screen.Problems = append(m.Screen.Problems, err.Error())
		return nil
	}
	return m.takeChoice(e, "choice set as the owner ticked it", s.Accept)
}

// AsTicked reports whether the choice in force is what the owner ticked.
func (m Model) AsTicked() bool {
	t := m.Ticks()
	if t.Read == nil || m.Open.Result.Force < 0 {
		return false
	}
	ticked, have := t.Read.Accept(), slices.Clone(m.Open.Result.Accepted())
	slices.Sort(ticked)
	slices.Sort(have)
	return slices.Equal(ticked, have)
}

// OnPaper is how the answer being taken down came, and what it rests on: ""
// unless the choice in force is what the owner ticked.
func (m Model) OnPaper() (channel, conditions string) {
	if !m.AsTicked() {
		return "", ""
	}
	t := m.Ticks()
	return "in writing", "as ticked on the page of estimate " + t.Read.Frozen.ID + ", code " + strings.ToUpper(t.Code)
}
