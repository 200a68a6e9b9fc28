package money

import "fmt"

// Round rounds d major units to minor units of c.
func (d Decimal) Round(c Currency, r Rounding) (Amount, error) { return d.RoundOver(1, c, r) }

// RoundOver rounds d/n major units to minor units of c, rounding once. Three
// point hours need it: (o+4m+p)·rate is exact, a sixth of it often is not.
//
// Errors: n = 0, overflow.
func (d Decimal) RoundOver(n int64, c Currency, r Rounding) (Amount, error) {
	raise, lower := uint8(0), uint8(0)
	if shift := c.Exponent - int(d.scale); shift > 0 {
		raise = uint8(shift)
	} else {
		lower = uint8(-shift)
	}
	divisor, err := MulDiv(n, pow10(lower), 1, Down)
	if err != nil {
		return 0, err
	}
	v, err := MulDiv(d.coef, pow10(raise), divisor, r)
	return Amount(v), err
}

// Landed is the shop's cost of one piece in home major units, not rounded.
//
//	landed = price · rate · (1 + unrecovered/100)
//
// rate is home per list currency; unrecovered is the percent of tax on the
// purchase that the shop cannot reclaim, 0 if it can or if the price holds it.
//
// Errors: a rate that is not above zero, a negative percentage, overflow.
func Landed(price, rate, unrecovered Decimal) (Decimal, error) {
	if rate.Sign() <= 0 || unrecovered.Sign() < 0 {
		return Decimal{}, fmt.Errorf("landed cost: rate %s and tax %s %%: want a rate above 0 and a tax of 0 or more", rate, unrecovered)
	}
	factor, err := Percent(unrecovered)
	if err != nil {
		return Decimal{}, err
	}
	home, err := price.Mul(rate)
	if err != nil {
		return Decimal{}, err
	}
	return home.Mul(factor)
}

// Selling is the owner's price of one piece, rounded once. A mark-up is on
// cost; a margin would be on price.
//
//	selling = round(landed · (1 + markup/100))
func Selling(landed, markup Decimal, c Currency, r Rounding) (Amount, error) {
	factor, err := Percent(markup)
	if err != nil {
		return 0, err
	}
	price, err := landed.Mul(factor)
	if err != nil {
		return 0, err
	}
	return price.Round(c, r)
}
