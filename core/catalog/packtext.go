package catalog

import (
	"strconv"
	"strings"
)

// packingWords stand before or behind the number of pieces sold together.
// Common practice, no source.
var packingWords = []groupWords{
	{"pack of|packs of|pk of|pkt of|packet of|bag of|bags of|box of|reel of|lot de|lots de|sachet de|sachets de|paquet de|boite de|conditionnement par|vendu par|" +
		"pak van|zak van|zakje van|verpakt per|doos van|paquete de|bolsa de|caja de|beutel zu|beutel mit|packung mit|packung zu|packung a|tute mit|vpe|ve|verpackungseinheit|per", 1},
	{"pack|packung|beutel|tute|pk|pcs pack|stuck pack|per pack|per bag|pcs per pack|pcs per bag|pieces per pack|stuks per verpakking|stuks per zak|unidades por paquete|por paquete|pieces par sachet|par lot", 1},
}

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

// pack finds how many pieces the words of a row sell together: "pk of 10",
// "VE 10", "lot de 5", "10er Pack", "per 100". 0 where they do not say; said is
// where it stands.
func (r *reading) pack() (n int, said string) {
	for _, b := range r.packs {
		end := b.at + len(b.words)
		if end+1 < len(r.words) {
			if n, ok := leadingNumber(r.words[end+1:]); ok {
				return n, b.words + " " + strconv.Itoa(n)
			}
		}
		if b.at > 1 {
			last := r.words[:b.at-1]
			last = last[strings.LastIndexByte(last, ' ')+1:]
			if n, ok := small(strings.TrimSuffix(last, "er")); ok && n > 1 && b.words != "per" {
				return n, last + " " + b.words
			}
		}
	}
	return 0, ""
}

func leadingNumber(s string) (int, bool) {
	w, _, _ := strings.Cut(s, " ")
	n, ok := small(w)
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
