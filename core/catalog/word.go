package catalog

import "strings"

// plain turns a heading or a description into lower-case words of letters and
// digits parted by single spaces, without accents: "Prix unitaire (€)" is
// "prix unitaire", "Verfügbarkeit" is "verfugbarkeit".
func plain(s string) string {
	if isPlain(s) {
		return s
	}
	var b strings.Builder
	b.Grow(len(s))
	gap := false
	for _, r := range s {
		f := fold(r)
		if f == "" {
			gap = b.Len() > 0
			continue
		}
		if gap {
			b.WriteByte(' ')
			gap = false
		}
		b.WriteString(f)
	}
	return b.String()
}

func isPlain(s string) bool {
	for i := 0; i < len(s); i++ {
		if c := s[i]; (c < 'a' || c > 'z') && (c < '0' || c > '9') {
			return false
		}
	}
	return true
}

// fold returns the plain lower-case form of a letter or digit, "" for any
// other character.
func fold(r rune) string {
	switch {
	case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
		return ascii[r : r+1]
	case r >= 'A' && r <= 'Z':
		return ascii[r+32 : r+33]
	case r < 0x80:
		return ""
	}
	return accents[r]
}

var ascii = func() string {
	var b strings.Builder
	for c := 0; c < 128; c++ {
		b.WriteByte(byte(c))
	}
	return b.String()
}()

var accents = func() map[rune]string {
	m := map[rune]string{'ß': "ss", 'æ': "ae", 'œ': "oe", 'Æ': "ae", 'Œ': "oe", 'ø': "o", 'Ø': "o", 0xB5: "u", 0x3BC: "u", 0x3A9: "ohm", 0x2126: "ohm"}
	for base, forms := range map[string]string{
		"a": "àáâãäåÀÁÂÃÄÅ", "c": "çÇ", "e": "èéêëÈÉÊË", "i": "ìíîïÌÍÎÏ", "n": "ñÑ",
		"o": "òóôõöÒÓÔÕÖ", "u": "ùúûüÙÚÛÜ", "y": "ýÿÝŸ",
	} {
		for _, r := range forms {
			m[r] = base
		}
	}
	return m
}()

// hasWord reports whether the plain text holds word as a whole word or run of words.
func hasWord(text, word string) bool {
	for from := 0; ; {
		i := strings.Index(text[from:], word)
		if i < 0 {
			return false
		}
		i += from
		end := i + len(word)
		if (i == 0 || text[i-1] == ' ') && (end == len(text) || text[end] == ' ') {
			return true
		}
		from = i + 1
	}
}
