package order

// loosen looks at the needs of a group one by one.
func (b *builder) loosen(g *group) { b.tell("entangled") }

// pool is for loose groups.
func (s *Search) pool(pick []int32) bool { return true }
