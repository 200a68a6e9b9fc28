package labor

import "math"

// Draws is how many times a job is played through.
const Draws = 2000

// A stream is a seeded run of numbers. It is written here so that a job keeps
// its date from one release of the language to the next.
//
// Source: the generator SplitMix64 of Steele, Lea and Flood, 2014, constants
// from memory.
type stream struct{ state uint64 }

// streamOf starts a stream from words, by their FNV-1a hash: the same words,
// the same numbers.
func streamOf(words ...string) *stream {
	h := uint64(14695981039346656037)
	for _, w := range words {
		for i := range len(w) {
			h = (h ^ uint64(w[i])) * 1099511628211
		}
		h *= 1099511628211 // a zero ends each word
	}
	return &stream{h}
}

func (s *stream) next() uint64 {
	s.state += 0x9E3779B97F4A7C15
	z := s.state
	z = (z ^ z>>30) * 0xBF58476D1CE4E5B9
	z = (z ^ z>>27) * 0x94D049BB133111EB
	return z ^ z>>31
}

// shuffled returns a table in an order of its own: each of its equal slices of
// probability comes up once, so that every step has its own mean and spread
// to the digit however few the draws (Latin hypercube sampling).
//
// Source: McKay, Beckman and Conover, Technometrics, 1979; from memory.
func (s *stream) shuffled(table []float64) []float64 {
	out := make([]float64, len(table))
	for i, v := range table {
		// The shift by a power of two keeps the choice free of division; its
		// unevenness, below one in a million, is far below what is shown.
		j := int(s.next() >> 32 * uint64(i+1) >> 32)
		out[i] = out[j]
		out[j] = v
	}
	return out
}

// normals are the middles of the equal slices of the normal distribution.
func normals() []float64 {
	out := make([]float64, Draws)
	for i := range out {
		out[i] = math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/Draws-1)
	}
	return out
}

// cells are how finely a beta's density is added up.
const cells = 1024

// logs are the logarithms of the middles of the cells.
func logs() []float64 {
	out := make([]float64, cells)
	for i := range out {
		out[i] = math.Log((float64(i) + 0.5) / cells)
	}
	return out
}

// betas are the middles of the equal slices of the beta whose parameters are
// a and 6 − a, from 0 to 1: the one [Three.Moments] takes, with
// a = 1 + 4(mode − low)/(high − low).
func betas(a float64, logs []float64) []float64 {
	var under [cells + 1]float64
	for i := range cells {
		under[i+1] = under[i] + math.Exp((a-1)*logs[i]+(5-a)*logs[cells-1-i])
	}
	out := make([]float64, Draws)
	at := 0
	for i := range out {
		want := (float64(i) + 0.5) / Draws * under[cells]
		for under[at+1] < want {
			at++
		}
		out[i] = (float64(at) + (want-under[at])/(under[at+1]-under[at])) / cells
	}
	return out
}
