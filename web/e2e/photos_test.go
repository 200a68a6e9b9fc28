package e2e

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"lugworth/core/record"
)

// camera writes a picture as a camera would, with a remark of its own.
func camera(t testing.TB, shade uint8) string {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 2400, 1800))
	for y := range 1800 {
		for x := range 2400 {
			m.Set(x, y, color.RGBA{shade, uint8(x / 10), uint8(y / 8), 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	raw := b.Bytes()
	marked := append([]byte{0xff, 0xd8, 0xff, 0xfe, 0, 8}, append([]byte("SECRET"), raw[2:]...)...)
	name := filepath.Join(tempDir(t), "picture.jpg")
	if err := os.WriteFile(name, marked, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// A photo makes a finding in two touches and the camera's own; it outlives the
// page; a backup holds it, and in an empty browser all comes back as it was.
func TestPhotosAndBackup(t *testing.T) {
	t.Parallel()
	p := Start(t, Portrait)
	p.Kept()
	p.Touch(`[data-act="jobs"]`)
	p.Touch(`#jobs-dialog [data-act="job-new"]`)
	p.BenchPart("findings")
	p.Give(`#photo-add-camera-`, camera(t, 40))
	p.Wait(`document.querySelector("#finding-F1 .photo img")?.naturalWidth === 1600`)
	p.Fill("#finding-seen-F1", "burnt resistor by the rectifier")
	p.Give(`#photo-add-file-F1`, camera(t, 200))
	p.Wait(`document.querySelectorAll("#finding-F1 .photo img").length === 2`)
	p.Touch(`#finding-F1 .photo`)
	p.Wait(`document.querySelector("#photo-dialog img")?.naturalWidth === 1600`)
	p.Pressed(`#photo-dialog .chip[value="during"]`)
	p.Fill("#photo-say", "before anything was moved")
	p.Accessible("a photo, large, tall")
	p.Shot("photo-large")
	p.Touch(`#photo-dialog [data-act="dialog-close"]`)
	p.Wait(`document.querySelector("#photo-dialog") === null`)
	p.Sees("#finding-F1 .photos", "During", "Before")
	p.Accessible("photos of a finding, tall")
	p.Shot("photos-finding")
	p.Kept()
	p.Reload()
	p.BenchPart("findings")
	p.Touch(`[data-act="finding-open"][data-id="F1"]`)
	p.Wait(`document.querySelectorAll("#finding-F1 .photo img").length === 2`)

	p.Turn("papers")
	p.Shot("backup")
	packed := p.Downloaded(`[data-act="backup"]`, "bench-"+time.Now().Format(time.DateOnly)+".zip")
	want, err := record.ReadBundle(packed)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(packed, []byte("SECRET")) {
		t.Error("what the camera wrote is in the backup")
	}
	zip := filepath.Join(tempDir(t), "bench.zip")
	if err := os.WriteFile(zip, packed, 0o600); err != nil {
		t.Fatal(err)
	}
	p.Give(`[data-act="backup-check"]`, zip)
	p.Sees(".toast", "is whole", "2 photos", "everything that is here")

	q := Start(t, Landscape)
	q.Kept()
	q.Turn("papers")
	q.Give(`[data-act="open-file"]`, zip)
	q.Sees(".toast", "taken in", "2 jobs", "2 photos")
	q.Kept()
	q.Reload()
	q.Turn("papers")
	got, err := record.ReadBundle(q.Downloaded(`[data-act="backup"]`, "bench-"+time.Now().Format(time.DateOnly)+".zip"))
	if err != nil {
		t.Fatal(err)
	}
	if a, b := filesOf(got), filesOf(want); a != b {
		t.Errorf("came back as\n%s\nwant\n%s", a, b)
	}
}

// filesOf lists a bundle's files with their content's length and fingerprint.
func filesOf(b record.Bundle) string {
	var out strings.Builder
	for _, f := range b.Files {
		out.WriteString(f.Name + " " + record.BodyHash("", f.Data) + "\n")
	}
	return out.String()
}
