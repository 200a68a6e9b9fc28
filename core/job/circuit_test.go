package job_test

import (
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/job"
	"lugworth/core/limit"
	"lugworth/core/rating"
	"lugworth/core/tube"
	"lugworth/core/why"
)

var sheetJobs = []string{"drover-sheet", "tern-sheet"}

// A job without a circuit is judged as before, and says why.
func TestNoCircuitStaysFirstOrder(t *testing.T) {
	for _, name := range wholeJobs {
		r := derived(t, name)
		if r.Circuit == nil || r.Circuit.Decides || len(r.Circuit.Missing) != 1 || r.Output().Circuit != nil || len(r.Failures()) > 0 {
			t.Errorf("%s: circuit %+v", name, r.Circuit)
		}
		for _, row := range r.Rows() {
			if row.Tier != 0 || row.Other != nil {
				t.Errorf("%s: %s %s is of tier %d", name, row.Subject, row.Quantity, row.Tier)
			}
		}
	}
}

// The circuit decides in both sheets, and what it expects stands inside the
// ends of the first-order rule, by the slack the verdicts allow.
func TestCircuitMeetsTheRule(t *testing.T) {
	for _, name := range sheetJobs {
		r := derived(t, name)
		if !r.Circuit.Decides {
			t.Fatalf("%s: %v", name, r.Circuit.Missing)
		}
		both, nearest := 0, math.Inf(1)
		for _, row := range r.Rows() {
			if row.Against != "" {
				t.Errorf("%s: %s %s %s: %s", name, row.Set, row.Subject, row.Quantity, row.Against)
			}
			if row.Other == nil || !row.HasFigure {
				continue
			}
			both++
			scaled, solved := row.Other.Interval, row.Interval
			if row.Tier == 0 {
				scaled, solved = solved, scaled
			}
			nearest = min(nearest, solved.Expected/scaled.Low-1, 1-solved.Expected/scaled.High)
		}
		if both < 50 || nearest < -0.02 {
			t.Errorf("%s: %d figures by both tiers, the farthest %.2f %% outside the rule", name, both, -100*nearest)
		}
		t.Logf("%s: %d figures by both tiers; inside the rule by %.2f %% or more", name, both, 100*nearest)
	}
}

// The check readings of the first job, at 124 V, lie inside the circuit's
// bands: 337 − 20.3 = 316.7 V, (20.3/262/2 − 2.7 mA) × 316.7 V = 11.41 W,
// with the screen currents read and without.
func TestChecksLieInTheBand(t *testing.T) {
	j, b := opened(t, "drover-sheet")
	for _, screens := range []bool{true, false} {
		if !screens {
			j.Amp.Readings = slices.DeleteFunc(slices.Clone(j.Amp.Readings), func(r amp.Reading) bool { return r.Quantity == amp.Current })
		}
		r := job.Derive(j, b, "")
		for q, want := range map[limit.Quantity]float64{pv: 316.7, pw: 11.41} {
			row := pick{"", "", "", "V3", q, measured}.of(t, r)
			band := row.Interval
			if row.Tier == 0 {
				band = row.Other.Interval
			}
			if want < band.Low || want > band.High {
				t.Errorf("screens read %v: %s %g to %g, the check is %g", screens, q, band.Low, band.High, want)
			}
		}
	}
}

// What no first-order rule judges is judged by the circuit: droppers, plate
// loads, bypass capacitors of stages nobody read.
func TestCircuitJudgesOtherParts(t *testing.T) {
	r := derived(t, "drover-sheet")
	for ref, q := range map[string]limit.Quantity{"R1": limit.Watts, "R2": limit.Watts, "R5": limit.Watts, "R3": limit.Watts, "C10": dc, "C11": dc} {
		found := false
		for _, row := range r.Found {
			if row.Subject == ref && row.Quantity == q {
				found = row.Tier == 1 && row.HasFigure && row.High > 0
			}
		}
		if !found {
			t.Errorf("%s: no figure of %s by the circuit", ref, q)
		}
	}
	for _, row := range r.Found {
		if row.Subject == "C20" {
			t.Errorf("C20, from the mains to the chassis, is judged: %s", row.Reason())
		}
	}
}

