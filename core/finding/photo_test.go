package finding

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"
)

func picture() image.Image {
	m := image.NewRGBA(image.Rect(0, 0, 24, 16))
	for i := range 24 * 16 {
		m.Set(i%24, i/24, color.RGBA{uint8(i), uint8(3 * i), 90, 255})
	}
	return m
}

func jpegOf(t testing.TB) []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, picture(), nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// segment is a JPEG segment with that content.
func segment(marker byte, body string) []byte {
	return append(binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(len(body)+2)), body...)
}

// exif is an Exif segment, least byte first, with a place, and the way up.
func exif(turn byte) []byte {
	return segment(0xe1, "Exif\x00\x00II\x2a\x00\x08\x00\x00\x00\x02\x00"+
		"\x0f\x01\x02\x00\x09\x00\x00\x00\x26\x00\x00\x00"+ // maker
		"\x12\x01\x03\x00\x01\x00\x00\x00"+string([]byte{turn, 0, 0, 0})+
		"\x00\x00\x00\x00SECRETLY\x00")
}

func TestCleanJPEG(t *testing.T) {
	plain := jpegOf(t)
	in := append([]byte{0xff, 0xd8}, exif(6)...)
	in = append(in, segment(0xfe, "SECRET remark")...)
	in = append(in, segment(0xe1, "http://ns.adobe.com/xap/1.0/\x00SECRET")...)
	in = append(in, segment(0xed, "SECRET caption")...)
	in = append(in, segment(0xe2, "MPF\x00SECRET")...)
	in = append(in, plain[2:]...)
	in = append(in, "SECRET trailer"...)
	out, mime, err := CleanPhoto(in)
	if err != nil || mime != "image/jpeg" {
		t.Fatal(mime, err)
	}
	if bytes.Contains(out, []byte("SECRET")) {
		t.Error("what the camera wrote is still there")
	}
	if turn, ok := orientation(out[6:]); !ok || turn != 6 {
		t.Errorf("orientation %d %v, want 6", turn, ok)
	}
	was, err1 := jpeg.Decode(bytes.NewReader(plain))
	is, err2 := jpeg.Decode(bytes.NewReader(out))
	if err1 != nil || err2 != nil || !bytes.Equal(was.(*image.YCbCr).Y, is.(*image.YCbCr).Y) {
		t.Errorf("the picture changed (%v, %v)", err1, err2)
	}
	again, _, err := CleanPhoto(out)
	if err != nil || !bytes.Equal(again, out) {
		t.Errorf("cleaned twice it differs (%v)", err)
	}
	// One that is up already carries no Exif at all.
	out, _, err = CleanPhoto(append(append([]byte{0xff, 0xd8}, exif(1)...), plain[2:]...))
	if err != nil || bytes.Contains(out, []byte("Exif")) {
		t.Errorf("Exif kept for nothing (%v)", err)
	}
}

func TestCleanPNG(t *testing.T) {
	var b bytes.Buffer
	if err := png.Encode(&b, picture()); err != nil {
		t.Fatal(err)
	}
	plain := b.Bytes()
	chunk := func(name, body string) []byte {
		return append(append(binary.BigEndian.AppendUint32(nil, uint32(len(body))), name+body...), 0, 0, 0, 0)
	}
	head := 8 + 25 // signature, IHDR
	in := append([]byte(nil), plain[:head]...)
	for _, name := range []string{"tEXt", "iTXt", "zTXt", "eXIf", "tIME"} {
		in = append(in, chunk(name, "SECRET")...)
	}
	in = append(append(in, plain[head:]...), "SECRET"...)
	out, mime, err := CleanPhoto(in)
	if err != nil || mime != "image/png" || !bytes.Equal(out, plain) {
		t.Errorf("%s, %v, %d bytes, want the %d of the plain picture", mime, err, len(out), len(plain))
	}
}

func TestCleanWebP(t *testing.T) {
	chunk := func(name, body string) string {
		s := name + string(binary.LittleEndian.AppendUint32(nil, uint32(len(body)))) + body
		if len(body)%2 == 1 {
			s += "\x00"
		}
		return s
	}
	webp := func(chunks ...string) []byte {
		body := "WEBP"
		for _, c := range chunks {
			body += c
		}
		return []byte("RIFF" + string(binary.LittleEndian.AppendUint32(nil, uint32(len(body)))) + body)
	}
	out, mime, err := CleanPhoto(webp(chunk("VP8X", "\x2c\x00\x00\x00\x17\x00\x00\x0f\x00\x00"), chunk("VP8 ", "pixels."), chunk("EXIF", "SECRET"), chunk("XMP ", "SECRETS")))
	want := webp(chunk("VP8X", "\x20\x00\x00\x00\x17\x00\x00\x0f\x00\x00"), chunk("VP8 ", "pixels."))
	if err != nil || mime != "image/webp" || !bytes.Equal(out, want) {
		t.Errorf("%s %v\n%q\nwant\n%q", mime, err, out, want)
	}
}

func TestCleanRefuses(t *testing.T) {
	for _, in := range []string{"", "GIF89a", "\xff\xd8", "<svg/>", "RIFF\x00\x00\x00\x00WAVE"} {
		if _, _, err := CleanPhoto([]byte(in)); !errors.Is(err, ErrNoPhoto) {
			t.Errorf("%q: %v, want ErrNoPhoto", in, err)
		}
	}
	plain := jpegOf(t)
	for n := 3; n < len(plain); n += 11 {
		if _, _, err := CleanPhoto(plain[:n]); err == nil {
			t.Errorf("cut off after %d of %d bytes: taken as whole", n, len(plain))
		}
	}
}

func FuzzCleanPhoto(f *testing.F) {
	f.Add(jpegOf(f))
	f.Add(append([]byte{0xff, 0xd8}, exif(6)...))
	f.Add([]byte("RIFF\x10\x00\x00\x00WEBPVP8 \x04\x00\x00\x00abcd"))
	f.Add([]byte("\x89PNG\r\n\x1a\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		out, _, err := CleanPhoto(data)
		if err != nil {
			return
		}
		again, _, err := CleanPhoto(out)
		if err != nil || !bytes.Equal(again, out) {
			t.Errorf("cleaned twice it differs: %v", err)
		}
	})
}
