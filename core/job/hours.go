package job

import (
	"fmt"

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
	var setUp labor.Moments
	var work []labor.Work
	for _, l := range e.Lines {
		if l.SetUp {
			setUp = setUp.Plus(l.Three.Moments())
			continue
		}
		work = append(work, labor.Work{Class: r.classOfTask(l.ID), Moments: l.Three.Moments()})
	}
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
