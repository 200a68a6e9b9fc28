package circuit

import (
	"math"

	"lugworth/core/limit"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// Bands answers figures under scenarios after a choice: every specimen that
// agrees with the readings, every corner of what stays open. For each
// scenario and figure, in that order, one band; one that cannot be had says
// why. With need, a band whose cautious bound is outside what is needed is
// looked at more closely; without, every band is the cautious one. Of a
// scenario with two mains the band holds both ends; Expected is that at the
// mains which gives High.
func (c *Calibration) Bands(ch Choice, scenarios []Scenario, fs []Figure, laws Laws, need Need) []Band {
	a, err := c.after(ch, laws)
	out := make([]Band, 0, len(scenarios)*len(fs))
	for _, sc := range scenarios {
		if err != nil {
			out = append(out, missing(sc, fs, err)...)
			continue
		}
		out = append(out, a.bands(sc, fs, need)...)
	}
	return out
}

func missing(sc Scenario, fs []Figure, err error) []Band {
	out := make([]Band, len(fs))
	for i, f := range fs {
		out[i] = emptyBand(f, sc)
		out[i].Missing = err.Error()
	}
	return out
}

func emptyBand(f Figure, sc Scenario) Band {
	u, _ := limit.UnitOf(f.Quantity)
	return Band{Figure: f, Scenario: sc.Name, Mains: sc.High, Unit: u}
}

// bands answers one scenario.
func (a *after) bands(sc Scenario, fs []Figure, need Need) []Band {
	ps, err := a.prospects(sc, fs)
	if err != nil {
		return missing(sc, fs, err)
	}
	out := make([]Band, len(fs))
	for i, f := range fs {
		out[i] = a.band(sc, ps, f, i, need)
	}
	return out
}

// prospects solves every explanation at both mains.
func (a *after) prospects(sc Scenario, fs []Figure) ([]*prospect, error) {
	mains := []float64{float64(sc.High)}
	if sc.Low != sc.High && sc.Low > 0 {
		mains = append(mains, float64(sc.Low))
	}
	var out []*prospect
	for i := range a.specs {
		for k, m := range mains {
			var near *Solution
			if i > 0 {
				near = out[k].sol
			}
			p, err := a.prospect(&a.specs[i], sc, m, fs, near)
			if err != nil {
				return nil, err
			}
			out = append(out, p)
		}
	}
	return out, nil
}

// band is the hull of one figure over all prospects.
func (a *after) band(sc Scenario, ps []*prospect, f Figure, i int, need Need) Band {
	b := emptyBand(f, sc)
	b.Basis = Anchored
	b.Low, b.High = math.Inf(1), math.Inf(-1)
	low, high := math.Inf(-1), math.Inf(1)
	if need != nil {
		if l, h, ok := need(f); ok {
			low, high = l, h
		}
	}
	var best *reach
	for _, p := range ps {
		r, err := p.reach(f, p.slope[i], need != nil, low, high)
		if err != nil {
			b = emptyBand(f, sc)
			b.Missing = err.Error()
			return b
		}
		b.Low = min(b.Low, r.low)
		if r.high > b.High {
			b.High, b.Mains, best = r.high, unit.Voltage(p.state.Mains), r
		}
		b.Basis = min(b.Basis, r.basis)
		a.note(&b, r)
	}
	b.Expected = a.expected(ps, f, float64(b.Mains))
	b.Causes = best.causes(f)
	b.Expected = min(max(b.Expected, b.Low), b.High)
	return b
}

// note keeps what a band rests on.
func (a *after) note(b *Band, r *reach) {
	b.Assumed = b.Assumed || r.assumed || a.fresh[b.Ref]
	for _, say := range []string{a.c.Doubt, r.doubt} {
		if b.Doubt == "" {
			b.Doubt = say
		}
	}
}

// expected is the middle of the explanations at one mains.
func (a *after) expected(ps []*prospect, f Figure, mains float64) float64 {
	sum, n := 0.0, 0.0
	for _, p := range ps {
		if q, ok := p.figure(f); ok && p.state.Mains == mains {
			sum += q * p.factor(f)
			n++
		}
	}
	return sum / n
}

// factor carries a bench reading of a figure over; 1 where there is none.
func (p *prospect) factor(f Figure) float64 {
	if an := p.anchor(f); an.ok {
		return an.factor
	}
	return 1
}

// anchor is what was read of a figure, unless what was read is no longer in
// the amp.
func (p *prospect) anchor(f Figure) anchor {
	q, ok := p.spec.fit.figures[f]
	if p.a.fresh[f.Ref] || !ok || q == 0 {
		return anchor{}
	}
	return p.a.c.anchor(p.spec.fit, f)
}

// reach is how far one figure may lie in one prospect, and why.
type reach struct {
	p         *prospect
	low, high float64
	parts     []float64 // by direction: change of the figure at its end
	soft      []float64 // the same, of what is taken together with carrying over
	carry     float64   // part of itself that carrying over adds, the meter's error with it
	basis     Basis
	assumed   bool
	doubt     string
}

// reach bounds one figure. An anchored figure moves with what is new by its
// whole slope, with what was there already by the difference to the bench.
func (p *prospect) reach(f Figure, byKnob []float64, closer bool, low, high float64) (*reach, error) {
	q, ok := p.figure(f)
	if !ok || math.IsNaN(q) || math.IsInf(q, 0) {
		return nil, &Unsolved{State: p.state.Name, Say: "the circuit gives no such figure", Refs: []string{f.Ref}}
	}
	r := &reach{p: p, basis: Calibrated}
	an := p.anchor(f)
	law, _ := p.a.law(f.Ref)
	k := 1.0
	if an.ok {
		r.basis, k = Anchored, an.factor
	} else if p.a.fresh[f.Ref] || len(p.spec.fit.pins) == 0 {
		r.basis = FromType
	}
	r.parts = p.parts(f, q, byKnob, an.ok)
	r.soft = make([]float64, len(r.parts))
	for i := range r.parts {
		r.parts[i] *= k
		if an.ok && p.softly(&p.ds[i], f) {
			r.soft[i], r.parts[i] = r.parts[i], 0
		}
	}
	if an.ok {
		r.carry = an.err + together(p.a.c.carry(p.spec.fit, f, p.sol, law), r.soft, q*k)
	}
	if err := p.ends(r, f, q*k, k, closer, low, high); err != nil {
		return nil, err
	}
	p.judge(r, f, q*k, byKnob, law)
	return r, nil
}

// softly reports a cause whose size is a judgment, as that of carrying over
// is: the law, the heaters, how an unread tube parts its current. They have
// nothing to do with one another, so their squares add. What a marking or a
// meter states is always added whole.
func (p *prospect) softly(d *direction, f Figure) bool {
	return carriesPower(f) && (d.law && !d.ripple || d.property == Share && d.ref == f.Ref && !d.fresh)
}

// together adds the squares of carrying over and of what is like it.
func together(carry float64, soft []float64, q float64) float64 {
	sum := carry * carry
	for _, s := range soft {
		if q != 0 {
			sum += s * s / (q * q)
		}
	}
	return math.Sqrt(sum)
}

// parts is how far each direction moves the figure at its end.
func (p *prospect) parts(f Figure, q float64, byKnob []float64, anchored bool) []float64 {
	out := make([]float64, len(p.ds))
	for i := range p.ds {
		d := &p.ds[i]
		switch {
		case d.ripple:
			out[i] = p.ripplePart(f, q)
		case !anchored || d.fresh:
			out[i] = d.along(byKnob)
		case i < len(p.spec.from):
			out[i] = p.carriedPart(f, q, d, p.spec.from[i], byKnob)
		case d.ref != f.Ref || !carriesPower(f):
			out[i] = d.along(byKnob)
		}
	}
	return out
}

// carriedPart is what a part that was there at the bench may add to a figure
// carried over: for volts the difference of its slopes, for watts and
// currents nothing, since the rule for carrying over has it already. How a
// tube parts its current was not in the reading unless the screen's was.
func (p *prospect) carriedPart(f Figure, q float64, d *direction, from int, byKnob []float64) float64 {
	switch {
	case !carriesPower(f):
		return d.along(byKnob) - p.spec.fit.slopes[f][from]*q/p.spec.fit.figures[f]
	case d.property == Share && d.ref == f.Ref && f.Quantity == limit.PlateWatts:
		return d.along(byKnob)
	}
	return 0
}

func carriesPower(f Figure) bool {
	switch f.Quantity {
	case limit.PlateWatts, limit.ScreenWatts, limit.BothWatts, limit.CathodeCurrent:
		return true
	}
	return false
}

// ends bounds the figure: cautiously, and by a solved corner where the
// cautious bound is not inside what is needed or says nothing.
func (p *prospect) ends(r *reach, f Figure, q, k float64, closer bool, low, high float64) error {
	w := r.carry
	if few, ok, err := p.fewNew(r, f, k); ok || err != nil {
		r.low, r.high = spreadBy(few.Low, few.High, w)
		return err
	}
	l, h, ok := logLinear(q, r.parts)
	r.low, r.high = spreadBy(l, h, w)
	if !closer {
		low, high = math.Inf(-1), math.Inf(1)
	}
	fallen := ok && l <= 0 && q > 0 // no more than zero is sure: a corner may say more
	for _, up := range []bool{false, true} {
		if ok && (up && r.high <= high || !up && r.low >= low && !fallen) {
			continue
		}
		want := high / (1 + w)
		if !up {
			want = low / (1 - w)
		}
		end, firm, err := p.cornerEnd(r, f, up, q, k, want)
		if err != nil {
			return err
		}
		switch {
		case firm:
		case ok:
			continue // the cautious bound stands
		case up:
			end = max(end, q*math.Exp(sumAbs(r.parts)/math.Abs(q))*(1+boundMore))
		default:
			end = min(end, 0, q-sumAbs(r.parts))
		}
		if up {
			_, r.high = spreadBy(q, end, w)
		} else {
			r.low, _ = spreadBy(end, q, w)
		}
	}
	return nil
}

// fewNew solves every corner of what is new, where that is one part or two
// and the figure is carried over from a reading: the solutions serve every
// figure of the state.
func (p *prospect) fewNew(r *reach, f Figure, k float64) (unit.Interval, bool, error) {
	ds, slope, rest := p.split(r)
	if r.basis != Anchored || len(ds) == 0 || len(ds) > 2 {
		return unit.Interval{}, false, nil
	}
	q, _ := p.figure(f)
	room := cornerRoom(q*k, slope, true) * (1 + cornerNear/cornerMore)
	out := unit.Interval{Low: beyond(q*k, rest, 0, false), High: beyond(q*k, rest, 0, true)}
	for n := range 1 << len(ds) {
		signs := make([]int8, len(ds))
		for i := range signs {
			signs[i] = int8(n>>i&1)*2 - 1
		}
		_, v, err := p.cornerAt(f, ds, signs, true)
		if err != nil {
			return out, false, err
		}
		out.Low = min(out.Low, beyond(v*k, rest, room, false))
		out.High = max(out.High, beyond(v*k, rest, room, true))
	}
	return out, true, nil
}

// cornerEnd is one end by a solved corner, before it is carried over: with the
// ripple held where the room that this needs still leaves the end inside
// want, else in full. An end that is not firm has the whole allowance beside
// it.
func (p *prospect) cornerEnd(r *reach, f Figure, up bool, q, k, want float64) (float64, bool, error) {
	ds, slope, rest := p.split(r)
	v, signs, firm, err := p.search(f, up, ds, slope)
	if err != nil {
		return 0, false, err
	}
	room := cornerRoom(q, slope, firm)
	near := room + cornerNear/cornerMore*room
	if len(loaded(ds, signs)) > 1 {
		near += cornerNear / cornerMore * room
	}
	if end := beyond(v*k, rest, near, up); !p.rippled(f, q/k) && (up && end <= want || !up && end >= want) {
		return end, firm, nil
	}
	_, v, err = p.settled(f, up, ds, signs, q/k)
	return beyond(v*k, rest, room, up), firm, err
}

func sumAbs(xs []float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += math.Abs(x)
	}
	return sum
}

// spreadBy widens both ends by a part of themselves.
func spreadBy(low, high, w float64) (float64, float64) {
	return low - math.Abs(low)*w, high + math.Abs(high)*w
}

// judge says what the reach rests on.
func (p *prospect) judge(r *reach, f Figure, q float64, byKnob []float64, law tube.Law) {
	total, assumed := r.carry*math.Abs(q), 0.0
	for i, d := range p.ds {
		part := max(math.Abs(r.parts[i]), math.Abs(r.soft[i]))
		total += math.Abs(r.parts[i])
		if d.assumed {
			assumed += part
		}
	}
	r.assumed = total > 0 && assumed > 0.1*total
	r.doubt = p.doubt(r, f, q, byKnob, law)
}
