package job

import (
	"slices"
	"strings"

	"lugworth/core/bench"
	"lugworth/core/decision"
	"lugworth/core/finding"
	"lugworth/core/record"
	"lugworth/core/unit"
)

// choices reads what is chosen and kept with the job, in the order in which
// its problems are listed; of some kinds only, where the others are read. A
// yes or no then decodes its own few records, and not every row and photo.
func (d *decoder) choices(kinds []string) {
	j := d.job
	if j.said == nil {
		j.said, kinds = make([][]unit.Problem, len(readings)), nil
	}
	facts := j.Problems
	for i, r := range readings {
		if kinds != nil && !slices.ContainsFunc(r.kinds, func(k string) bool { return slices.Contains(kinds, k) }) {
			continue
		}
		j.Problems = nil
		r.read(d)
		j.said[i] = j.Problems
	}
	j.Problems = facts
	for _, said := range j.said {
		j.Problems = append(j.Problems, said...)
	}
}

// readings lists what is read of the records that choose and keep.
var readings = []struct {
	kinds []string
	read  func(*decoder)
}{
	{[]string{KindSet}, (*decoder).sets},
	{[]string{KindPick}, (*decoder).pick},
	{[]string{KindReason}, (*decoder).reasons},
	{[]string{KindBuy}, (*decoder).buying},
	{[]string{KindTrial}, func(d *decoder) { d.job.Trials = each[Trial](d, KindTrial) }},
	{[]string{KindOffer}, func(d *decoder) { d.job.Copies = each[Copy](d, KindOffer) }},
	{[]string{KindBook}, func(d *decoder) { d.job.Books = each[Book](d, KindBook) }},
	{[]string{KindFrozen}, func(d *decoder) { d.job.Frozen = each[FrozenRecord](d, KindFrozen) }},
	{[]string{KindDone}, func(d *decoder) { d.job.Done = each[Done](d, KindDone) }},
	{[]string{KindPhoto}, func(d *decoder) { d.job.Photos = each[finding.Photo](d, KindPhoto) }},
	{[]string{KindCheck}, func(d *decoder) { d.job.Triage = each[bench.Answer](d, KindCheck) }},
	{[]string{KindPark}, func(d *decoder) {
		d.job.Park = bench.Park{}
		d.decode(KindPark, "", &d.job.Park)
	}},
	{[]string{KindConsent}, (*decoder).consents},
	{[]string{KindPlaced, KindArrived}, (*decoder).placed},
	{[]string{KindFinal}, func(d *decoder) { d.job.Finals = each[bench.Answer](d, KindFinal) }},
	{[]string{KindOldPart}, func(d *decoder) { d.job.OldParts = each[bench.OldPart](d, KindOldPart) }},
	{[]string{KindConsent}, func(d *decoder) {
		d.job.Agreed = nil
		for _, c := range each[struct{ Accept []string }](d, KindConsent) {
			d.job.Agreed = append(d.job.Agreed, c.Accept)
		}
	}},
}

func (d *decoder) sets() {
	d.job.Sets = nil
	for _, id := range d.job.State.IDs(KindSet) {
		s := struct {
			ID string
			Set
			Removed bool
		}{Set: Set{Name: id}}
		d.decode(KindSet, id, &s)
		d.job.Sets = append(d.job.Sets, s.Set)
	}
}

func (d *decoder) pick() {
	var pick struct {
		Name    string
		Removed bool
	}
	d.decode(KindPick, "", &pick)
	d.job.Pick = pick.Name
}

func (d *decoder) reasons() {
	d.job.Reasons = map[string]string{}
	for _, id := range d.job.State.IDs(KindReason) {
		var r struct{ Option, Say string }
		d.decode(KindReason, id, &r)
		if r.Option == "" {
			r.Option = id
		}
		d.job.Reasons[r.Option] = strings.TrimSpace(r.Say)
	}
}

func each[T any](d *decoder, kind string) []T {
	var out []T
	for _, id := range d.job.State.IDs(kind) {
		var v T
		d.decode(kind, id, &v)
		out = append(out, v)
	}
	return out
}

// consents reads what the owner said. Answers of one name come from devices
// apart: each stands, and the later one says so.
func (d *decoder) consents() {
	d.job.Consents = each[decision.Consent](d, KindConsent)
	for i := range d.job.Consents {
		c := &d.job.Consents[i]
		if name, _, apart := strings.Cut(c.ID, record.Apart); apart {
			c.Apart = name
		}
	}
}

// buying reads how the order differs from the plan.
func (d *decoder) buying() {
	var b struct {
		BuyBody
		Removed bool
	}
	if !d.decode(KindBuy, "", &b) {
		d.decode(KindBuy, KindBuy, &b) // written with an id, it is the same one
	}
	d.job.Buying, d.job.spares = b.BuyBody, nil
	for i := range b.Spares {
		d.job.spares = append(d.job.spares, d.whole(KindBuy, "", "packs", b.Spares[i].Packs, 1, 0))
	}
}
