package catalog

import (
	"strconv"
	"strings"
)

// packBefore and packAfter are words around the number of pieces sold
// together. Common practice, no source.
var (
	packBefore = strings.Split("pack of|packs of|pk of|pkt of|packet of|bag of|bags of|box of|reel of|tape of|lot de|lots de|sachet de|sachets de|paquet de|boite de|conditionnement par|vendu par|"+
		"pak van|zak van|zakje van|verpakt per|per pak van|doos van|paquete de|bolsa de|caja de|beutel zu|beutel mit|packung mit|packung zu|packung a|tute mit|vpe|ve|verpackungseinheit", "|")
	packAfter = strings.Split("er pack|er packung|er beutel|er set|er tute|er ve|stuck pack|per pack|per bag|pcs per pack|pcs per bag|pieces per pack|pack|pk|stuks per verpakking|stuks per zak|unidades por paquete|por paquete|pieces par sachet|par lot", "|")
)

// eachWords say that the price beside them is that of one piece, packWords
// that it is that of the pack.
var (
	eachWords = strings.Split("price each|priced each|each|per piece|price per piece|unit price|stuckpreis|preis je stuck|preis pro stuck|je stuck|pro stuck|prix unitaire|prix piece|la piece|stukprijs|prijs per stuk|per stuk|precio unitario|precio por unidad|por unidad|cada uno", "|")
	packWords = strings.Split("price per pack|price per bag|per pack price|pack price|preis je ve|preis pro ve|preis je pack|preis pro pack|preis je packung|packungspreis|prix du lot|prix par lot|le lot|prijs per pak|prijs per zak|precio por paquete", "|")
)

// packEr reads "10er Pack".
func packEr(p string) (int, bool) {
	head, tail, ok := strings.Cut(p, "er ")
	if !ok || !digits(head) || !(tail == "pack" || tail == "packung" || tail == "beutel" || tail == "set" || tail == "tute" || tail == "ve") {
		return 0, false
	}
	n, err := strconv.Atoi(head)
	return n, err == nil && n > 0
}

// packSaid finds how many pieces the words of a description sell together: "pk
// of 10", "VE 10", "lot de 5", "10er Pack", "per 100". 0 where they do not
// say; said is where it stands.
func packSaid(words string) (n int, said string) {
	for _, w := range packBefore {
		if i := wordAt(words, w+" "); i >= 0 {
			if n, ok := leadingNumber(words[i+len(w)+1:]); ok {
				return n, w + " " + strconv.Itoa(n)
			}
		}
	}
	if i := wordAt(words, "per "); i >= 0 {
		if n, ok := leadingNumber(words[i+4:]); ok {
			return n, "per " + strconv.Itoa(n)
		}
	}
	for _, w := range packAfter {
		gap := " "
		if strings.HasPrefix(w, "er ") {
			gap = ""
		}
		i := strings.Index(words, gap+w)
		if end := i + len(gap+w); i > 0 && (end == len(words) || words[end] == ' ') {
			if n, ok := trailingNumber(words[:i]); ok {
				return n, strconv.Itoa(n) + gap + w
			}
		}
	}
	return 0, ""
}

// wordAt is where the words begin in text at the start of a word, -1 if
// nowhere.
func wordAt(text, words string) int {
	for from := 0; ; {
		i := strings.Index(text[from:], words)
		if i < 0 {
			return -1
		}
		if i += from; i == 0 || text[i-1] == ' ' {
			return i
		}
		from = i + 1
	}
}

func leadingNumber(s string) (int, bool) {
	w, _, _ := strings.Cut(s, " ")
	n, ok := small(w)
	return n, ok && n > 1
}

func trailingNumber(s string) (int, bool) {
	n, ok := small(s[strings.LastIndexByte(s, ' ')+1:])
	return n, ok && n > 1
}

func anyOf(text string, words []string) bool {
	for _, w := range words {
		if hasWord(text, w) {
			return true
		}
	}
	return false
}
