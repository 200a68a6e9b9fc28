package app

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strings"

	"lugworth/catalogs"
	"lugworth/core/job"
	"lugworth/core/record"
	"lugworth/wasm/port"
)

// A Backup is everything on this device on its way into one file: the photos
// come from the store one by one.
type Backup struct {
	Busy  bool
	Total int // photos
	left  []string
	got   []record.BundleFile
	fresh port.Fresh
}

// Done is how many photos are in already.
func (b Backup) Done() int { return b.Total - len(b.left) }

func init() {
	pressed["backup"] = func(m *Model, e event) []port.Effect { return m.backUp(e) }
	// share hands out the amp and its findings without whose it is.
	pressed["share"] = func(m *Model, e event) []port.Effect {
		if m.Open == nil {
			return nil
		}
		m.Screen.Toast = Toast{Say: "Names, addresses, numbers, prices and photos are left out. Words typed elsewhere are as they are: read it before you send it."}
		return []port.Effect{port.WriteFile{File: port.File{Name: "shared-amp.job.json", Mime: "application/json", Bytes: job.Shareable(m.Open.State)}}}
	}
	pressed["backup-stop"] = func(m *Model, e event) []port.Effect { m.Screen.Backup = Backup{}; return nil }
	pressed["backup-check"] = func(m *Model, e event) []port.Effect {
		return []port.Effect{port.OpenFile{For: "backup-check", Accept: ".zip"}}
	}
}

// backUp starts a backup of everything on this device.
func (m *Model) backUp(e event) []port.Effect {
	if m.Screen.Backup.Busy {
		return nil
	}
	m.park()
	names := append(slices.Clone(m.Photos.Kept), freshNames(m.Photos.fresh)...)
	slices.Sort(names)
	names = slices.Compact(names)
	m.Screen.Backup = Backup{Busy: true, Total: len(names), left: names, fresh: e.Fresh}
	if len(names) == 0 {
		return m.packUp()
	}
	return []port.Effect{port.LoadBlob{Name: names[0]}}
}

func freshNames(of map[string]int64) []string {
	var out []string
	for n := range of {
		out = append(out, n)
	}
	return out
}

// gather takes a photo the backup waits for, and asks for the next.
func (m *Model) gather(b port.BlobLoaded) []port.Effect {
	k := &m.Screen.Backup
	if !k.Busy || len(k.left) == 0 || k.left[0] != b.Name {
		return nil
	}
	if b.Bytes == nil {
		m.Screen.Problems = append(m.Screen.Problems, "photo "+b.Name[:min(8, len(b.Name))]+": not found in this browser's store; the backup is made without it")
	} else {
		k.got = append(k.got, record.BundleFile{Name: "blobs/" + b.Name, Data: b.Bytes})
	}
	if k.left = k.left[1:]; len(k.left) > 0 {
		return []port.Effect{port.LoadBlob{Name: k.left[0]}}
	}
	return m.packUp()
}

// packUp writes the backup once all photos are there.
func (m *Model) packUp() []port.Effect {
	k := m.Screen.Backup
	m.Screen.Backup = Backup{}
	b := record.Bundle{At: k.fresh.At, Device: m.Device, Files: append(m.held(), k.got...)}
	packed, err := b.Write()
	if err != nil {
		m.Screen.Problems = append(m.Screen.Problems, err.Error())
		return nil
	}
	m.Screen.CopyAt, m.Screen.Changes = k.fresh.At, 0
	m.Screen.Toast = Toast{Say: "Backup written and read back: " + bundleSays(b)}
	m.Screen.Problems = append(m.Screen.Problems, m.lacking(b)...)
	name := "bench-" + k.fresh.Date + ".zip"
	return append([]port.Effect{port.WriteFile{File: port.File{Name: name, Mime: "application/zip", Bytes: packed}}}, m.keepScreen()...)
}

// held is everything on this device but the photos, as files of a backup.
func (m *Model) held() []record.BundleFile {
	var out []record.BundleFile
	for _, h := range m.Jobs {
		data := h.kept.Snapshot
		if m.Open != nil && m.Open.ID == h.ID {
			data = m.Open.Log.File().Write()
		} else if len(h.kept.Journal) > 0 || data == nil {
			f, _ := record.Replay(h.kept.Snapshot, h.kept.Journal)
			data = f.Write()
		}
		out = append(out, record.BundleFile{Name: "jobs/" + h.ID + ".job.json", Data: data})
	}
	if m.Shop.Demo {
		return out
	}
	for _, f := range m.Shop.Files {
		name, isList := job.ListName(f.Name)
		if !isList {
			out = append(out, record.BundleFile{Name: "shop/" + f.Name, Data: f.Data})
			continue
		}
		out = append(out, record.BundleFile{Name: "lists/" + name + ".csv", Data: f.Data})
		if meta := m.list(name).Remembered.write(); meta != "" {
			out = append(out, record.BundleFile{Name: "lists/" + name + ".meta", Data: []byte(meta)})
		}
	}
	return out
}

