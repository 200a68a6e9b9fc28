package job

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"lugworth/core/labor"
	"lugworth/core/plan"
	"lugworth/core/record"
	"lugworth/core/unit"
)

// wrongType says in words which field of an entity holds another sort of
// value than it should. Fields behind it may be unread as well.
func wrongType(err error) (field, cell string, said error) {
	var w *json.UnmarshalTypeError
	if !errors.As(err, &w) {
		return "", "", err
	}
	want := map[string]string{"string": "text in quotes", "bool": "true or false"}[w.Type.String()]
	if want == "" {
		want = "a list or an object"
	}
	return strings.ToLower(w.Field), "", fmt.Errorf("holds a %s, where %s is wanted", w.Value, want)
}

// strict are the kinds in which a mistyped field would move a price, a date
// or a verdict without a word: "part" for "parts", "ceilng" for "ceiling".
var strict = map[string]bool{KindOption: true, KindSetUp: true, KindSet: true, KindPick: true, KindBounds: true, KindMains: true}

// strictly decodes an entity and reports whether every field of it is known.
// The first that is not is told of; it stays in the records.
func (d *decoder) strictly(kind, id string, into any) bool {
	raw, _ := d.job.State.JSON(kind, id)
	dec := json.NewDecoder(bytes.NewReader(raw))
	dec.DisallowUnknownFields()
	err := dec.Decode(into)
	if err == nil {
		return true
	}
	if _, field, unknown := strings.Cut(err.Error(), "unknown field "); unknown {
		d.job.say(strings.TrimSpace(kind+" "+id), fmt.Errorf("%s is not a field this version knows: kept and passed on, not reckoned with", field))
	}
	return false
}

// notices lists what the fold kept and this version has no use for.
func (d *decoder) notices() {
	j := d.job
	for _, u := range j.State.Unknown() {
		j.say("record "+strings.Join(u.Records, ", "), fmt.Errorf("kind %q is not known to this version: kept and passed on", u.Kind))
	}
	for _, n := range j.State.Notices() {
		if n.Code == record.BodyUnread {
			j.say("", errors.New(n.Say))
		}
	}
}

// say notes a problem in a sentence.
func (j *Job) say(where string, err error) {
	if p, ok := unit.Located(err, where, 0, "", ""); ok {
		j.Problems = append(j.Problems, p)
	}
}

// lists are the kinds of which a hand-written file gives each id once.
var lists = map[string]bool{KindFinding: true, KindOption: true, KindSetUp: true, KindPosition: true, KindReading: true}

// repeated tells of an id that a hand-written file gives twice with another
// value of the same field: there it is a slip. In a chained file it is a
// change.
func repeated(f record.File) []unit.Problem {
	if !f.NoChain {
		return nil
	}
	var out []unit.Problem
	first := map[string]int{}
	for i, r := range f.Records {
		if !lists[r.Kind] {
			continue
		}
		var b map[string]json.RawMessage
		if json.Unmarshal(r.Body, &b) != nil || b["id"] == nil {
			continue
		}
		k := r.Kind + " " + strings.Trim(string(b["id"]), `"`)
		if was, ok := first[k]; ok && clash(f.Records[was].Body, b) {
			out = append(out, unit.Problem{File: k, Column: "id", Code: unit.Duplicate,
				Say: fmt.Sprintf("stands in %s and again in %s; the later fields count", f.Records[was].ID, r.ID)})
			continue
		}
		first[k] = i
	}
	return out
}

func clash(body json.RawMessage, b map[string]json.RawMessage) bool {
	var a map[string]json.RawMessage
	if json.Unmarshal(body, &a) != nil {
		return false
	}
	for k, v := range a {
		if have, ok := b[k]; ok && !bytes.Equal(have, v) {
			return true
		}
	}
	return false
}

// checkOptions names what options speak of that the job has not: a part would
// be judged against nothing.
func (j *Job) checkOptions() []unit.Problem {
	var out []unit.Problem
	known, refs, setUps := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, f := range j.Findings {
		known[f.ID] = true
	}
	for i := range j.Amp.Positions {
		refs[j.Amp.Positions[i].Ref] = true
	}
	for _, s := range j.SetUps {
		setUps[s.ID] = true
	}
	for i := range j.Options {
		o := &j.Options[i]
		if !known[o.Finding] {
			out = note(out, "option "+o.ID, fmt.Errorf("no finding %q in this job: the option cannot be chosen", o.Finding))
		}
		out = checkOption(out, o, refs, setUps)
	}
	return out
}

func checkOption(out []unit.Problem, o *plan.Option, refs, setUps map[string]bool) []unit.Problem {
	for _, p := range o.Parts {
		for _, ref := range p.For {
			if !refs[ref] {
				out = note(out, "option "+o.ID, fmt.Errorf("no position %q in the amp: nothing is judged there", ref))
			}
		}
	}
	for _, s := range o.In {
		if !setUps[s] && s != labor.Closed {
			out = note(out, "option "+o.ID, fmt.Errorf("state %q is not defined: the option cannot be priced", s))
		}
	}
	for _, s := range o.SetUps {
		if !setUps[s] {
			out = note(out, "option "+o.ID, fmt.Errorf("set-up %q is not defined", s))
		}
	}
	return out
}

// checkSets names what sets and the pick speak of that the job has not: a
// choice would be silently empty.
func (j *Job) checkSets() []unit.Problem {
	var out []unit.Problem
	options, found := make(map[string]bool, len(j.Options)), map[string]bool{}
	for i := range j.Options {
		options[j.Options[i].ID], found[j.Options[i].ID] = true, j.Options[i].Chance > 0
	}
	for _, s := range j.Sets {
		for _, id := range s.Accept {
			if found[id] {
				out = note(out, "set "+s.Name, fmt.Errorf("option %s is an item that may be found, priced apart: take its chance away before it is chosen; the set is not priced", id))
			}
			if !options[id] {
				out = note(out, "set "+s.Name, fmt.Errorf("no option %q in this job: the set is not priced", id))
			}
		}
	}
	if j.Pick != "" && !j.State.Has(KindSet, j.Pick) {
		out = note(out, "pick", fmt.Errorf("no set %q in this job: no choice is in force", j.Pick))
	}
	return out
}

// unclear says why an option cannot be priced, nil if it can: something of
// it or of a set-up it needs could not be read.
func (r *Result) unclear(o *plan.Option) error {
	if w := r.Job.Unclear[unclearKey(KindOption, o.ID)]; w != "" {
		return errors.New(w)
	}
	for _, s := range o.SetUps {
		if w := r.Job.Unclear[unclearKey(KindSetUp, s)]; w != "" {
			return errors.New(w)
		}
	}
	return nil
}

// bound says what is wrong with a bound the owner set.
func bound(field, text string, err error) error {
	p, _ := unit.Located(err, KindBounds, 0, field, text)
	return p
}

// stops says why nothing can be priced at all, nil if it can.
func (b *Books) stops() error {
	if !b.HasSheet {
		return errors.New("no shop.csv that can be read, so currency, rate, fee, mark-up and reserve are not known: nothing can be priced")
	}
	return b.Sheet.Stops()
}
