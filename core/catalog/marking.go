package catalog

import (
	"strings"

	"lugworth/core/unit"
)

// A marking is what a description says in figures, taken apart: "CAP AXIAL
// 22MFD 450V" has value 22MFD and volts 450V.
type marking struct {
	value, volts, watts, tolerance []string
	bare                           bool // the value has no unit: ".02", "25/25"
}

// text puts the marking together again for unit.ReadSpec.
func (m *marking) text() string { return string(m.appendTo(nil)) }

func (m *marking) appendTo(b []byte) []byte {
	for _, words := range [...][]string{m.value, m.volts, m.watts, m.tolerance} {
		for _, w := range words {
			if len(b) > 0 {
				b = append(b, ' ')
			}
			b = append(b, w...)
		}
	}
	return b
}

// unitEnds are what may follow a number, by what it then is. Lower case.
var unitEnds = map[string]byte{
	"v": 'v', "vdc": 'v', "vac": 'v', "wv": 'v', "wvdc": 'v', "vdcw": 'v', "volt": 'v', "volts": 'v', "v~": 'v', "kv": 'v', "dcv": 'v',
	"w": 'w', "watt": 'w', "watts": 'w', "mw": 'w',
	"%": 't',
	"p": 'c', "n": 'c', "u": 'c', "µ": 'c', "μ": 'c', "pf": 'c', "nf": 'c', "uf": 'c', "µf": 'c', "μf": 'c', "mf": 'c', "mfd": 'c', "mmf": 'c', "mmfd": 'c',
	"uuf": 'c', "µµf": 'c', "μμf": 'c', "kpf": 'c', "ufd": 'c', "mfds": 'c',
	"r": 'c', "k": 'c', "m": 'c', "ohm": 'c', "ohms": 'c', "kohm": 'c', "kohms": 'c', "meg": 'c', "megohm": 'c', "mohm": 'c', "ω": 'c', "kω": 'c', "mω": 'c', "ω ": 'c',
	"h": 'c', "mh": 'c', "a": 'c', "ma": 'c', "amp": 'c', "amps": 'c', "at": 'c', "af": 'c',
}

// notAfter are words behind a number that make it something else than a value.
var notAfter = wordSet("pcs|pc|pieces|piece|pack|pin|pins|way|ways|mm|cm|m|inch|in|core|section|sections|stuck|stk|each|pole|poles|lug|lugs|" +
	"hole|holes|turns|turn|years|hours|hrs|h|x|degrees|c|polig|adrig|broches|polos|mtr|meter|feet|ft|mhz|khz|hz|rpm|awg|deg")

// readMarking finds the figures of a description. Words without a figure,
// tube types and sizes are passed over.
func readMarking(text string) marking {
	s := newSpecs()
	return *s.marking(s.cutWords(nil, text))
}

// marking puts the figures of the words together. It holds until the next.
func (s *specs) marking(words []*word) *marking {
	m := &s.marked
	*m = marking{value: m.value[:0], volts: m.volts[:0], watts: m.watts[:0], tolerance: m.tolerance[:0]}
	for i := 0; i < len(words); i++ {
		w := words[i]
		if !w.figure {
			continue
		}
		if (w.number || w.times) && i+1 < len(words) {
			next := words[i+1]
			if next.unit != "" {
				w = s.joined(w, next)
				i++
			} else if next.sizes {
				continue
			}
		}
		for _, k := range w.marks {
			m.take(k)
		}
	}
	return m
}

// joined is "22" and "µF" as "22µF". The case is kept: M and m differ.
func (s *specs) joined(w, unit *word) *word {
	k := pair{w.written, unit.unit}
	got, ok := s.pairs[k]
	if !ok {
		got = keep(s.pairs, k, newWord(w.written+unit.unit))
	}
	return got
}

type pair struct{ number, unit string }

func (m *marking) take(k mark) {
	switch k.class {
	case 'v':
		m.volts = append(m.volts, k.text)
	case 'w':
		m.watts = append(m.watts, k.text)
	case 't':
		m.tolerance = append(m.tolerance, k.text)
	case 'c':
		m.addValue(k.text, false)
	case 'n':
		if len(m.value) == 0 {
			m.addValue(k.text, true)
		}
	}
}

// isNumber: digits, decimal marks, and the signs of several values.
func isNumber(w string) bool {
	fig := false
	for _, r := range w {
		switch {
		case r >= '0' && r <= '9', r == '½', r == '¼':
			fig = true
		case !strings.ContainsRune(".,+-/±", r):
			return false
		}
	}
	return fig
}

