package app

import (
	"strings"
	"testing"

	"lugworth/core/record"
	"lugworth/wasm/port"
)

func (b *bench) says(tick bool, pairs ...string) []port.Effect {
	msg := port.Submitted{Where: port.Where{Act: "consent"}, Fresh: b.fresh()}
	for i := 0; i < len(pairs); i += 2 {
		msg.Fields = append(msg.Fields, port.Field{Name: pairs[i], Value: pairs[i+1]})
	}
	msg.Fields = append(msg.Fields, port.Field{Name: "readback", Value: "on", Checked: tick})
	return b.send(msg)
}

// An answer is recorded with all its fields and the estimate frozen beside
// it; it outlives undo; what is added later is not agreed.
func TestTheOwnersAnswer(t *testing.T) {
	b := atBench(t, "tern")
	r := b.m.Open.Result
	if a := r.Authority(); a.Given || a.Covers() {
		t.Fatal("agreed before anyone was asked")
	}
	b.press("consent-open", "", "", "")
	b.says(false, "who", "", "channel", "by phone", "called", "", "received", "R. Tamm", "ceiling", "450.00")
	if ask := b.m.Screen.Ask; !strings.Contains(ask, "who agreed; the number called; that it was read back") || len(b.m.Open.Job.Consents) != 0 {
		t.Fatalf("asks %q", ask)
	}
	b.says(true, "who", "Ilse Varnholt", "channel", "by phone", "called", "555 0199", "received", "R. Tamm", "ceiling", "4x0")
	if ask := b.m.Screen.Ask; !strings.Contains(ask, "a ceiling that can be read") {
		t.Fatalf("asks %q", ask)
	}
	b.press("answer", "A7", "", "no")
	effects := b.says(true, "who", "Ilse Varnholt", "channel", "by phone", "called", "555 0199", "received", "R. Tamm", "ceiling", "450.00", "conditions", "not before Friday")
	j := b.m.Open.Job
	if len(j.Consents) != 1 || len(j.Frozen) != 1 || len(effectsOf[port.SaveRecords](effects)) == 0 {
		t.Fatalf("%d consents, %d frozen, asks %q", len(j.Consents), len(j.Frozen), b.m.Screen.Ask)
	}
	c := j.Consents[0]
	if c.Estimate != j.Frozen[0].ID || c.Total != "432.37" || c.Ceiling != "450.00" || c.ReadBack != "yes" || len(c.Accept) == 0 || len(c.Lacks()) > 0 {
		t.Errorf("%+v", c)
	}
	if len(c.Declined)+len(c.Open) == 0 {
		t.Error("nothing is said of what was left out")
	}
	if b.m.MayUndo() {
		t.Error("an answer can be undone")
	}
	if a := b.m.Open.Result.Authority(); !a.Covers() {
		t.Errorf("as agreed: %+v", a)
	}
	e, err := b.m.Estimate("")
	if err != nil || len(e.Consents) != 1 || !strings.Contains(e.Consents[0], "by phone on 555 0199: Ilse Varnholt agreed") {
		t.Errorf("on paper: %v %q", err, e.Consents)
	}
	// More work: not agreed; a second answer follows, the first stays.
	more := ""
	for _, o := range b.m.Open.Result.Options {
		if !o.Accepted && o.Refused == "" {
			more = o.Option.ID
		}
	}
	b.press("accept", more, "", "")
	if a := b.m.Open.Result.Authority(); a.Covers() || a.May(more) {
		t.Errorf("%s is agreed without a word: %+v", more, a)
	}
	b.press("change-order", "", "", "")
	if s, err := b.m.Sheet(); err != nil || len(s.Blocks) == 0 || b.m.Screen.Posture != "papers" {
		t.Errorf("no change order: %v", err)
	}
	b.says(true, "who", "Ilse Varnholt", "channel", "in writing", "received", "R. Tamm", "ceiling", "")
	j = b.m.Open.Job
	if len(j.Consents) != 2 || j.Consents[0].Total != "432.37" || !strings.HasPrefix(j.Consents[1].Added, "+") || !b.m.Open.Result.Authority().Covers() {
		t.Errorf("%+v", j.Consents)
	}
	if rep := record.Verify(b.m.Open.Log.File()); !rep.Whole() {
		t.Error(rep)
	}
}

// What is read back is what is recorded: the ceiling of the form, never less
// than the choice comes to.
func TestTheCeilingIsReadBack(t *testing.T) {
	b := atBench(t, "tern") // the owner's ceiling is 450.00, the choice 432.37
	b.press("consent-open", "", "", "")
	if say := b.m.ReadBack()[0]; !strings.Contains(say, "432.37 GBP as it stands now, and 450.00 GBP at most") {
		t.Errorf("reads back %q", say)
	}
	b.m.Screen.Drafts = map[string]string{draftKey(port.Where{Act: "draft", ID: "consent", K: "ceiling"}): ""}
	if say := b.m.ReadBack()[0]; !strings.Contains(say, "432.37 GBP as it stands now, and no more") {
		t.Errorf("reads back %q", say)
	}
	b.says(true, "who", "Ilse Varnholt", "channel", "at the shop", "received", "R. Tamm", "ceiling", "432.36")
	if ask := b.m.Screen.Ask; !strings.Contains(ask, "a choice under the ceiling: this one is 432.37") || len(b.m.Open.Job.Consents) != 0 {
		t.Errorf("asks %q", ask)
	}
}

// An answer is of an estimate that is the choice as it stands: one of the same
// day, options and total with other words is not used for it.
func TestAnAnswerIsOfTheEstimateAsItStands(t *testing.T) {
	b := atBench(t, "tern")
	agree := func() string {
		b.says(true, "who", "Ilse Varnholt", "channel", "at the shop", "received", "R. Tamm", "ceiling", "")
		j := b.m.Open.Job
		return j.Consents[len(j.Consents)-1].Estimate
	}
	first := agree()
	if again := agree(); again != first || len(b.m.Open.Job.Frozen) != 1 {
		t.Errorf("the same choice is frozen again: %s, %s", first, again)
	}
	say := b.m.Open.Job.Options[0]
	b.m.commit(b.fresh(), "", set("option", say.ID, map[string]any{"say": "another thing is done"}))
	if other := agree(); other == first || len(b.m.Open.Job.Frozen) != 2 {
		t.Errorf("the answer is of estimate %s, whose words are others", other)
	}
}
