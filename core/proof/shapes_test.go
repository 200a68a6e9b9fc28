package proof_test

import (
	"strings"
	"testing"

	"lugworth/core/proof"
)

// uses reports whether a chain names a rule.
func uses(s *proof.Step, rule string) bool {
	if s == nil {
		return false
	}
	for i := range s.From {
		if uses(&s.From[i], rule) {
			return true
		}
	}
	return s.Rule == rule
}

// Jobs that ask for every rule: each is one of the whole jobs with a few
// words changed. The certificate holds, the rule is in it, and every digit of
// the verdicts that use it is held.
func TestEveryRuleIsCertified(t *testing.T) {
	const fixed = `"bias":"fixed, from the same transformer"`
	meter := []string{",as found,0,10M", ",as found,1.5,10M", "R20,ohms,262,ohm,,off,as found,0,", "R20,ohms,262,ohm,,off,as found,1,"}
	tests := []struct {
		name, job, rule string
		change          []string
		want            func(v *proof.Verdict) bool
	}{
		{"readings without an error", "drover", proof.WattsFollow, nil, kind("not-proven")},
		{"meter errors", "drover", proof.PlateWatts, meter, kind("not-proven")},
		{"meter errors, volts over a resistor", "drover", proof.ResistorWatts, meter, kind("within")},
		{"resistor as marked", "drover", proof.CathodeCurrent, []string{"R20,ohms,262,ohm,,off,as found,0,\n", ""}, kind("not-proven")},
		{"negative bias beside a coupler", "drover", proof.CouplerVolts, []string{`"bias":"cathode"`, fixed, "K,volts,19.0,V,117.0,couplers-lifted,as found,0,10M\n", "K,volts,19.0,V,117.0,couplers-lifted,as found,0,10M\nG3,volts,-31.5,V,110.0,powered,as found,2,10M\n"}, kind("over-inherited")},
		{"a bridge over both sides", "drover", proof.Peak, []string{",290-0-290,role=high-winding", ",290-0-290,role=high-winding times=2"}, kind("over-inherited")},
		{"cathode current", "drover", proof.CurrentFollows, []string{"6V6GT,,beam,plate watts,12,W,,scenario,user\n", "6V6GT,,beam,plate watts,12,W,,scenario,user\n6V6GT,,beam,cathode current,48,mA,,scenario,user\n"}, kind("within")},
		{"plate and screen together", "drover", proof.Both, []string{"6V6GT,,beam,plate watts,12,W,,scenario,user\n", "6V6GT,,beam,plate watts,12,W,,scenario,user\n6V6GT,,beam,plate and screen watts,13.5,W,,scenario,user\n"}, kind("within")},
		{"a limit from memory", "drover", proof.ScreenWatts, []string{"screen watts,2,W,,scenario,user", "screen watts,2,W,,scenario,memory"}, kind("not-proven")},
		{"a changed cathode resistor", "drover", proof.TubeChanged, nil, kind("within")},
		{"its watts", "drover", proof.ResistorChanged, nil, kind("within")},
		{"the cathode's bypass", "drover", proof.VoltsChanged, nil, kind("within")},
		{"the supply recovers", "drover", proof.Recovers, nil, kind("over-worsened")},
		{"the first capacitor", "drover", proof.Greatest, nil, kind("within")},
		{"pieces side by side", "drover", proof.SideBySide, []string{`"parts":[{"qty":"3","is":"electrolytic 22uF","for":["C1a","C1b","C1c"]`, `"parts":[{"qty":"4","is":"electrolytic 22uF","for":["C1a","C1b","C1c"]`}, nil},
		{"a tap moved down", "tern", proof.VoltsFollow, []string{`"tap":"220","taps"`, `"tap":"240","taps"`, `"tap":"240"`, `"tap":"220"`}, func(v *proof.Verdict) bool { return v.Without != "" }},
		{"highest at switch-on", "drover", proof.SwitchOn, []string{"5U4GB,,rectifier,heating,direct", "5U4GB,,rectifier,heating,slow", "B1,volts,325,V,117.0,couplers-lifted,as found,0,10M\n", "B1,volts,325,V,117.0,couplers-lifted,as found,0,10M\nB1,volts,372,V,117.0,switch-on,as found,0,10M\n"}, kind("within")},
		{"design center at nominal", "drover", proof.VoltsFollow, []string{"6V6GT,,beam,plate volts,315,V,,scenario,user", "6V6GT,,beam,plate volts,315,V,design center,scenario,user", `"high":"127","how"`, `"high":"127","marked":"117","how"`},
			func(v *proof.Verdict) bool { return v.Scenario == proof.AtNominal && v.Mains == "124" }},
		{"design center, the allowance used up", "drover", proof.VoltsFollow, []string{"6V6GT,,beam,plate volts,315,V,,scenario,user", "6V6GT,,beam,plate volts,315,V,design center,scenario,user", `"high":"127","how"`, `"high":"127","marked":"115","how"`},
			func(v *proof.Verdict) bool { return v.Scenario == proof.AtTop }},
		{"no reserve stated", "drover", proof.Peak, []string{"reserve,5,scenario\n", ""}, kind("not-proven")},
		{"read too far away", "drover", proof.ScreenWatts, []string{",117.0,", ",90.0,"}, kind("not-proven")},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := opened(t, certified(t, tt.job, tt.change...))
			one := c
			i := -1
			for k := range c.Verdicts {
				if v := &c.Verdicts[k]; uses(v.Bears, tt.rule) && (tt.want == nil || tt.want(v)) {
					i = k
				}
			}
			if i < 0 {
				t.Fatalf("no verdict asked for uses %q", tt.rule)
			}
			one.Verdicts = c.Verdicts[i : i+1]
			f := flips{words: map[string]int{}}
			f.flip(t, sealed(t, one), func(c cell) bool { return c.depth >= 3 })
			if f.lost > 0 {
				t.Errorf("%d changed digits slipped through", f.lost)
			}
		})
	}
}

func kind(k string) func(*proof.Verdict) bool {
	return func(v *proof.Verdict) bool { return v.Kind == k }
}

// certified derives a job with words replaced, in pairs, and certifies it.
func certified(t *testing.T, name string, change ...string) []byte {
	t.Helper()
	text := source(t, name+".txtar")
	for i := 0; i+1 < len(change); i += 2 {
		if !strings.Contains(text, change[i]) {
			t.Fatalf("the job holds no %q", change[i])
		}
		text = strings.ReplaceAll(text, change[i], change[i+1])
	}
	data, err := derive(t, name, []byte(text)).Certificate()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := proof.Check(data); err != nil {
		t.Fatal(err)
	}
	return data
}
