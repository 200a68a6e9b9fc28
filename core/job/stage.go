package job

import (
	"lugworth/core/stress"
	"lugworth/core/unit"
)

// A Stage is what one output tube draws, as read.
type Stage struct {
	Cathode, Plate unit.Current // 0 where they cannot be told
}

// Stage returns what an output tube draws in the as-found chart.
func (r *Result) Stage(ref string) Stage {
	t, ok := r.Job.Amp.Find(ref)
	if !ok {
		return Stage{}
	}
	k, p, _ := r.worlds.found.Idle(t)
	return Stage{k, p}
}

// Peak returns the no-load peak at the given mains, on the amp as found.
func (r *Result) Peak(mains unit.Voltage) stress.Stress { return r.worlds.found.Peak(mains) }
