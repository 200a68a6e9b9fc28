package circuit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// A planted amp is one amp exactly as its sheet says but for a few parts, and
// a chart of it.
type planted struct {
	benchAmp
	wrong    []charge
	x        []float64
	readings []amp.Reading
}

const plantMeter = 0.005

// plant makes one to three parts wrong, so that each moves at least one
// reading by three times the meter's error, on top of the others.
func (a benchAmp) plant(t *testing.T, r *rand.Rand, count int) *planted {
	t.Helper()
	p := &planted{benchAmp: a}
	d := &detective{net: a.net, q: Inquiry{Bench: Bench{Sheet: a.sheet}}, from: a.net.Sheet(), state: State{Mains: nominalMains(a.sheet)}}
	var err error
	if d.start, err = a.net.Solve(d.from, d.state, nil); err != nil {
		t.Fatal(err)
	}
	all := d.charges()
	d.ts = p.targets(d.start)
	before := d.reads(d.from, d.start, nil)
	for tries := 0; len(p.wrong) < count && tries < 400; tries++ {
		c := all[r.IntN(len(all))]
		x := wrongBy(r, c)
		if c.property == Turn || slices.ContainsFunc(p.wrong, func(o charge) bool { return o.ref == c.ref }) {
			continue
		}
		cs, xs := append(slices.Clone(p.wrong), c), append(slices.Clone(p.x), x)
		after, _, ok := d.try(cs, xs, nil)
		if ok && !slices.ContainsFunc(after, math.IsNaN) && eachMoves(d, cs, xs, after) {
			p.wrong, p.x, before = cs, xs, after
		}
	}
	p.chart(r, d.ts, before)
	return p
}

// wrongBy draws how wrong: ohms and copper half to five times, tubes weak or
// strong, leaks from 3 kΩ to 3 MΩ.
func wrongBy(r *rand.Rand, c charge) float64 {
	between := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	switch {
	case c.fault == Leak:
		return between(math.Log(3e3), math.Log(3e6))
	case c.fault != 0:
		return 0
	case c.property == Ohms || c.property == Copper:
		return between(-0.7, 1.6)
	case c.property == Volts:
		return between(-0.25, 0.25)
	}
	return between(-1.2, 0.4)
}

// eachMoves reports whether every part of a set moves some reading.
func eachMoves(d *detective, cs []charge, xs, all []float64) bool {
	for i := range cs {
		less, _, ok := d.try(slices.Delete(slices.Clone(cs), i, i+1), slices.Delete(slices.Clone(xs), i, i+1), nil)
		if !ok || !moved(less, all) {
			return false
		}
	}
	return true
}

// moved reports whether some reading moved by three times the meter's error.
func moved(before, after []float64) bool {
	for i := range before {
		if math.Abs(after[i]-before[i]) > 3*plantMeter*max(math.Abs(before[i]), math.Abs(after[i]))+3*roomVolts {
			return true
		}
	}
	return false
}

// targets are what a thorough chart holds: every node but grids, and the
// screens' currents.
func (p *planted) targets(s *Solution) []target {
	var ts []target
	j := newJoints(p.sheet)
	for _, n := range p.net.Nodes() {
		if len(j.ways[j.root(n)])+len(j.pull[j.root(n)]) > 0 && j.root(n) == n {
			ts = append(ts, target{kind: readNode, node: n, reading: amp.Reading{At: n, Quantity: amp.Volts, Unit: unit.Volt}})
		}
	}
	for i := range p.sheet {
		if q := &p.sheet[i]; isOutput(q) {
			ts = append(ts, target{kind: readCurrent, ref: q.Ref, lead: "screen", reading: amp.Reading{At: q.Ref + ":screen", Quantity: amp.Current, Unit: unit.Ampere}})
		}
	}
	return ts
}

func (p *planted) chart(r *rand.Rand, ts []target, is []float64) {
	for i, t := range ts {
		rd := t.reading
		rd.ID = fmt.Sprint(i + 1)
		rd.Amount = is[i] * (1 + plantMeter*(2*r.Float64()-1))
		rd.Mains, rd.Meter, rd.Stated = unit.Voltage(nominalMains(p.sheet)), plantMeter, true
		p.readings = append(p.readings, rd)
	}
}

// found is the place of the account that lists exactly the planted parts; -1
// if none does.
func (p *planted) found(q *Inquest) int {
	for i, a := range q.Accounts {
		for _, set := range a.Sets {
			if len(set) == len(p.wrong) && !slices.ContainsFunc(p.wrong, func(c charge) bool {
				return !slices.ContainsFunc(set, func(s Suspect) bool { return s.Ref == c.ref })
			}) {
				return i
			}
		}
	}
	return -1
}

func (p *planted) says() string {
	var out []string
	for i, c := range p.wrong {
		s := Suspect{Ref: c.ref, Property: c.property, Fault: c.fault, Part: math.Exp(p.x[i])}
		out = append(out, s.String())
	}
	return strings.Join(out, ", ")
}