// A reading that no likely part explains speaks against the circuit: verdicts
// stay with the readings, and the reading is named.
func TestContradictedCircuitDoesNotDecide(t *testing.T) {
	j, b := opened(t, "drover-sheet")
	plain := *j
	plain.Amp.Positions = slices.DeleteFunc(slices.Clone(j.Amp.Positions), func(p amp.Position) bool { return p.Kind == "mains" })
	for i := range j.Amp.Readings {
		if x := &j.Amp.Readings[i]; x.At == "B1" {
			x.Amount = 395 // where the winding gives 325
		}
	}
	plain.Amp.Readings = j.Amp.Readings
	r, want := job.Derive(j, b, ""), job.Derive(&plain, b, "")
	if r.Circuit.Decides || len(r.Circuit.Missing) == 0 || !strings.Contains(strings.Join(r.Circuit.Missing, "; "), "speaks against the circuit") {
		t.Fatalf("decides %v, missing %v", r.Circuit.Decides, r.Circuit.Missing)
	}
	if r.VerdictText() != want.VerdictText() {
		t.Error("another result than without a circuit")
	}
}

// A sheet that is not whole says what is wrong, and judges by readings.
func TestBrokenSheetDoesNotDecide(t *testing.T) {
	j, b := opened(t, "drover-sheet")
	j.Amp.Positions = slices.DeleteFunc(slices.Clone(j.Amp.Positions), func(p amp.Position) bool { return p.Ref == "R10" })
	r := job.Derive(j, b, "")
	if r.Circuit.Decides || r.Circuit.Net != nil || len(r.Circuit.Missing) == 0 || len(r.Circuit.Remarks) == 0 {
		t.Errorf("without the grid leak R10: decides %v, missing %v", r.Circuit.Decides, r.Circuit.Missing)
	}
	if row := (pick{"", "", "", "V3", pv, top}).of(t, r); row.Tier != 0 || !row.HasFigure {
		t.Errorf("V3 by tier %d", row.Tier)
	}
}

// A wider spread never makes a verdict kinder, and what rests on assumed
// spreads says so.
func TestWiderSpreadIsNeverKinder(t *testing.T) {
	j, b := opened(t, "drover-sheet")
	before, assumed := passing(job.Derive(j, b, "")), 0
	b.Sheet = b.Sheet.Set("spread_perveance", "60", "test").Set("spread_resistor", "40", "test")
	r := job.Derive(j, b, "")
	for k := range passing(r) {
		if !before[k] {
			t.Errorf("%s passes with a wider spread, and not with the narrower", k)
		}
	}
	for _, row := range r.Rows() {
		if row.Assumed {
			assumed++
		}
	}
	if assumed == 0 {
		t.Error("nothing rests on assumed spreads")
	}
}

// A limit from memory is never better than not proven, circuit or not.
func TestCircuitAndMemory(t *testing.T) {
	for _, name := range sheetJobs {
		j, b := opened(t, name)
		b.Cards = fromMemory(t, b)
		for _, row := range job.Derive(j, b, "").Rows() {
			if row.HasLimit && row.Limit.Mark == limit.Memory && (row.Kind == rating.Within || row.Kind == rating.BelowReserve) {
				t.Errorf("%s: %s %s is %s by a limit from memory", name, row.Subject, row.Quantity, row.Kind)
			}
		}
	}
}

