package amp

import (
	"strings"

	"lugworth/core/unit"
)

// Further states a reading may name.
const (
	TubesIn    = "tubes-in"
	LimiterIn  = "limiter-in" // a lamp or other limiter in the line
	LimiterOut = "limiter-out"
	Standby    = "standby" // the standby switch open
	AsFound    = "as-found"
	Final      = "final" // of the final chart
	Soak       = "soak"  // of the soak log
	Start      = "start"
	Middle     = "middle"
	End        = "end"
)

var stateWords = []string{
	NoLoad, Check, Highest, Lifted, TubesOut, TubesIn, Powered, Off, LimiterIn, LimiterOut, Standby,
	AsFound, Final, Soak, Start, Middle, End,
}

// apartWords keep a reading out of the as-found chart wherever they stand:
// people write "final" under when.
var apartWords = []string{Final, Soak, Check}

// states reads the states of a reading: words parted by spaces, commas or
// semicolons, in any spelling of dashes ("tubes out", "no_load"). An unknown
// word is a problem: a mistyped "no-load" would let an unloaded voltage pass
// for a loaded one.
func states(w *row) []string {
	words := strings.FieldsFunc(strings.ToLower(w.text("state")), func(c rune) bool {
		return strings.ContainsRune(" \t\r\n,;+|", c)
	})
	var out []string
	for i := 0; i < len(words); i++ {
		word := strings.ReplaceAll(words[i], "_", "-")
		if i+1 < len(words) {
			if two := word + "-" + words[i+1]; among(stateWords, two) {
				word = two
				i++
			}
		}
		switch {
		case !among(stateWords, word):
			w.problem("state", word, unit.UnknownWord, stateHint(word))
		case !among(out, word):
			out = append(out, word)
		}
	}
	return out
}

func stateHint(word string) string {
	if near := nearest(word, stateWords); near != "" {
		return near
	}
	return "one of " + strings.Join(stateWords, ", ")
}
