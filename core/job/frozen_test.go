package job_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lugworth/catalogs"
	"lugworth/core/job"
	"lugworth/core/quote"
	"lugworth/core/tube"
)

// frozen freezes the set in force of the demo job.
func frozen(t *testing.T, r *job.Result) job.FrozenRecord {
	t.Helper()
	s := r.Sets[r.Force]
	text, err := quote.Freeze(r.Promise(s, "2026-01-05"), quote.Stamp{Number: "MA-0431-1", Date: "2026-01-05", Rule: fmt.Sprint(job.RuleVersion), Set: s.Name, Accept: s.Accept}).JSON()
	if err != nil {
		t.Fatal(err)
	}
	return job.FrozenRecord{ID: "x", Set: s.Name, Estimate: string(text)}
}

// dearer is the demo with another rate in the shop's sheet.
func dearer(t *testing.T, rate string) *job.Result {
	t.Helper()
	var files []job.File
	for _, f := range catalogs.Shop() {
		if f.Name == "shop.csv" {
			f.Data = []byte(strings.NewReplacer("rate,75.00", "rate,"+rate, "valid_days,30", "valid_days,7").Replace(string(f.Data)))
		}
		files = append(files, job.File{Name: f.Name, Data: f.Data})
	}
	c, err := job.OpenCase("demo.job.json", catalogs.Demo, files)
	if err != nil {
		t.Fatal(err)
	}
	cards, _ := tube.ReadCards("cards.csv", catalogs.Cards)
	j, b := c.Open(cards)
	return job.Derive(j, b, "2026-03-01")
}

func TestFrozenEstimateReopensToTheCent(t *testing.T) {
	f := frozen(t, demo(t))
	later := dearer(t, "90.00")
	_, b, err := f.Reopen()
	if err != nil {
		t.Fatal(err)
	}
	if got := b.Currency.Format(b.Total); got != "546.19" {
		t.Errorf("reopened under another sheet: %s, want 546.19", got)
	}
	e, err := later.FrozenEstimate(f)
	if err != nil {
		t.Fatal(err)
	}
	if e.Most != "546.19" || e.Date != "2026-01-05" || !slices.Contains(e.Notes, "This estimate holds to 2026-02-04.") {
		t.Errorf("paper: %s of %s, %q", e.Most, e.Date, e.Notes)
	}
	if strings.Contains(string(e.HTML()), "Elco") {
		t.Error("a part is named in the supplier's language")
	}
}

// 5.433 hours dearer by 15.00 an hour, each line rounded for itself: labor
// 407.50 at 75.00 becomes 489.00 at 90.00, so the whole is dearer by 81.50.
func TestDrift(t *testing.T) {
	f := frozen(t, demo(t))
	now, err := demo(t).Drift(f)
	if err != nil || now.By() != 0 || len(now.Lines) != 0 || now.Rule || len(now.Gone) != 0 {
		t.Fatalf("nothing has changed, yet %+v, %v", now, err)
	}
	d, err := dearer(t, "90.00").Drift(f)
	if err != nil {
		t.Fatal(err)
	}
	if got := d.Bill.Currency.Format(d.By()); got != "81.50" {
		t.Errorf("would differ by %s, want 81.50", got)
	}
	if len(d.Lines) != 11 {
		t.Errorf("%d lines differ, want the 11 of labor: %v", len(d.Lines), d.Lines)
	}
}

func TestDriftNamesWhatIsGone(t *testing.T) {
	f := frozen(t, demo(t))
	f.Estimate = strings.Replace(f.Estimate, `"10/patch"`, `"10/glue"`, 1)
	d, err := demo(t).Drift(f)
	if err != nil || len(d.Gone) != 1 || d.Gone[0] != "10/glue" {
		t.Errorf("gone %v, %v; want 10/glue", d.Gone, err)
	}
	if _, err := demo(t).Drift(job.FrozenRecord{Estimate: "{"}); err == nil {
		t.Error("an estimate that cannot be read gives no error")
	}
}

