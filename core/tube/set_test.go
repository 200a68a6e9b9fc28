package tube

import (
	"strings"
	"testing"

	"lugworth/core/limit"
)

func card(typ, aliases, source string) Card {
	return Card{Type: typ, Aliases: names(aliases), Limits: []limit.Limit{{Subject: typ, Source: source}}}
}

func source(c Card) string { return c.Limits[0].Source }

func shipped() Set {
	return NewSet([]Card{card("EL34", "6CA7", "shipped"), card("EL84", "6BQ5", "shipped"), card("12AX7", "ECC83 7025", "shipped")})
}

func TestFind(t *testing.T) {
	for _, name := range []string{"EL34", "el34", "6CA7", " 6ca7 ", "EL-34", "12 AX 7", "ecc83"} {
		if _, ok := shipped().Find(name); !ok {
			t.Errorf("Find(%q): none", name)
		}
	}
	for _, name := range []string{"", "-", "EL3", "EL344"} {
		if c, ok := shipped().Find(name); ok {
			t.Errorf("Find(%q) = %s", name, c.Type)
		}
	}
}

func TestUsersCardReplacesWhole(t *testing.T) {
	s := shipped().With([]Card{card("EL84", "", "mine"), card("6CA7", "", "mine")})
	tests := []struct {
		name, from string
		shadowed   bool
	}{
		{"EL84", "mine", true},
		{"6BQ5", "mine", true}, // an alias leads to the shipped card the user replaced
		{"6CA7", "mine", true}, // typed under the alias
		{"EL34", "mine", true},
		{"12AX7", "shipped", false},
	}
	for _, tt := range tests {
		c, ok := s.Find(tt.name)
		if !ok || source(c) != tt.from || s.IsUser(tt.name) != (tt.from == "mine") {
			t.Errorf("Find(%q) = %s card, %v", tt.name, source(c), ok)
		}
		old, hidden := s.Shadowed(tt.name)
		if hidden != tt.shadowed || (hidden && source(old) != "shipped") {
			t.Errorf("Shadowed(%q) = %v", tt.name, hidden)
		}
	}
	if _, ok := s.Shadowed("unheard of"); ok || s.IsUser("unheard of") {
		t.Error("an unknown type has no cards")
	}
}

func TestShadowedByAlias(t *testing.T) {
	s := shipped().With([]Card{card("MY34", "EL34", "mine")})
	if c, ok := s.Shadowed("MY34"); !ok || c.Type != "EL34" {
		t.Errorf("Shadowed(MY34) = %s, %v; want the shipped EL34", c.Type, ok)
	}
}

func TestWithAgain(t *testing.T) {
	first := shipped().With([]Card{card("EL84", "", "one"), card("EL34", "", "one")})
	second := first.With([]Card{card("EL84", "", "two")})
	for name, want := range map[string]string{"EL84": "two", "EL34": "one"} {
		if c, _ := second.Find(name); source(c) != want {
			t.Errorf("%s from %s, want %s", name, source(c), want)
		}
	}
	if c, _ := first.Find("EL84"); source(c) != "one" {
		t.Error("With changed the set it was called on")
	}
}

func TestAll(t *testing.T) {
	var types []string
	for _, c := range shipped().With([]Card{card("EL84", "", "mine")}).All() {
		types = append(types, c.Type+" "+source(c))
	}
	if got := strings.Join(types, ", "); got != "EL84 mine, EL34 shipped, 12AX7 shipped" {
		t.Errorf("All = %s", got)
	}
}

func TestEmptySet(t *testing.T) {
	var s Set
	if _, ok := s.Find("EL84"); ok || len(s.All()) != 0 {
		t.Error("the zero set is not empty")
	}
}
