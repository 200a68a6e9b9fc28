// Package shop holds what the shop decides: its policy sheet (rates, mark-up,
// tax, reserve) and its library of tasks, every value with its source.
//
//	markup,25,our own price policy       25 % on landed cost
//	1.12 landed, markup 20               1.34 a piece
package shop

import (
	"lugworth/core/money"
	"lugworth/core/unit"
)

// An Entry is one row of the sheet.
type Entry struct {
	Key, Value, Source string
	Line               int
}

// A Sheet is the shop's policy. Percentages are as people say them: 25 means
// 25 %. Has tells a value that was given from one that was left out.
type Sheet struct {
	Name              string
	Currency          money.Currency
	Rate              money.Decimal // per hour, home currency
	Fee               money.Decimal // bench fee, home currency
	Markup            money.Decimal // percent on landed cost
	SubcontractMarkup money.Decimal // percent on the subcontractor's price only
	Tax               money.Decimal // percent
	TaxOn             TaxOn
	Registered        bool          // registered for the tax; if not, no tax is billed
	Allowance         money.Decimal // percent of labor kept for finds, outside the total
	Reserve           money.Decimal // percent a rated voltage must stand above the worst voltage
	MeterPercent      money.Decimal // accuracy of the shop's meter, percent of reading
	DateTest          DateTest
	BenchHours        money.Decimal // hours a day the bench has for one job
	OpenDays          [7]bool       // Monday first
	Holidays          []string      // closed days, 2026-12-25, in their order
	AnswerDays        Wait          // days until the owner answers
	CarriageDays      Wait          // days on the road, after the stated lead
	Quarter           bool          // hours are billed in quarters of an hour
	Rounding          money.Rounding
	Deposit           money.Decimal // percent of the total asked in advance
	ValidDays         int           // days an estimate holds
	Place             string        // country or state whose consumer rules the shop shows

	Entries   []Entry        // every row as read, in its order
	Unknown   []string       // keys this release does not know, kept and written back
	Missing   []string       // keys without which no job can be priced
	Unsourced []string       // keys whose value gives no source
	Wrong     []unit.Problem // values that could not be read; their fields are zero

	file  string
	rows  []sheetRow // how the file was written, for Write
	comma rune
	mark  bool   // it had a byte-order mark
	bytes []byte // the file itself, until the sheet is changed
}

// TaxOn says what the shop's tax falls on.
type TaxOn string

const (
	TaxOnNone  TaxOn = "none"
	TaxOnParts TaxOn = "parts"
	TaxOnAll   TaxOn = "all"
)

// DateTest says how a ready date is judged.
type DateTest string

const (
	LongestLead DateTest = "longest-lead" // the longest lead among what was accepted; bench time not counted
	P80         DateTest = "P80"          // the date kept in four of five cases
)
