package order

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
)

// The form of an instance file: a market in one JSON object, amounts in whole
// minor units of one home currency.
type (
	fileMarket struct {
		Name      string       `json:"name"`
		Suppliers []fileSeller `json:"suppliers"`
		Offers    []filePack   `json:"offers"`
		Needs     []fileWant   `json:"needs"`
	}
	fileSeller struct {
		ID       string    `json:"id"`
		MinGoods int64     `json:"minGoods"`
		Carriage []fileFee `json:"carriage"`
		Factor   any       `json:"factor"`
	}
	fileFee struct {
		FromGoods int64 `json:"fromGoods"`
		Fee       int64 `json:"fee"`
	}
	filePack struct {
		ID            string      `json:"id"`
		Supplier      string      `json:"supplier"`
		PiecesPerPack int         `json:"piecesPerPack"`
		MinPacks      int         `json:"minPacks"`
		StockPacks    *int        `json:"stockPacks"`
		LeadDays      *int        `json:"leadDays"`
		Prices        []filePrice `json:"prices"`
	}
	filePrice struct {
		FromPacks int   `json:"fromPacks"`
		PerPack   int64 `json:"perPack"`
	}
	fileWant struct {
		ID   string    `json:"id"`
		Qty  int       `json:"qty"`
		Fits []fileFit `json:"fits"`
	}
	fileFit struct {
		Offer string `json:"offer"`
		Score int    `json:"score"`
	}
)

// ReadMarket reads an instance file. Every problem is told of: a name that is
// there twice or not at all, a number that is none, what check of a market
// finds. Stock that is not stated has no end; a lead that is not stated is in
// time for no limit.
func ReadMarket(data []byte) (Market, error) {
	var f fileMarket
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	d.DisallowUnknownFields()
	if err := d.Decode(&f); err != nil {
		return Market{}, fmt.Errorf("order instance: %w", err)
	}
	if d.More() {
		return Market{}, errors.New("order instance: there is more after the object")
	}
	r := marketReader{sellers: map[string]int{}, packs: map[string]int{}}
	for _, s := range f.Suppliers {
		r.seller(s)
	}
	for _, p := range f.Offers {
		r.pack(p)
	}
	wants := map[string]bool{}
	for _, w := range f.Needs {
		if wants[w.ID] {
			r.say("need %q is there twice", w.ID)
		}
		wants[w.ID] = true
		r.want(w)
	}
	r.bad = append(r.bad, r.m.check())
	return r.m, errors.Join(r.bad...)
}

type marketReader struct {
	m       Market
	sellers map[string]int
	packs   map[string]int
	bad     []error
}

func (r *marketReader) say(format string, args ...any) {
	r.bad = append(r.bad, fmt.Errorf(format, args...))
}

func (r *marketReader) seller(s fileSeller) {
	if _, twice := r.sellers[s.ID]; twice {
		r.say("supplier %q is there twice", s.ID)
	}
	r.sellers[s.ID] = len(r.m.Sellers)
	x := Seller{ID: s.ID, MinGoods: s.MinGoods}
	for _, c := range s.Carriage {
		x.Carriage = append(x.Carriage, Fee{c.FromGoods, c.Fee})
	}
	var err error
	if x.Factor, err = readFactor(s.Factor); err != nil {
		r.say("supplier %q: %w", s.ID, err)
	}
	r.m.Sellers = append(r.m.Sellers, x)
}

