package app

import (
	"strings"

	"lugworth/catalogs"
	"lugworth/core/job"
	"lugworth/core/record"
	"lugworth/core/tube"
	"lugworth/wasm/port"
)

func init() {
	pressed["posture"] = func(m *Model, e event) []port.Effect {
		m.Screen.Posture, m.Screen.Toast = e.ID, Toast{}
		m.closeDialog()
		return []port.Effect{port.SetHash{Hash: e.ID}}
	}
	pressed["jobs"] = func(m *Model, e event) []port.Effect { m.Screen.Dialog = "jobs"; return nil }
	pressed["dialog"] = func(m *Model, e event) []port.Effect {
		m.Screen.Dialog, m.Screen.Target = e.ID, e.K
		return nil
	}
	pressed["dialog-close"] = func(m *Model, e event) []port.Effect { m.closeDialog(); return nil }
	pressed["toast-close"] = func(m *Model, e event) []port.Effect { m.Screen.Toast = Toast{}; return nil }
	pressed["problems-close"] = func(m *Model, e event) []port.Effect { m.Screen.Problems = nil; return nil }
	pressed["why"] = func(m *Model, e event) []port.Effect {
		m.Screen.Dialog, m.Screen.Why = "why", e.K
		return nil
	}
	pressed["undo"] = func(m *Model, e event) []port.Effect { return m.undo(e.Fresh) }
	pressed["redo"] = func(m *Model, e event) []port.Effect { return m.redo(e.Fresh) }
	pressed["update"] = func(m *Model, e event) []port.Effect { return []port.Effect{port.TakeUpdate{}} }
	pressed["retry"] = func(m *Model, e event) []port.Effect { return []port.Effect{port.RetrySave{}} }
	pressed["persist"] = func(m *Model, e event) []port.Effect { return []port.Effect{port.AskPersist{}} }
	pressed["theme"] = func(m *Model, e event) []port.Effect { m.Screen.Theme = e.ID; return m.keepScreen() }
	pressed["job-new"] = func(m *Model, e event) []port.Effect { return m.newJob(e) }
	pressed["job-open"] = func(m *Model, e event) []port.Effect { return m.openKept(e.ID) }
	pressed["copy"] = func(m *Model, e event) []port.Effect { return m.writeCopy(e) }
	pressed["open-file"] = func(m *Model, e event) []port.Effect {
		return []port.Effect{port.OpenFile{For: "any", Accept: ".csv,.txt,.json,.txtar,.zip", Several: true}}
	}
}

var shipped []tube.Card

// builtin returns the cards shipped with the program, read once.
func builtin() []tube.Card {
	if shipped == nil {
		shipped, _ = tube.ReadCards("cards.csv", catalogs.Cards)
	}
	return shipped
}

// load takes everything kept on this device. At the very first start it opens
// the demo job with the sample books.
func (m *Model) load(l port.Loaded) []port.Effect {
	m.now(l.Fresh)
	m.Device, m.Loaded = l.Device, true
	if !l.Again { // a tab that follows has said so already
		m.Screen.Problems = append(m.Screen.Problems, l.Broken...)
	}
	if l.Restored != "" {
		m.Screen.Problems = append(m.Screen.Problems, l.Restored)
	}
	open := ""
	if m.Open != nil {
		open = m.Open.ID
	}
	m.Shop.Files, m.Shop.Lists, m.Jobs = nil, nil, nil
	m.Photos = Photos{Kept: l.Blobs}
	for _, b := range l.Books {
		if b.Name == screenBook {
			last := m.readScreen(b.Bytes)
			if open == "" {
				open = last
			}
			continue
		}
		m.Shop.Files = append(m.Shop.Files, job.File{Name: b.Name, Data: b.Bytes})
	}
	for _, p := range l.Lists {
		m.Shop.Files = append(m.Shop.Files, job.File{Name: "lists/" + p.Name + ".csv", Data: p.Bytes})
		m.recall(p.Name, p.Meta)
	}
	reading := m.openShop()
	for _, j := range l.Jobs {
		m.Jobs = append(m.Jobs, headOf(j))
	}
	m.route(l.Hash)
	if len(m.Jobs) == 0 {
		return append(m.demo(l.Fresh), reading...)
	}
	if open == "" || m.head(open) == nil {
		open = m.Jobs[len(m.Jobs)-1].ID
	}
	return append(m.openKept(open), reading...)
}

func headOf(j port.Job) Head {
	f, _ := record.Replay(j.Snapshot, j.Journal)
	folded := job.Read(f)
	return Head{ID: j.ID, Number: folded.Number, Title: title(folded), kept: j}
}

func title(j *job.Job) string {
	if t := strings.TrimSpace(j.Amp.Maker + " " + j.Amp.Model); t != "" {
		return t
	}
	return j.Title
}

func (m *Model) head(id string) *Head {
	for i := range m.Jobs {
		if m.Jobs[i].ID == id {
			return &m.Jobs[i]
		}
	}
	return nil
}

