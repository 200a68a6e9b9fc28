package draw

// Kind is the verdict a picture shows. The order is that of the verdicts
// themselves, the least useful first, so that Kind(v) is right for each.
type Kind uint8

const (
	NotEnoughData Kind = iota // dotted: nothing to draw yet
	NotProven                 // open-ended: the figures do not settle it
	OverWorsened              // broken through the limit, with a second block on top
	OverInherited             // broken through the limit
	BelowReserve              // inside, with a notch
	Within                    // solid, inside
)

var slugs = [...]string{"not-enough-data", "not-proven", "over-worsened", "over-inherited", "below-reserve", "within"}

var words = [...]string{"not enough data", "not proven", "over, made worse", "over, inherited", "below reserve", "within"}

// Slug is the kind's part of a class name: "over-worsened".
func (k Kind) Slug() string { return pick(slugs[:], k) }

// Word is what stands beside the mark: "over, made worse".
func (k Kind) Word() string { return pick(words[:], k) }

// Over reports whether the signal color is due.
func (k Kind) Over() bool { return k == OverWorsened || k == OverInherited }

func pick(list []string, k Kind) string {
	if int(k) < len(list) {
		return list[k]
	}
	return list[NotEnoughData]
}
