package app

import (
	"fmt"
	"slices"

	"lugworth/core/catalog"
	"lugworth/core/job"
	"lugworth/core/quote"
	"lugworth/core/record"
	"lugworth/wasm/port"
)

// startQuotes looks which open quotes rest on what a new list changes, one job
// after the other.
func (m *Model) startQuotes(c *Coming) []port.Effect {
	m.park()
	m.Screen.Desk.Import = &Import{List: c.Name, Stage: StageQuotes, Total: len(m.Jobs), coming: c,
		Rows: c.Read.Rows, Read: len(c.Read.Offers), Aside: c.Read.RowsAside}
	return soon()
}

func (m *Model) importQuotes(i *Import, f port.Fresh) []port.Effect {
	c := i.coming
	if i.Done < len(m.Jobs) {
		h := &m.Jobs[i.Done]
		i.Done++
		q, ok, err := m.quoteOf(h, c.Name)
		switch {
		case err != nil:
			c.Untold = append(c.Untold, fmt.Sprintf("%s: %v", h.Number, err))
		case ok:
			i.quotes = append(i.quotes, q)
		}
		return soon()
	}
	c.Quotes, c.quoted = len(i.quotes), true
	c.Breaks = job.Breaks(i.quotes, named(*c.Change, i.quotes), m.Shop.base)
	return m.importDone(f)
}

// quoteOf is the open quote of a job kept here. One that nothing of the list
// was ever accepted for is not worked out.
func (m *Model) quoteOf(h *Head, list string) (job.OpenQuote, bool, error) {
	if m.Open != nil && h.ID == m.Open.ID {
		return m.Open.Result.OpenQuote()
	}
	file, _ := record.Replay(h.kept.Snapshot, h.kept.Journal)
	j := job.Read(file)
	q, ok, err := j.FrozenQuote()
	if ok || err != nil || !slices.ContainsFunc(j.Copies, func(c job.Copy) bool { return c.List == list }) {
		return q, ok, err
	}
	return job.Derive(j, m.booksFor(j), m.Screen.Today).OpenQuote()
}

// named is what changed of the part numbers that stand in quotes: of a long
// list that is next to nothing.
func named(c catalog.ListChange, quotes []job.OpenQuote) catalog.ListChange {
	numbers := map[string]bool{}
	for _, q := range quotes {
		for _, l := range q.Bill.Lines {
			if l.Class == quote.Parts && l.List == c.List {
				numbers[l.ID] = true
			}
		}
	}
	out := catalog.ListChange{List: c.List}
	for i := range c.Changed {
		if numbers[c.Changed[i].Number] {
			out.Changed = append(out.Changed, c.Changed[i])
		}
	}
	for i := range c.Gone {
		if numbers[c.Gone[i].Number] {
			out.Gone = append(out.Gone, c.Gone[i])
		}
	}
	return out
}
