package app

import (
	"encoding/json"
	"fmt"
	"strings"

	"lugworth/catalogs"
	"lugworth/core/amp"
	"lugworth/core/job"
	"lugworth/core/record"
	"lugworth/core/unit"
	"lugworth/wasm/port"
)

// Samples are the shop's files of an invented shop, in force until the first
// file of the technician's own is brought.
func Samples() []job.File {
	var out []job.File
	for _, f := range catalogs.Shop() {
		out = append(out, job.File{Name: f.Name, Data: f.Data})
	}
	return out
}

// opened takes the files a person chose, each by what it is.
func (m *Model) opened(o port.FileOpened) []port.Effect {
	if m.ReadOnly() != "" {
		return nil
	}
	switch {
	case o.For == "backup-check":
		return m.checkBackup(o)
	case strings.HasPrefix(o.For, photoFile):
		return m.takePhotos(o)
	}
	if o.For == sheetFile {
		return m.openChosenSheet(o)
	}
	var effects []port.Effect
	shop := false
	var said []string
	m.Screen.Toast = Toast{}
	for i, f := range o.Files {
		fresh := o.Fresh
		if i > 0 {
			fresh.NewID, fresh.Salt = fmt.Sprintf("%s-%d", o.NewID, i), salt(o.Salt, 5000+i)
		}
		more, say, isShop := m.openOne(fresh, f)
		effects = append(effects, more...)
		shop = shop || isShop
		if say != "" {
			said = append(said, say)
		}
	}
	if shop {
		effects = append(effects, m.reopen(o.Fresh)...)
	}
	if len(said) > 0 {
		m.Screen.Toast.Say = strings.Join(said, " · ")
	}
	if len(o.Files) == 1 {
		m.asksAlone()
	}
	effects = append(effects, m.comingOn(o.Fresh)...)
	return effects
}

// carryNow copies rows that lists just brought make available.
func (m *Model) carryNow(f port.Fresh) []port.Effect {
	f.NewID, f.Salt = f.NewID+"-c", salt(f.Salt, 9000)
	made := m.carry(f)
	if len(made) == 0 {
		return nil
	}
	return []port.Effect{m.save(made)}
}

