package order

// A walk goes through all patterns, most used seller first; it can be left
// and gone on with.
type walk struct {
	frames []frame
	levels [][]int32 // by depth: first option of each group that avoids the closed sellers
	row    []int8    // by seller: the row it is open at, below zero closed
}

// undecided is the row of a seller that may be open or closed: its goods cost
// at least themselves.
const undecided = -2

// frame is a seller being decided.
type frame struct {
	sum, fees int64 // of the cheapest options, with the fees so far, in units of 1/one
	bound     int64
	out       uint32 // closed sellers
	depth     int16
	open      int16 // how many are
	next      int16 // the row to try next
	level     int16
}

func (w *walk) begin(s *Search) {
	w.row = make([]int8, len(s.rows))
	for i := range w.row {
		w.row[i] = -1
	}
	w.levels = make([][]int32, len(s.rank)+1)
	room := make([]int32, len(w.levels)*len(s.groups))
	for i := range w.levels {
		w.levels[i] = room[i*len(s.groups):][:len(s.groups)]
	}
	sum := s.toll * int64(s.lim.Score)
	for i := range s.groups {
		w.levels[0][i] = s.groups[i].options.from
		sum += s.tolled(&s.options[s.groups[i].options.from])
	}
	w.frames = append(make([]frame, 0, len(s.rank)+1), frame{sum: sum, bound: s.up(sum)})
}

// least is what any order costs at least that was not come to yet.
func (w *walk) least() int64 {
	low := int64(Never)
	for i := range w.frames {
		low = min(low, w.frames[i].bound)
	}
	return low
}

// on goes one seller further; it reports false at the end.
func (w *walk) on(s *Search) bool {
	top := len(w.frames) - 1
	if top < 0 {
		return false
	}
	f := &w.frames[top]
	if s.effort += 8; s.closed(f.bound) {
		w.frames = w.frames[:top]
		return true
	}
	if int(f.depth) == len(s.rank) {
		x := *f
		w.frames = w.frames[:top]
		s.leaf(w.row, w.levels[x.level], x.bound)
		return true
	}
	if len(s.rank) > few && f.next == 0 && f.depth > 0 && f.depth%every == 0 && w.hopeless(s, f) {
		w.frames = w.frames[:top]
		return true
	}
	x := s.rank[f.depth]
	if int(f.next) < len(s.rows[x]) && (s.lim.Parcels == 0 || int(f.open) < s.lim.Parcels) {
		w.row[x] = int8(f.next)
		fee := s.rows[x][f.next].fee * s.factor[x] * s.one
		f.next++
		w.frames = append(w.frames, frame{f.sum + fee, f.fees + fee, s.up(f.sum + fee), f.out, f.depth + 1, f.open + 1, 0, f.level})
		return true
	}
	w.row[x] = -1
	w.shut(s, top, x)
	return true
}

// every is how many sellers are decided between two looks at what the bound
// of a part of a pattern closes.
const every = 3

// few sellers are decided sooner than such a bound is found.
const few = 9

// hopeless reports whether the sellers decided so far leave nothing to gain.
func (w *walk) hopeless(s *Search, f *frame) bool {
	for _, x := range s.rank[f.depth:] {
		w.row[x] = undecided
	}
	b := s.work.pattern(s, w.row, 8)
	f.bound = max(f.bound, b)
	return s.closed(b)
}

// shut goes on with a seller closed, in place of the frame that has tried all
// its rows.
func (w *walk) shut(s *Search, top, x int) {
	f := &w.frames[top]
	next := frame{0, f.fees, 0, f.out | 1<<x, f.depth + 1, f.open, 0, f.depth + 1}
	from, to := w.levels[f.level], w.levels[next.level]
	s.effort += len(from)
	next.sum = f.fees + s.toll*int64(s.lim.Score)
	for i, k := range from {
		for k < s.groups[i].options.to && s.options[k].mask&next.out != 0 {
			k++
		}
		if k == s.groups[i].options.to {
			w.frames = w.frames[:top]
			return
		}
		to[i] = k
		next.sum += s.tolled(&s.options[k])
	}
	next.bound = s.up(next.sum)
	w.frames[top] = next
}

// leaf closes one pattern, or keeps it as a part of the work to be done.
func (s *Search) leaf(row []int8, at []int32, least int64) {
	s.offer(at)
	if s.closed(least) { // the cheapest order of the pattern, priced as it is
		return
	}
	if bound := s.work.pattern(s, row, 24); !s.closed(bound) {
		s.queue.push(open{max(least, bound), s.work.save(row), -1})
	}
}
