package circuit

import (
	"lugworth/core/tube"
)

// A Solution is one state of one specimen of the amp. It does not change and
// may be shared.
type Solution struct {
	Residual float64 // greatest sum of currents at a node, A
	Balance  float64 // |supply watts − part watts| ÷ supply watts
	Doubt    string  // why no verdict on it may be better than not proven

	point
	delta  []float64 // by port: what the averaged law is off by
	adrift []bool    // nodes nothing holds: they have no volts worth naming
	slopes []float64 // the factored matrix of slopes
}

// A point is everything figures are read from.
type point struct {
	*setup
	x     []float64 // volts by node, the chassis last
	into  []float64 // mean current by port
	tubes []tube.Currents
	cycle *cycle
	swell *swell
}

// Node returns the mean volts of a node to the chassis. Nodes on the mains
// side of the rectifiers, and such as nothing holds in this state, have none.
func (s *Solution) Node(name string) (float64, bool) {
	i, ok := s.net.byName[name]
	if !ok || i < len(s.adrift) && s.adrift[i] {
		return 0, false
	}
	return s.x[i], true
}

// A Point is the operating point of one tube: volts to the cathode, amps.
type Point struct {
	Plate, Screen, Grid, Cathode           float64 // volts; Cathode is to the chassis
	PlateAmps, ScreenAmps, GridAmps, Total float64 // Total is cathode current
}

// Tube returns the operating point of a tube; a triode's screen is its
// cathode and draws nothing. There is none where an electrode stands on a
// node that nothing holds.
func (s *Solution) Tube(ref string) (Point, bool) {
	i, ok := s.net.byRef[ref]
	if !ok || s.net.parts[i].kind != isTube {
		return Point{}, false
	}
	t := &s.net.tubes[s.net.parts[i].tube]
	for _, n := range t.nodes() {
		if n < len(s.adrift) && s.adrift[n] {
			return Point{}, false
		}
	}
	return s.tubeAt(s.net.parts[i].tube), true
}

// tubeAt returns the operating point whatever holds its nodes.
func (p *point) tubeAt(i int) Point {
	t, c := &p.net.tubes[i], p.tubes[i]
	k := p.x[t.cathode]
	at := Point{Plate: p.x[t.plate] - k, Grid: p.x[t.grid] - k, Cathode: k, PlateAmps: c.Plate, ScreenAmps: c.Screen, GridAmps: c.Grid}
	if t.screened {
		at.Screen = p.x[t.screen] - k
	}
	at.Total = at.PlateAmps + at.ScreenAmps + at.GridAmps
	return at
}

// allTubes reckons every tube's currents at the volts of the point.
func (p *point) allTubes() {
	if p.tubes == nil {
		p.tubes = make([]tube.Currents, len(p.net.tubes))
	}
	for i := range p.tubes {
		if p.off[i] {
			p.tubes[i] = tube.Currents{}
			continue
		}
		p.tubes[i], _ = p.currents(i, p.x)
	}
}
