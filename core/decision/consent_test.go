package decision

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lugworth/core/money"
)

func heard() Consent {
	return Consent{ID: "c1", At: "2026-03-02 14:05", Who: "Ilse Varnholt", Channel: "by phone", Called: "555 0199", Received: "R. Tamm", Estimate: "E1",
		Accept: []string{"T1", "T5"}, Declined: []string{"A7"}, Open: []string{"A9"}, Total: "432.37", Ceiling: "450.00", Currency: "GBP", ReadBack: "yes"}
}

func TestConsentLacks(t *testing.T) {
	for _, c := range []struct {
		say  string
		edit func(*Consent)
		want string
	}{
		{"whole", func(*Consent) {}, ""},
		{"nobody", func(c *Consent) { c.Who = " " }, "who agreed"},
		{"no channel", func(c *Consent) { c.Channel = "by pigeon" }, "how it was said"},
		{"no number", func(c *Consent) { c.Called = "" }, "the number called"},
		{"at the shop needs none", func(c *Consent) { c.Called, c.Channel = "", "at the shop" }, ""},
		{"not read back", func(c *Consent) { c.ReadBack = "" }, "that it was read back and confirmed"},
		{"in writing reads itself", func(c *Consent) { c.ReadBack, c.Channel = "", "in writing" }, ""},
		{"nothing said", func(c *Consent) { c.Accept, c.Declined, c.Open = nil, nil, nil }, "what was said of any finding"},
	} {
		s := heard()
		c.edit(&s)
		if got := strings.Join(s.Lacks(), "; "); got != c.want {
			t.Errorf("%s: lacks %q, want %q", c.say, got, c.want)
		}
	}
}

func TestConsentWords(t *testing.T) {
	want := "2026-03-02 14:05, by phone on 555 0199: Ilse Varnholt agreed, heard by R. Tamm, of estimate E1. Yes to: T1, T5. No to: A7. To think about: A9. Total 432.37 GBP. At most 450.00 GBP without asking again. Read back and confirmed."
	if got := heard().Words(); got != want {
		t.Errorf("says %q\nwant %q", got, want)
	}
}

func TestAuthorize(t *testing.T) {
	one := []Consent{heard()}
	euro := heard()
	euro.Currency = "EUR"
	noSum := heard()
	noSum.Total, noSum.Ceiling = "", ""
	noCeiling := heard()
	noCeiling.Ceiling = ""
	apart := heard()
	apart.Apart = "c1"
	for _, c := range []struct {
		say    string
		cs     []Consent
		accept []string
		total  money.Amount
		covers bool
		words  string
	}{
		{"none", nil, []string{"T1"}, 1, false, "Nothing is agreed yet"},
		{"as agreed", one, []string{"T1", "T5"}, 43237, true, "450.00 at most"},
		{"to the cent", one, []string{"T1", "T5"}, 45000, true, ""},
		{"a cent over", one, []string{"T1", "T5"}, 45001, false, "0.01 beyond the agreed 450.00"},
		{"less work", one, []string{"T1"}, 30000, true, ""},
		{"more work inside the ceiling", one, []string{"T1", "T5", "T7"}, 44000, false, "Not agreed yet: T7"},
		{"both", one, []string{"T7"}, 46000, false, "Not agreed: T7, and the total is 10.00 beyond"},
		{"another currency", []Consent{euro}, []string{"T1"}, 1, false, "in EUR"},
		{"answers apart", []Consent{apart}, []string{"T1"}, 1, false, "neither knowing of the other"},
		{"no sum", []Consent{noSum}, []string{"T1"}, 1, false, "no sum was agreed"},
		{"no ceiling: the total holds", []Consent{noCeiling}, []string{"T1"}, 43238, false, "0.01 beyond the agreed 432.37"},
		{"the later supersedes", []Consent{one[0], {Accept: []string{"T7"}, Total: "10.00"}}, []string{"T1"}, 1, false, "Not agreed yet: T1"},
	} {
		a := Authorize(c.cs, c.accept, c.total, gbp)
		if a.Covers() != c.covers || !strings.Contains(a.Say(gbp), c.words) {
			t.Errorf("%s: covers %v, says %q", c.say, a.Covers(), a.Say(gbp))
		}
		if a.Unclear != "" && a.May("T1") {
			t.Errorf("%s: T1 may be done although it says %q", c.say, a.Say(gbp))
		}
	}
}

// No run of choices and consents ever authorizes an option nobody agreed to,
// or a total beyond what was agreed.
func TestNothingIsAuthorizedUnasked(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	var cs []Consent
	agreed, most := []string(nil), money.Amount(0)
	given := false
	covered := 0
	for range 1000 {
		var accept []string
		for i := range 6 {
			if r.IntN(2) == 0 {
				accept = append(accept, fmt.Sprint("T", i))
			}
		}
		total := money.Amount(r.IntN(1000))
		if r.IntN(4) == 0 {
			most, agreed, given = money.Amount(r.IntN(1000)), accept, true
			cs = append(cs, Consent{Accept: accept, Ceiling: gbp.Format(most), Currency: "GBP"})
			continue
		}
		a := Authorize(cs, accept, total, gbp)
		inside := given && total <= most
		for _, id := range accept {
			in := slices.Contains(agreed, id)
			inside = inside && in
			if a.May(id) && !(given && in) {
				t.Fatalf("%s may be done, agreed %v", id, agreed)
			}
		}
		if a.Covers() != inside {
			t.Fatalf("covers %v, want %v: %v of %v, %d of %d", a.Covers(), inside, accept, agreed, total, most)
		}
		if inside {
			covered++
		}
	}
	if covered < 10 {
		t.Errorf("%d choices were covered: the test tries too little", covered)
	}
}
