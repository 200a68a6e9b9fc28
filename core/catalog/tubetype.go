package catalog

import "strings"

// rectifierTypes are rectifier tubes by type, besides those whose European
// code says so. Common practice, no source.
var rectifierTypes = wordSet("5U4|5U4G|5U4GB|5Y3|5Y3GT|5V4|5V4G|5V4GA|5R4|5R4GY|5R4GYB|5AR4|5Z3|5Z4|5Z4G|6X4|6X5|6X5GT|6CA4|6Z4|80|83|83V|U50|U52|6BW4|12X4|35W4|35Z5|5W4|5X4|5AS4|5AU4|0Z4")

// plainTypes are tube types made of digits alone, or of one that could be a
// value too ("6U8" is 6.8 µF to some). Common practice, no source.
var plainTypes = wordSet("5881|6550|6550A|7025|7027|7027A|7189|7189A|7199|7247|7355|7408|7543|7581|7581A|7591|7591A|7868|6973|5751|5814|5814A|5879|5965|6072|6072A|6146|6189|6201|6681|6386|6922|807|811|811A|845|300B|2A3|" +
	"6V6|12V6|6W6|6W4|6A7|6A8|6H6|6T8|5V4|5U4|5R4|6K6|6K7|6N7|6N8|6U8|6U8A|6R7|6P1|5R4GY|6K6GT|6N7GT|1R5|6M5")

// tubeType reads one word as a tube type and returns it in capitals, "" if it
// is none. sure widens it to digits alone: the row says elsewhere that it is
// a tube.
func tubeType(word string, sure bool) string {
	w := strings.ToUpper(strings.Trim(word, ".,;:()[]\"'*"))
	if len(w) < 2 || len(w) > 8 || !digitsOrCapitals(w) || !strings.ContainsAny(w, "0123456789") {
		return ""
	}
	switch {
	case plainTypes[w] || rectifierTypes[w] && (sure || len(w) > 3 || w[0] == '5' || w[0] == '6') && len(w) > 2:
		return w
	case rectifierTypes[w] && sure, american(w), european(w), specialQuality(w), beamLetters(w):
		return w
	}
	return ""
}

func digitsOrCapitals(w string) bool {
	for i := 0; i < len(w); i++ {
		if c := w[i]; (c < '0' || c > '9') && (c < 'A' || c > 'Z') {
			return false
		}
	}
	return true
}

// runs cuts w into at most five runs of digits and of letters: "12AX7A" is 12,
// AX, 7, A.
func runs(w string) (r [5]string, n int) {
	for i := 0; i < len(w) && n < len(r); n++ {
		j := i + 1
		for j < len(w) && (w[j] <= '9') == (w[i] <= '9') {
			j++
		}
		r[n] = w[i:j]
		i = j
	}
	return r, n
}

// heaters are the heater volts an American type begins with, whole numbers.
var heaters = wordSet("1|2|3|4|5|6|7|8|9|10|11|12|14|17|18|19|25|26|30|35|38|50")

// american: heater volts, letters, number of elements, and a suffix of
// construction: 6BQ5, 12AX7WA, 6SN7GTB. One letter that may be a decimal
// letter or a unit (4K7, 2N2, 5W8) needs a suffix of the glass, 6K6GT, or is
// left to the list above.
func american(w string) bool {
	r, n := runs(w)
	if n < 3 || n > 4 || w[0] > '9' || !heaters[r[0]] || len(r[1]) > 2 || len(r[2]) > 2 || r[2][0] == '0' {
		return false
	}
	if len(r[1]) == 1 {
		glass := n == 4 && r[3][0] == 'G'
		if len(r[2]) > 1 || strings.Contains("RKMNPUEWAVHT", r[1]) && !glass {
			return false
		}
	}
	return n == 3 || suffixes[r[3]]
}

var suffixes = wordSet("A|B|C|G|GA|GB|GC|GT|GTA|GTB|GTC|GTY|GY|GYB|W|WA|WB|WC|WGA|WGB|WGC|WGT|WGTA|S|EH|X|Y|LPS")

// european: first letter heater (A D E G H K P U), then systems, then two or
// three digits: EL84, ECC83, GZ34, PCL86, EF806S.
func european(w string) bool {
	r, n := runs(w)
	if n < 2 || n > 3 || len(r[0]) < 2 || len(r[0]) > 4 || !strings.Contains("ADEGHKPU", r[0][:1]) {
		return false
	}
	for i := 1; i < len(r[0]); i++ {
		if !strings.Contains("ABCDEFHKLMNQYZ", r[0][i:i+1]) {
			return false
		}
	}
	return len(r[1]) >= 2 && len(r[1]) <= 3 && (n == 2 || len(r[2]) == 1)
}

// specialQuality: E, digits, systems: E83CC, E34L, E130L.
func specialQuality(w string) bool {
	r, n := runs(w)
	return n == 3 && r[0] == "E" && len(r[1]) >= 2 && len(r[1]) <= 3 && len(r[2]) <= 3 &&
		strings.Trim(r[2], "ABCDFHKLMZ") == ""
}

// beamLetters: KT and two or three digits.
func beamLetters(w string) bool {
	r, n := runs(w)
	return n == 2 && r[0] == "KT" && len(r[1]) >= 2 && len(r[1]) <= 3
}

// isRectifier reports whether a tube type rectifies. In a European code the
// last system letter Y or Z says so.
func isRectifier(t string) bool {
	r, _ := runs(t)
	return rectifierTypes[t] || european(t) && strings.HasSuffix(r[0], "Z") || european(t) && strings.HasSuffix(r[0], "Y")
}

// tubeTypes finds every tube type in a description: "12AX7/ECC83" is two.
func tubeTypes(text string, sure bool) []string {
	if !strings.ContainsAny(text, "0123456789") {
		return nil
	}
	if strings.IndexFunc(text, betweenTypes) < 0 {
		if t := tubeType(text, sure); t != "" {
			return []string{t}
		}
		return nil
	}
	var out []string
	for _, w := range strings.FieldsFunc(text, betweenTypes) {
		if t := tubeType(w, sure); t != "" && (len(out) == 0 || out[0] != t) {
			out = append(out, t)
		}
	}
	return out
}

func betweenTypes(r rune) bool { return strings.ContainsRune(" /,;|=()\t\u00a0-@", r) }

// semiconductor reports a silicon diode by its type: 1N4007, UF4007, BY127.
func semiconductor(p string) bool {
	for p != "" {
		w, rest, _ := strings.Cut(p, " ")
		r, n := runs(w)
		if n == 3 && r[0] == "1" && r[1] == "n" && len(r[2]) >= 2 || n == 2 && (r[0] == "uf" || r[0] == "by" || r[0] == "byv") && len(r[1]) >= 3 {
			return true
		}
		p = rest
	}
	return false
}
