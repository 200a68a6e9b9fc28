package tube

// A Set is the cards in force: those shipped with the program, and the
// user's own, which replace them. The zero Set is empty. A Set does not
// change; With returns another.
type Set struct {
	builtin, user []Card
}

// NewSet returns a set of the shipped cards.
func NewSet(builtin []Card) Set { return Set{builtin: builtin} }

// With returns the set with the user's cards in force. A user's card
// replaces the shipped card of its type and of each of its aliases whole: a
// quantity it does not state is then not stated, even where the shipped card
// has it. Cards given by an earlier With stay unless one of these answers to
// their type.
func (s Set) With(user []Card) Set {
	kept := make([]Card, 0, len(user)+len(s.user))
	kept = append(kept, user...)
	for _, old := range s.user {
		if _, again := named(user, old.Type); !again {
			kept = append(kept, old)
		}
	}
	return Set{builtin: s.builtin, user: kept}
}

// Find returns the card in force for a type number, by its name or an alias.
// Where the number leads to a shipped card that the user replaced under
// another of its names, the user's card is returned.
func (s Set) Find(typeNumber string) (Card, bool) {
	if c, ok := named(s.user, typeNumber); ok {
		return c, true
	}
	shipped, ok := named(s.builtin, typeNumber)
	if !ok {
		return Card{}, false
	}
	if c, ok := s.over(shipped); ok {
		return c, true
	}
	return shipped, true
}

// Shadowed returns the shipped card for a type number that a user's card
// keeps out of force, so that the page can say what it would have stated.
func (s Set) Shadowed(typeNumber string) (Card, bool) {
	shipped, ok := named(s.builtin, typeNumber)
	if !ok {
		c, user := named(s.user, typeNumber)
		if !user {
			return Card{}, false
		}
		return s.under(c)
	}
	if _, own := named(s.user, typeNumber); own {
		return shipped, true
	}
	_, own := s.over(shipped)
	return shipped, own
}

// IsUser reports whether the card in force for a type number is the user's.
func (s Set) IsUser(typeNumber string) bool {
	if _, ok := named(s.user, typeNumber); ok {
		return true
	}
	shipped, ok := named(s.builtin, typeNumber)
	if !ok {
		return false
	}
	_, ok = s.over(shipped)
	return ok
}

// All returns the cards in force: the user's in their order, then the
// shipped ones nobody replaced in theirs.
func (s Set) All() []Card {
	cards := append([]Card(nil), s.user...)
	for _, c := range s.builtin {
		if !s.IsUser(c.Type) {
			cards = append(cards, c)
		}
	}
	return cards
}

// over returns the user's card that answers to any name of a shipped one.
func (s Set) over(shipped Card) (Card, bool) { return sharing(s.user, shipped) }

// under returns the shipped card that answers to any name of a user's one.
func (s Set) under(user Card) (Card, bool) { return sharing(s.builtin, user) }

func sharing(cards []Card, with Card) (Card, bool) {
	if c, ok := named(cards, with.Type); ok {
		return c, true
	}
	for _, a := range with.Aliases {
		if c, ok := named(cards, a); ok {
			return c, true
		}
	}
	return Card{}, false
}

// named returns the card of that type; a card of that very name goes before
// one that has it as an alias.
func named(cards []Card, typeNumber string) (Card, bool) {
	want := Key(typeNumber)
	if want == "" {
		return Card{}, false
	}
	for _, c := range cards {
		if Key(c.Type) == want {
			return c, true
		}
	}
	for _, c := range cards {
		if c.Answers(typeNumber) {
			return c, true
		}
	}
	return Card{}, false
}
