package job

import (
	"fmt"
	"slices"

	"lugworth/core/labor"
	"lugworth/core/plan"
	"lugworth/core/unit"
)

// Hours are how long the bench work of a choice takes: the plain three-point
// figures, and the hours that are enough in five, eight and nine of ten
// cases.
type Hours struct {
	Expected            unit.Hours // Σ te, as the bill takes it
	Independent, Linked unit.Hours // both spreads of the three points
	P50, P80, P90       unit.Hours
	Method              string
	Calibrated          bool // the shop's own finished jobs are enough to go by
	Jobs                int  // finished jobs behind the figures
}

// HoursOf works out the hours of a choice by three moments: those of each
// task's beta, times what the shop's own jobs say of its estimates, matched
// by a shifted lognormal. Nothing is drawn. Where the hours cannot be
// reckoned with, Method says why and the figures are nothing.
func (r *Result) HoursOf(accept []string) Hours {
	e, err := r.LaborOf(accept...)
	f := r.fit()
	h := Hours{Calibrated: f.Calibrated(), Jobs: f.Jobs}
	if err != nil {
		h.Method = err.Error()
		return h
	}
	h.Expected, h.Independent, h.Linked = e.Hours, e.Independent, e.Linked
	m := r.moments(e)
	h.P50, h.P80, h.P90 = unit.Hours(m.Quantile(0.5)), unit.Hours(m.Quantile(0.8)), unit.Hours(m.Quantile(0.9))
	h.Method = "three moments of the lines' betas, " + r.calibrationSays()
	return h
}

// moments are those of the whole work of an estimate.
func (r *Result) moments(e labor.Estimate) labor.Moments {
	setUp, work := r.workOf(e, nil, 0)
	return r.fit().Hours(setUp, work)
}

// fit is what the shop's own finished jobs say of its estimates.
func (r *Result) fit() labor.Fit { return r.Books.fitted() }

// calibrationSays is how far the shop's own jobs stand behind a figure.
func (r *Result) calibrationSays() string {
	f := r.fit()
	if f.Calibrated() {
		return fmt.Sprintf("calibrated by %d finished jobs of the shop", f.Jobs)
	}
	return fmt.Sprintf("not yet calibrated: %d finished jobs of %d, the rest our own starting belief of how estimates miss", f.Jobs, labor.CalibratedFrom)
}

// classOf is the class a task is calibrated by: what the library calls it,
// else the task itself.
func (r *Result) classOf(o *plan.Option) string { return r.classOfTask(o.Task) }

func (r *Result) classOfTask(id string) string {
	if t, ok := r.Books.Library.Find(id); ok {
		return t.Task
	}
	return id
}

// HoursWithFinds works out the hours of a choice with the job's "if found"
// items in them, each by its chance: what the bench has to reckon with. The
// bill stays without them.
func (r *Result) HoursWithFinds(accept []string) Hours {
	h := r.HoursOf(accept)
	m, err := r.momentsWithFinds(r.inOrder(accept))
	if err != nil {
		h.Method = err.Error()
		return h
	}
	h.P50, h.P80, h.P90 = unit.Hours(m.Quantile(0.5)), unit.Hours(m.Quantile(0.8)), unit.Hours(m.Quantile(0.9))
	h.Method += `; each "if found" item by its chance`
	return h
}

func (r *Result) momentsWithFinds(accept []string) (labor.Moments, error) {
	e, err := r.LaborOf(accept...)
	if err != nil {
		return labor.Moments{}, err
	}
	setUp, work := r.workOf(e, nil, 0)
	for i := range r.Job.Options {
		o := &r.Job.Options[i]
		if o.Chance == 0 {
			continue
		}
		with, err := r.LaborOf(append(without(accept, o.ID), o.ID)...)
		if err != nil {
			return labor.Moments{}, err
		}
		more, tasks := r.workOf(with, e.Lines, float64(o.Chance)/100)
		setUp, work = setUp.Plus(more), append(work, tasks...)
	}
	return r.fit().Hours(setUp, work), nil
}

// workOf are the moments of an estimate's lines that are not among others.
func (r *Result) workOf(e labor.Estimate, others []labor.Line, chance float64) (setUp labor.Moments, work []labor.Work) {
	for _, l := range e.Lines {
		if slices.ContainsFunc(others, func(o labor.Line) bool { return o.ID == l.ID && o.SetUp == l.SetUp && o.Times == l.Times }) {
			continue
		}
		m := l.Three.Moments()
		switch {
		case !l.SetUp:
			work = append(work, labor.Work{Class: r.classOfTask(l.ID), Moments: m, Chance: chance})
		case chance > 0:
			setUp = setUp.Plus(m.IfFound(chance))
		default:
			setUp = setUp.Plus(m)
		}
	}
	return setUp, work
}
