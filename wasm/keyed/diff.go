package keyed

// RootID is the id of the element that holds the tree's nodes.
const RootID = "page"

// Op is one step on the page. Carry the steps out in order.
type Op struct {
	Do     OpKind
	ID     string // element to work on; for Insert the element to insert into
	In     string // Move: element to move into
	Before string // Insert, Move: id of the element that follows; "" at the end
	Slot   Slot   // Write
	HTML   string // Insert, Replace
}

// OpKind is what a step does.
type OpKind uint8

const (
	Remove  OpKind = iota // take ID out
	Replace               // put HTML in the place of ID
	Insert                // put HTML, one or several rows, into ID
	Move                  // put ID into In
	Write                 // write Slot
)

// Focus is the ids of the element that has the focus and of all around it.
type Focus map[string]bool

// Diff gives the steps that turn a page showing old into one showing new. The
// row in focus is not moved where any other can be moved instead, and what is
// typed into the input in focus is not overwritten.
func Diff(old, new Tree, focus Focus) []Op {
	d := differ{focus: focus}
	d.group(Group{In: RootID, Nodes: old.Nodes}, Group{In: RootID, Nodes: new.Nodes})
	ops := append(d.removes, d.replaces...)
	ops = append(ops, d.places...)
	return append(ops, d.writes...)
}

// differ keeps the steps by kind: all removals come first, so that a key that
// moves to another group is never on the page twice.
type differ struct {
	focus                             Focus
	removes, replaces, places, writes []Op
}

func (d *differ) node(old, new Node) {
	if old.Shell != new.Shell || len(old.Slots) != len(new.Slots) || len(old.Groups) != len(new.Groups) {
		d.replaces = append(d.replaces, Op{Do: Replace, ID: new.Key, HTML: new.HTML()})
		return
	}
	for i, s := range new.Slots {
		if s == old.Slots[i] || s.Kind == SlotValue && d.focus[s.At] {
			continue
		}
		d.writes = append(d.writes, Op{Do: Write, ID: s.At, Slot: s})
	}
	for i := range new.Groups {
		d.group(old.Groups[i], new.Groups[i])
	}
}

func (d *differ) group(old, new Group) {
	was := make(map[string]int, len(old.Nodes))
	for i, n := range old.Nodes {
		was[n.Key] = i
	}
	from := make([]int, len(new.Nodes)) // place in old, or -1
	kept := make(map[string]bool, len(new.Nodes))
	for i, n := range new.Nodes {
		from[i] = -1
		if at, ok := was[n.Key]; ok {
			from[i] = at
			kept[n.Key] = true
			d.node(old.Nodes[at], n)
		}
	}
	for _, n := range old.Nodes {
		if !kept[n.Key] {
			d.removes = append(d.removes, Op{Do: Remove, ID: n.Key})
		}
	}
	d.place(new, from)
}

// place inserts and moves, from the end to the start: what follows a row is
// then already where it belongs.
func (d *differ) place(g Group, from []int) {
	stays := staying(from, d.focusIn(g.Nodes))
	before, html := g.Before, ""
	flush := func() {
		if html != "" {
			d.places = append(d.places, Op{Do: Insert, ID: g.In, Before: before, HTML: html})
			html = ""
		}
	}
	for i := len(g.Nodes) - 1; i >= 0; i-- {
		n := g.Nodes[i]
		if from[i] < 0 {
			html = n.HTML() + html
			if i > 0 && from[i-1] < 0 {
				continue
			}
			flush()
			before = n.Key
			continue
		}
		if !stays[i] {
			d.places = append(d.places, Op{Do: Move, ID: n.Key, In: g.In, Before: before})
		}
		before = n.Key
	}
}

func (d *differ) focusIn(nodes []Node) int {
	for i, n := range nodes {
		if d.focus[n.Key] {
			return i
		}
	}
	return -1
}
