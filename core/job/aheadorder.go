package job

// AheadOrder looks up what one line of the set in force may be bought from,
// and reports whether there may be more of them. It changes nothing that a
// Result or its Ordering says: the Ordering is only there sooner.
func (r *Result) AheadOrder() (more bool) {
	if r.Force < 0 || r.ordering != nil || r.orderingErr != nil {
		return false
	}
	takes, err := r.takes()
	if err != nil {
		return false
	}
	if r.trade == nil {
		r.trade = newTrade(r.Job)
	}
	for i := range takes {
		if _, known := r.trade.lines[takes[i].line]; !known && takes[i].from != nil {
			r.trade.fitting(r, &takes[i])
			return true
		}
	}
	return false
}
