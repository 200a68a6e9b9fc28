package finding

import (
	"bytes"
	"encoding/binary"
	"errors"
)

// A Photo is a picture of the amp: what it shows, when in the work, and the
// SHA-256 of its bytes, by which it is kept and found again.
type Photo struct {
	ID      string `json:"id,omitempty"` // SHA-256, hexadecimal
	Finding string `json:"finding,omitempty"`
	Step    Step   `json:"step,omitempty"`
	Say     Text   `json:"say,omitempty"`
	Mime    string `json:"mime,omitempty"`
	Bytes   Text   `json:"bytes,omitempty"` // how many, in digits
	At      string `json:"at,omitempty"`    // when it was taken up
}

// Step says when in the work a photo was taken.
type Step string

const (
	Before Step = "before"
	During Step = "during"
	After  Step = "after"
)

// ErrNoPhoto is the error for bytes that are no picture this program takes.
var ErrNoPhoto = errors.New("this is no JPEG, PNG or WebP picture")

var errCutPhoto = errors.New("this picture is cut off or damaged")

// CleanPhoto returns a picture without what a camera writes beside it: place,
// time, device, names, remarks, the small preview. The picture itself is not
// touched; which way up it is, and its colors, are kept. mime is its type.
//
// Formats: JPEG (ISO/IEC 10918-1 segments, Exif orientation tag 0x0112), PNG
// (chunks, W3C), WebP (RIFF chunks); layouts from memory, checked against
// files written by the standard library and by a browser.
//
// Errors: ErrNoPhoto, or a picture that is cut off.
func CleanPhoto(data []byte) (clean []byte, mime string, err error) {
	switch {
	case bytes.HasPrefix(data, []byte{0xff, 0xd8, 0xff}):
		clean, err = cleanJPEG(data)
		return clean, "image/jpeg", err
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
		clean, err = cleanPNG(data)
		return clean, "image/png", err
	case len(data) >= 12 && string(data[:4]) == "RIFF" && string(data[8:12]) == "WEBP":
		clean, err = cleanWebP(data)
		return clean, "image/webp", err
	}
	return nil, "", ErrNoPhoto
}

// cleanJPEG keeps the segments a decoder needs: tables, frames, scans, the
// color transform (APP14) and the profile of colors (APP2).
func cleanJPEG(data []byte) ([]byte, error) {
	out := append(make([]byte, 0, len(data)), 0xff, 0xd8)
	at := 2
	for {
		for at+1 < len(data) && data[at] == 0xff && data[at+1] == 0xff { // fill bytes
			at++
		}
		if at+4 > len(data) || data[at] != 0xff || data[at+1] == 0xd9 { // or its end before any scan
			return nil, errCutPhoto
		}
		marker := data[at+1]
		end := at + 2 + int(binary.BigEndian.Uint16(data[at+2:]))
		if end > len(data) || end < at+4 {
			return nil, errCutPhoto
		}
		segment := data[at:end]
		switch {
		case marker == 0xe1:
			if turn, ok := orientation(segment[4:]); ok {
				out = append(out, exifOf(turn)...)
			}
		case marker == 0xe2 && !bytes.HasPrefix(segment[4:], []byte("ICC_PROFILE\x00")), marker == 0xfe,
			marker >= 0xe3 && marker <= 0xef && marker != 0xee:
		default:
			out = append(out, segment...)
		}
		at = end
		if marker == 0xda {
			next, ok := afterScan(data, at)
			if !ok {
				return nil, errCutPhoto
			}
			out = append(out, data[at:next]...)
			at = next
			if data[at+1] == 0xd9 {
				return append(out, 0xff, 0xd9), nil // what follows is no part of the picture
			}
		}
	}
}

// afterScan finds the marker that ends the coded data of a scan.
func afterScan(data []byte, at int) (int, bool) {
	for ; at+1 < len(data); at++ {
		if m := data[at+1]; data[at] == 0xff && m != 0 && m != 0xff && (m < 0xd0 || m > 0xd7) {
			return at, true
		}
	}
	return 0, false
}

// orientation reads which way up a picture is from its Exif segment; ok is
// false where it says nothing, or that it is up already.
func orientation(segment []byte) (turn uint16, ok bool) {
	tiff, found := bytes.CutPrefix(segment, []byte("Exif\x00\x00"))
	if !found || len(tiff) < 8 {
		return 0, false
	}
	var order binary.ByteOrder = binary.BigEndian
	if string(tiff[:2]) == "II" {
		order = binary.LittleEndian
	}
	at := uint64(order.Uint32(tiff[4:]))
	if at+2 > uint64(len(tiff)) {
		return 0, false
	}
	count := uint64(order.Uint16(tiff[at:]))
	for i := range count {
		entry := at + 2 + 12*i
		if entry+12 > uint64(len(tiff)) {
			return 0, false
		}
		if order.Uint16(tiff[entry:]) == 0x0112 {
			turn = order.Uint16(tiff[entry+8:])
			return turn, turn >= 2 && turn <= 8
		}
	}
	return 0, false
}

// exifOf is an Exif segment that says which way up and nothing else.
func exifOf(turn uint16) []byte {
	s := []byte("\xff\xe1\x00\x22Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x00\x00\x00\x00\x00\x00\x00")
	binary.BigEndian.PutUint16(s[28:], turn)
	return s
}

// kept are the chunks of a PNG that make the picture.
var kept = map[string]bool{"IHDR": true, "PLTE": true, "IDAT": true, "IEND": true, "tRNS": true, "gAMA": true, "cHRM": true, "sRGB": true, "iCCP": true, "sBIT": true, "cICP": true}

func cleanPNG(data []byte) ([]byte, error) {
	out := append(make([]byte, 0, len(data)), data[:8]...)
	for at := 8; at+12 <= len(data); {
		end := uint64(at) + 12 + uint64(binary.BigEndian.Uint32(data[at:]))
		if end > uint64(len(data)) {
			return nil, errCutPhoto
		}
		name := string(data[at+4 : at+8])
		if kept[name] {
			out = append(out, data[at:end]...)
		}
		if name == "IEND" {
			return out, nil
		}
		at = int(end)
	}
	return nil, errCutPhoto
}

// cleanWebP leaves out the chunks EXIF and XMP, and the flags that announce
// them.
func cleanWebP(data []byte) ([]byte, error) {
	out := append(make([]byte, 0, len(data)), data[:12]...)
	size := uint64(binary.LittleEndian.Uint32(data[4:])) + 8
	if size > uint64(len(data)) || size < 20 {
		return nil, errCutPhoto
	}
	for at := uint64(12); at < size; {
		if at+8 > size {
			return nil, errCutPhoto
		}
		n := uint64(binary.LittleEndian.Uint32(data[at+4:]))
		end := at + 8 + n + n%2
		if end > size && end-n%2 != size || at+8+n > size {
			return nil, errCutPhoto
		}
		end = min(end, size)
		switch name := string(data[at : at+4]); name {
		case "EXIF", "XMP ":
		case "VP8 ", "VP8L", "VP8X", "ALPH", "ANIM", "ANMF", "ICCP":
			from := len(out)
			out = append(out, data[at:end]...)
			if name == "VP8X" && n > 0 {
				out[from+8] &^= 0x0c
			}
		}
		at = end
	}
	if len(out) == 12 {
		return nil, errCutPhoto
	}
	binary.LittleEndian.PutUint32(out[4:], uint32(len(out)-8))
	return out, nil
}
