package job

import (
	"cmp"
	"fmt"
	"slices"

	"lugworth/core/catalog"
	"lugworth/core/money"
	"lugworth/core/quote"
	"lugworth/core/sorted"
)

// An OpenQuote is what an owner was told and the shop has not yet made good:
// the last frozen estimate of a job, or, where none is frozen, the set in
// force as it is priced.
type OpenQuote struct {
	Job, Title string
	Estimate   string // number of the frozen estimate, "" where none is frozen
	Date       string // of the frozen estimate
	Bill       quote.Bill
}

// FrozenQuote returns the job's open quote where an estimate is frozen;
// nothing is derived for it. ok is false where none is, or the amp was handed
// back.
//
// Errors: the frozen estimate cannot be read.
func (j *Job) FrozenQuote() (q OpenQuote, ok bool, err error) {
	if len(j.Frozen) == 0 || j.handedBack() {
		return OpenQuote{}, false, nil
	}
	z, b, err := j.Frozen[len(j.Frozen)-1].Reopen()
	if err != nil {
		return OpenQuote{}, false, fmt.Errorf("job %s: %w", j.Number, err)
	}
	return OpenQuote{j.Number, j.Title, z.Number, z.Date, b}, true, nil
}

// OpenQuote returns the open quote of a job: the frozen one, else the set in
// force. ok is false where neither is there, or the amp was handed back.
//
// Errors: the frozen estimate cannot be read, or the set cannot be priced.
func (r *Result) OpenQuote() (q OpenQuote, ok bool, err error) {
	if q, ok, err = r.Job.FrozenQuote(); ok || err != nil || r.Force < 0 || r.Job.handedBack() {
		return q, ok, err
	}
	b, err := r.Bill(r.Sets[r.Force].Accept)
	if err != nil {
		return OpenQuote{}, false, fmt.Errorf("job %s: %w", r.Job.Number, err)
	}
	return OpenQuote{Job: r.Job.Number, Title: r.Job.Title, Bill: b}, true, nil
}

func (j *Job) handedBack() bool { return len(j.State.Records(KindHandBack)) > 0 }

// A Broken quote is one that a new price list no longer bears out.
type Broken struct {
	Quote OpenQuote
	Lines []BrokenLine
	By    money.Amount // owner's price of the lines now less as quoted, before tax; lines with no price now are not in it
	NoSum bool         // some line has no price now, or another currency
}

// A BrokenLine is one part of a quote that a new list changes.
type BrokenLine struct {
	Option, Number, Say string
	Pieces              int
	Was, Is             money.Amount // owner's price a piece: as quoted, and by the new list
	HasIs               bool
	By                  money.Amount // of all pieces; (Is − Was) · pieces
	Why                 []string     // what the list changed, and what it means for the line
}

// Breaks names the open quotes that a new list breaks and by how much, the
// dearest first. now are the shop's books with the new list in them. A line
// is named when the list changed its price, when the part is no longer to be
// had, or in too small a number, or later, or in other packs, or reads as
// another part. What did not change, and what got better but for its price,
// breaks nothing.
//
// The difference is from the price the owner was told to the price that the
// sheet and the terms of today make of the new list price: a rate changed
// since is in it.
func Breaks(quotes []OpenQuote, change catalog.ListChange, now *Books) []Broken {
	changed := map[string]*catalog.Change{}
	for _, cs := range [][]catalog.Change{change.Changed, change.Gone} {
		for i := range cs {
			changed[cs[i].Number] = &cs[i]
		}
	}
	var out []Broken
	for _, q := range quotes {
		b := Broken{Quote: q}
		for _, l := range q.Bill.Lines {
			if l.Class != quote.Parts || l.List != change.List || changed[l.ID] == nil {
				continue
			}
			b.add(brokenLine(l, changed[l.ID], now), q.Bill.Currency, now)
		}
		if len(b.Lines) > 0 {
			out = append(out, b)
		}
	}
	sorted.By(out, func(a, b Broken) int {
		return cmp.Or(cmp.Compare(b.By, a.By), cmp.Compare(a.Quote.Job, b.Quote.Job))
	})
	return out
}

func (b *Broken) add(l BrokenLine, c money.Currency, now *Books) {
	if len(l.Why) == 0 {
		return
	}
	if l.HasIs && c.Code != now.Sheet.Currency.Code {
		l.HasIs = false
		l.Why = append(l.Why, "quoted in "+c.Code+", the shop reckons in "+now.Sheet.Currency.Code+": not compared")
	}
	if l.HasIs {
		if by, err := (l.Is - l.Was).Times(int64(l.Pieces)); err == nil {
			l.By = by
			b.By += by
		}
	} else {
		b.NoSum = true
	}
	b.Lines = append(b.Lines, l)
}

func brokenLine(l quote.Line, c *catalog.Change, now *Books) BrokenLine {
	out := BrokenLine{Option: l.Option, Number: l.ID, Say: l.Say, Pieces: l.Pieces, Was: l.Each}
	if c.Is != nil {
		cost := now.Cost(c.Is)
		out.HasIs, out.Is = cost.Err == nil, cost.Selling
		if cost.Err != nil {
			out.Why = append(out.Why, cost.Err.Error())
		}
	}
	out.Why = append(out.Why, worse(l, c)...)
	return out
}

// priceMoves are the changes that touch what the owner pays.
const priceMoves = catalog.PriceUp | catalog.PriceDown | catalog.PriceGone | catalog.Recurrency

// worse says what of a change touches the line, in the words of the change.
func worse(l quote.Line, c *catalog.Change) []string {
	if c.Is == nil {
		return c.Says()
	}
	var out []string
	say := func(when bool, a catalog.Aspect) {
		if when && c.What&a != 0 {
			only := *c
			only.What &= a
			out = append(out, only.Says()...)
		}
	}
	say(true, priceMoves)
	say(true, catalog.PackMove|catalog.PartMove)
	say(c.Is.LeadDays < 0 || c.Is.LeadDays > c.Was.LeadDays, catalog.LeadMove)
	if have := c.Is.StockPacks * c.Is.Pack; c.What&catalog.StockMove != 0 && c.Is.StockPacks >= 0 && have < l.Pieces {
		out = append(out, fmt.Sprintf("stock %d, the job needs %d", have, l.Pieces))
	}
	return slices.Clip(out)
}
