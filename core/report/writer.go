package report

import (
	"html"
	"strings"
)

// writer writes markup; text is always escaped.
type writer struct{ strings.Builder }

func (w *writer) raw(s string) { w.WriteString(s) }

func (w *writer) text(s string) { w.WriteString(html.EscapeString(s)) }

// tag writes an element that holds text, or nothing where there is none.
func (w *writer) tag(name, class, text string) {
	if text == "" {
		return
	}
	w.open(name, class)
	w.text(text)
	w.raw("</" + name + ">")
}

func (w *writer) open(name, class string) {
	w.raw("<" + name)
	if class != "" {
		w.raw(` class="` + class + `"`)
	}
	w.raw(">")
}

// list writes a heading, a line under it and its points, or nothing at all
// where there is no point.
func (w *writer) list(class, title, intro string, points []string) {
	if len(points) == 0 {
		return
	}
	w.open("section", class)
	w.tag("h2", "", title)
	w.tag("p", "paper-intro", intro)
	w.open("ul", "paper-list")
	for _, p := range points {
		w.tag("li", "", p)
	}
	w.raw("</ul></section>")
}

// facts writes what is known, each with its name; what is not is left out.
func (w *writer) facts(all [][2]string) {
	w.open("dl", "paper-facts")
	for _, d := range all {
		if d[1] == "" {
			continue
		}
		w.raw("<div>")
		w.tag("dt", "", d[0])
		w.tag("dd", "", d[1])
		w.raw("</div>")
	}
	w.raw("</dl>")
}

// join puts what is not empty side by side.
func join(sep string, parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, sep)
}

// cssText is a text as a string of a style sheet. The escapes keep it from
// ending the string or the style element.
func cssText(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r < ' ':
			b.WriteByte(' ')
		case strings.ContainsRune(`"\<>&`, r):
			b.WriteString(`\` + hex(r) + ` `)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

func hex(r rune) string {
	const digits = "0123456789abcdef"
	return string(digits[r>>4&15]) + string(digits[r&15])
}
