package order

// save keeps a pattern for later and returns its number.
func (w *work) save(row []int8) int32 {
	at := len(w.saved) / len(row)
	w.saved = append(w.saved, row...)
	w.betas = append(append(w.betas, w.nodes[0].beta...), w.nodes[0].toll)
	return int32(at)
}

// resume takes a kept pattern up again, with the choices made since.
func (w *work) resume(s *Search, x open) {
	n := len(s.rows)
	w.take(s, w.saved[int(x.pattern)*n:][:n])
	b := w.betas[int(x.pattern)*(n+1):][:n+1]
	top := w.nodes[0]
	copy(top.beta, b)
	top.toll = b[n]
	for c := x.choice; c >= 0; c = w.choices[c].before {
		top.fix(w.choices[c].group, w.choices[c].option)
	}
	top.close()
}

// fix marks all other options of a group as gone.
func (n *node) fix(group, option int32) {
	for i := n.start[group]; i < n.start[group+1]; i++ {
		if n.list[i].id != option {
			n.list[i].id = -1
		}
	}
}

// close takes out what is marked as gone.
func (n *node) close() {
	to := int32(0)
	for g := range len(n.start) - 1 {
		from := n.start[g]
		n.start[g] = to
		for i := from; i < n.start[g+1]; i++ {
			if n.list[i].id >= 0 {
				n.list[to] = n.list[i]
				to++
			}
		}
	}
	n.start[len(n.start)-1] = to
	n.list = n.list[:to]
}
