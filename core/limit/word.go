package limit

import "strings"

// folded returns the text in lower case, hyphens and runs of spaces made one
// space, so that "Design-Center" and "design  center" read alike.
func folded(text string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(text), "-", " ")), " ")
}

// find returns the place of text among words, however either is hyphened.
func find(words []string, text string) (int, bool) {
	text = folded(text)
	for i, w := range words {
		if folded(w) == text {
			return i, true
		}
	}
	return 0, false
}

// word returns the name of value i; a value outside the list is a mistake in
// our code and reads as the least trusted one.
func word(words []string, i int, least string) string {
	if i < 0 || i >= len(words) {
		return least
	}
	return words[i]
}