// lacking says what a backup made here cannot hold: photos that jobs name and
// this device has not, and records that cannot be read.
func (m *Model) lacking(b record.Bundle) []string {
	var says []string
	have := map[string]bool{}
	for _, f := range b.Files {
		have[f.Name] = true
	}
	for _, h := range m.Jobs {
		f, notices := record.Replay(h.kept.Snapshot, h.kept.Journal)
		for _, n := range notices {
			says = append(says, "backup, job "+orText(h.Number, h.ID)+": "+n.Say)
		}
		missing := 0
		for _, id := range record.Fold(f.Records, job.FoldKinds...).IDs(job.KindPhoto) {
			if !have["blobs/"+id] {
				missing++
			}
		}
		if missing > 0 {
			says = append(says, fmt.Sprintf("backup, job %s: %d of its photos are not on this device, and not in the backup", orText(h.Number, h.ID), missing))
		}
	}
	return says
}

// bundleSays counts what a backup holds: "2 jobs, 3 price lists, 40 photos".
func bundleSays(b record.Bundle) string {
	n := map[string]int{}
	for _, f := range b.Files {
		folder, rest, _ := strings.Cut(f.Name, "/")
		if !strings.HasSuffix(rest, ".meta") {
			n[folder]++
		}
	}
	var says []string
	for _, c := range []struct{ folder, one string }{{"jobs", "job"}, {"shop", "book of the shop"}, {"lists", "price list"}, {"blobs", "photo"}} {
		switch k := n[c.folder]; {
		case k == 1:
			says = append(says, "1 "+c.one)
		case k > 1:
			says = append(says, fmt.Sprintf("%d %ss", k, strings.Replace(c.one, "book of the shop", "shop book", 1)))
		}
	}
	if len(says) == 0 {
		return "nothing"
	}
	return strings.Join(says, ", ")
}

// checkBackup holds a backup against what is on this device.
func (m *Model) checkBackup(o port.FileOpened) []port.Effect {
	for _, f := range o.Files {
		b, err := record.ReadBundle(f.Bytes)
		if err != nil {
			m.tellAll(f.Name, err)
			continue
		}
		m.Screen.Toast = Toast{Say: f.Name + " of " + b.At[:min(10, len(b.At))] + " is whole: " + bundleSays(b) + ". " + m.behind(b)}
	}
	return nil
}

// behind says how far a backup is behind this device.
func (m *Model) behind(b record.Bundle) string {
	m.park()
	have := map[string][]byte{}
	for _, f := range b.Files {
		have[f.Name] = f.Data
	}
	missing := 0
	for _, f := range m.held() {
		if data, ok := have[f.Name]; !ok || !bytes.Equal(data, f.Data) {
			missing++
		}
	}
	for _, p := range m.Photos.Kept {
		if _, ok := have["blobs/"+p]; !ok {
			missing++
		}
	}
	switch missing {
	case 0:
		return "It holds everything that is here."
	case 1:
		return "One thing here is newer or not in it."
	}
	return fmt.Sprintf("%d things here are newer or not in it.", missing)
}

// tellAll shows each line of an error apart.
func (m *Model) tellAll(name string, err error) {
	for _, line := range strings.Split(err.Error(), "\n") {
		m.Screen.Problems = append(m.Screen.Problems, name+": "+line)
	}
}

// restore takes a backup in. On a device where nothing was done yet
// everything comes back as it was; elsewhere jobs are merged or added, photos
// added, and the shop's own books stay.
func (m *Model) restore(f port.Fresh, name string, data []byte) ([]port.Effect, string, bool) {
	b, err := record.ReadBundle(data)
	if err != nil {
		m.tellAll(name, err)
	}
	if len(b.Files) == 0 {
		return nil, "", false
	}
	var effects []port.Effect
	unused := m.unused()
	if unused {
		effects = m.clearOut()
	}
	books := m.Shop.Demo
	for i, file := range b.Files {
		fresh := f
		fresh.NewID, fresh.Salt = fmt.Sprintf("%s-b%d", f.NewID, i), salt(f.Salt, 20_000+i)
		effects = append(effects, m.restoreOne(fresh, file, books)...)
	}
	if unused {
		effects = append(effects, port.NewDevice{})
	}
	if unused {
		m.Screen.Changes = 0
	}
	if m.Open == nil && len(m.Jobs) > 0 {
		effects = append(effects, m.openKept(m.Jobs[len(m.Jobs)-1].ID)...)
	}
	return effects, "backup of " + b.At[:min(10, len(b.At))] + " taken in: " + bundleSays(b), books
}

