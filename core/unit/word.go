package unit

// A word is what letters after a number mean.
type word struct {
	unit   Unit
	factor float64
	kind   wordKind
	doubt  doubt
}

type wordKind uint8

const (
	unknownWord wordKind = iota
	unitWord             // a unit, with or without prefix
	prefixWord           // a prefix alone; the unit follows from the place
	acWord               // volts of alternating current
	surgeWord            // surge volts
	asideWord            // temperature or size: no matter here
)

// wordOf looks a unit up. The case decides only where it must: mF, MF, m, M.
// "M" alone is a doubt that the caller weighs by the size of the number.
//
// Source: IEC 60062 for R, K, M, G, p, n, u as marks (second-hand
// transcription); vintage spellings from memory, "mfd", "MF" and "MMF" seen
// second-hand in a component guide.
func wordOf(b []byte, hint Unit) word {
	if len(b) == 0 || len(b) > 14 {
		return word{}
	}
	if len(b) == 4 && (b[0] == 'M' || b[0] == 'm') && foldOhm(b[1:]) {
		if b[0] == 'M' {
			return word{Ohm, 1e6, unitWord, sure}
		}
		return word{Ohm, 1e6, unitWord, milliOrMeg}
	}
	switch string(b) {
	case "mF":
		return word{Farad, 1e-6, unitWord, milliOrMicro}
	case "M":
		return word{Ohm, 1e6, prefixWord, thousandOrMeg}
	case "m":
		return word{Ohm, 1e6, prefixWord, milliOrMeg}
	case "H":
		return word{Henry, 1, unitWord, sure}
	case "h":
		if hint == Henry {
			return word{Henry, 1, unitWord, sure}
		}
	case "MHz":
		return word{Hertz, 1e6, unitWord, sure}
	case "S":
		return word{Siemens, 1, unitWord, sure}
	}
	var lower [14]byte
	n := 0
	for _, c := range b {
		if c >= 'A' && c <= 'Z' {
			c |= 0x20
		}
		if c != '.' {
			lower[n] = c
			n++
		}
	}
	if w := farads(lower[:n]); w.kind != unknownWord {
		return w
	}
	if w := ohmsAndRatings(lower[:n]); w.kind != unknownWord {
		return w
	}
	return otherUnits(lower[:n])
}

// foldOhm reports whether b is "ohm" in any case.
func foldOhm(b []byte) bool {
	return b[0]|0x20 == 'o' && b[1]|0x20 == 'h' && b[2]|0x20 == 'm'
}

func farads(b []byte) word {
	switch string(b) {
	case "uf", "u", "mfd", "mf", "mfds", "ufd", "microfarad", "microfarads":
		return word{Farad, 1e-6, kindOfPrefix(b, 'u'), sure}
	case "nf", "n", "nfd", "nanofarad", "nanofarads":
		return word{Farad, 1e-9, kindOfPrefix(b, 'n'), sure}
	case "pf", "p", "pfd", "mmf", "mmfd", "mmfds", "uuf", "uufd", "picofarad", "picofarads":
		return word{Farad, 1e-12, kindOfPrefix(b, 'p'), sure}
	case "kpf":
		return word{Farad, 1e-9, unitWord, sure}
	case "f", "farad", "farads":
		return word{Farad, 1, unitWord, sure}
	}
	return word{}
}

func kindOfPrefix(b []byte, alone byte) wordKind {
	if len(b) == 1 && b[0] == alone {
		return prefixWord
	}
	return unitWord
}

