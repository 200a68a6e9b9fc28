package job

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/finding"
	"lugworth/core/intake"
	"lugworth/core/labor"
	"lugworth/core/money"
	"lugworth/core/plan"
	"lugworth/core/record"
	"lugworth/core/shop"
	"lugworth/core/unit"
)

// Read folds the records of a file into a job. What cannot be read is kept in
// the records and listed in Problems; nothing is dropped.
func Read(f record.File) *Job {
	j := Fold(record.Fold(f.Records, FoldKinds...), !f.NoChain)
	j.Problems = append(j.Problems, repeated(f)...)
	return j
}

// Fold turns the state of the records into a job.
func Fold(s record.State, chain bool) *Job {
	d := decoder{job: &Job{State: s, Chain: chain, facts: &facts{}, Reasons: map[string]string{}, Unclear: map[string]string{}}}
	d.intake()
	d.amp()
	d.findings()
	d.options()
	d.job.settled = len(d.job.Problems)
	d.choices(nil)
	d.notices()
	return d.job
}

// choosing are the kinds a yes or no writes, besides the facts themselves.
var choosing = map[string]bool{KindSet: true, KindPick: true, KindReason: true, KindOffer: true, KindBuy: true, KindDone: true, KindPhoto: true, KindCheck: true, KindPark: true, KindFinal: true, KindOldPart: true, KindPlaced: true, KindArrived: true, KindConsent: true, KindFrozen: true}

// After returns the job that Fold makes of a state with further records of
// the given kinds. Where they only choose among what the job knows, its facts
// are not read again.
func (j *Job) After(s record.State, kinds ...string) *Job {
	for _, k := range kinds {
		if !choosing[k] {
			return Fold(s, j.Chain)
		}
	}
	next := *j
	next.State, next.said = s, slices.Clone(j.said)
	next.Problems = j.Problems[:j.settled:j.settled]
	d := decoder{job: &next}
	d.choices(kinds)
	d.notices()
	return d.job
}

// Add puts positions and readings that came as files of their own into the
// job, after those of its records.
func (j *Job) Add(ps []amp.Position, rs []amp.Reading) {
	j.Amp.Positions = append(j.Amp.Positions, ps...)
	j.Amp.Readings = append(j.Amp.Readings, rs...)
	j.facts = &facts{}
}

type decoder struct{ job *Job }

// problem notes a field that cannot be read.
func (d *decoder) problem(kind, id, field, cell string, err error) {
	where := strings.TrimSpace(kind + " " + id)
	p, ok := unit.Located(err, where, 0, field, cell)
	if !ok {
		return
	}
	d.job.Problems = append(d.job.Problems, p)
	if kind == KindOption || kind == KindSetUp {
		d.unclear(kind, id, p)
	}
}

// unclear keeps an option or a set-up from being priced: what cannot be read
// of it would count as nothing.
func (d *decoder) unclear(kind, id string, p unit.Problem) {
	if k := unclearKey(kind, id); d.job.Unclear[k] == "" {
		d.job.Unclear[k] = p.Error()
	}
}

func unclearKey(kind, id string) string { return kind + " " + id }

// decode fills into from one entity and reports whether it was there.
func (d *decoder) decode(kind, id string, into any) bool {
	if !d.job.State.Has(kind, id) {
		return false
	}
	if strict[kind] && d.strictly(kind, id, into) {
		return true
	}
	if err := d.job.State.Decode(kind, id, into); err != nil {
		field, cell, said := wrongType(err)
		d.problem(kind, id, field, cell, said)
	}
	return true
}

func (d *decoder) intake() {
	j := d.job
	var head struct{ Number, Title string }
	d.decode(KindJob, "", &head)
	j.Number, j.Title = head.Number, head.Title
	d.decode(KindOwner, "", &j.Owner)
	d.decode(KindReceipt, "", &j.Receipt)
	var bounds struct {
		intake.Bounds
		Removed bool
	}
	d.decode(KindBounds, "", &bounds)
	j.Bounds = bounds.Bounds
	var m struct {
		Measured, Low, High, Marked, How string
		Removed                          bool
	}
	if d.decode(KindMains, "", &m) {
		j.Mains = intake.Mains{
			Measured: unit.Voltage(d.number(KindMains, "", "measured", m.Measured, unit.Volt)),
			Low:      unit.Voltage(d.number(KindMains, "", "low", m.Low, unit.Volt)),
			High:     unit.Voltage(d.number(KindMains, "", "high", m.High, unit.Volt)),
			Marked:   unit.Voltage(d.number(KindMains, "", "marked", m.Marked, unit.Volt)),
			How:      m.How, Record: "mains as declared",
		}
		switch {
		case j.Mains.High > 0 && j.Mains.Low > j.Mains.High:
			d.problem(KindMains, "", "low", m.Low, fmt.Errorf("the low end %q is above the high end %q, so no range counts as declared", m.Low, m.High))
		case j.Mains.Low > 0 && j.Mains.High > 0 && !j.Mains.Declared():
			d.problem(KindMains, "", "high", m.High, fmt.Errorf("the range %q to %q does not hold the measured %q, or is no public supply: no range counts as declared", m.Low, m.High, m.Measured))
		}
	}
}

