package job

import (
	"encoding/binary"

	"lugworth/core/catalog"
	"lugworth/core/order"
	"lugworth/core/plan"
)

// A trade remembers from one Result to the next what each plan line may be
// bought from. A yes or no changes few lines; the others are not looked up,
// priced and scored again. Places in it follow the order in which lines were
// asked for, so none of them leaves it: a Market numbers its own.
type trade struct {
	offers  []traded
	at      map[*catalog.Offer]int
	lines   map[*plan.Line]*fitting
	senders map[string]*sender
	stood   originals
}

// A traded is one offer as the search counts it. Its seller is not set.
type traded struct {
	offer *catalog.Offer
	pack  order.Pack
	leads bool // it is the row that counts of its number
	err   error
}

// A fitting is what one line may be bought from, its own offer first.
type fitting struct {
	fits  []order.Fit // Pack is a place in the trade
	key   string      // lines of the same key name the same offers with the same scores
	least int         // pieces that every offer has; below zero where none states a stock
}

// A sender is a supplier's terms as the search counts them.
type sender struct {
	Sender
	order.Seller
	told []string
	err  error
}

func newTrade(j *Job) *trade {
	return &trade{at: map[*catalog.Offer]int{}, lines: map[*plan.Line]*fitting{}, senders: map[string]*sender{},
		stood: originals{amp: &j.Amp}}
}

// fitting returns what a line may be bought from.
func (t *trade) fitting(r *Result, x *taken) *fitting {
	if have, ok := t.lines[x.line]; ok {
		return have
	}
	f := &fitting{least: -1}
	t.fit(f, r, x, x.from)
	for _, o := range x.line.Fits() {
		if at := t.place(r, o.Offer); t.offers[at].leads && t.offers[at].err == nil {
			t.fit(f, r, x, o.Offer)
		}
	}
	f.name()
	t.lines[x.line] = f
	return f
}

func (t *trade) fit(f *fitting, r *Result, x *taken, o *catalog.Offer) {
	at := t.place(r, o)
	f.fits = append(f.fits, order.Fit{Pack: at, Score: t.stood.score(x.is, o)})
	if p := &t.offers[at].pack; p.Stock >= 0 && (f.least < 0 || p.Stock*p.Pieces < f.least) {
		f.least = p.Stock * p.Pieces
	}
}

// name writes the key of a fitting.
func (f *fitting) name() {
	// The count first: what is added for shelves behind it is then never read
	// as one more offer.
	key := binary.AppendUvarint(make([]byte, 0, 4*len(f.fits)+2), uint64(len(f.fits)))
	for _, x := range f.fits {
		key = binary.AppendUvarint(key, uint64(x.Pack))
		key = binary.AppendUvarint(key, uint64(x.Score))
	}
	f.key = string(key)
}

// place returns an offer's place, counting it in once.
func (t *trade) place(r *Result, o *catalog.Offer) int {
	if at, ok := t.at[o]; ok {
		return at
	}
	x := traded{offer: o, leads: r.lead(o)}
	s := t.sender(r, o.List)
	x.pack, x.err = orderOffer(o).Counted(0, s.Terms.Currency, s.Terms.Rounding)
	if x.pack.Days < 0 {
		x.pack.Days = LeadUnstated
	}
	if s.err != nil {
		x.err = s.err
	}
	at := len(t.offers)
	t.at[o], t.offers = at, append(t.offers, x)
	return at
}

// sender returns a supplier's terms, counted in once.
func (t *trade) sender(r *Result, list string) *sender {
	if s, ok := t.senders[list]; ok {
		return s
	}
	s := &sender{Sender: Sender{List: list}}
	t.senders[list] = s
	if s.Terms, s.err = r.orderTermsOf(list); s.err != nil {
		return s
	}
	f, exact, err := r.factor(r.Books.termsOf(list), s.Terms.Currency)
	s.err, s.Seller = err, s.Terms.Seller(f)
	if !exact {
		s.told = append(s.told, "rate and tax of "+list+" are taken to six places")
	}
	if s.NoCarriage = len(s.Terms.Carriage) == 0; s.NoCarriage {
		s.told = append(s.told, "carriage not stated by "+list+": the bound holds without it")
	}
	return s
}
