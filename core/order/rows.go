package order

// pattRow is one usable row of carriage. Goods between least and most cost
// themselves and the fee, and goods below least are topped up.
type pattRow struct {
	fee, least int64
	most       int64 // more goods are not priced by this row
	low, high  int64 // other goods are priced no dearer by another row
}

// unbounded is the greatest goods of a row without a dearer one after it.
const unbounded = int64(1) << 60

// usableRows lists the rows of carriage that goods can be priced by.
//
// Goods past the start of a later row with a higher fee are not priced by an
// earlier one; a later row with a lower fee only makes the earlier one's
// price too high, which is harmless.
func usableRows(x *Seller) []pattRow {
	if len(x.Carriage) == 0 {
		return []pattRow{{0, x.MinGoods, unbounded, 0, unbounded}}
	}
	out := make([]pattRow, 0, len(x.Carriage))
	for k, f := range x.Carriage {
		r := pattRow{f.Fee, max(f.From, x.MinGoods), unbounded, 0, unbounded}
		if k+1 < len(x.Carriage) && r.least >= x.Carriage[k+1].From {
			continue
		}
		for _, later := range x.Carriage[k+1:] {
			if later.Fee > f.Fee {
				r.most = later.From - 1
				break
			}
		}
		out = append(out, r)
	}
	partRows(out)
	return out
}

// partRows keeps two rows from pricing the same goods where one is never dearer.
// Up to where topping up to a later row's start pays, an earlier row is no
// dearer; past it the later one is, as far as it goes.
func partRows(rows []pattRow) {
	for k := range rows {
		r := &rows[k]
		for i := range k {
			l := &rows[i]
			cross := r.least + r.fee - l.fee
			if l.least+l.fee > r.least+r.fee {
				continue
			}
			r.low = max(r.low, min(cross, l.most)+1)
		}
	}
	for i := range rows {
		l := &rows[i]
		l.high = l.most
		for k := i + 1; k < len(rows); k++ {
			if r := &rows[k]; r.fee < l.fee && r.most >= l.most {
				l.high = min(l.high, r.least+r.fee-l.fee)
			}
		}
	}
}