// readFactor reads an exact decimal, written as text or as a number.
func readFactor(v any) (Factor, error) {
	var text string
	switch t := v.(type) {
	case nil:
		return Factor{Digits: 1}, nil
	case string:
		text = t
	case json.Number:
		text = t.String()
	default:
		return Factor{}, fmt.Errorf("factor %v is no decimal", v)
	}
	whole, part, _ := strings.Cut(strings.TrimSpace(text), ".")
	part = strings.TrimRight(part, "0")
	digits := whole + part
	f := Factor{Places: len(part)}
	if digits == "" || len(digits) > 14 || len(part) > mostPlaces {
		return Factor{}, fmt.Errorf("factor %q is no decimal of %d places at most", text, mostPlaces)
	}
	for _, c := range digits {
		if c < '0' || c > '9' {
			return Factor{}, fmt.Errorf("factor %q is no decimal", text)
		}
		f.Digits = f.Digits*10 + int64(c-'0')
	}
	if f.Digits == 0 {
		return Factor{}, fmt.Errorf("factor %q: nothing is for nothing", text)
	}
	return f, nil
}

func (r *marketReader) pack(p filePack) {
	if _, twice := r.packs[p.ID]; twice {
		r.say("offer %q is there twice", p.ID)
	}
	s, known := r.sellers[p.Supplier]
	if !known {
		r.say("offer %q: there is no supplier %q", p.ID, p.Supplier)
	}
	r.packs[p.ID] = len(r.m.Packs)
	x := Pack{ID: p.ID, Seller: s, Pieces: p.PiecesPerPack, Least: p.MinPacks, Stock: -1, Days: -1}
	if p.StockPacks != nil {
		if x.Stock = *p.StockPacks; x.Stock < 0 {
			r.say("offer %q: %d packs in stock", p.ID, x.Stock)
		}
	}
	if p.LeadDays != nil {
		if x.Days = *p.LeadDays; x.Days < 0 {
			r.say("offer %q: a lead of %d days", p.ID, x.Days)
		}
	}
	for _, b := range p.Prices {
		x.Prices = append(x.Prices, Break{b.FromPacks, b.PerPack})
	}
	r.m.Packs = append(r.m.Packs, x)
}

func (r *marketReader) want(w fileWant) {
	x := Want{ID: w.ID, Pieces: w.Qty}
	for _, f := range w.Fits {
		p, known := r.packs[f.Offer]
		if !known {
			r.say("need %q: there is no offer %q", w.ID, f.Offer)
			continue
		}
		x.Fits = append(x.Fits, Fit{p, f.Score})
	}
	r.m.Wants = append(r.m.Wants, x)
}

// JSON writes an answer for scripts: amounts are exact decimals of a minor
// unit, names those of the market.
func (a Answer) JSON(m *Market) ([]byte, error) {
	type basket struct {
		Goods       string `json:"goods"`
		CarriageRow int    `json:"carriage_row"`
		TopUp       string `json:"top_up"`
		Landed      string `json:"landed"`
	}
	out := struct {
		Feasible  bool              `json:"feasible"`
		Reason    string            `json:"reason"`
		Cost      string            `json:"cost"`
		Lower     string            `json:"lower"`
		Proven    bool              `json:"proven"`
		Parcels   int               `json:"parcels"`
		LeadDays  *int              `json:"lead_days"` // null where one is not stated
		Score     int               `json:"score"`
		Plan      map[string]string `json:"plan"`
		Packs     map[string]int    `json:"packs"`
		Suppliers map[string]basket `json:"suppliers"`
	}{a.Feasible, a.Why, Exact(a.Cost, a.Places), Exact(a.Lower, a.Places), a.Proven, a.Parcels, &a.Days, a.Score,
		map[string]string{}, map[string]int{}, map[string]basket{}}
	if a.Days < 0 {
		out.LeadDays = nil
	}
	for w, p := range a.Plan {
		out.Plan[m.Wants[w].ID] = m.Packs[p].ID
	}
	for p, n := range a.Packs {
		if n > 0 {
			out.Packs[m.Packs[p].ID] = n
		}
	}
	for _, b := range a.Baskets {
		out.Suppliers[m.Sellers[b.Seller].ID] = basket{Exact(b.Goods, 0), b.Row, Exact(b.TopUp, 0), Exact(b.Landed, a.Places)}
	}
	return json.MarshalIndent(out, "", "  ")
}
