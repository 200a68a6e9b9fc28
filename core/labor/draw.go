package labor

import (
	"hash/fnv"
	"math"
)

// A stream is a seeded run of numbers. It is written here so that a job keeps
// its date from one release of the language to the next.
//
// Source: the generator SplitMix64 of Steele, Lea and Flood, 2014, constants
// from memory.
type stream struct{ state uint64 }

// streamOf starts a stream from words: the same words, the same numbers.
func streamOf(words ...string) *stream {
	h := fnv.New64a()
	for _, w := range words {
		h.Write([]byte(w))
		h.Write([]byte{0})
	}
	return &stream{h.Sum64()}
}

func (s *stream) next() uint64 {
	s.state += 0x9E3779B97F4A7C15
	z := s.state
	z = (z ^ z>>30) * 0xBF58476D1CE4E5B9
	z = (z ^ z>>27) * 0x94D049BB133111EB
	return z ^ z>>31
}

// uniform lies between 0 and 1, ends left out.
func (s *stream) uniform() float64 { return (float64(s.next()>>11) + 0.5) / (1 << 53) }

func (s *stream) normal() float64 { return math.Sqrt2 * math.Erfinv(2*s.uniform()-1) }

// gamma draws by acceptance and rejection, shape at least 1.
//
// Source: Marsaglia and Tsang, a simple method for generating gamma variables,
// 2000; from memory.
func (s *stream) gamma(shape float64) float64 {
	d := shape - 1.0/3
	c := 1 / math.Sqrt(9*d)
	for {
		x := s.normal()
		v := 1 + c*x
		if v <= 0 {
			continue
		}
		v *= v * v
		if u := s.uniform(); u < 1-0.0331*x*x*x*x || math.Log(u) < x*x/2+d*(1-v+math.Log(v)) {
			return d * v
		}
	}
}

// three draws from the beta of three points, as [Three.Moments] takes it.
func (s *stream) three(low, mode, high float64) float64 {
	if high <= low {
		return low
	}
	a := 1 + 4*(mode-low)/(high-low)
	u, v := s.gamma(a), s.gamma(6-a)
	return low + (high-low)*u/(u+v)
}
