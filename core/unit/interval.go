package unit

import "math"

// Interval is what a figure may be: never below Low, never above High.
type Interval struct{ Low, Expected, High float64 }

// Exactly returns the interval of a figure known without doubt.
func Exactly(v float64) Interval { return Interval{v, v, v} }

// Around returns v with a relative error of fraction either way: a reading of
// 318 V with a meter of 1 % is Around(318, 0.01).
func Around(v, fraction float64) Interval {
	d := math.Abs(v * fraction)
	return Interval{v - d, v, v + d}
}

// Valid reports whether the ends are finite and in order.
func (iv Interval) Valid() bool {
	return finite(iv.Low) && finite(iv.High) && finite(iv.Expected) && iv.Low <= iv.Expected && iv.Expected <= iv.High
}

// Holds reports whether v lies inside, ends included.
func (iv Interval) Holds(v float64) bool { return iv.Low <= v && v <= iv.High }

// Plus returns the interval of a sum.
func (iv Interval) Plus(o Interval) Interval {
	return Interval{iv.Low + o.Low, iv.Expected + o.Expected, iv.High + o.High}
}

// Minus returns the interval of a difference of figures that vary freely.
func (iv Interval) Minus(o Interval) Interval {
	return Interval{iv.Low - o.High, iv.Expected - o.Expected, iv.High - o.Low}
}

// Times returns the interval of a product of figures that vary freely.
func (iv Interval) Times(o Interval) Interval {
	a, b, c, d := iv.Low*o.Low, iv.Low*o.High, iv.High*o.Low, iv.High*o.High
	return Interval{min(a, b, c, d), iv.Expected * o.Expected, max(a, b, c, d)}
}

// Scale multiplies by a figure known without doubt.
func (iv Interval) Scale(f float64) Interval { return iv.Times(Exactly(f)) }