// openOne takes one file. isShop says that the shop's books changed.
func (m *Model) openOne(f port.Fresh, file port.File) (effects []port.Effect, say string, isShop bool) {
	base := file.Name[strings.LastIndexAny(file.Name, `/\`)+1:]
	lower := strings.ToLower(base)
	switch {
	case strings.HasSuffix(lower, ".json"):
		effects, say = m.openJobFile(f, base, file.Bytes)
		return effects, say, false
	case strings.HasSuffix(lower, ".zip"):
		return m.restore(f, base, file.Bytes)
	case strings.HasSuffix(lower, ".txtar"):
		return m.openArchive(f, base, file.Bytes)
	case lower == "sheet.csv":
		effects, say = m.openSheet(f, base, file.Bytes)
		return effects, say, false
	case lower == "readings.csv":
		effects, say = m.openReadings(f, base, file.Bytes)
		return effects, say, false
	case lower == "shop.csv", lower == "cards.csv", lower == "tasks.csv", lower == "terms.csv", lower == "profiles.csv", lower == "stock.csv", lower == job.PastName:
		return m.keepFile(lower, file.Bytes), base + " taken", true
	}
	name, ok := job.ListName(base)
	if !ok {
		m.Screen.Problems = append(m.Screen.Problems, base+": not a job file (.json), a backup (.zip), an archive (.txtar) or a CSV")
		return nil, "", false
	}
	return nil, m.bringList(name, file.Bytes), false
}

// keepFile puts a file of the shop in place of one of the same name.
func (m *Model) keepFile(name string, data []byte) []port.Effect {
	kept := false
	for i := range m.Shop.Files {
		if m.Shop.Files[i].Name == name {
			m.Shop.Files[i].Data, kept = data, true
		}
	}
	if !kept {
		m.Shop.Files = append(m.Shop.Files, job.File{Name: name, Data: data})
	}
	m.tag++
	m.Screen.Saving = true
	m.Screen.Changes++
	if list, ok := job.ListName(name); ok {
		l := m.list(list)
		l.Bytes, l.Fixes, l.Left = data, nil, false // fixes belong to the file that was there
		return []port.Effect{m.saveList(list)}
	}
	return []port.Effect{port.SaveBook{Tag: m.tag, Book: port.Book{Name: name, Bytes: data}}}
}

// openJobFile takes a job file: merged into the job it is a copy of, else
// kept as a job of its own.
func (m *Model) openJobFile(f port.Fresh, name string, data []byte) ([]port.Effect, string) {
	file, err := record.Read(data)
	if err != nil {
		m.Screen.Problems = append(m.Screen.Problems, name+": "+err.Error())
		return nil, ""
	}
	if !file.NoChain {
		if effects, say, ok := m.merge(file); ok {
			return effects, say
		}
	}
	return m.adopt(f, file), name + " opened"
}

// merge joins a file into the kept job that shares a record with it.
func (m *Model) merge(file record.File) ([]port.Effect, string, bool) {
	m.park()
	for _, h := range m.Jobs {
		mine, _ := record.Replay(h.kept.Snapshot, h.kept.Journal)
		if !shares(mine, file) {
			continue
		}
		both, notices := record.Merge(mine, file)
		m.openFile(h.ID, both)
		m.Open.Notices = notices
		m.tag++
		m.Screen.Saving = true
		say := fmt.Sprintf("merged: %d records here, %d in the file, %d together", len(mine.Records), len(file.Records), len(both.Records))
		return []port.Effect{port.SaveRecords{Tag: m.tag, Job: h.ID, Snapshot: both.Write()}}, say, true
	}
	return nil, "", false
}

func shares(a, b record.File) bool {
	have := map[string]bool{}
	for _, r := range a.Records {
		have[r.Hash()] = true
	}
	for _, r := range b.Records {
		if have[r.Hash()] {
			return true
		}
	}
	return false
}

// openArchive takes a text archive: a job with its sheet, chart and books.
func (m *Model) openArchive(f port.Fresh, name string, data []byte) ([]port.Effect, string, bool) {
	c, err := job.OpenCase(name, data, nil)
	if err != nil {
		m.Screen.Problems = append(m.Screen.Problems, err.Error())
		return nil, "", false
	}
	var effects []port.Effect
	for _, b := range c.Books {
		effects = append(effects, m.keepFile(b.Name, b.Data)...)
	}
	effects = append(effects, m.openShop()...)
	effects = append(effects, m.adopt(f, c.File)...)
	f.NewID, f.Salt = f.NewID+"-s", salt(f.Salt, 7000)
	if s := c.Sheet(); s != nil {
		more, _ := m.openSheet(f, s.Name, s.Data)
		effects = append(effects, more...)
	}
	f.NewID, f.Salt = f.NewID+"-r", salt(f.Salt, 8000)
	if s := c.Readings(); s != nil {
		more, _ := m.openReadings(f, s.Name, s.Data)
		effects = append(effects, more...)
	}
	return effects, name + " opened", true
}

// noJob says that a file belongs to a job and none is open.
func (m *Model) noJob(name string) ([]port.Effect, string) {
	m.Screen.Problems = append(m.Screen.Problems, name+": belongs to a job, and none is open. Start a new job first.")
	return nil, ""
}

// openSheet makes records of the positions of a circuit sheet.
func (m *Model) openSheet(f port.Fresh, name string, data []byte) ([]port.Effect, string) {
	if m.Open == nil {
		return m.noJob(name)
	}
	ps, problems := amp.ReadSheet(name, data)
	m.say(problems)
	var cs []change
	for _, p := range ps {
		cs = append(cs, m.whole(change{job.KindPosition, positionBody(p)}))
	}
	say := fmt.Sprintf("%d positions from %s", len(ps), name)
	if len(ps) == 1 {
		say = "1 position from " + name
	}
	return m.commit(f, say, cs...), say
}

// positionBody writes a position as the fields of a record.
func positionBody(p amp.Position) map[string]any {
	body := map[string]any{"id": p.Ref}
	for k, v := range amp.PositionFields(p) {
		body[k] = v
	}
	return body
}

// openReadings makes records of a chart.
func (m *Model) openReadings(f port.Fresh, name string, data []byte) ([]port.Effect, string) {
	if m.Open == nil {
		return m.noJob(name)
	}
	rs, problems := amp.ReadReadings(name, data)
	m.say(problems)
	n := m.nextReading()
	var cs []change
	for i, r := range rs {
		body := map[string]any{"id": fmt.Sprintf("r%d", n+i)}
		for k, v := range amp.ReadingFields(r) {
			body[k] = v
		}
		cs = append(cs, change{job.KindReading, body})
	}
	say := fmt.Sprintf("%d readings from %s", len(rs), name)
	return m.commit(f, say, cs...), say
}

func (m *Model) say(problems []unit.Problem) {
	for _, p := range problems {
		m.Screen.Problems = append(m.Screen.Problems, p.Error())
	}
}

// screenBook keeps what is only convenience: the last job, posture, theme.
const screenBook = "screen.json"

type screenKept struct {
	Job, Posture, Theme, CopyAt string
	Changes                     int
}

func (m *Model) keepScreen() []port.Effect {
	k := screenKept{Posture: m.Screen.Posture, Theme: m.Screen.Theme, CopyAt: m.Screen.CopyAt, Changes: m.Screen.Changes}
	if m.Open != nil {
		k.Job = m.Open.ID
	}
	data, err := json.Marshal(k)
	if err != nil || m.ReadOnly() != "" {
		return nil
	}
	m.tag++
	return []port.Effect{port.SaveBook{Tag: m.tag, Book: port.Book{Name: screenBook, Bytes: data}}}
}

// readScreen takes the kept convenience and returns the last job's ID.
func (m *Model) readScreen(data []byte) string {
	var k screenKept
	if json.Unmarshal(data, &k) != nil {
		return ""
	}
	m.Screen.Theme, m.Screen.CopyAt, m.Screen.Changes = k.Theme, k.CopyAt, k.Changes
	m.route(k.Posture)
	return k.Job
}
