package limit

import "fmt"

// A Mark says how well the source of a number is known.
type Mark uint8

const (
	// Memory: recalled, no document seen. The zero value, so a number that
	// nobody marked is never trusted.
	Memory Mark = iota
	// SecondHand: read in a transcription of the named sheet.
	SecondHand
	// Seen: read in the named sheet itself.
	Seen
	// User: typed by the user from a source of their own, which they name.
	User
)

var markWords = [...]string{Memory: "memory", SecondHand: "second-hand", Seen: "seen", User: "user"}

// String returns the word used in files and on the page.
func (m Mark) String() string { return word(markWords[:], int(m), "memory") }

// ParseMark reads a mark. An empty text is Memory. Case and outer spaces do
// not count.
// Errors: any other word.
func ParseMark(text string) (Mark, error) {
	i, ok := find(markWords[:], text)
	switch {
	case folded(text) == "":
		return Memory, nil
	case !ok:
		return Memory, fmt.Errorf("mark %q is not known: want seen, second-hand, user or memory", text)
	}
	return Mark(i), nil
}

// A System is the rating system a limit was published in. About ten percent
// separates neighbors, so limits of two systems are never put side by side.
//
// Sources: EIA RS-239-A, January 1963, opening text, and JEDEC Publication
// 37, May 1962, introduction (second-hand transcriptions); the meaning of
// design-maximum and absolute-maximum after IEC 60134:1961, from memory.
type System uint8

const (
	// Unstated: the source names no system. Judged as AbsoluteMaximum.
	Unstated System = iota
	// DesignCenter: for an average tube at nominal mains; the normal mains
	// spread is already inside the number.
	DesignCenter
	// DesignMaximum: for an average tube at the worst probable conditions.
	DesignMaximum
	// AbsoluteMaximum: for any tube at the worst probable conditions.
	AbsoluteMaximum
	// Marked: printed on the part or on the label of the set.
	Marked
)

var systemWords = [...]string{
	Unstated: "unstated", DesignCenter: "design center", DesignMaximum: "design maximum",
	AbsoluteMaximum: "absolute maximum", Marked: "marked",
}

// String returns the words used in files and on the page.
func (s System) String() string { return word(systemWords[:], int(s), "unstated") }

// AtNominal reports whether a limit of this system is compared with the
// condition at nominal mains; every other system is compared with the worst
// of the declared range.
func (s System) AtNominal() bool { return s == DesignCenter }

// ParseSystem reads a rating system in full or as DC, DM, AM ("design
// centre", "design-center" and "absolute max" are read too). An empty text
// is Unstated.
// Errors: any other words.
func ParseSystem(text string) (System, error) {
	t := folded(text)
	if full, ok := systemShort[t]; ok {
		return full, nil
	}
	if i, ok := find(systemWords[:], t); ok {
		return System(i), nil
	}
	return Unstated, fmt.Errorf("rating system %q is not known: want design center, design maximum, absolute maximum, marked or nothing", text)
}

var systemShort = map[string]System{
	"": Unstated, "dc": DesignCenter, "dm": DesignMaximum, "am": AbsoluteMaximum,
	"design centre": DesignCenter, "design max": DesignMaximum, "absolute max": AbsoluteMaximum,
	"absolute": AbsoluteMaximum,
}
