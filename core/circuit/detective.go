package circuit

import (
	"math"
	"slices"
)

// detective holds what every theory is tried against.
type detective struct {
	net   *Net
	q     Inquiry
	ts    []target
	meter []float64 // error of each reading
	room  []float64 // and with what parts may be off without fault
	from  Values
	start *Solution
	state State
	base  []float64 // readings of the amp as it should be
	all   []charge
	order map[string]int
	odd   []int
	scale []float64
}

// A theory is a set of charges, the numbers that fit best, and the readings
// they lead to.
type theory struct {
	charges []charge
	x       []float64
	reads   []float64
	sol     *Solution // solved in full at x
	off     float64
}

// How many theories are carried on to the next size, and with how many parts
// each is tried there.
const (
	beamWidth  = 14
	beamSecond = 20
)

func newDetective(n *Net, q Inquiry) (*detective, error) {
	d := &detective{net: n, q: q, from: q.From, order: map[string]int{}}
	if d.from == nil {
		d.from = n.Sheet()
	}
	chart := chartMains(q.Readings)
	d.state = State{Name: "the chart", Mains: chart}
	j := newJoints(q.Sheet)
	for i := range q.Sheet {
		d.order[q.Sheet[i].Ref] = i
	}
	for _, t := range targetsOf(&q.Bench, j, chart) {
		if t.why == "" && (t.bench || t.kind == readOhms) {
			d.ts = append(d.ts, t)
		}
	}
	if chart == 0 {
		return d, nil
	}
	var err error
	if d.start, err = n.Solve(d.from, d.state, nil); err != nil {
		return nil, err
	}
	d.base = d.reads(d.from, d.start, nil)
	d.rooms(j)
	d.all = d.charges()
	return d, nil
}

// least error of a reading, so that one of nothing can be met.
const roomVolts, roomAmps, roomOhms = 2e-3, 2e-6, 1e-3

// rooms are how far a theory may miss each reading.
func (d *detective) rooms(j *joints) {
	hs := halves(d.net, d.q.Sheet, d.q.Spreads)
	var ds []direction
	for i, h := range hs {
		if h.width > 0 {
			ds = append(ds, direction{moves: []delta{{i, h.width}}})
		}
	}
	ps := make([]*target, len(d.ts))
	for i := range d.ts {
		ps[i] = &d.ts[i]
	}
	cols := slopes(d.start, ds, ps)
	for i, t := range d.ts {
		floor := map[targetKind]float64{readNode: roomVolts, readCurrent: roomAmps, readOhms: roomOhms}[t.kind]
		sum := 0.0
		for k := range cols {
			sum += cols[k][i] * cols[k][i]
		}
		if t.kind == readOhms {
			sum = d.ownWidth(t.ref, hs)
			sum *= sum
		}
		d.meter = append(d.meter, t.err+floor)
		d.room = append(d.room, t.err+floor+d.q.Slack*math.Sqrt(sum))
	}
}

// ownWidth is how far a part's own ohms may be off.
func (d *detective) ownWidth(ref string, hs []half) float64 {
	for _, p := range []Property{Ohms, Copper} {
		if k, ok := d.net.Knob(ref, p); ok {
			return hs[k].width
		}
	}
	return 0
}

// reads are what the meter would show.
func (d *detective) reads(v Values, s *Solution, faults []Fault) []float64 {
	out := make([]float64, len(d.ts))
	for i := range d.ts {
		t := &d.ts[i]
		if t.kind == readOhms {
			out[i] = d.ohms(t.ref, v, faults)
			continue
		}
		y, ok := t.of(s)
		if !ok {
			y = math.NaN()
		}
		out[i] = y
	}
	return out
}

// ohms is a part's own resistance, with what has failed.
func (d *detective) ohms(ref string, v Values, faults []Fault) float64 {
	for _, f := range faults {
		if f.Ref == ref && f.Kind == Open {
			return 1e12
		}
		if f.Ref == ref && f.Kind == Short {
			return 0
		}
	}
	for _, p := range []Property{Ohms, Copper} {
		if k, ok := d.net.Knob(ref, p); ok {
			return v[k]
		}
	}
	return math.NaN()
}

// An error is taken of what was read, not of what is: a reading at the very
// end of its meter's error must not rule out the truth.
const grain = 1.02

// meets reports whether readings are met, all of them.
func (d *detective) meets(reads []float64) bool {
	for i, t := range d.ts {
		if !(math.Abs(reads[i]-t.amount) <= grain*d.room[i]) {
			return false
		}
	}
	return true
}

// miss is what is left of each reading, in parts of its room.
func (d *detective) miss(reads []float64) []float64 {
	out := make([]float64, len(reads))
	for i, t := range d.ts {
		out[i] = (reads[i] - t.amount) / d.room[i]
		if math.IsNaN(out[i]) {
			out[i] = 1e3
		}
	}
	return out
}

// offOf is the root of the mean square of a miss.
func offOf(miss []float64) float64 {
	sum := 0.0
	for _, m := range miss {
		sum += m * m
	}
	return math.Sqrt(sum / float64(len(miss)))
}

// try works a theory out at numbers x: in full, or, with the ripple of a
// solution of the same theory nearby, to see where a small step leads.
func (d *detective) try(cs []charge, x []float64, near *Solution) ([]float64, *Solution, bool) {
	v := slices.Clone(d.from)
	st := d.state
	for i, c := range cs {
		switch {
		case c.fault == 0:
			v[c.knob] = c.moved(v[c.knob], x[i])
		case c.fault == Leak:
			st.Faults = append(st.Faults, Fault{Kind: Leak, Ref: c.ref, Ohms: math.Exp(x[i])})
		default:
			st.Faults = append(st.Faults, Fault{Kind: c.fault, Ref: c.ref})
		}
	}
	var s *Solution
	var err error
	if near != nil {
		s, err = d.net.SolveNear(v, st, near)
	} else {
		s, err = d.net.Solve(v, st, d.start)
	}
	if err != nil {
		return nil, nil, false
	}
	return d.reads(v, s, st.Faults), s, true
}

// singles tries every charge alone.
func (d *detective) singles() []theory {
	out := make([]theory, 0, len(d.all))
	for _, c := range d.all {
		best, found := theory{off: math.Inf(1)}, false
		for _, x := range c.starts() {
			if t, ok := d.fit([]charge{c}, []float64{x}); ok && t.off < best.off {
				best, found = t, true
			}
		}
		if found {
			out = append(out, best)
		}
	}
	return out
}

// findOdd notes the readings that alone stand against a single charge.
func (d *detective) findOdd(singles []theory) {
	for _, t := range singles {
		var out []int
		for i, m := range d.miss(t.reads) {
			if math.Abs(m) > 1 {
				out = append(out, i)
			}
		}
		if len(out) == 1 && !slices.Contains(d.odd, out[0]) {
			d.odd = append(d.odd, out[0])
		}
	}
	slices.Sort(d.odd)
}
