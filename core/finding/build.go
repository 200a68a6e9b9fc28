package finding

import (
	"fmt"
	"sort"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// A Build is what the date codes of an amp say together.
type Build struct {
	Codes    []CodeReading
	Earliest *CodeReading // the youngest code to be relied on: the amp is not older
	Outliers []Outlier
	Ask      []CodeReading // codes that can mean more than one date
	Say      string
	Problems []unit.Problem
}

// An Outlier is a part whose code stands apart from the amp.
type Outlier struct {
	CodeReading
	Fit Fit
	Why string
}

// ReadBuild reads all codes of an amp. The youngest code to be relied on is
// the earliest the amp can have been built. Relied on is a code that means
// one date and is no outlier; a code whose year is a guess is not.
//
// Outliers are held against the year the job states; where it states none,
// and at least three codes mean one date, against the middle one of them, by
// more than three years. Source: CodeSource; the three years are our own.
func ReadBuild(codes []amp.DateCode, about string) Build {
	var b Build
	for _, dc := range codes {
		c, err := ReadCode(dc.Code)
		if err == nil {
			c, err = c.Settle(dc.Year)
		}
		if p, bad := unit.Located(err, dc.On, 0, "date code", dc.Code); bad {
			b.Problems = append(b.Problems, p)
			continue
		}
		c.On = dc.On
		b.Codes = append(b.Codes, c.Against(about))
	}
	if _, _, ok := Years(about); !ok {
		b.amongThemselves()
	}
	b.sortOut()
	b.say()
	return b
}

// amongThemselves holds the codes against the middle one of those that mean
// one date.
func (b *Build) amongThemselves() {
	var years []int
	for _, c := range b.Codes {
		if d, ok := c.Sure(); ok {
			years = append(years, d.Year)
		}
	}
	if len(years) < 3 {
		return
	}
	sort.Ints(years)
	middle := years[len(years)/2]
	for i, c := range b.Codes {
		// Against gives a year of grace below, so the span starts two before.
		b.Codes[i] = c.Against(fmt.Sprintf("%d-%d", middle-2, middle+3))
	}
}

// sortOut fills the earliest build, the outliers and what to ask.
func (b *Build) sortOut() {
	for i := range b.Codes {
		c := &b.Codes[i]
		if fit, all := c.apart(); all {
			b.Outliers = append(b.Outliers, Outlier{*c, fit, outlierWhy(fit)})
			continue
		}
		d, sure := c.Sure()
		if !sure {
			b.Ask = append(b.Ask, *c)
			continue
		}
		if b.Earliest == nil || later(d, b.Earliest.Choices[0]) {
			b.Earliest = c
		}
	}
}

// apart reports whether no date the code can mean fits the amp.
func (c CodeReading) apart() (Fit, bool) {
	fit := UnknownFit
	for _, d := range c.Choices {
		if d.Fit != OldStock && d.Fit != Replacement {
			return UnknownFit, false
		}
		fit = d.Fit
	}
	return fit, true
}

func outlierWhy(f Fit) string {
	if f == Replacement {
		return "younger than the amp: likely a later replacement"
	}
	return "older than the amp: likely old stock, or from another set"
}

func later(a, b CodeDate) bool {
	return a.Year > b.Year || a.Year == b.Year && a.Week > b.Week
}

func (b *Build) say() {
	if b.Earliest == nil {
		b.Say = "no code says for certain when the amp was built"
		return
	}
	b.Say = fmt.Sprintf("built in %s at the earliest, by the %s", b.Earliest.Choices[0], b.Earliest.On)
	for _, c := range b.Ask {
		for _, d := range c.Choices {
			if d.Fit == Fits && later(d, b.Earliest.Choices[0]) {
				b.Say += fmt.Sprintf("; in %s if that is what the %s says", d, c.On)
			}
		}
	}
}