// openKept opens a job from what is kept here.
func (m *Model) openKept(id string) []port.Effect {
	h := m.head(id)
	if h == nil {
		return nil
	}
	m.park()
	f, notices := record.Replay(h.kept.Snapshot, h.kept.Journal)
	m.openFile(id, f)
	m.Open.Notices = notices
	m.Open.entries = len(h.kept.Journal)
	for _, n := range notices {
		m.Screen.Problems = append(m.Screen.Problems, n.Say)
	}
	return m.keepScreen()
}

// park puts the open job's records back among the kept ones.
func (m *Model) park() {
	if m.Open == nil {
		return
	}
	if h := m.head(m.Open.ID); h != nil {
		h.kept = port.Job{ID: m.Open.ID, Snapshot: m.Open.Log.File().Write()}
	}
}

func (m *Model) openFile(id string, f record.File) {
	m.Open = &Open{ID: id, Log: record.NewLog(f), State: record.Fold(f.Records, job.FoldKinds...)}
	m.Open.undo = undoable(f.Records, m.Open.State, m.Device)
	m.Screen.Finding, m.Screen.Option, m.Screen.Part, m.Screen.Buying = "", "", 0, Buying{}
	m.Screen.Drafts = map[string]string{}
	m.closeDialog()
	m.refold()
	m.openBench()
}

// keep adds a whole file as a job of this device and opens it.
func (m *Model) keep(id string, f record.File) []port.Effect {
	m.park()
	m.Jobs = append(m.Jobs, Head{ID: id, kept: port.Job{ID: id, Snapshot: f.Write()}})
	m.openFile(id, f)
	m.tag++
	m.Screen.Saving = true
	return append([]port.Effect{port.SaveRecords{Tag: m.tag, Job: id, Snapshot: f.Write()}}, m.keepScreen()...)
}

// demo opens the invented job the program ships with.
func (m *Model) demo(f port.Fresh) []port.Effect {
	file, err := record.Read(catalogs.Demo)
	if err != nil {
		m.Screen.Problems = append(m.Screen.Problems, "demo job: "+err.Error())
		return nil
	}
	effects := m.adopt(f, file)
	if m.Open == nil {
		return effects
	}
	// The sample lists go when the first list of the shop's own is brought.
	return append(effects, m.carryNow(f)...)
}

// adopt gives a hand-written file a chain of this device and keeps it.
func (m *Model) adopt(f port.Fresh, file record.File) []port.Effect {
	if file.NoChain {
		salts := make([]string, len(file.Records))
		for i := range salts {
			salts[i] = salt(f.Salt, i+1)
		}
		adopted, err := record.Adopt(file, m.Device, f.At, salts)
		if err != nil {
			m.Screen.Problems = append(m.Screen.Problems, err.Error())
			return nil
		}
		file = adopted
	}
	return m.keep(f.NewID, file)
}

// newJob starts an empty job.
func (m *Model) newJob(e event) []port.Effect {
	log := record.NewLog(record.File{Format: record.Format})
	number := "J-" + strings.ReplaceAll(e.Date, "-", "") + "-" + lastOf(e.NewID, 3)
	if _, err := log.Append(job.KindJob, map[string]any{"number": number}, meta(e.Fresh, m.Device, 1)); err != nil {
		m.Screen.Problems = append(m.Screen.Problems, err.Error())
		return nil
	}
	m.Screen.Posture = "bench"
	return append(m.keep(e.NewID, log.File()), port.SetHash{Hash: "bench"})
}

func lastOf(s string, n int) string { return strings.ToUpper(s[max(0, len(s)-n):]) }

// writeCopy hands the person the job file, with the books it rests on.
func (m *Model) writeCopy(e event) []port.Effect {
	if m.Open == nil {
		return nil
	}
	effects := m.commit(e.Fresh, "", m.bookChanges()...)
	name := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(m.Open.Job.Number+" "+m.Open.Job.Amp.Model), " ", "-")) + ".job.json"
	effects = append(effects, port.WriteFile{File: port.File{Name: name, Mime: "application/json", Bytes: m.Open.Log.File().Write()}})
	return append(effects, m.keepScreen()...)
}

// bookChanges copies sheet, cards and terms into the job where it does not
// carry them as they are now.
func (m *Model) bookChanges() []change {
	var out []change
	for _, f := range m.shopFiles() {
		if f.Name != "shop.csv" && f.Name != "cards.csv" && f.Name != "terms.csv" {
			continue
		}
		text := strings.ToValidUTF8(string(f.Data), "\uFFFD")
		if carried(m.Open.Job, f.Name) != text {
			out = append(out, set(job.KindBook, f.Name, map[string]any{"text": text}))
		}
	}
	return out
}

func carried(j *job.Job, name string) string {
	for _, b := range j.Books {
		if b.ID == name {
			return b.Text
		}
	}
	return ""
}