// number reads one quantity; empty is zero and not a problem.
func (d *decoder) number(kind, id, field, text string, u unit.Unit) float64 {
	if strings.TrimSpace(text) == "" {
		return 0
	}
	v, err := unit.Read(text, u)
	if err != nil {
		d.problem(kind, id, field, text, err)
		return 0
	}
	return v
}

// decimal reads one exact number; empty is zero and not a problem.
func (d *decoder) decimal(kind, id, field, text string) money.Decimal {
	if strings.TrimSpace(text) == "" {
		return money.Decimal{}
	}
	v, err := money.ReadDecimal(text, money.Point)
	if err != nil {
		d.problem(kind, id, field, text, err)
	}
	return v
}

// sum reads an amount of an option that is not below zero.
func (d *decoder) sum(option, field, text string) money.Decimal {
	v := d.decimal(KindOption, option, field, text)
	if v.Sign() < 0 {
		d.problem(KindOption, option, field, text, unit.Problem{Code: unit.Negative})
	}
	return v
}

// hours reads the three hours of an option or a set-up. Hours that are not
// stated are not zero hours.
func (d *decoder) hours(kind, id, low, mode, high string) (l, m, h money.Decimal) {
	var lacks []string
	for _, c := range []struct {
		field, text string
		into        *money.Decimal
	}{{"low", low, &l}, {"mode", mode, &m}, {"high", high, &h}} {
		if strings.TrimSpace(c.text) == "" {
			lacks = append(lacks, c.field)
			continue
		}
		*c.into = d.decimal(kind, id, c.field, c.text)
	}
	if len(lacks) > 0 {
		d.problem(kind, id, "", "", fmt.Errorf("hours are not stated: %s; 0 must be written", strings.Join(lacks, ", ")))
	} else if err := (labor.Three{Low: l, Mode: m, High: h}).Check(); err != nil && d.job.Unclear[unclearKey(kind, id)] == "" {
		d.problem(kind, id, "", "", err)
	}
	return l, m, h
}

// whole reads a whole number from least; empty gives none.
func (d *decoder) whole(kind, id, field, text string, least, none int) int {
	if strings.TrimSpace(text) == "" {
		return none
	}
	n, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil || n < least {
		d.problem(kind, id, field, text, fmt.Errorf("%q is not a whole number from %d", text, least))
		return none
	}
	return n
}

func (d *decoder) amp() {
	a := &d.job.Amp
	var in struct {
		Maker, Model, Serial, About, Label, Tap, Bias string
		Taps                                          []string
		Standby, Alike, Grounded                      bool
		DateCodes                                     []amp.DateCode `json:"date_codes"`
	}
	if d.decode(KindAmp, "", &in) {
		*a = amp.Amp{Maker: in.Maker, Model: in.Model, Serial: in.Serial, About: in.About, Label: in.Label, Tap: in.Tap, Bias: in.Bias,
			Taps: in.Taps, Standby: in.Standby, Alike: in.Alike, Grounded: in.Grounded, DateCodes: in.DateCodes, Record: "amp as described"}
	}
	s := d.job.State
	for _, id := range s.IDs(KindPosition) {
		p, problems := amp.NewPosition(d.fields(KindPosition, id))
		d.place(KindPosition, id, problems)
		p.Record = id
		a.Positions = append(a.Positions, p)
	}
	for _, id := range s.IDs(KindReading) {
		r, problems := amp.NewReading(d.fields(KindReading, id), a.Readings)
		d.place(KindReading, id, problems)
		if len(problems) == 0 {
			r.ID = id
			a.Readings = append(a.Readings, r)
		}
	}
}

// fields returns the fields of an entity as texts.
func (d *decoder) fields(kind, id string) map[string]string {
	body := map[string]json.RawMessage{}
	s := d.job.State
	for _, f := range s.Fields(kind, id) {
		if v, ok := s.Field(kind, id, f); ok {
			body[f] = v.JSON
		}
	}
	return amp.Fields(body)
}

