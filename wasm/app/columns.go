package app

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/unit"
	"lugworth/wasm/port"
)

func init() {
	changed["list-column"] = func(m *Model, e event) []port.Effect { return m.mapColumn(e) }
	changed["list-from"] = func(m *Model, e event) []port.Effect { return m.breakFrom(e) }
	changed["list-decimal"] = func(m *Model, e event) []port.Effect {
		return m.remap(e, func(c *catalog.Mapping) { c.Decimal = e.Value })
	}
	pressed["list-decimal"] = changed["list-decimal"]
	changed["list-for"] = func(m *Model, e event) []port.Effect {
		return m.remap(e, func(c *catalog.Mapping) { c.PriceFor, _ = strconv.Atoi(e.Value) })
	}
	pressed["list-forget"] = func(m *Model, e event) []port.Effect {
		if c := m.coming(e.ID); c != nil {
			c.Mapping = nil
			m.lookAt(c)
		}
		return nil
	}
}

// coming is the list of a name that was brought, nil if none was.
func (m *Model) coming(name string) *Coming {
	i := slices.IndexFunc(m.Screen.Desk.Coming, func(c *Coming) bool { return c.Name == name })
	if i < 0 {
		return nil
	}
	return m.Screen.Desk.Coming[i]
}

// columnsAgain asks about the columns of a list that is kept.
func (m *Model) columnsAgain(e event) []port.Effect {
	l := m.Shop.Lists[e.ID]
	if l == nil || m.locked() || m.coming(e.ID) != nil {
		return nil
	}
	c := &Coming{Name: e.ID, Bytes: l.Bytes, Remembered: l.Remembered, Again: true, asked: true}
	m.Screen.Desk.Coming = append(Comings{c}, m.Screen.Desk.Coming...)
	m.Screen.Toast = Toast{}
	return m.comingOn(e.Fresh)
}

// mapColumn reads one column as another field: k is its number, value the
// field.
func (m *Model) mapColumn(e event) []port.Effect {
	i, err := strconv.Atoi(e.K)
	if err != nil {
		return nil
	}
	return m.remap(e, func(c *catalog.Mapping) { *c = c.With(i, catalog.Field(e.Value)) })
}

// breakFrom says from how many pieces a further price holds.
func (m *Model) breakFrom(e event) []port.Effect {
	i, err := strconv.Atoi(e.K)
	n, bad := strconv.Atoi(strings.TrimSpace(e.Value))
	if err != nil || bad != nil || n < 1 {
		return nil
	}
	return m.remap(e, func(c *catalog.Mapping) {
		if i < len(c.Columns) {
			c.Columns[i].From = n
		}
	})
}

// remap changes how a coming list would be read and looks at its first rows
// again.
func (m *Model) remap(e event, change func(*catalog.Mapping)) []port.Effect {
	c := m.coming(e.ID)
	if c == nil || m.ReadOnly() != "" || c.Look.Columns == nil {
		return nil
	}
	delete(m.Screen.Drafts, draftKey(e.Where))
	mapping := c.Look.Mapping
	mapping.Columns = slices.Clone(mapping.Columns)
	change(&mapping)
	c.Mapping = &mapping
	m.lookAt(c)
	return nil
}

// lookAt says how the first rows of a coming list would read, and whether its
// columns are to be asked about.
func (m *Model) lookAt(c *Coming) {
	c.Wrong, c.Read, c.Change = "", nil, nil
	p, err := catalog.PreviewList(c.Name, c.file().Name, firstPart(c.Bytes), m.Shop.base.TermsOf(c.Name), c.Mapping, slices.Clone(c.Fixes)...)
	if err != nil {
		c.Wrong = err.Error()
		return
	}
	c.Look = p
	c.asked = c.asked || c.alone && c.Mapping == nil && !m.readSoBefore(c) || p.Asks() > 0 || p.Refused != "" || c.Unclear() ||
		slices.ContainsFunc(p.Notes, func(n unit.Problem) bool { return n.Code == catalog.Changed })
}

// readSoBefore says that the list in force has the same headings and was read
// the same way.
func (m *Model) readSoBefore(c *Coming) bool {
	was := m.replaced(c)
	return was != nil && was.Mapping.Fingerprint == c.Look.Mapping.Fingerprint && slices.Equal(was.Mapping.Columns, c.Look.Mapping.Columns)
}

// Unclear says that the prices of the list hold marks of which nothing tells
// whether they part decimals or thousands. That is asked, never guessed.
func (c *Coming) Unclear() bool {
	if c.Look.Mapping.Decimal != "" {
		return false
	}
	for _, r := range c.Look.Rows {
		for i, cell := range r.Cells {
			if i < len(c.Look.Mapping.Columns) && priceField(c.Look.Mapping.Columns[i].Field) && strings.ContainsAny(cell.Text, ".,") {
				return true
			}
		}
	}
	return false
}

func priceField(f catalog.Field) bool { return f == catalog.FieldPrice || f == catalog.FieldBreak }

// firstPart is as much of a file as its first rows need, cut at the end of a
// line.
func firstPart(data []byte) []byte {
	if len(data) <= whole {
		return data
	}
	n := bytes.LastIndexByte(data[:whole], '\n') + 1
	if n == 0 {
		return data
	}
	if n%2 == 1 && bytes.IndexByte(data[:64], 0) >= 0 {
		n++ // two bytes a character: the line ends with the second
	}
	return data[:n]
}