// Of amps with one to three planted faults, each of which moves a reading by
// three times the meter's error, the true set stands among the first three
// accounts in nine of ten. A set that leads to the same readings stands in
// the same account. 300 amps in the long run.
func TestSuspectsLong(t *testing.T) {
	count := often(3, 9, 300)
	amps := benchAmps(t)
	r := rand.New(rand.NewPCG(300, 8))
	top, first := 0, 0
	bySize := map[int][2]int{}
	for i := range count {
		p := amps[i%len(amps)].plant(t, r, 1+i%3)
		q, err := Suspects(p.net, Inquiry{Bench: Bench{Sheet: p.sheet, Readings: p.readings, Laws: fittedLaws, Known: true}})
		if err != nil {
			t.Fatal(err)
		}
		at := p.found(q)
		n := bySize[len(p.wrong)]
		n[1]++
		if at >= 0 && at < 3 {
			top++
			n[0]++
		} else {
			t.Logf("%s: %s: not among the first three of %d%s", p.name, p.says(), len(q.Accounts), firstOf(q))
		}
		if at == 0 {
			first++
		}
		bySize[len(p.wrong)] = n
	}
	t.Logf("%d of %d among the first three, %d first; one part %v, two %v, three %v", top, count, first, bySize[1], bySize[2], bySize[3])
	if count-top > max(1, count/10) { // of a few, one may be the tenth
		t.Errorf("%d of %d, want nine of ten", top, count)
	}
}

func firstOf(q *Inquest) string {
	if len(q.Accounts) == 0 {
		return " (" + q.Say + ")"
	}
	return ": first " + Says(q.Accounts[0].Sets[0])
}

// A sound amp needs no explanation; a chart in which one reading was copied
// wrongly gets none, and is told which reading stands alone against the
// drawing. In a push-pull amp the first filter node, raised by itself, would
// ask for another winding, another choke and both halves of the output
// transformer at once.
func TestNoExplanation(t *testing.T) {
	for _, a := range benchAmps(t) {
		if a.name != "corvane" && a.name != "estrick" {
			continue
		}
		p := a.plant(t, rand.New(rand.NewPCG(1, 1)), 0)
		ask := func(rs []amp.Reading) *Inquest {
			q, err := Suspects(p.net, Inquiry{Bench: Bench{Sheet: p.sheet, Readings: rs, Laws: fittedLaws, Known: true}, Most: often(2, 3, 3)})
			if err != nil {
				t.Fatal(err)
			}
			return q
		}
		if q := ask(p.readings); !q.Fine || len(q.Accounts) > 0 || q.Compared < 20 {
			t.Errorf("%s: a sound amp: %+v", a.name, q)
		}
		wrong := changed(p.readings, "B1", func(r *amp.Reading) { r.Amount *= 1.1 })
		q := ask(wrong)
		if q.Fine || len(q.Accounts) > 0 || !strings.Contains(q.Say, "no explanation") {
			t.Errorf("%s: an explanation was made up: %s%s", a.name, q.Say, firstOf(q))
		}
		if len(q.Contradicts) != 1 || q.Contradicts[0].At != "B1" {
			t.Errorf("%s: %v stand alone, want B1", a.name, q.Contradicts)
		}
		if q := ask(nil); q.Fine || q.Say == "" || q.Compared != 0 {
			t.Errorf("%s: without readings: %+v", a.name, q)
		}
	}
}

// Sets that lead to the same readings are one account: which of two resistors
// in series has drifted, no reading at their ends can tell.
func TestSetsThatCountAsOne(t *testing.T) {
	a := loadAmp(t, "../../testdata/amps/ambleton.csv")
	k, _ := a.net.Knob("R304", Ohms) // under a cathode, read from the cathode
	v := a.net.Sheet()
	v[k] *= 2
	s, err := a.net.Solve(v, State{Mains: nominalMains(a.sheet)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var rs []amp.Reading
	for _, n := range []string{"B1", "B2", "B3"} { // nothing near the stage itself
		y, _ := s.Node(n)
		rs = append(rs, amp.Reading{ID: n, At: n, Quantity: amp.Volts, Unit: unit.Volt, Amount: y, Mains: unit.Voltage(nominalMains(a.sheet)), Meter: 0.0005, Stated: true})
	}
	q, err := Suspects(a.net, Inquiry{Bench: Bench{Sheet: a.sheet, Readings: rs, Laws: fittedLaws, Known: true}, Most: 1})
	if err != nil {
		t.Fatal(err)
	}
	if len(q.Accounts) == 0 {
		t.Fatal(q.Say)
	}
	most := 0
	for _, c := range q.Accounts {
		most = max(most, len(c.Sets))
	}
	if most < 2 {
		t.Errorf("%d accounts, none with more than one set", len(q.Accounts))
	}
}