// New tubes of the same type are read again and stand in nobody's way; what
// they leave open is said.
func TestFreshTubesAreNoChange(t *testing.T) {
	r := derived(t, "drover-sheet")
	t6 := option(t, r, "T6")
	if !t6.Apart.Offered() || t6.Apart.NeedsReason() {
		t.Errorf("T6: %s", t6.Apart.Says())
	}
	row := pick{"", "T6", "", "V3", pw, top}.of(t, r)
	if !row.HasFigure || !row.Fresh || !row.Assumed || row.Kind != rating.NotProven {
		t.Errorf("new tubes: %s, fresh %v, assumed %v", row.Kind, row.Fresh, row.Assumed)
	}
}

// Failures are told of apart and change no verdict.
func TestFailures(t *testing.T) {
	r := derived(t, "drover-sheet")
	before := fmt.Sprint(r.Found)
	all := r.Failures()
	if fmt.Sprint(r.Found) != before {
		t.Error("a failure changed what is found")
	}
	worst := map[string]float64{}
	for _, f := range all {
		for _, j := range f.Rows {
			if f.Set == "" && j.Quantity == pw {
				worst[f.Say+" "+j.Subject] = j.High
			}
			if j.Subject == "V3" && f.Say == "V3 pulled" {
				t.Error("an empty socket is judged")
			}
		}
	}
	for _, say := range []string{"V3 pulled V4", "C9 shorted: the bias is lost V3", "C5 leaks 10 MΩ V3"} {
		if worst[say] < 12 {
			t.Errorf("%s: %g W, want more than the 12 W of the card", say, worst[say])
		}
	}
	if !slices.ContainsFunc(all, func(f job.Failure) bool { return strings.HasPrefix(f.Say, "full signal") && f.Missing != "" }) {
		t.Error("full signal is answered without published currents")
	}
}

// Full signal is answered where the card publishes its currents near these
// plate volts: two tubes at 300 V, 70 to 79 mA in both plates and 5 to 12 mA
// in both screens are 4.5 and 3.5 mA more in each. What stands before the
// screens then bears more.
func TestFullSignal(t *testing.T) {
	j, b := opened(t, "drover-sheet")
	c, _ := b.Cards.Find("6V6GT")
	rows := "type,aliases,kind,quantity,value,unit,system,source,mark\n"
	for _, l := range c.Limits {
		rows += fmt.Sprintf("6V6GT,,beam,%s,%g,%s,,test,user\n", l.Quantity, l.High, l.Unit)
	}
	for _, q := range [][2]string{{"plate volts", "300,V"}, {"plate current", "70,mA"}, {"max plate current", "79,mA"}, {"screen current", "5,mA"}, {"max screen current", "12,mA"}, {"tubes", "2,"}} {
		rows += "6V6GT,,beam,point 1 " + q[0] + "," + q[1] + ",,test,user\n"
	}
	cards, problems := tube.ReadCards("cards.csv", []byte(rows))
	if len(problems) > 0 {
		t.Fatal(problems[0])
	}
	b.Cards = b.Cards.With(cards)
	r := job.Derive(j, b, "")
	for _, f := range r.Failures() {
		if !strings.HasPrefix(f.Say, "full signal") || f.Set != "" {
			continue
		}
		if f.Missing != "" || len(f.Rows) == 0 {
			t.Fatalf("%s: %s", f.Say, f.Missing)
		}
		was := pick{"", "", "", "R1", limit.Watts, top}.of(t, r)
		for _, x := range f.Rows {
			if x.Quantity == limit.PlateWatts {
				t.Error("plate watts at full signal are judged: part of them goes to the speaker")
			}
			if x.Subject == "R1" && x.High <= was.High {
				t.Errorf("R1 at full signal %g W, at rest %g W", x.High, was.High)
			}
		}
		return
	}
	t.Error("nothing is said of full signal")
}

