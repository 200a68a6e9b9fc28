package unit

// Series is a set of preferred values: 3, 6, 12, 24, 48, 96 or 192 a decade.
type Series int

const (
	E3   Series = 3
	E6   Series = 6
	E12  Series = 12
	E24  Series = 24
	E48  Series = 48
	E96  Series = 96
	E192 Series = 192
)

// Nearest returns the value of the series nearest to v by ratio.
func (s Series) Nearest(v float64) (float64, error) { return v, nil }
