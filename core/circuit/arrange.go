package circuit

// arrange finds the order of elimination and gives every element its places
// in the matrix. One pattern serves rest and ripple.
func (c *compiler) arrange() {
	n := len(c.names)
	p := newPattern(n)
	for _, l := range c.links {
		if l.a >= 0 && l.b >= 0 {
			p.join(l.a, l.b)
		}
	}
	for i := range c.tubes {
		e := c.tubes[i].nodes()
		for j := range e {
			for k := range j {
				if e[j] >= 0 && e[k] >= 0 {
					p.join(e[j], e[k])
				}
			}
		}
	}
	for _, q := range c.supply.ports {
		p.join(q.plus, q.minus)
	}
	if len(c.bad) > 0 {
		return
	}
	prog, place := p.places()
	c.prog = prog
	c.diag = make([]int32, n)
	for i := range c.diag {
		c.diag[i] = place(i, i)
	}
	c.settle(place)
}

func (c *compiler) settle(place func(i, j int) int32) {
	four := func(a, b int) [4]int32 {
		return [4]int32{place(a, a), place(b, b), place(a, b), place(b, a)}
	}
	for i := range c.links {
		if l := &c.links[i]; l.a >= 0 && l.b >= 0 {
			l.at = four(l.a, l.b)
		}
	}
	for i := range c.tubes {
		t := &c.tubes[i]
		for j, a := range t.nodes() {
			for k, b := range t.nodes() {
				t.at[4*j+k] = place(a, b)
			}
		}
	}
	for i := range c.supply.ports {
		q := &c.supply.ports[i]
		q.at = four(q.plus, q.minus)
	}
}

// nodes returns plate, screen, grid and cathode; a triode's screen is the
// chassis, where it carries nothing.
func (t *tubeAt) nodes() [4]int { return [4]int{t.plate, t.screen, t.grid, t.cathode} }