// With circuits too a Result that goes on from the one before is the one
// derived from the start.
func TestAgainWithCircuit(t *testing.T) {
	names, sets := sheetJobs, 2
	if runtime.GOARCH == "wasm" {
		names, sets = sheetJobs[:1], 1
	}
	for _, name := range names {
		j, b := opened(t, name)
		r := job.Derive(j, b, "2026-01-05")
		for _, s := range j.Sets[len(j.Sets)-sets:] {
			next := *j
			next.Pick = s.Name
			next.Sets = slices.Clone(j.Sets)
			next.Sets[0].Accept = s.Accept[1:]
			r = job.Again(r, &next, b, "2026-01-05")
			if got, want := whole(t, r), whole(t, job.Derive(&next, b, "2026-01-05")); got != want {
				t.Errorf("%s, %s: going on gives another result", name, s.Name)
			}
		}
	}
}

// Facts that the circuit does not rest on leave it standing; those it does
// have it solved anew. Either way the Result is the one from the start.
func TestCircuitGoesOn(t *testing.T) {
	j, b := opened(t, "drover-sheet")
	r := job.Derive(j, b, "")
	same := func(name string, next *job.Job, stands bool) {
		next.Add(nil, nil) // other facts, whatever they are
		got := job.Again(r, next, b, "")
		if (got.Circuit == r.Circuit) != stands {
			t.Errorf("%s: the circuit stands %v, want %v", name, !stands, stands)
		}
		if got.VerdictText()+got.BandText() != job.Derive(next, b, "").VerdictText()+job.Derive(next, b, "").BandText() {
			t.Errorf("%s: another result", name)
		}
	}
	mains := *j
	mains.Mains.High = 125
	same("the owner's range", &mains, true)
	read := *j
	read.Amp.Readings = slices.Clone(j.Amp.Readings)
	for i := range read.Amp.Readings {
		if x := &read.Amp.Readings[i]; x.At == "K" && x.Mains == 117 {
			x.Amount = 19.4
		}
	}
	same("a reading", &read, false)
	drawn := *j
	drawn.Amp.Positions = slices.Clone(j.Amp.Positions)
	for i := range drawn.Amp.Positions {
		if x := &drawn.Amp.Positions[i]; x.Ref == "R1" {
			x.Spec.Values = []float64{3300}
		}
	}
	same("a part", &drawn, false)
}

// An option that fits tubes of another type is judged by the card of that
// type, and by nothing where none is known.
func TestOtherTypesByTheirOwnCard(t *testing.T) {
	j, b := opened(t, "drover-sheet")
	b.Cards = inSystem(b, limit.Unstated)
	c, _ := b.Cards.Find("6V6GT")
	c.Type, c.Aliases, c.Limits = "7408", nil, slices.Clone(c.Limits)
	for i := range c.Limits {
		if c.Limits[i].Quantity == pw {
			c.Limits[i].High = 14
		}
	}
	b.Cards = b.Cards.With([]tube.Card{c})
	for _, typ := range []string{"7408", "9999"} {
		next := *j
		next.Options = slices.Clone(j.Options)
		for i := range next.Options {
			if o := &next.Options[i]; o.ID == "T6" {
				o.Parts = slices.Clone(o.Parts)
				o.Parts[0].List, o.Parts[0].Number, o.Parts[0].Want.Tube = "", "", typ
			}
		}
		r := job.Derive(&next, b, "")
		for _, x := range option(t, r, "T6").Apart.After {
			if x.Subject != "V3" || x.Quantity != pw || x.Scenario != top {
				continue
			}
			if x.Bound != 14 && typ == "7408" || x.Kind == rating.Within {
				t.Errorf("%s: of %g W, %s", typ, x.Bound, x.Kind)
			}
		}
	}
}

