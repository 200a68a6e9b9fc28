package app

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/unit"
	"lugworth/wasm/port"
)

// LeafCircuit is the leaf of the plan that shows the amp's own circuit.
const LeafCircuit = "circuit"

// Places of the circuit leaf, and the part of the bench that says what to
// dial.
const (
	CircuitDrawing = "drawing"
	CircuitRows    = "rows"
	CircuitChart   = "chart"
	CircuitSpreads = "spreads"
	BenchIdle      = "idle"
)

// A Circuit is what is looked at of the circuit.
type Circuit struct {
	Place  string   // of the leaf; "" is CircuitDrawing
	Block  string   // stage block whose form is open
	Mains  string   // at the bench now, as typed; "" is that of the last reading
	Method string   // of dialing, where several are possible
	Wrong  []string // why the block in the form could not be added
}

func init() {
	pressed["circuit-place"] = func(m *Model, e event) []port.Effect {
		m.Screen.Circuit.Place, m.Screen.Toast = e.Value, Toast{}
		return nil
	}
	pressed["circuit-spreads"] = func(m *Model, e event) []port.Effect {
		m.Screen.Posture, m.Screen.Desk.Leaf, m.Screen.Circuit.Place, m.Screen.Toast = "plan", LeafCircuit, CircuitSpreads, Toast{}
		return []port.Effect{port.SetHash{Hash: "plan"}}
	}
	pressed["circuit-open"] = func(m *Model, e event) []port.Effect {
		m.Screen.Posture, m.Screen.Desk.Leaf, m.Screen.Circuit.Place, m.Screen.Toast = "plan", LeafCircuit, e.ID, Toast{}
		return []port.Effect{port.SetHash{Hash: "plan"}}
	}
	pressed["sheet-file"] = func(m *Model, e event) []port.Effect {
		return []port.Effect{port.OpenFile{For: sheetFile, Accept: ".csv,.txt"}}
	}
	changed["block-choose"] = func(m *Model, e event) []port.Effect {
		m.Screen.Circuit.Block, m.Screen.Circuit.Wrong = e.Value, nil
		m.clearDrafts("draft", blockForm)
		return nil
	}
	submitted["block-add"] = func(m *Model, e event) []port.Effect { return m.addBlock(e) }
	changed["idle-mains"] = func(m *Model, e event) []port.Effect {
		m.Screen.Circuit.Mains = strings.TrimSpace(e.Value)
		delete(m.Screen.Drafts, draftKey(e.Where))
		if m.Open != nil {
			m.Work().types, m.Work().left, m.Work().choices = nil, nil, nil // they belong to another mains
		}
		return nil
	}
	pressed["idle-method"] = func(m *Model, e event) []port.Effect { m.Screen.Circuit.Method = e.Value; return nil }
	pressed["measure-this"] = func(m *Model, e event) []port.Effect { return m.measure(e) }
}

// sheetFile marks a file that was chosen to be a circuit sheet, whatever its
// name.
const sheetFile = "sheet"

// openChosenSheet takes files that were chosen as circuit sheets.
func (m *Model) openChosenSheet(o port.FileOpened) []port.Effect {
	var effects []port.Effect
	for _, f := range o.Files {
		base := f.Name[strings.LastIndexAny(f.Name, `/\`)+1:]
		more, _ := m.openSheet(o.Fresh, base, f.Bytes)
		effects = append(effects, more...)
	}
	return effects
}

const blockForm = "block"

// Block is the stage block whose form is open, the first where none was
// chosen.
func (m Model) Block() circuit.Block {
	if b, ok := circuit.BlockNamed(m.Screen.Circuit.Block); ok {
		return b
	}
	return circuit.Blocks()[0]
}

// BlockPrefix is the least number that no reference of the sheet made of a
// block begins with, after its letters.
func (m Model) BlockPrefix() string {
	for n := 1; ; n++ {
		s := fmt.Sprint(n)
		taken := slices.ContainsFunc(m.Positions(), func(p amp.Position) bool {
			digits := strings.TrimLeft(p.Ref, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
			return strings.HasPrefix(strings.TrimRight(digits, "abcdef"), s) && len(digits) >= len(s)
		})
		if !taken {
			return s
		}
	}
}

// addBlock expands a stage block into positions of the amp. A reference the
// amp has already is told of, and nothing is added: a block never writes over
// a part.
func (m *Model) addBlock(e event) []port.Effect {
	b, ok := circuit.BlockNamed(e.ID)
	if !ok || m.Open == nil {
		return nil
	}
	given := map[string]string{}
	prefix := ""
	for _, f := range e.form.Fields {
		v := strings.TrimSpace(f.Value)
		if key, isParam := strings.CutPrefix(f.Name, "p:"); isParam && v != "" {
			given[key] = v
		} else if f.Name == "prefix" {
			prefix = v
		}
	}
	rows, problems := b.Expand(prefix, given)
	for _, p := range rows {
		if _, there := m.Open.Job.Amp.Find(p.Ref); there {
			problems = append(problems, unit.Problem{File: b.Name, Column: "prefix", Cell: p.Ref, Code: unit.Duplicate, Hint: "number " + m.BlockPrefix()})
		}
	}
	m.Screen.Circuit.Wrong = nil
	if len(problems) > 0 {
		for _, p := range problems {
			m.Screen.Circuit.Wrong = append(m.Screen.Circuit.Wrong, blockProblem(b, p))
		}
		return nil
	}
	var cs []change
	for _, p := range rows {
		cs = append(cs, m.whole(change{"position", positionBody(p)}))
	}
	m.clearDrafts("draft", blockForm)
	return m.commit(e.Fresh, b.Name+": "+fmt.Sprint(len(rows))+" parts added", cs...)
}

// blockProblem says a problem in the words of the form.
func blockProblem(b circuit.Block, p unit.Problem) string {
	for _, q := range b.Params {
		if q.Key == p.Column {
			p.Column = q.Says
		}
	}
	if p.Code == unit.Missing {
		return p.Column + " is not filled in"
	}
	if p.Code == unit.Duplicate {
		return p.Cell + " is there already: take another number in the names, " + p.Hint
	}
	p.File = ""
	return strings.TrimPrefix(p.Error(), ": ")
}

// measure goes to the chart of the bench with a place filled in.
func (m *Model) measure(e event) []port.Effect {
	m.Screen.Posture, m.Screen.Bench, m.Screen.Ask, m.Screen.Toast = "bench", "readings", "", Toast{}
	quantity := e.K
	if quantity == "" {
		quantity = amp.Volts
	}
	s := Step{At: e.ID, Quantity: quantity}
	if known, ok := m.step(e.ID, quantity); ok {
		s = known
	}
	if m.Open != nil {
		m.goTo(s)
	}
	return []port.Effect{port.SetHash{Hash: "bench"}, port.FocusOn{ID: "reading-value", Select: true}}
}

// BenchMains is the mains at the bench now: as typed, else that of the last
// reading of the chart, else 0.
func (m Model) BenchMains() (unit.Voltage, bool) {
	if v, err := unit.Read(m.Screen.Circuit.Mains, unit.Volt); err == nil && v > 0 {
		return unit.Voltage(v), true
	}
	if m.Screen.Circuit.Mains != "" || m.Open == nil {
		return 0, false
	}
	for _, r := range slices.Backward(m.Open.Job.Amp.Readings) {
		if r.Mains > 0 && !r.Has(amp.Check) {
			return r.Mains, true
		}
	}
	return 0, false
}