func ohmsAndRatings(b []byte) word {
	switch string(b) {
	case "ohm", "ohms", "r", "e":
		return word{Ohm, 1, unitWord, sure}
	case "k":
		return word{Ohm, 1e3, prefixWord, sure}
	case "kohm", "kohms", "kilohm", "kilohms", "kiloohm", "kiloohms":
		return word{Ohm, 1e3, unitWord, sure}
	case "meg", "megs", "megohm", "megohms", "megaohm", "megaohms", "mohms":
		return word{Ohm, 1e6, unitWord, sure}
	case "g", "gohm", "gigohm":
		return word{Ohm, 1e9, unitWord, sure}
	case "v", "volt", "volts", "vdc", "dcv", "wv", "wvdc", "dcwv", "vdcw", "vw":
		return word{Volt, 1, unitWord, sure}
	case "vac", "acv", "wvac", "vrms":
		return word{Volt, 1, acWord, sure}
	case "sv", "svdc":
		return word{Volt, 1, surgeWord, sure}
	case "kv", "kvdc":
		return word{Volt, 1e3, unitWord, sure}
	case "mv":
		return word{Volt, 1e-3, unitWord, sure}
	case "w", "watt", "watts":
		return word{Watt, 1, unitWord, sure}
	case "mw":
		return word{Watt, 1e-3, unitWord, sure}
	case "a", "amp", "amps", "ampere", "amperes":
		return word{Ampere, 1, unitWord, sure}
	case "ma", "milliamp", "milliamps":
		return word{Ampere, 1e-3, unitWord, sure}
	case "ua":
		return word{Ampere, 1e-6, unitWord, sure}
	}
	return word{}
}

func otherUnits(b []byte) word {
	switch string(b) {
	case "%", "percent", "pct":
		return word{Percent, 1, unitWord, sure}
	case "hy", "hys", "henry", "henries", "henrys":
		return word{Henry, 1, unitWord, sure}
	case "mh", "mhy":
		return word{Henry, 1e-3, unitWord, sure}
	case "uh", "uhy":
		return word{Henry, 1e-6, unitWord, sure}
	case "hz", "cps", "c/s", "cycles":
		return word{Hertz, 1, unitWord, sure}
	case "khz", "kc":
		return word{Hertz, 1e3, unitWord, sure}
	case "mhz":
		return word{Hertz, 1e6, unitWord, sure}
	case "mho", "mhos", "a/v", "siemens":
		return word{Siemens, 1, unitWord, sure}
	case "ms", "mmho", "mmhos", "ma/v":
		return word{Siemens, 1e-3, unitWord, sure}
	case "us", "umho", "umhos", "micromho", "micromhos", "ua/v":
		return word{Siemens, 1e-6, unitWord, sure}
	case "h", "hr", "hrs", "hour", "hours":
		return word{Hour, 1, unitWord, sure}
	case "min", "mins", "minutes":
		return word{Hour, 1.0 / 60, unitWord, sure}
	case "d", "day", "days":
		return word{Day, 1, unitWord, sure}
	case "wk", "wks", "week", "weeks":
		return word{Day, 7, unitWord, sure}
	case "pc", "pcs", "piece", "pieces", "ea", "each", "off":
		return word{Piece, 1, unitWord, sure}
	case "\"", "\"c", "c", "degc", "mm", "cm", "in", "inch", "inches", "ppm":
		return word{None, 1, asideWord, sure}
	}
	return word{}
}

// letters returns the end of the run of letters that starts at j. A dot
// belongs to it between letters and after them: "V.D.C.", "mfd.".
func (s *scan) letters(j int) int {
	start := j
	for j < s.n && (isLetter(s.b[j]) || s.b[j] == '%' || s.b[j] == '"') {
		j++
		if j < s.n && s.b[j] == '.' && (j+1 >= s.n || !isFigure(s.b[j+1])) {
			j++
		}
		if s.b[j-1] == '%' {
			break
		}
	}
	if j > start && j+1 < s.n && s.b[j] == '/' && (s.b[j+1] == 'V' || s.b[j+1] == 'v') && s.b[j-1]|0x20 == 'a' {
		j += 2 // mA/V
	}
	if j == start+1 && j+1 < s.n && s.b[start] == 'c' && s.b[j] == '/' && s.b[j+1] == 's' {
		j += 2 // c/s
	}
	return j
}

// ParseUnit reads a unit column: "V", "mA", "kΩ", "mA/V", "%". factor turns
// an amount in that unit into SI base units. ok is false for a word that is no
// unit or, like mF, may be two. An empty text is a plain number.
func ParseUnit(text string) (u Unit, factor float64, ok bool) {
	var s scan
	if err := s.open(text, None); err != nil {
		return None, 1, text == ""
	}
	end := s.n
	for end > s.i && s.b[end-1] == ' ' {
		end--
	}
	w := wordOf(s.b[s.i:end], None)
	if w.kind == unknownWord || w.kind == asideWord || w.doubt == milliOrMicro || w.doubt == milliOrMeg {
		return None, 0, false
	}
	return w.unit, w.factor, true
}
