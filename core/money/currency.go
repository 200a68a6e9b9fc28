package money

import (
	"fmt"
	"strconv"
	"strings"

	"lugworth/core/unit"
)

// Currency is an ISO 4217 code and its number of decimals.
type Currency struct {
	Code     string
	Exponent int
}

// Codes by number of decimals. Source: ISO 4217 list, from memory; check
// against the published table before relying on a rare currency.
const (
	noDecimals    = " BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF "
	threeDecimals = " BHD IQD JOD KWD LYD OMR TND "
	fourDecimals  = " CLF UYW "
	twoDecimals   = " AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD" +
		" CAD CDF CHE CHF CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD" +
		" HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU" +
		" MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK" +
		" SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XCD YER" +
		" ZAR ZMW ZWG "
)

// CurrencyOf finds a currency by its code, in capitals or not.
//
// Errors: a code that is not in the list.
func CurrencyOf(code string) (Currency, error) {
	c := strings.ToUpper(strings.TrimSpace(code))
	if len(c) == 3 && !strings.Contains(c, " ") {
		for exponent, list := range [...]string{noDecimals, "", twoDecimals, threeDecimals, fourDecimals} {
			if i := strings.Index(list, " "+c+" "); list != "" && i >= 0 {
				return Currency{list[i+1 : i+4], exponent}, nil
			}
		}
	}
	return Currency{}, unit.Problem{Cell: code, Code: unit.UnknownWord, Hint: "an ISO 4217 code such as USD"}
}

// Format prints the amount in major units with all decimals of the currency:
// "471.57", "-0.05", yen "1200". It puts no thousands marks.
func (c Currency) Format(a Amount) string {
	digits := strconv.FormatUint(magnitude(int64(a)), 10)
	if c.Exponent > 0 {
		if short := c.Exponent + 1 - len(digits); short > 0 {
			digits = strings.Repeat("0", short) + digits
		}
		cut := len(digits) - c.Exponent
		digits = digits[:cut] + "." + digits[cut:]
	}
	if a < 0 {
		return "-" + digits
	}
	return digits
}

// Read reads an amount in major units with a decimal point: "471.57".
//
// Errors: not a number; more decimals than the currency has; overflow.
func (c Currency) Read(text string) (Amount, error) {
	d, err := ReadDecimal(text, Point)
	if err != nil {
		return 0, err
	}
	a, err := d.Round(c, Down)
	if err != nil {
		return 0, err
	}
	if Of(a, c).Cmp(d) != 0 {
		return 0, fmt.Errorf("read %q: %s has %d decimals", text, c.Code, c.Exponent)
	}
	return a, nil
}
