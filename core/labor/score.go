package labor

// A Score is how the shop's own eight-in-ten hours fared: of the last Jobs
// finished jobs, Held took no longer.
type Score struct{ Jobs, Held int }

// Replay judges each of the last jobs by what the jobs before it taught, as
// it would have been judged then: the hours said to be enough in eight of ten
// cases against those it took. past stands in the order in which jobs were
// finished; of an estimate only its mean is known.
func Replay(past []Past, last int) Score {
	starts := jobStarts(past)
	var s Score
	for k := max(0, len(starts)-last); k < len(starts); k++ {
		end := len(past)
		if k+1 < len(starts) {
			end = starts[k+1]
		}
		var work []Work
		actual := 0.0
		for _, p := range past[starts[k]:end] {
			work = append(work, Work{Class: p.Class, Moments: Moments{Mean: p.Estimate}})
			actual += p.Actual
		}
		s.Jobs++
		if actual <= Learn(past[:starts[k]]).Hours(Moments{}, work).Quantile(0.8) {
			s.Held++
		}
	}
	return s
}

// jobStarts are the first rows of jobs whose rows stand together.
func jobStarts(past []Past) []int {
	var out []int
	for i, p := range past {
		if i == 0 || p.Job != past[i-1].Job {
			out = append(out, i)
		}
	}
	return out
}

// Ratios are actual over estimated hours of whole jobs, in the order of their
// first rows.
func Ratios(past []Past) []float64 {
	at := map[string]int{}
	var actual, estimate []float64
	for _, p := range past {
		i, ok := at[p.Job]
		if !ok {
			i = len(actual)
			at[p.Job] = i
			actual, estimate = append(actual, 0), append(estimate, 0)
		}
		actual[i] += p.Actual
		estimate[i] += p.Estimate
	}
	out := make([]float64, len(actual))
	for i := range out {
		out[i] = actual[i] / estimate[i]
	}
	return out
}
