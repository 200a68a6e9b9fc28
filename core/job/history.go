package job

import (
	"fmt"
	"math"
	"strconv"

	"lugworth/core/labor"
)

// Least numbers of finished jobs. Below fewRatios nothing is said of the
// shop's own ratios; lastJobs are looked back on. Our own judgment.
const (
	fewRatios = 4
	lastJobs  = 20
)

// A History is what the shop's own finished jobs say, without any assumption
// on how they are spread.
type History struct {
	Jobs      int
	Ratios    []float64 // actual over estimated hours, job by job, the oldest first
	Low, High float64   // between which the next ratio lies with chance Holds
	Holds     float64
	HasRange  bool
	Score     labor.Score // of the last jobs, each judged by those before it
	Say       string
}

// History tells how the shop's finished jobs ran against their estimates. The
// range is that of order statistics: the next ratio lies between the j-th and
// the k-th of n with chance (k − j)/(n + 1), where the next job is like those
// before it.
func (r *Result) History() History {
	b := r.Books
	if b.history == nil {
		h := historyOf(b.Past)
		b.history = &h
	}
	return *b.history
}

func historyOf(past []labor.Past) History {
	h := History{Ratios: labor.Ratios(past)}
	h.Jobs = len(h.Ratios)
	if h.Jobs < fewRatios {
		h.Say = fmt.Sprintf("too few finished jobs to say anything by their own ratios: %d of at least %d", h.Jobs, fewRatios)
		return h
	}
	h.Score = labor.Replay(past, lastJobs)
	h.Low, h.High, h.Holds, h.HasRange = labor.Range(h.Ratios, 0.8)
	if !h.HasRange {
		s := labor.Widest(h.Ratios)
		h.Low, h.High, h.Holds = s.Low, s.High, s.Holds
	}
	h.Say = fmt.Sprintf("%d finished jobs: the next takes %s to %s of its estimate with chance %s (order statistics, nothing assumed)",
		h.Jobs, times(h.Low), times(h.High), percent(h.Holds))
	return h
}

func times(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) + " times" }

// percent rounds a chance to whole percent; what is not certain is never said
// to be.
func percent(p float64) string {
	n := int(math.Floor(100*p + 0.5))
	switch {
	case n == 100 && p < 1:
		return "over 99 %"
	case n == 0 && p > 0:
		return "under 1 %"
	}
	return strconv.Itoa(n) + " %"
}