func (d *decoder) place(kind, id string, problems []unit.Problem) {
	for _, p := range problems {
		if p.File == "" {
			p.File = kind + " " + id
		}
		d.job.Problems = append(d.job.Problems, p)
	}
}

func (d *decoder) findings() {
	for _, id := range d.job.State.IDs(KindFinding) {
		f := finding.Finding{ID: id}
		d.decode(KindFinding, id, &f)
		f.ID = id
		d.job.Findings = append(d.job.Findings, f)
	}
}

// optionBody is an option as a record holds it.
type optionBody struct {
	ID                                                                                           string
	Finding, Task, Say, Low, Mode, High, Tap, Look, Matter, Undo, Disclosure, Consequence, Value string
	Wait, Chance                                                                                 string
	State, After                                                                                 []string
	SetUps                                                                                       []string
	Needs                                                                                        []string
	Both, Removed                                                                                bool
	Parts                                                                                        []partBody
	Other                                                                                        []otherBody
}

type partBody struct {
	Qty, Is, List, Number string
	For                   []string
	Made                  string // how several alike make up one place: "2 in series"
	Across                string // balancing resistors: index of the part they stand across, "0" first
}

type otherBody struct{ Say, Price, Carriage, Days string }

func (d *decoder) options() {
	for _, id := range d.job.State.IDs(KindSetUp) {
		var b struct {
			ID, Say, Low, Mode, High, From string
			Removed                        bool
		}
		d.decode(KindSetUp, id, &b)
		s := labor.SetUp{ID: id, Say: b.Say, From: strings.TrimSpace(b.From), Where: "set-up " + id}
		s.Three.Low, s.Three.Mode, s.Three.High = d.hours(KindSetUp, id, b.Low, b.Mode, b.High)
		d.job.SetUps = append(d.job.SetUps, s)
	}
	for _, id := range d.job.State.IDs(KindOption) {
		var b optionBody
		d.decode(KindOption, id, &b)
		d.job.Options = append(d.job.Options, d.option(id, b))
	}
}

func (d *decoder) option(id string, b optionBody) plan.Option {
	task := b.Task
	if task == "" {
		task, _, _ = strings.Cut(id, "/")
	}
	o := plan.Option{
		ID: id, Finding: b.Finding, Task: task, Say: b.Say,
		SetUps: b.SetUps, Tap: b.Tap, Look: shop.Look(b.Look), Matter: shop.Matter(b.Matter), Undo: shop.Undo(b.Undo),
		Disclosure: b.Disclosure, Consequence: b.Consequence, Value: d.whole(KindOption, id, "value", b.Value, 0, 0),
		Both: b.Both, Needs: b.Needs, In: b.State, After: b.After, Record: id,
	}
	o.Wait, o.Chance = d.drying(id, b.Wait), d.chance(id, b.Chance)
	o.Low, o.Mode, o.High = d.hours(KindOption, id, b.Low, b.Mode, b.High)
	for _, p := range b.Parts {
		o.Parts = append(o.Parts, d.part(id, p))
	}
	for _, err := range plan.Join(o.Parts) {
		d.problem(KindOption, id, "parts", "", err)
	}
	for _, x := range b.Other {
		if strings.TrimSpace(x.Price) == "" {
			d.problem(KindOption, id, "other price", x.Price, fmt.Errorf("%q is sent out and no price is stated; 0 must be written", x.Say))
		}
		o.Other = append(o.Other, plan.Subcontract{Say: x.Say, Price: d.sum(id, "other price", x.Price),
			Carriage: d.sum(id, "other carriage", x.Carriage), Days: d.whole(KindOption, id, "other days", x.Days, 0, -1)})
	}
	return o
}

func (d *decoder) part(option string, b partBody) plan.Part {
	p := plan.Part{Qty: d.whole(KindOption, option, "qty", b.Qty, 1, 1), Is: b.Is, For: b.For, List: b.List, Number: b.Number}
	if strings.TrimSpace(b.Qty) == "" && len(b.For) > 1 {
		d.problem(KindOption, option, "qty", b.Qty, fmt.Errorf("%q goes into %d places and no number of pieces is stated", b.Is, len(b.For)))
	}
	w, err := plan.ReadWant(b.Is)
	if err != nil {
		d.problem(KindOption, option, "is", b.Is, err)
	}
	p.Want = w
	p.Across = d.whole(KindOption, option, "across", b.Across, 0, -1) + 1
	if p.Made, err = plan.ReadMade(b.Made); err != nil {
		d.problem(KindOption, option, "made", b.Made, err)
	}
	return p
}