// marksOf says what one word adds to the marking; nothing for words that are
// no figures of a part.
func marksOf(w string) []mark {
	if !strings.ContainsAny(w, "0123456789½¼") || strings.ContainsAny(w, "\"'#$€£?*") || strings.HasPrefix(w, "=") {
		return nil
	}
	if head, tail, ok := strings.Cut(w, "@"); ok && isNumber(strings.TrimRight(strings.ToLower(tail), "vdcw")) {
		return append(marksOf(head), mark{'v', withV(tail)})
	}
	if n, each, ok := timesOf(w); ok {
		return sections(n, each)
	}
	lower := strings.ToLower(strings.TrimPrefix(w, "±"))
	if strings.HasSuffix(lower, "v=") {
		w, lower = strings.TrimSuffix(w, "="), strings.TrimSuffix(lower, "=") // the sign of direct current
	}
	num := strings.TrimRight(lower, "abcdefghijklmnopqrstuvwxyzµμωΩ%~")
	if c := class(lower, num); c != 0 {
		return []mark{{c, w}}
	}
	return nil
}

// timesOf cuts "2x50uF" into 2 and "50uF". More than five sections nobody
// makes: "10x20" is a size.
func timesOf(w string) (n int, each string, ok bool) {
	if len(w) < 3 || w[0] < '2' || w[0] > '5' {
		return 0, "", false
	}
	for _, sign := range [...]string{"x", "X", "×"} {
		if each, ok = strings.CutPrefix(w[1:], sign); ok && each != "" {
			return int(w[0] - '0'), each, true
		}
	}
	return 0, "", false
}

// sections are the marks of so many sections alike: "50+50uF". Only a
// capacitance comes so; anything else behind the x is a size: "5x20mm".
func sections(n int, each string) []mark {
	value, volts, _ := strings.Cut(each, "/")
	end := strings.TrimLeft(value, "0123456789.,")
	figure := strings.TrimSuffix(value, end)
	unit := strings.ToLower(end)
	if figure == "" || unitEnds[unit] != 'c' || !strings.HasSuffix(unit, "f") && !strings.HasSuffix(unit, "fd") {
		return nil
	}
	out := []mark{{'c', strings.Repeat(figure+"+", n-1) + value}}
	if isNumber(strings.TrimRight(strings.ToLower(volts), "vdc=")) {
		out = append(out, mark{'v', withV(strings.TrimSuffix(volts, "="))})
	}
	return out
}

func (m *marking) addValue(w string, bare bool) {
	if m.bare && !bare {
		m.value = m.value[:0] // a value with its unit is better than a bare figure
	}
	if len(m.value) > 0 {
		return
	}
	m.value, m.bare = append(m.value, w), bare
}

func withV(s string) string {
	if isNumber(s) {
		return s + "V"
	}
	return s
}

// class says what a lower-case word is by what follows its number: v, w, t
// as in unitEnds, c for a value, n for a bare number, 0 for none.
func class(lower, num string) byte {
	switch {
	case num == lower && isNumber(num):
		return 'n'
	case isNumber(num) && num != "":
		if strings.ContainsAny(num, "/") && strings.HasSuffix(lower, "v") {
			return 'c' // "25/50v" is a value and its volts
		}
		return unitEnds[lower[len(num):]]
	case decimalLetter(lower), slashed(lower), fuseMark(lower):
		return 'c'
	}
	return 0
}

// decimalLetter: 4k7, 2n2, R47, 1M5, 22k5 and with volts or watts behind.
func decimalLetter(w string) bool {
	i := strings.IndexAny(w, "rkmnpu")
	return i >= 0 && i <= 4 && i+1 < len(w) && (i == 0 && w[0] == 'r' || i > 0 && digits(w[:i])) && digits(w[i+1:]) && len(w)-i <= 4
}

// slashed: 22n/400v, 220u/35v, 8-8-16, 100uf/350, 20/20/20uf.
func slashed(w string) bool {
	parts := strings.FieldsFunc(w, func(r rune) bool { return r == '/' || r == '+' || r == '-' })
	if len(parts) < 2 || len(parts) > 5 {
		return false
	}
	for _, p := range parts {
		num := strings.TrimRight(p, "abcdefghijklmnopqrstuvwxyzµμωΩ%~")
		if !isNumber(num) && !decimalLetter(p) {
			return false
		}
		if _, ok := unitEnds[p[len(num):]]; p != num && !ok && !decimalLetter(p) {
			return false
		}
	}
	return true
}

// fuseMark: t2a, f500ma, t1.6a, t2al250v.
func fuseMark(w string) bool {
	if len(w) < 3 || !strings.ContainsRune("tfm", rune(w[0])) {
		return false
	}
	num := strings.TrimRight(w[1:], "ahlmv")
	return isNumber(num) && strings.Contains(w[1+len(num):], "a")
}

// hintFor is the unit the value of a kind is in.
func hintFor(k Kind) unit.Unit {
	switch {
	case k.IsCapacitor():
		return unit.Farad
	case k.IsResistor(), k == Pot:
		return unit.Ohm
	case k == Fuse:
		return unit.Ampere
	case k == Choke:
		return unit.Henry
	}
	return unit.None
}
