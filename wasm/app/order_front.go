package app

import (
	"fmt"

	"lugworth/core/order"
	"lugworth/core/sorted"
)

// A Point is one order of a choice between cost and something else.
type Point struct {
	order.Answer
	Name string // a letter that stays with it: "a", the next "b"

	came int
}

// Key names the order of a point while the job's market stays as it is.
func (p Point) Key() string { return fmt.Sprintf("%d/%d/%d/%d", p.Parcels, p.Days, p.Score, p.Cost) }

// A front is a choice being worked out, with the letters its points were
// given as they came.
type front struct {
	*order.Front
	done  bool
	names map[string]int
}

func (f *front) rests() bool { return f.Front == nil || f.done }

func (f *front) step() bool {
	if f.rests() {
		return false
	}
	f.done = f.Front.Step()
	f.points()
	return true
}

// points are the points known so far in the order in which they came, so that
// a further one moves none.
func (f *front) points() []Point {
	if f.Front == nil {
		return nil
	}
	if f.names == nil {
		f.names = map[string]int{}
	}
	var out []Point
	for _, a := range f.Front.Points() {
		p := Point{Answer: a}
		n, known := f.names[p.Key()]
		if !known {
			n = len(f.names)
			f.names[p.Key()] = n
		}
		p.Name, p.came = letters(n), n
		out = append(out, p)
	}
	sorted.By(out, func(a, b Point) int { return a.came - b.came })
	return out
}

// letters counts a, b, … z, aa, ab, …
func letters(n int) string {
	if n < 26 {
		return string(rune('a' + n))
	}
	return letters(n/26-1) + letters(n%26)
}

// Points are the orders of the choice that is drawn, as they came, and whether
// there may be more of them.
func (s *Seek) Points(original bool) (points []Point, more bool) {
	f := &s.parcels
	if original {
		f = &s.scores
	}
	return f.points(), !f.done
}

// Point returns the order of that key among those of either choice.
func (s *Seek) Point(key string) (Point, bool) {
	for _, f := range []*front{&s.parcels, &s.scores} {
		for _, p := range f.points() {
			if p.Key() == key {
				return p, true
			}
		}
	}
	return Point{}, false
}
