package job

// Ahead solves one state of the amp that the next yes or no may ask for, and
// reports whether there may be more of them. It changes nothing that a Result
// says: what it solves is only there sooner. It does nothing where the circuit
// does not decide, for there the next press is quick as it is.
func (r *Result) Ahead() (more bool) {
	if r.tier == nil {
		return false
	}
	for i := range r.Job.Options {
		if id := r.Job.Options[i].ID; r.moves(id) && r.aheadOf(r.Turn(id)) {
			return true
		}
	}
	return false
}

// moves reports whether an option, or a rival of it, changes the circuit.
func (r *Result) moves(id string) bool {
	return r.worlds.moves[r.Job.Options[r.worlds.at[id]].Finding]
}

// aheadOf solves the first state not yet solved that weighing a choice asks
// for: its own, and that of each option turned over beside it.
func (r *Result) aheadOf(accept []string) bool {
	own := r.worlds.under(accept)
	if r.solve(own) {
		return true
	}
	for i := range r.Job.Options {
		id := r.Job.Options[i].ID
		if !r.moves(id) || len(r.worlds.byKey) >= mostWorlds {
			continue
		}
		off, on := r.worlds.pair(accept, own, id)
		if r.solve(off) || r.solve(on) {
			return true
		}
	}
	return false
}

// solve judges a state where that has not been done, a part of it at a time.
func (r *Result) solve(w *world) bool {
	switch {
	case w.standing == nil:
		r.standing(w)
	case w.parts == nil:
		r.parts(w)
	default:
		return false
	}
	return true
}
