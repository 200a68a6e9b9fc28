package app

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/finding"
	"lugworth/core/job"
	"lugworth/core/sorted"
	"lugworth/wasm/port"
)

// Photos are pictures kept on this device: their bytes in the store, by
// fingerprint; what they show in the job's records.
type Photos struct {
	Kept   []string          // on the disk, sorted
	Shown  map[string]string // by name: where the page finds the picture; "" asked for
	fresh  map[string]int64  // saved with that tag, not yet acknowledged
	Gone   map[string]bool   // asked for and not there
	latest string            // step last chosen
}

// photoSide is the longest side a photo is kept with, in pixels: enough to
// read the bands of a resistor, a few hundred kilobytes.
const photoSide = 1600

// photoFile begins the purpose of a chosen picture: "photo:A2:before".
const photoFile = "photo:"

func init() {
	// photo-add takes a picture of a finding: id names it, "" makes a new one;
	// k is the step, value "camera" or "file".
	pressed["photo-add"] = func(m *Model, e event) []port.Effect {
		if m.Open == nil || m.ReadOnly() != "" {
			return nil
		}
		step := e.K
		if step == "" {
			step = orText(m.Photos.latest, string(finding.Before))
		}
		return []port.Effect{port.OpenFile{For: photoFile + e.ID + ":" + step, Accept: "image/jpeg,image/png,image/webp", Several: e.Value != "camera", Camera: e.Value == "camera", ShrinkTo: photoSide}}
	}
	pressed["photo-step"] = func(m *Model, e event) []port.Effect {
		m.Photos.latest = e.Value
		return m.commit(e.Fresh, "", set(job.KindPhoto, e.ID, map[string]any{"step": e.Value}))
	}
	pressed["photo-open"] = func(m *Model, e event) []port.Effect {
		m.Screen.Dialog, m.Screen.Target = "photo", e.ID
		return nil
	}
	pressed["photo-remove"] = func(m *Model, e event) []port.Effect {
		m.closeDialog()
		return m.commit(e.Fresh, "photo taken out", set(job.KindPhoto, e.ID, map[string]any{"removed": true}))
	}
}

func orText(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// PhotosOf returns the photos of a finding in the order they were taken up.
func (m Model) PhotosOf(id string) []finding.Photo {
	var out []finding.Photo
	if m.Open == nil {
		return nil
	}
	for _, p := range m.Open.Job.Photos {
		if p.Finding == id {
			out = append(out, p)
		}
	}
	sorted.By(out, func(a, b finding.Photo) int { return strings.Compare(a.At, b.At) })
	return out
}

// takePhotos keeps pictures a person took or chose. What the camera wrote
// beside the picture is taken out before anything is kept.
func (m *Model) takePhotos(o port.FileOpened) []port.Effect {
	if m.Open == nil {
		return nil
	}
	id, step, _ := strings.Cut(strings.TrimPrefix(o.For, photoFile), ":")
	var effects, focus []port.Effect
	var changes []change
	for _, f := range o.Files {
		clean, mime, err := finding.CleanPhoto(f.Bytes)
		if err != nil {
			m.Screen.Problems = append(m.Screen.Problems, f.Name+": "+err.Error())
			continue
		}
		sum := sha256.Sum256(clean)
		name := hex.EncodeToString(sum[:])
		effects = append(effects, m.saveBlob(name, mime, clean))
		changes = append(changes, m.whole(change{job.KindPhoto, map[string]any{"id": name, "finding": id, "step": step, "mime": mime, "bytes": strconv.Itoa(len(clean)), "at": o.At}}))
	}
	if len(changes) == 0 {
		return effects
	}
	if id == "" {
		id = m.freeFinding()
		for i := range changes {
			changes[i].body["finding"] = id
		}
		changes = append([]change{set(job.KindFinding, id, map[string]any{"basis": "observed"})}, changes...)
		m.Screen.Finding = id
		focus = []port.Effect{port.FocusOn{ID: "finding-seen-" + id}}
	}
	m.Photos.latest = step
	say := "Photo kept with " + id
	if n := len(effects); n > 1 {
		say = strconv.Itoa(n) + " photos kept with " + id
	}
	return append(append(effects, m.commit(o.Fresh, say, changes...)...), focus...)
}

// saveBlob has the bytes of a picture written, before the record that names
// them.
func (m *Model) saveBlob(name, mime string, data []byte) port.Effect {
	m.tag++
	m.Screen.Saving = true
	if m.Photos.fresh == nil {
		m.Photos.fresh = map[string]int64{}
	}
	m.Photos.fresh[name] = m.tag
	delete(m.Photos.Gone, name)
	return port.SaveBlob{Tag: m.tag, Name: name, Mime: mime, Bytes: data}
}

// savedPhotos notes which pictures are on the disk now.
func (m *Model) savedPhotos(tag int64) {
	for name, t := range m.Photos.fresh {
		if t <= tag {
			delete(m.Photos.fresh, name)
			if !slices.Contains(m.Photos.Kept, name) {
				m.Photos.Kept = append(m.Photos.Kept, name)
			}
		}
	}
	slices.Sort(m.Photos.Kept)
}

// showPhotos asks for the pictures of the finding that is open.
func (m *Model) showPhotos() []port.Effect {
	if m.Open == nil || m.Screen.Finding == "" || m.Screen.Posture != "bench" || len(m.Open.Job.Photos) == 0 {
		return nil
	}
	var effects []port.Effect
	for _, p := range m.PhotosOf(m.Screen.Finding) {
		if _, asked := m.Photos.Shown[p.ID]; asked || m.Photos.Gone[p.ID] || !slices.Contains(m.Photos.Kept, p.ID) {
			continue
		}
		if m.Photos.Shown == nil {
			m.Photos.Shown = map[string]string{}
		}
		m.Photos.Shown[p.ID] = ""
		effects = append(effects, port.LoadBlob{Name: p.ID})
	}
	return effects
}

// blobLoaded takes the bytes of a picture: for the backup that waits for
// them, and to be shown.
func (m *Model) blobLoaded(b port.BlobLoaded) []port.Effect {
	if b.Bytes == nil {
		if m.Photos.Gone == nil {
			m.Photos.Gone = map[string]bool{}
		}
		m.Photos.Gone[b.Name] = true
		delete(m.Photos.Shown, b.Name)
	} else if _, asked := m.Photos.Shown[b.Name]; asked {
		m.Photos.Shown[b.Name] = b.URL
	}
	return m.gather(b)
}