// unused reports whether nothing was done on this device yet: only the demo
// is there, as it came.
func (m *Model) unused() bool {
	if !m.Shop.Demo || m.Screen.CopyAt != "" || len(m.Photos.Kept) > 0 || len(m.Jobs) > 1 {
		return false
	}
	if len(m.Jobs) == 0 {
		return true
	}
	demo, err := record.Read(catalogs.Demo)
	if err != nil || m.Open == nil || m.Open.ID != m.Jobs[0].ID {
		return false
	}
	made := m.Open.Log.File().Records
	for i, r := range made {
		if i < len(demo.Records) && (r.Kind != demo.Records[i].Kind || string(r.Body) != string(demo.Records[i].Body)) || i >= len(demo.Records) && r.Kind != job.KindOffer {
			return false
		}
	}
	return len(made) >= len(demo.Records)
}

// clearOut takes the demo away.
func (m *Model) clearOut() []port.Effect {
	var effects []port.Effect
	for _, h := range m.Jobs {
		m.tag++
		effects = append(effects, port.DropJob{Tag: m.tag, Job: h.ID})
	}
	m.Jobs, m.Open = nil, nil
	return effects
}

func (m *Model) restoreOne(f port.Fresh, file record.BundleFile, books bool) []port.Effect {
	folder, rest, _ := strings.Cut(file.Name, "/")
	switch folder {
	case "jobs":
		return m.restoreJob(strings.TrimSuffix(rest, ".job.json"), file)
	case "blobs":
		return m.restorePhoto(rest, file.Data)
	case "shop":
		return m.restoreBook(rest, file.Data, books)
	case "lists":
		if list, ok := strings.CutSuffix(rest, ".meta"); ok {
			if !books {
				return nil
			}
			m.recall(list, string(file.Data))
			return []port.Effect{m.saveList(list)}
		}
		return m.restoreBook("lists/"+rest, file.Data, books)
	}
	m.Screen.Problems = append(m.Screen.Problems, file.Name+": not known to this version, left in the backup")
	return nil
}

// restoreJob adds a job under the name it had, or merges it into the one it
// is a copy of.
func (m *Model) restoreJob(id string, file record.BundleFile) []port.Effect {
	got, err := record.Read(file.Data)
	if err != nil {
		m.tellAll(file.Name, err)
		return nil
	}
	if effects, _, ok := m.merge(got); ok {
		return effects
	}
	id = m.freeJob(id)
	m.Jobs = append(m.Jobs, headOf(port.Job{ID: id, Snapshot: got.Write()}))
	m.tag++
	m.Screen.Saving = true
	return []port.Effect{port.SaveRecords{Tag: m.tag, Job: id, Snapshot: got.Write()}}
}

// freeJob is the name of a job, with a number behind it where another has it.
func (m *Model) freeJob(id string) string {
	name := id
	for n := 2; m.head(name) != nil; n++ {
		name = fmt.Sprintf("%s-%d", id, n)
	}
	return name
}

var errPhotoName = errors.New("its name is not the fingerprint of its bytes: left out")

func (m *Model) restorePhoto(name string, data []byte) []port.Effect {
	if sum := sha256.Sum256(data); hex.EncodeToString(sum[:]) != name {
		m.tellAll("blobs/"+name, errPhotoName)
		return nil
	}
	if slices.Contains(m.Photos.Kept, name) {
		return nil
	}
	return []port.Effect{m.saveBlob(name, mimeOf(data), data)}
}

func mimeOf(data []byte) string {
	switch {
	case bytes.HasPrefix(data, []byte("\x89PNG")):
		return "image/png"
	case bytes.HasPrefix(data, []byte("RIFF")):
		return "image/webp"
	}
	return "image/jpeg"
}

// restoreBook takes a file of the shop where the shop had none of its own.
func (m *Model) restoreBook(name string, data []byte, take bool) []port.Effect {
	for _, f := range m.Shop.Files {
		if f.Name == name && bytes.Equal(f.Data, data) {
			return nil
		}
	}
	if !take {
		m.Screen.Problems = append(m.Screen.Problems, name+": this device has books of its own, which stay. To take the one of the backup, unpack it and open it.")
		return nil
	}
	return m.keepFile(name, data)
}
