package catalog

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// Names of the encodings a list may be in, as Mapping.Encoding holds them.
const (
	UTF8        = "UTF-8"
	UTF16Little = "UTF-16 little-endian"
	UTF16Big    = "UTF-16 big-endian"
	Windows1252 = "Windows-1252" // holds Latin-1 too, as far as text goes
)

// notText are the first bytes of files that are often renamed to .csv.
var notText = []struct{ magic, says string }{
	{"PK\x03\x04", "a ZIP file, perhaps a spreadsheet workbook; save the sheet as CSV and open that"},
	{"PK\x05\x06", "an empty ZIP file"},
	{"%PDF", "a PDF document; ask the supplier for a CSV list"},
	{"\xD0\xCF\x11\xE0", "an old spreadsheet workbook; save the sheet as CSV and open that"},
	{"\x1F\x8B", "a gzip file; unpack it first"},
	{"\x89PNG", "a picture"},
	{"\xFF\xD8\xFF", "a picture"},
	{"GIF8", "a picture"},
	{"{\\rtf", "a word-processor document"},
}

// Decode returns the text of a file and the encoding it was taken for. Text
// that is not valid UTF-8 and has no mark is read as Windows-1252, in which
// every byte means something.
//
// Errors: the bytes are a known sort of file that is not text, or hold so
// many control characters that they cannot be text.
func Decode(data []byte) (text, encoding string, err error) {
	for _, n := range notText {
		if bytes.HasPrefix(data, []byte(n.magic)) {
			return "", "", fmt.Errorf("this is not a text file: it is %s", n.says)
		}
	}
	text, encoding = decode(data)
	if says := markup(text); says != "" {
		return "", "", fmt.Errorf("this is not a list: it is %s", says)
	}
	if binary(text) {
		return "", "", fmt.Errorf("this is not a text file: it is full of control characters")
	}
	return text, encoding, nil
}

// markup names a page or a document of tags that was saved as a list, ""
// for anything else.
func markup(text string) string {
	head := strings.ToLower(strings.TrimLeft(text[:min(len(text), 512)], " \t\r\n\uFEFF"))
	for _, m := range []struct{ begins, says string }{
		{"<!doctype html", "a web page; open it, and save its table as CSV"}, {"<html", "a web page; open it, and save its table as CSV"},
		{"<table", "the table of a web page; save it as CSV"}, {"<?xml", "an XML document; ask the supplier for a CSV list"},
	} {
		if strings.HasPrefix(head, m.begins) {
			return m.says
		}
	}
	return ""
}

func decode(data []byte) (string, string) {
	switch {
	case bytes.HasPrefix(data, []byte("\xEF\xBB\xBF")):
		return fromUTF8(data[3:])
	case bytes.HasPrefix(data, []byte("\xFF\xFE")):
		return fromUTF16(data[2:], 1, 0), UTF16Little
	case bytes.HasPrefix(data, []byte("\xFE\xFF")):
		return fromUTF16(data[2:], 0, 1), UTF16Big
	}
	if even, odd := nulPlaces(data); even+odd > 0 {
		// Plain Latin text in UTF-16 has a NUL in every other place.
		half := min(len(data), 4096) / 2
		if odd > half*7/10 && even < half/10 {
			return fromUTF16(data, 1, 0), UTF16Little
		}
		if even > half*7/10 && odd < half/10 {
			return fromUTF16(data, 0, 1), UTF16Big
		}
	}
	return fromUTF8(data)
}

// nulPlaces counts NUL bytes at even and odd places of the first 4,096 bytes.
func nulPlaces(data []byte) (even, odd int) {
	for i, b := range data[:min(len(data), 4096)] {
		if b != 0 {
			continue
		}
		if i%2 == 0 {
			even++
		} else {
			odd++
		}
	}
	return even, odd
}

func fromUTF8(data []byte) (string, string) {
	if utf8.Valid(data) {
		return string(data), UTF8
	}
	var b strings.Builder
	b.Grow(len(data) + len(data)/8)
	for len(data) > 0 {
		n := 0
		for n < len(data) && data[n] < utf8.RuneSelf {
			n++ // most of a list: taken as it stands
		}
		b.Write(data[:n])
		for data = data[n:]; len(data) > 0 && data[0] >= utf8.RuneSelf; data = data[1:] {
			b.WriteRune(windows1252(data[0]))
		}
	}
	return b.String(), Windows1252
}

// high1252 is what Windows-1252 has at 0x80 to 0x9F; 0 where it has nothing.
// Source: WHATWG Encoding Standard, index windows-1252, from memory.
var high1252 = [32]rune{'€', 0, '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', 0, 'Ž', 0,
	0, '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', 0, 'ž', 'Ÿ'}

func windows1252(c byte) rune {
	if c >= 0x80 && c < 0xA0 {
		if r := high1252[c-0x80]; r != 0 {
			return r
		}
	}
	return rune(c)
}

// fromUTF16 reads pairs of bytes, hi and lo saying which of the pair is which.
// A byte left over at the end becomes the replacement character.
func fromUTF16(data []byte, hi, lo int) string {
	units := make([]uint16, 0, len(data)/2+1)
	for ; len(data) >= 2; data = data[2:] {
		units = append(units, uint16(data[hi])<<8|uint16(data[lo]))
	}
	if len(data) == 1 {
		units = append(units, utf8.RuneError)
	}
	return string(utf16.Decode(units))
}

// binary reports whether more than one character in twenty of the beginning
// is a control character that no text file holds. A few NULs in a text are
// left to the row they stand in.
func binary(text string) bool {
	head := text[:min(len(text), 4096)]
	odd := 0
	for i := 0; i < len(head); i++ {
		if c := head[i]; c < 0x20 && c != '\n' && c != '\r' && c != '\t' && c != '\f' {
			odd++
		}
	}
	return odd > 4 && odd*20 > len(head)
}

// lineEnds turns the line ends of old files (a lone carriage return) into
// the ones encoding/csv knows, keeping the length of the text.
func lineEnds(text string) string {
	if strings.IndexByte(text, '\n') < 0 && strings.IndexByte(text, '\r') >= 0 {
		return strings.ReplaceAll(text, "\r", "\n")
	}
	return text
}