// The groups, the shared work and the sums of the paper come to its total:
// subtotals 73.63, 16.25, 80.27, 28.88, 34.99, 25.57, 30.63, 15.00, 37.50,
// shared 123.75, fee 75.00, tax 4.72.
func TestEstimateAddsUp(t *testing.T) {
	e, err := demo(t).Estimate()
	if err != nil {
		t.Fatal(err)
	}
	var cents int
	add := func(s string) {
		var whole, part int
		if _, err := fmt.Sscanf(s, "%d.%d", &whole, &part); err != nil {
			t.Fatalf("%q: %v", s, err)
		}
		cents += 100*whole + part
	}
	for _, g := range e.Groups {
		add(g.Sum)
	}
	add(e.SharedSum)
	for _, s := range e.Sums {
		if s.Say == "Bench fee" || strings.HasPrefix(s.Say, "Tax") {
			add(s.Amount)
		}
	}
	if cents != 54619 || e.Most != "546.19" {
		t.Errorf("the printed parts come to %d cents, the paper says %s; want 546.19", cents, e.Most)
	}
}

// No floor is passed off as a price, and nothing is promised that only a test
// on the bench could show.
func TestEstimateWords(t *testing.T) {
	e, err := demo(t).Estimate()
	if err != nil {
		t.Fatal(err)
	}
	text := string(e.HTML())
	for _, bad := range []string{`(?i)\bfrom\s+[$£€]?\d`, `(?i)\bminimum\b`, `(?i)starting at`, `(?i)\bsafe\b`, `(?i)guarantee`, `(?i)complies`, `(?i)\bvalves?\b`, `(?i)\blabour\b`, ` style="`} {
		if m := regexp.MustCompile(bad).FindString(text); m != "" {
			t.Errorf("the estimate says %q", m)
		}
	}
	for _, want := range []string{"at most", "check with your local tax authority", "Not part of this estimate", "Returned to you in a bag", "holds to 2026-02-04",
		", new", "Local code and licensed practice come first", "Signature", "It hums, it cuts out when it gets warm", "L 02617", "received by Teo Brandal"} {
		if !strings.Contains(text, want) {
			t.Errorf("the estimate does not say %q", want)
		}
	}
}

// A part whose rating nothing judges is not passed off as inside it: 2/class is
// a safety-class capacitor in a place no first-order rule knows.
func TestEstimateSaysWhatIsNotJudged(t *testing.T) {
	r := demo(t)
	s := r.Sets[r.Force]
	r.Job.Sets = append(r.Job.Sets, job.Set{Name: "with class", Accept: append([]string{"2/class"}, slices.DeleteFunc(slices.Clone(s.Accept), func(id string) bool { return id == "2/out" })...)})
	r.Job.Pick = "with class"
	e, err := job.Derive(r.Job, r.Books, "2026-01-05").Estimate()
	if err != nil {
		t.Fatal(err)
	}
	if text := string(e.HTML()); !strings.Contains(text, "class Y2: not judged") {
		t.Error("the safety-class capacitor stands without a remark")
	}
}

func TestPartWords(t *testing.T) {
	r := demo(t)
	for _, tt := range []struct{ list, number, want string }{
		{"velderhof", "VH-207", "Electrolytic capacitor, axial, 33 µF 500 V"}, // "Elco 33µF 500V axiaal"
		{"velderhof", "VH-255", "Film capacitor, axial, 22 nF 630 V"},
		{"dunmere", "DM-1701", "Fuse, 1 A, slow"},
		{"dunmere", "DM-1601", "Tube 12AX7"},
		{"velderhof", "VH-345", "Tube EL84, matched quartet"}, // "EL84 kwartet"
		{"dunmere", "DM-1801", "3-core mains lead kit, molded plug, strain relief"},
	} {
		o, ok := r.Books.Offer(tt.list, tt.number)
		if !ok {
			t.Errorf("%s %s is not in its list", tt.list, tt.number)
			continue
		}
		if got := job.PartWords(o); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.number, got, tt.want)
		}
	}
}
