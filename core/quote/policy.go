package quote

import (
	"fmt"

	"lugworth/core/labor"
	"lugworth/core/shop"
)

// PolicyOf reads the shop's sheet. A share-of-bill test and tax outside the
// estimate are rules of a place: whoever knows the place sets them on Tax
// afterward. A shop that says it is not registered bills no
// tax; one that says nothing about it bills what its tax rows say.
func PolicyOf(s shop.Sheet, source string) (Policy, error) {
	fee, err := s.Fee.Round(s.Currency, s.Rounding)
	if err != nil {
		return Policy{}, fmt.Errorf("%s: fee %v: %w", source, s.Fee, err)
	}
	p := Policy{Currency: s.Currency, Fee: fee, SubMarkup: s.SubcontractMarkup, Allowance: s.Allowance,
		Deposit: s.Deposit, Rounding: s.Rounding, Where: source}
	p.Tax.Percent = s.Tax
	if row, found := s.Get("tax"); found {
		p.Tax.Source = row.Source
	}
	if s.Has("registered") && !s.Registered {
		return p, nil
	}
	switch s.TaxOn {
	case shop.TaxOnParts:
		p.Tax.On = []Class{Parts}
	case shop.TaxOnAll:
		p.Tax.On = []Class{Labor, Parts, Other, Fee}
	}
	return p, nil
}

// RateOf reads the hourly rate from the shop's sheet.
func RateOf(s shop.Sheet, source string) labor.Rate {
	return labor.Rate{Hour: s.Rate, Currency: s.Currency, Rounding: s.Rounding, Where: source}
}
