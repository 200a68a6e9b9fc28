package circuit

import (
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// settle gives every parameter and let its text.
func (b Block) settle(prefix string, given map[string]string) (map[string]string, []unit.Problem) {
	var problems []unit.Problem
	if strings.ContainsAny(prefix, " \t:=#") {
		problems = append(problems, b.problem("prefix", prefix, unit.ExtraText, ""))
	}
	text := map[string]string{}
	for _, p := range b.Params {
		text[p.Key] = strings.TrimSpace(given[p.Key])
		if text[p.Key] == "" {
			text[p.Key] = strings.ReplaceAll(p.Start, "#", prefix)
		}
		if code, hint := p.wrong(text[p.Key]); code != "" {
			problems = append(problems, b.problem(p.Key, text[p.Key], code, hint))
		}
	}
	for _, key := range sortedKeys(given) {
		if _, known := text[key]; !known {
			problems = append(problems, b.problem(key, given[key], unit.UnknownWord, ""))
		}
	}
	for _, l := range b.lets {
		if choiceHolds(l.when, text) {
			text[l.key] = fillIn(l.text, prefix, text)
		}
	}
	return text, problems
}

// wrong says what is wrong with a blank as filled in, "" if nothing is.
func (p Param) wrong(text string) (code unit.Code, hint string) {
	switch {
	case text == "":
		return unit.Missing, ""
	case p.Sort == OneWord && !slices.Contains(p.Of, text):
		return unit.UnknownWord, strings.Join(p.Of, " or ")
	case (p.Sort == StageNode || p.Sort == PartRef) && strings.ContainsAny(text, " \t=:{}"):
		return unit.ExtraText, ""
	case strings.ContainsAny(text, "{}\r\n"):
		return unit.ExtraText, ""
	}
	return "", ""
}

func (b Block) problem(key, cell string, code unit.Code, hint string) unit.Problem {
	return unit.Problem{File: b.Name, Column: key, Cell: cell, Code: code, Hint: hint}
}

// fill writes the rows whose condition holds.
func (b Block) fill(prefix string, given, text map[string]string) []amp.Position {
	var out []amp.Position
	for _, r := range b.rows {
		if !choiceHolds(r.when, text) {
			continue
		}
		p := amp.Position{
			Ref: fillIn(r.ref, prefix, text), Kind: fillIn(r.kind, prefix, text), Type: fillIn(r.typ, prefix, text),
			Tolerance: fillIn(r.tol, prefix, text),
		}
		splitMarking(&p, fillIn(r.value, prefix, text))
		for _, pair := range strings.Fields(fillIn(r.nodes, prefix, text)) {
			lead, name, _ := strings.Cut(pair, "=")
			p.Nodes = append(p.Nodes, amp.Node{Role: lead, Name: name})
		}
		for _, pair := range strings.Fields(fillIn(r.extra, prefix, text)) {
			key, value, _ := strings.Cut(pair, "=")
			if p.Extra == nil {
				p.Extra = map[string]string{}
			}
			p.Extra[key] = value
		}
		p.Role = amp.Role(strings.ReplaceAll(p.Extra["role"], "-", " "))
		delete(p.Extra, "role")
		if p.Kind == "rectifier" && p.Role == "" {
			p.Role = amp.RectifierTube
		}
		if b.owned(r, given) {
			p.Note = Own
		}
		out = append(out, p)
	}
	return out
}

// mark parts a marking, "22uF 500V 10%", into the columns of a sheet. A
// tolerance that it brings along takes the place of the block's.
func splitMarking(p *amp.Position, marking string) {
	words := strings.Fields(marking)
	for len(words) > 1 {
		last := words[len(words)-1]
		end := last[len(last)-1]
		switch {
		case !strings.ContainsAny(last[:1], "0123456789.±"):
			p.Value = strings.Join(words, " ")
			return
		case end == '%':
			p.Tolerance = last
		case end == 'V' || end == 'W':
			p.Rating = last
		default:
			p.Value = strings.Join(words, " ")
			return
		}
		words = words[:len(words)-1]
	}
	p.Value = strings.Join(words, " ")
}

// owned reports whether a figure of the row is the block's own.
func (b Block) owned(r blockRow, given map[string]string) bool {
	for _, p := range b.Params {
		if p.Sort == PartValue && given[p.Key] == "" && strings.Contains(r.value+r.extra, "{"+p.Key+"}") {
			return true
		}
	}
	return false
}

// locate names the parameter a problem of a row comes from.
func (b Block) locate(p *unit.Problem, given map[string]string) {
	p.Line = 0
	for _, q := range b.Params {
		if v := given[q.Key]; v != "" && strings.Contains(p.Cell, v) {
			p.Column = q.Key
			return
		}
	}
}

// holds reports whether "key=choice" is so; conditions parted by "&" must
// all be.
func choiceHolds(when string, text map[string]string) bool {
	if when == "" {
		return true
	}
	for _, c := range strings.Split(when, "&") {
		key, choice, _ := strings.Cut(c, "=")
		if text[key] != choice {
			return false
		}
	}
	return true
}

// put fills a pattern in one pass: a value is never looked into again.
func fillIn(pattern, prefix string, text map[string]string) string {
	var b strings.Builder
	for pattern != "" {
		i := strings.IndexAny(pattern, "{#")
		if i < 0 {
			return b.String() + pattern
		}
		b.WriteString(pattern[:i])
		if pattern[i] == '#' {
			b.WriteString(prefix)
			pattern = pattern[i+1:]
			continue
		}
		key, rest, _ := strings.Cut(pattern[i+1:], "}")
		b.WriteString(text[key])
		pattern = rest
	}
	return b.String()
}

func sortedKeys(m map[string]string) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}
