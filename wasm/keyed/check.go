package keyed

import (
	"fmt"
	"strings"
)

// Check is what is wrong with a tree, for tests of views: ids used twice, rows
// without a key, elements a browser would move out of the one they stand in,
// and attributes that the page's policy forbids.
func Check(t Tree) []string {
	c := checker{count: map[string]int{}}
	if t.Title == "" {
		c.say("the page has no title")
	}
	for _, n := range t.Nodes {
		c.keys(n)
		c.markup(n.HTML())
	}
	for _, id := range c.order {
		if n := c.count[id]; n > 1 {
			c.say(fmt.Sprintf("%d elements have the id %q", n, id))
		}
	}
	return c.wrong
}

type checker struct {
	wrong, open, order []string
	count              map[string]int
}

func (c *checker) say(s string) { c.wrong = append(c.wrong, s) }

func (c *checker) keys(n Node) {
	if n.Key == "" {
		c.say("a row has no key")
	}
	for _, g := range n.Groups {
		for _, kid := range g.Nodes {
			c.keys(kid)
		}
	}
}

// markup walks the tags. Text and attributes are escaped, so a "<" starts a
// tag and a quote ends a value.
func (c *checker) markup(s string) {
	for {
		_, rest, ok := strings.Cut(s, "<")
		if !ok {
			return
		}
		inside, after, _ := strings.Cut(rest, ">")
		s = after
		if _, end := strings.CutPrefix(inside, "/"); end {
			c.open = c.open[:len(c.open)-1]
			continue
		}
		tag, attrs, _ := strings.Cut(strings.TrimSuffix(inside, "/"), " ")
		c.nest(tag)
		c.attrs(tag, attrs)
		if !void[tag] && !strings.HasSuffix(inside, "/") {
			c.open = append(c.open, tag)
		}
	}
}

func (c *checker) attrs(tag, attrs string) {
	for attrs != "" {
		name, rest, _ := strings.Cut(attrs, `="`)
		value, next, _ := strings.Cut(rest, `"`)
		name = strings.TrimSpace(name)
		attrs = strings.TrimSpace(next)
		switch {
		case name == "id" && value != "":
			if c.count[value]++; c.count[value] == 1 {
				c.order = append(c.order, value)
			}
		case name == "style" || strings.HasPrefix(name, "on"):
			c.say(name + " on <" + tag + ">: the page's policy forbids it")
		}
	}
}

// nest says where a reader of markup would mend what was written.
func (c *checker) nest(tag string) {
	up := ""
	if len(c.open) > 0 {
		up = c.open[len(c.open)-1]
	}
	bad := blocks[tag] && (up == "p" || up == "h1" || up == "h2" || up == "h3") ||
		tag == "tr" && up != "tbody" && up != "thead" && up != "tfoot" ||
		(tag == "td" || tag == "th") && up != "tr" ||
		up == "table" && !inTable[tag] ||
		tag == "li" && up != "ul" && up != "ol"
	if bad {
		c.say("<" + tag + "> stands inside <" + up + ">")
	}
	for _, o := range c.open {
		if o == tag && (tag == "button" || tag == "a" || tag == "form" || tag == "label") {
			c.say("<" + tag + "> stands inside <" + o + ">")
		}
	}
}

var blocks = map[string]bool{
	"p": true, "div": true, "section": true, "ul": true, "ol": true, "dl": true, "table": true, "form": true,
	"h1": true, "h2": true, "h3": true, "h4": true, "article": true, "aside": true, "nav": true, "main": true,
	"header": true, "footer": true, "fieldset": true, "details": true, "pre": true, "figure": true, "hr": true,
}

var inTable = map[string]bool{
	"caption": true, "colgroup": true, "thead": true, "tbody": true, "tfoot": true, "tr": true,
}
