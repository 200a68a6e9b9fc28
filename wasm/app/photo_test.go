package app

import (
	"bytes"
	"image"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"lugworth/core/record"
	"lugworth/wasm/port"
)

func jpegFile(t testing.TB, side int) []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, side, side)), nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func effectsOf[T port.Effect](effects []port.Effect) []T {
	var out []T
	for _, e := range effects {
		if x, ok := e.(T); ok {
			out = append(out, x)
		}
	}
	return out
}

// A photo makes a rough finding in one go: its bytes are written before the
// record that names them, and nothing the camera wrote beside it is kept.
func TestAPhotoMakesAFinding(t *testing.T) {
	b := empty(t)
	open := effectsOf[port.OpenFile](b.press("photo-add", "", "", "camera"))
	if len(open) != 1 || !open[0].Camera || open[0].ShrinkTo != photoSide {
		t.Fatalf("asks for %+v", open)
	}
	raw := jpegFile(t, 8)
	marked := append([]byte{0xff, 0xd8, 0xff, 0xfe, 0, 8}, append([]byte("SECRET"), raw[2:]...)...)
	effects := b.send(port.FileOpened{Fresh: b.fresh(), For: open[0].For, Files: []port.File{{Name: "a.jpg", Bytes: marked}}})
	blobs, saved := effectsOf[port.SaveBlob](effects), effectsOf[port.SaveRecords](effects)
	if len(blobs) != 1 || len(saved) != 1 || blobs[0].Tag >= saved[0].Tag || bytes.Contains(blobs[0].Bytes, []byte("SECRET")) {
		t.Fatalf("%d blobs, %d saves", len(blobs), len(saved))
	}
	j := b.m.Open.Job
	if len(j.Findings) != 1 || len(j.Photos) != 1 || j.Photos[0].Finding != j.Findings[0].ID || j.Photos[0].Step != "before" || j.Photos[0].ID != blobs[0].Name {
		t.Fatalf("findings %+v photos %+v", j.Findings, j.Photos)
	}
	// It is shown once it is on the disk, and asked for once.
	if n := len(effectsOf[port.LoadBlob](effects)); n != 0 {
		t.Errorf("asked for before it was saved")
	}
	ask := effectsOf[port.LoadBlob](b.send(port.Saved{Tag: saved[0].Tag}))
	if len(ask) != 1 || ask[0].Name != blobs[0].Name {
		t.Fatalf("asks for %+v", ask)
	}
	b.send(port.BlobLoaded{Name: ask[0].Name, Bytes: blobs[0].Bytes, URL: "blob:x"})
	if b.m.Photos.Shown[ask[0].Name] != "blob:x" {
		t.Error("not shown")
	}
	if again := effectsOf[port.LoadBlob](b.press("finding-open", j.Findings[0].ID, "", "")); len(again) != 0 {
		t.Error("asked for twice")
	}
	// One press takes both back, the bytes stay for doing it again.
	b.press("undo", "", "", "")
	if len(b.m.Open.Job.Photos) != 0 || len(b.m.Open.Job.Findings) != 0 {
		t.Error("undo left something")
	}
	b.press("redo", "", "", "")
	if len(b.m.Open.Job.Photos) != 1 {
		t.Error("redo brought nothing back")
	}
	b.send(port.FileOpened{Fresh: b.fresh(), For: "photo:F1:after", Files: []port.File{{Name: "a.gif", Bytes: []byte("GIF89a")}}})
	if n := len(b.m.Screen.Problems); n != 1 || !strings.Contains(b.m.Screen.Problems[0], "a.gif: this is no JPEG") {
		t.Errorf("says %v", b.m.Screen.Problems)
	}
}

// withPhotos is a whole job with photos on the disk.
func withPhotos(t *testing.T, n int) (*bench, map[string][]byte) {
	b := atBench(t, "drover")
	disk := map[string][]byte{}
	var files []port.File
	for i := range n {
		files = append(files, port.File{Name: "p.jpg", Bytes: jpegFile(t, 8+8*i)})
	}
	var last int64
	for _, e := range b.send(port.FileOpened{Fresh: b.fresh(), For: "photo:A2:before", Files: files}) {
		switch e := e.(type) {
		case port.SaveBlob:
			disk[e.Name] = e.Bytes
		case port.SaveRecords:
			last = e.Tag
		}
	}
	b.send(port.Saved{Tag: last})
	return b, disk
}

