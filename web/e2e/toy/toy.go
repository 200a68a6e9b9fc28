// Package toy is a small app that uses everything the shell can do, so that
// the shell is tested without the real page.
package toy

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/wasm/port"
)

// Job is the one job the toy keeps.
const Job = "toy"

// Model is all that the toy knows.
type Model struct {
	Lines  []Line
	Tag    int64 // of the last effect that saves
	Saved  int64 // of the last one on the disk
	Say    string
	Tab    port.Tab
	Shell  port.Shell
	Device string
	Seed   uint64 // of the sample tree shown in place of all, 0 for none
	Dialog bool
	Usage  int64
	Photo  string
	// Since holds entries since the last snapshot.
	Since int
}

// Line is one row of the toy.
type Line struct{ ID, Text string }

// Update handles one message.
func Update(m Model, msg port.Msg) (Model, []port.Effect) {
	m.Lines = slices.Clone(m.Lines)
	switch msg := msg.(type) {
	case port.Loaded:
		return m.loaded(msg), nil
	case port.Saved:
		m.Saved = msg.Tag
	case port.SaveFailed:
		m.Say = msg.Say
	case port.Tab:
		m.Tab = msg
	case port.Shell:
		m.Shell = msg
	case port.Storage:
		m.Usage = msg.Usage
	case port.Typed:
		return m.put(msg.ID, msg.Value)
	case port.Changed:
		if msg.Act == "refuse" {
			m.Say = "refused " + fmt.Sprint(msg.Checked)
			return m, nil
		}
		return m.put(msg.ID, strings.TrimSpace(msg.Value))
	case port.Submitted:
		m.Say = msg.Act + " " + msg.Get("one") + " " + msg.Get("two")
	case port.Keyed:
		m.Say = "key " + msg.Key + " " + msg.Value
	case port.FileOpened:
		m.Say = fmt.Sprintf("opened %s %d", msg.Files[0].Name, len(msg.Files[0].Bytes))
		if msg.For == "photo" {
			return m.keepPhoto(msg.Files[0])
		}
	case port.BlobLoaded:
		m.Photo = msg.URL
	case port.Printed:
		m.Say = "printed"
	case port.Failed:
		m.Say = msg.Say
	case port.Elapsed:
		m.Say = "elapsed " + msg.Tag
	case port.Pressed:
		return m.pressed(msg)
	}
	return m, nil
}

func (m Model) loaded(msg port.Loaded) Model {
	m.Lines = nil
	m.Device = msg.Device
	for _, j := range msg.Jobs {
		for _, line := range strings.Split(string(j.Snapshot), "\n") {
			m = m.set(line)
		}
		for _, entry := range j.Journal {
			m = m.set(string(entry))
		}
	}
	if msg.Restored != "" {
		m.Say = msg.Restored
	}
	if len(msg.Broken) > 0 {
		m.Say = strings.Join(msg.Broken, " ")
	}
	return m
}

// set carries out one entry, "id=text".
func (m Model) set(entry string) Model {
	id, text, ok := strings.Cut(entry, "=")
	if !ok {
		return m
	}
	for i, l := range m.Lines {
		if l.ID == id {
			m.Lines[i].Text = text
			return m
		}
	}
	m.Lines = append(m.Lines, Line{id, text})
	return m
}

// put sets a line and keeps it; every fiftieth time as a snapshot.
func (m Model) put(id, text string) (Model, []port.Effect) {
	entry := id + "=" + text
	m = m.set(entry)
	m.Tag++
	m.Since++
	if m.Since < 50 {
		return m, []port.Effect{port.SaveRecords{Tag: m.Tag, Job: Job, Entries: [][]byte{[]byte(entry)}}}
	}
	m.Since = 0
	var all []string
	for _, l := range m.Lines {
		all = append(all, l.ID+"="+l.Text)
	}
	return m, []port.Effect{port.SaveRecords{Tag: m.Tag, Job: Job, Snapshot: []byte(strings.Join(all, "\n"))}}
}

func (m Model) keepPhoto(f port.File) (Model, []port.Effect) {
	m.Tag++
	return m, []port.Effect{
		port.SaveBlob{Tag: m.Tag, Name: "photo", Mime: f.Mime, Bytes: f.Bytes},
		port.After{Tag: "photo", Millis: 50},
	}
}

func (m Model) pressed(msg port.Pressed) (Model, []port.Effect) {
	switch msg.Act {
	case "add":
		m, effects := m.put(msg.NewID, "")
		return m, append(effects, port.FocusOn{ID: "line-" + msg.NewID + "--text"})
	case "turn":
		slices.Reverse(m.Lines)
	case "tree":
		fmt.Sscan(msg.ID, &m.Seed)
	case "open":
		return m, []port.Effect{port.OpenFile{For: "list", Accept: ".csv"}}
	case "photo":
		return m, []port.Effect{port.OpenFile{For: "photo", Accept: "image/*", ShrinkTo: 100}}
	case "show":
		return m, []port.Effect{port.LoadBlob{Name: "photo"}}
	case "write":
		return m, []port.Effect{port.WriteFile{File: port.File{Name: "toy.csv", Mime: "text/csv", Bytes: []byte("a,b\r\n")}}}
	case "print":
		return m, []port.Effect{port.Print{Title: "Estimate 7", Body: "<h1>Paper of the toy</h1><p>Nobody can say what it is.</p>"}}
	case "big":
		m.Tag++
		return m, []port.Effect{port.SaveBook{Tag: m.Tag, Book: port.Book{Name: fmt.Sprint("big ", m.Tag), Bytes: make([]byte, 3_000_000)}}}
	case "dialog":
		m.Dialog = !m.Dialog
	case "take":
		return m, []port.Effect{port.TakeUpdate{}}
	case "stop":
		panic("the toy was told to stop")
	}
	return m, nil
}
