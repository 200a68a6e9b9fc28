package view

import (
	"fmt"
	"strings"
)

// slug makes an id of any text: letters, digits, dot and dash stay, every
// other character becomes its number. Two texts never give one id.
func slug(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '.':
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "_%x_", r)
		}
	}
	return b.String()
}
