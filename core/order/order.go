// Package order makes one basket for each supplier out of the pieces that the
// chosen work needs, and writes it as a file that supplier can read.
//
//	four of a film sold in tens at 0.75 -> 1 pack, 10 pieces, 7.50; 4 used, 6 go to stock
//	two findings that need one part     -> one line, the pieces pooled
//	an option nobody has decided        -> held back, and said
//
// Every need is bought at the offer its plan line names. What the shop already
// holds is used first. Nothing is dropped: a need is ordered, taken from stock
// or held back with its reason.
package order

import "lugworth/core/money"

// ShopStock names the shop's own shelf where a supplier's name would stand.
const ShopStock = "0"

// A Need is what one plan line takes.
type Need struct {
	Option  string
	Finding string
	Say     string // "coupling capacitor .022 630 V"
	List    string // the supplier of the named offer, or ShopStock
	Number  string // its part number there
	Pieces  int
	// Undecided: the owner has not said yes. The need is held back.
	Undecided bool
	// Barred says why the line's verdict may not be ordered; "" when it may.
	Barred string
}

// An Offer is one row of a price list.
type Offer struct {
	List, Number, Text string
	Price              money.Decimal // a piece, in the supplier's currency
	Priced             bool          // the row holds a price
	Breaks             []PriceFrom   // further prices, from few pieces to many; the later row holds for all pieces
	Pack               int           // pieces sold together; 1 or more
	MinPacks           int           // fewest packs on a line; 0 = no such rule
	StockPacks         int           // packs the supplier says are there; −1 not stated
	LeadDays           int           // −1 not stated
	Where              string        // "k.csv:4"
}

// A Step of carriage: from these goods on, carriage costs this much.
type Step struct {
	From, Cost money.Amount
}

// Terms are a supplier's conditions, in the supplier's own currency.
type Terms struct {
	List     string
	Currency money.Currency
	Rounding money.Rounding
	MinOrder money.Amount // 0 = none
	Carriage []Step       // rising From; empty = carriage not stated
}

// A Holding is what lies on the shop's shelf: so many pieces of a supplier's
// part, or, under the list ShopStock, of a part of the shop's own numbering.
type Holding struct {
	List, Number string
	Pieces       int
}

// An Extra is packs of a part bought as spares, beyond what the work takes.
type Extra struct {
	List, Number string
	Packs        int
}

// Books are what a buy is made from.
type Books struct {
	Offers []Offer
	Terms  []Terms
	Shelf  []Holding
	Extras []Extra // only of parts that some need orders; others are not bought
}

// A Use says which finding takes how many pieces.
type Use struct {
	Option, Finding string
	Pieces          int
}

// A Line is one part of one basket.
type Line struct {
	Number, Text string
	Uses         []Use
	Needed       int // pieces the work takes
	FromStock    int // of these, from the shelf
	Pack, Packs  int
	Pieces       int           // Pack × Packs, ordered
	Spare        int           // ordered and not used: to stock
	Extra        int           // packs of these bought for the sake of carriage or the least order
	PiecePrice   money.Decimal // as listed, of the row that holds for these pieces
	PackPrice    money.Amount  // price of a piece × pack, rounded once
	Amount       money.Amount  // PackPrice × Packs
	LeadDays     int           // −1 not stated
	Where        string
	Notes        []string
}

// A Basket is one order to one supplier, in that supplier's currency.
type Basket struct {
	Supplier       string
	Currency       money.Currency
	Lines          []Line // by part number
	Goods          money.Amount
	Carriage       money.Amount // 0 where it is not stated
	CarriageStated bool
	Total          money.Amount // Goods + Carriage
	Short          money.Amount // goods missing to the least order; 0 = none
	TopUp          TopUp        // spares that would pay for themselves, or that the least order asks for
	Notes          []string
}

// A TopUp is goods bought as spares to reach a step of carriage or the least
// order. It is a proposal: neither Goods nor Total holds it. It is money
// spent, and what it saves is set beside it.
type TopUp struct {
	Amount   money.Amount // spares to buy; 0 = none is worth while
	Carriage money.Amount // what carriage comes to then
	Saves    money.Amount // Total less what the basket costs with it; below zero where only the least order asks for it
	Spare    *Spare       // the part of the basket that does it with the least money; nil where none can
}

// A Spare is further packs of a part that is in the basket already.
type Spare struct {
	Number, Text  string
	Packs, Pieces int
	Amount        money.Amount // what they add to the goods
}

// A StockLine is a part taken from the shelf.
type StockLine struct {
	List, Number string
	Pieces       int // taken
	Left         int // on the shelf afterward
	Uses         []Use
}

// A Held need is not ordered, for a reason.
type Held struct {
	Need   Need
	Reason string
}

// A Buy is everything the choice in force makes the shop buy, take or hold
// back.
type Buy struct {
	Baskets []Basket    // by supplier name
	Stock   []StockLine // by list and number
	Held    []Held      // in the order of the needs; then what the shelf could not meet
}
