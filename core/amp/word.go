package amp

import "strings"

// folded returns a word in lower case with dashes, underscores and runs of
// spaces made one space, so that "Cathode_Resistor" reads as "cathode
// resistor".
func folded(text string) string {
	text = strings.NewReplacer("-", " ", "_", " ").Replace(strings.ToLower(text))
	return strings.Join(strings.Fields(text), " ")
}

func among(words []string, word string) bool {
	for _, w := range words {
		if w == word {
			return true
		}
	}
	return false
}

// nearest returns the word a slip of the pen away from text, "" if none is:
// one letter wrong or two changed over in a short word, two wrong in one of
// six letters or more.
func nearest(text string, words []string) string {
	best, least := "", 3
	for _, w := range words {
		may := 1
		if len(w) >= 6 {
			may = 2
		}
		d := distance(text, w)
		if swapped(text, w) {
			d = 1
		}
		if d <= may && d < least {
			best, least = w, d
		}
	}
	return best
}

// swapped reports whether two neighboring letters changed over make b of a.
func swapped(a, b string) bool {
	if len(a) != len(b) || a == b {
		return false
	}
	i := 0
	for a[i] == b[i] {
		i++
	}
	return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
}

// distance counts the letters to insert, drop or change to make b of a. Texts
// of very different length are far apart without counting.
func distance(a, b string) int {
	if len(a)-len(b) > 2 || len(b)-len(a) > 2 {
		return 3
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := diagonal
			if a[i-1] != b[j-1] {
				change++
			}
			diagonal = row[j]
			row[j] = min(change, row[j]+1, row[j-1]+1)
		}
	}
	return row[len(b)]
}