// backup presses the button and answers from the disk until the file is
// written.
func (b *bench) backup(disk map[string][]byte) []byte {
	b.t.Helper()
	effects := b.press("backup", "", "", "")
	for range 100 {
		if w := effectsOf[port.WriteFile](effects); len(w) == 1 {
			return w[0].File.Bytes
		}
		ask := effectsOf[port.LoadBlob](effects)
		if len(ask) != 1 {
			b.t.Fatalf("neither writes nor asks: %v %v", effects, b.m.Screen.Problems)
		}
		effects = b.send(port.BlobLoaded{Name: ask[0].Name, Bytes: disk[ask[0].Name]})
	}
	b.t.Fatal("no end")
	return nil
}

// Forty photos and a whole job go out in one file, and come back on an empty
// browser byte for byte: backed up again, every file is the same.
func TestBackupComesBackAsItWas(t *testing.T) {
	b, disk := withPhotos(t, 40)
	packed := b.backup(disk)
	if b.m.Screen.Changes != 0 || b.m.Screen.CopyAt == "" {
		t.Error("the badge does not know of the backup")
	}
	want, err := record.ReadBundle(packed)
	if err != nil {
		t.Fatal(err)
	}
	fresh := started(t)
	effects := fresh.send(port.FileOpened{Fresh: fresh.fresh(), For: "any", Files: []port.File{{Name: "bench.zip", Bytes: packed}}})
	if len(fresh.m.Screen.Problems) > 0 {
		t.Fatal(fresh.m.Screen.Problems)
	}
	if len(effectsOf[port.NewDevice](effects)) != 1 || len(effectsOf[port.DropJob](effects)) != 1 {
		t.Error("the device keeps its name, or the demo stays")
	}
	disk2 := map[string][]byte{}
	var last int64
	for _, e := range effects {
		switch e := e.(type) {
		case port.SaveBlob:
			disk2[e.Name] = e.Bytes
			last = max(last, e.Tag)
		case port.SaveRecords:
			last = max(last, e.Tag)
		}
	}
	fresh.send(port.Saved{Tag: last})
	if fresh.m.Open == nil || len(fresh.m.PhotosOf("A2")) != 40 || len(disk2) != 40 {
		t.Fatalf("%d photos in the job, %d on the disk", len(fresh.m.PhotosOf("A2")), len(disk2))
	}
	got, err := record.ReadBundle(fresh.backup(disk2))
	if err != nil {
		t.Fatal(err)
	}
	compare(t, got, want)
}

func compare(t *testing.T, got, want record.Bundle) {
	t.Helper()
	have := map[string][]byte{}
	for _, f := range got.Files {
		have[f.Name] = f.Data
	}
	for _, f := range want.Files {
		if !bytes.Equal(have[f.Name], f.Data) {
			t.Errorf("%s: %d bytes, want %d", f.Name, len(have[f.Name]), len(f.Data))
		}
	}
	if len(got.Files) != len(want.Files) {
		t.Errorf("%d files, want %d", len(got.Files), len(want.Files))
	}
}

