package app

import (
	"lugworth/wasm/port"
)

// An event is one thing a person did, whatever the input.
type event struct {
	port.Where
	port.Fresh
	Value   string
	Checked bool
	form    port.Submitted
}

// A handler carries one act out.
type handler func(m *Model, e event) []port.Effect

// The acts of the page, by what is done to the element: pressed, committed,
// sent, or a key in it. Each file of this package adds its own.
var (
	pressed   = map[string]handler{}
	changed   = map[string]handler{}
	submitted = map[string]handler{}
	typed     = map[string]handler{}
	keys      = map[string]handler{}
	elapsed   = map[string]handler{} // by the tag of port.After
)

// Update returns the next model and the work to be done. It does not touch
// the page, the clock or storage.
func Update(m Model, msg port.Msg) (Model, []port.Effect) {
	effects := m.handle(msg)
	effects = append(effects, m.seekOn()...)
	effects = append(effects, m.weighOn()...)
	return m, append(effects, m.showPhotos()...)
}

func (m *Model) handle(msg port.Msg) []port.Effect {
	switch msg := msg.(type) {
	case port.Pressed:
		return m.act(pressed, event{Where: msg.Where, Fresh: msg.Fresh, Value: msg.Value})
	case port.Changed:
		return m.act(changed, event{Where: msg.Where, Fresh: msg.Fresh, Value: msg.Value, Checked: msg.Checked})
	case port.Submitted:
		return m.act(submitted, event{Where: msg.Where, Fresh: msg.Fresh, form: msg})
	case port.Typed:
		m.Screen.Drafts[draftKey(msg.Where)] = msg.Value
		if msg.Act == "draft" {
			m.Screen.Ask = "" // it was about what stood there before
		}
		m.Screen.Toast = Toast{} // one who types has gone on; it must not lie over the form
		return m.act(typed, event{Where: msg.Where, Fresh: msg.Fresh, Value: msg.Value})
	case port.Keyed:
		return m.key(msg)
	}
	return m.happen(msg)
}

// draftKey names the draft of an input.
func draftKey(w port.Where) string { return w.Act + "/" + w.ID + "/" + w.K }

// Draft returns what was typed into an input and not committed, or the value
// it has.
func (m Model) Draft(act, id, k, value string) string {
	if d, ok := m.Screen.Drafts[draftKey(port.Where{Act: act, ID: id, K: k})]; ok {
		return d
	}
	return value
}

func (m *Model) act(table map[string]handler, e event) []port.Effect {
	m.now(e.Fresh)
	h, ok := table[e.Act]
	if !ok {
		return nil
	}
	return h(m, e)
}

// now notes the time that came with an event.
func (m *Model) now(f port.Fresh) {
	if f.At != "" {
		m.Screen.Now, m.Screen.Today = f.At, f.Date
	}
}

func (m *Model) key(k port.Keyed) []port.Effect {
	m.now(k.Fresh)
	switch k.Key {
	case "Ctrl+z":
		return m.undo(k.Fresh)
	case "Ctrl+y", "Ctrl+Z": // Z: with Shift
		return m.redo(k.Fresh)
	case "Escape":
		m.closeDialog()
		return nil
	}
	if h, ok := keys[k.Act]; ok {
		return h(m, event{Where: k.Where, Fresh: k.Fresh, Value: k.Value})
	}
	return nil
}

// happen takes what the browser says by itself.
func (m *Model) happen(msg port.Msg) []port.Effect {
	s := &m.Screen
	switch msg := msg.(type) {
	case port.Loaded:
		return m.load(msg)
	case port.BlobLoaded:
		return m.blobLoaded(msg)
	case port.DeviceNamed:
		m.Device = msg.Device
	case port.Saved:
		m.savedPhotos(msg.Tag)
		if msg.Tag >= m.tag {
			s.Saving, s.SavedAt, s.NotSaved = false, msg.At, ""
		}
	case port.SaveFailed:
		s.Saving, s.NotSaved = false, msg.Say
	case port.Tab:
		s.Tab = msg
	case port.Storage:
		s.Storage = msg
	case port.Shell:
		s.Shell = msg
	case port.FileOpened:
		m.now(msg.Fresh)
		return m.opened(msg)
	case port.FileFailed:
		s.Problems = append(s.Problems, msg.Name+": "+msg.Say)
	case port.Failed:
		s.Problems = append(s.Problems, msg.Say)
	case port.Elapsed:
		if h, ok := elapsed[msg.Tag]; ok {
			return h(m, event{Fresh: msg.Fresh})
		}
	case port.Route:
		m.route(msg.Hash)
	}
	return nil
}

func (m *Model) closeDialog() {
	m.Screen.Dialog, m.Screen.Target, m.Screen.Why = "", "", ""
}

// route opens the posture an address names.
func (m *Model) route(hash string) {
	switch hash {
	case "bench", "plan", "call", "order", "papers":
		m.Screen.Posture = hash
	}
}
