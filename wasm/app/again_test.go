package app

import (
	"slices"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/job"
	"lugworth/core/plan"
	"lugworth/wasm/port"
)

// What is entered after something was removed must not vanish with it: a
// number that was taken away is not given again, and a name that is given
// again by hand brings the thing back without what it held.
func TestWhatIsEnteredAfterARemovalStays(t *testing.T) {
	b := atBench(t, "drover")
	j := func() *job.Job { return b.m.Open.Job }

	readings := len(j().Amp.Readings)
	b.press("remove", j().Amp.Readings[0].ID, job.KindReading, "")
	b.reads(Entry{At: "B3", Quantity: amp.Volts, Value: "285", Unit: "V", Mains: "117"})
	if got := len(j().Amp.Readings); got != readings {
		t.Errorf("%d readings, want %d: one removed, one kept", got, readings)
	}

	findings := len(j().Findings)
	b.press("finding-new", "", "", "")
	last := j().Findings[findings].ID
	b.press("remove", last, job.KindFinding, "")
	b.press("finding-new", "", "", "")
	if len(j().Findings) != findings+1 || j().Findings[findings].ID == last {
		t.Errorf("%d findings, the last %s; want %d and another than %s", len(j().Findings), j().Findings[len(j().Findings)-1].ID, findings+1, last)
	}

	b.press("remove", "C5", job.KindPosition, "")
	b.form("position", "", "ref", "C5", "kind", "film capacitor", "role", "coupler", "value", ".022uF", "nodes", "a=P2a b=G3")
	p, ok := (&j().Amp).Find("C5")
	if !ok || p.Rating != "" {
		t.Errorf("C5 is there: %v, rated %q; want it there with no rating, as entered", ok, p.Rating)
	}

	b = empty(t)
	b.press("finding-new", "", "", "")
	id := b.m.Screen.Finding
	b.press("task-attach", id, "couplers", "")
	option := j().Options[0].ID
	b.press("remove", option, job.KindOption, "")
	b.press("task-attach", id, "couplers", "")
	if len(j().Options) != 2 || !slices.ContainsFunc(j().Options, func(o plan.Option) bool { return o.ID == option }) {
		t.Errorf("%d options; want 2, and %s back when its task is attached again", len(j().Options), option)
	}
}

// Who brings only a price list still has a sheet and tasks to price with; of
// the sample lists none is left, for nobody can order from them.
func TestAListOfOnesOwnLeavesTheSampleBooks(t *testing.T) {
	b := empty(t)
	b.send(port.FileOpened{Files: []port.File{{Name: "hollis.csv", Bytes: []byte("Part,Desc,Price\nA-1,Film 22nF 630V,0.40\n")}}, Fresh: b.fresh()})
	b.send(port.Pressed{Where: port.Where{Act: "coming-take", ID: "hollis"}, Fresh: b.fresh()})
	books := b.m.Open.Books
	if len(books.Library.Tasks) == 0 || books.Sheet.Currency.Code == "" {
		t.Errorf("%d tasks, currency %q: the sample books went with the sample lists", len(books.Library.Tasks), books.Sheet.Currency.Code)
	}
	if lists := b.m.PriceLists(); len(lists) != 1 || lists[0].Name != "hollis" {
		t.Errorf("%d lists, want hollis alone", len(lists))
	}
	if got := b.m.StillSamples(); !slices.Equal(got, []string{"shop.csv", "tasks.csv", "terms.csv"}) {
		t.Errorf("still samples: %q", got)
	}
}
