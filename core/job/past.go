package job

import "lugworth/core/labor"

// fitted is what the book of finished work says of the shop's estimates,
// worked out once.
func (b *Books) fitted() labor.Fit {
	if b.fit == nil {
		f := labor.Learn(b.Past)
		b.fit = &f
	}
	return *b.fit
}

// finished reports whether an option was done at the bench.
func (j *Job) finished(option string) bool {
	for _, d := range j.Done {
		if d.ID == option {
			return true
		}
	}
	return false
}