// Working ahead ends, changes nothing that is said, and leaves nothing to be
// solved for the next yes or no.
func TestAheadIsUnseen(t *testing.T) {
	for _, name := range append(slices.Clone(wholeJobs), sheetJobs...) {
		j, b := opened(t, name)
		j.Sets, j.Pick = []job.Set{{Name: "nothing yet"}}, "nothing yet"
		r, plain := job.Derive(j, b, ""), job.Derive(j, b, "")
		steps := 0
		for r.Ahead() {
			if steps++; steps > 200 {
				t.Fatalf("%s: no end of working ahead", name)
			}
		}
		if slices.Contains(wholeJobs, name) != (steps == 0) {
			t.Errorf("%s: %d steps", name, steps)
		}
		if r.VerdictText()+r.QuoteText()+r.BandText() != plain.VerdictText()+plain.QuoteText()+plain.BandText() {
			t.Errorf("%s: another result after working ahead", name)
		}
		for _, o := range j.Options {
			next := *j
			next.Sets = []job.Set{{Name: "next", Accept: r.Turn(o.ID)}}
			next.Pick = "next"
			states := r.States()
			if job.Again(r, &next, b, ""); steps > 0 && r.States() != states {
				t.Errorf("%s, %s: %d states not met before", name, o.ID, r.States()-states)
			}
		}
	}
}

// fromMemory is the cards with every limit from memory.
func fromMemory(t *testing.T, b *job.Books) tube.Set {
	t.Helper()
	set := inSystem(b, limit.Unstated)
	var cards []tube.Card
	for _, name := range []string{"6V6GT", "EL84", "5U4GB"} {
		c, ok := set.Find(name)
		if !ok {
			continue
		}
		for i := range c.Limits {
			c.Limits[i].Mark = limit.Memory
		}
		cards = append(cards, c)
	}
	if len(cards) == 0 {
		t.Fatal("no card")
	}
	return set.With(cards)
}

// Ripple current is judged where the row of a capacitor states what it bears,
// and a verdict by the circuit names what makes its band wide.
func TestRippleAndContributors(t *testing.T) {
	j, b := opened(t, "drover-sheet")
	for i := range j.Amp.Positions {
		if p := &j.Amp.Positions[i]; p.Ref == "C1a" {
			p.Extra = map[string]string{"role": "reservoir", "ripple": "500mA"}
		}
	}
	r := job.Derive(j, b, "")
	row := pick{"", "", "", "C1a", "ripple current", top}.of(t, r)
	// 71 mA of mean current behind a full wave: the capacitor carries of the
	// order of the mean, and less than three times of it (common practice).
	if !row.HasFigure || row.Expected < 0.05 || row.Expected > 0.21 || row.High < row.Expected || row.Bound != 0.5 {
		t.Errorf("ripple %g to %g A, expected %g, of %g", row.Low, row.High, row.Expected, row.Bound)
	}
	said := strings.Join(pick{"", "", "", "V3", pw, top}.of(t, r).Contributors(), "; ")
	if !strings.Contains(said, "of the width, ") {
		t.Errorf("contributors %q", said)
	}
}

// Every figure of the circuit leads back to the readings it was matched to,
// and a tube's to its current law.
func TestACircuitFigureLeadsToItsReadings(t *testing.T) {
	j, b := opened(t, "drover-sheet")
	r := job.Derive(j, b, "")
	rows := 0
	for _, row := range r.Rows() {
		if row.Tier != 1 || !row.HasFigure {
			continue
		}
		rows++
		var said []string
		var walk func(n *why.Node)
		walk = func(n *why.Node) {
			said = append(said, n.Label+" @ "+n.Where)
			for _, f := range n.From {
				walk(f)
			}
		}
		walk(row.Bears)
		all := strings.Join(said, "\n")
		if !strings.Contains(all, "V3:plate volts @ reading ") {
			t.Errorf("%s %s does not lead to a reading:\n%s", row.Subject, row.Quantity, all)
		}
		if row.Subject == "V3" && !strings.Contains(all, "current law of 6V6GT @ card 6V6GT") {
			t.Errorf("%s does not name its law:\n%s", row.Quantity, all)
		}
	}
	if rows < 20 {
		t.Errorf("only %d figures by the circuit", rows)
	}
}