// A backup is held against what is here; damage is named; taking in one's own
// backup again changes nothing.
func TestBackupChecked(t *testing.T) {
	b, disk := withPhotos(t, 2)
	packed := b.backup(disk)
	check := func(data []byte) string {
		b.m.Screen.Toast, b.m.Screen.Problems = Toast{}, nil
		b.send(port.FileOpened{Fresh: b.fresh(), For: "backup-check", Files: []port.File{{Name: "bench.zip", Bytes: data}}})
		return b.m.Screen.Toast.Say + strings.Join(b.m.Screen.Problems, "; ")
	}
	if say := check(packed); !strings.Contains(say, "is whole: 2 jobs") || !strings.Contains(say, "2 photos") || !strings.Contains(say, "everything that is here") {
		t.Error(say)
	}
	b.press("finding-new", "", "", "")
	if say := check(packed); !strings.Contains(say, "One thing here is newer") {
		t.Error(say)
	}
	bad := bytes.Clone(packed)
	for _, photo := range disk {
		bad[bytes.Index(bad, photo)+len(photo)/2] ^= 1
		break
	}
	if say := check(bad); !strings.Contains(say, "blobs/") {
		t.Error(say)
	}
	before := b.m.Open.Log.File().Write()
	records := len(b.m.Open.Job.Findings)
	b.send(port.FileOpened{Fresh: b.fresh(), For: "any", Files: []port.File{{Name: "bench.zip", Bytes: packed}}})
	if len(b.m.Jobs) != 2 {
		t.Errorf("%d jobs", len(b.m.Jobs))
	}
	b.openJob() // the job with the new finding
	if !bytes.Equal(b.m.Open.Log.File().Write(), before) || len(b.m.Open.Job.Findings) != records {
		t.Error("taking one's own backup in changed the job")
	}
}

// openJob opens the job that is not the demo.
func (b *bench) openJob() {
	for _, h := range b.m.Jobs {
		if len(h.kept.Snapshot) > 0 || len(h.kept.Journal) > 0 {
			b.press("job-open", h.ID, "", "")
			if len(b.m.Open.Job.Photos) > 0 {
				return
			}
		}
	}
	b.t.Fatal("no job with photos")
}

func TestPNGIsTakenToo(t *testing.T) {
	b := empty(t)
	var p bytes.Buffer
	png.Encode(&p, image.NewGray(image.Rect(0, 0, 4, 4)))
	b.send(port.FileOpened{Fresh: b.fresh(), For: "photo::during", Files: []port.File{{Name: "a.png", Bytes: p.Bytes()}}})
	if ps := b.m.Open.Job.Photos; len(ps) != 1 || ps[0].Mime != "image/png" || ps[0].Step != "during" {
		t.Errorf("%+v", ps)
	}
}

func TestShareLeavesTheOwnerOut(t *testing.T) {
	b := atBench(t, "drover")
	b.send(port.Changed{Where: port.Where{Act: "set", K: "owner/name"}, Fresh: b.fresh(), Value: "Ilse Varnholt"})
	w := effectsOf[port.WriteFile](b.press("share", "", "", ""))
	if len(w) != 1 || strings.Contains(string(w[0].File.Bytes), "Varnholt") || !strings.Contains(b.m.Screen.Toast.Say, "read it before you send it") {
		t.Errorf("%d files, says %q", len(w), b.m.Screen.Toast.Say)
	}
}

// A backup says what it cannot hold; a job of a name that is taken gets a free
// one; what was done here since the last backup stays counted when a backup is
// taken in beside it.
func TestBackupSaysWhatItLacks(t *testing.T) {
	b, disk := withPhotos(t, 2)
	packed := b.backup(disk)
	if len(b.m.Screen.Problems) > 0 {
		t.Fatal(b.m.Screen.Problems)
	}
	b.m.Photos.Kept = b.m.Photos.Kept[:1]
	b.backup(disk)
	if says := strings.Join(b.m.Screen.Problems, "; "); !strings.Contains(says, "1 of its photos are not on this device, and not in the backup") {
		t.Errorf("says %q", says)
	}
	b.press("finding-new", "", "", "")
	changes := b.m.Screen.Changes
	b.send(port.FileOpened{Fresh: b.fresh(), For: "any", Files: []port.File{{Name: "bench.zip", Bytes: packed}}})
	if changes == 0 || b.m.Screen.Changes < changes {
		t.Errorf("%d entries since the last backup, %d after one was taken in", changes, b.m.Screen.Changes)
	}
	taken := b.m.Jobs[0].ID
	for range 2 {
		id := b.m.freeJob(taken)
		if b.m.head(id) != nil {
			t.Fatalf("%s is taken", id)
		}
		b.m.Jobs = append(b.m.Jobs, Head{ID: id})
	}
}
