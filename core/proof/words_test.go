package proof_test

import (
	"strings"
	"testing"

	"lugworth/core/proof"
)

// Changed words and forged verdicts, each with a new hash: refused, and the
// refusal says where, what was read and what the checker gets.
func TestForgedIsRefused(t *testing.T) {
	plateWatts := func(v *proof.Verdict) bool {
		return v.Quantity == "plate watts" && v.Scenario == proof.AtTop && v.Kind == "not-proven" && v.Bears != nil
	}
	screenWatts := func(v *proof.Verdict) bool {
		return v.Quantity == "screen watts" && v.Scenario == proof.AtTop && v.Kind == "within"
	}
	filter := func(v *proof.Verdict) bool { return v.Fitted && v.Kind == "below-reserve" }
	film := func(v *proof.Verdict) bool { return v.Fitted && v.Kind == "over-worsened" }
	ended := func(v *proof.Verdict) bool { return v.Ended != "" }
	worse := func(v *proof.Verdict) bool { return !v.Fitted && v.Kind == "over-worsened" }
	asMade := func(v *proof.Verdict) bool {
		return v.Scenario == proof.AsMade && v.Kind == "not-proven" && v.Quantity == "dc volts"
	}
	tests := []struct {
		name  string
		which func(*proof.Verdict) bool
		do    func(*proof.Verdict)
		says  string
	}{
		{"not proven called within", plateWatts, func(v *proof.Verdict) { v.Kind = "within" }, `kind: read "within", got "not-proven"`},
		{"a kind of its own", plateWatts, func(v *proof.Verdict) { v.Kind = "fine" }, `kind: read "fine"`},
		{"the band made narrower", plateWatts, func(v *proof.Verdict) { v.High = "11.99000000" }, "high: read 11.99000000, got 12.39"},
		{"the last step changed with it", plateWatts, func(v *proof.Verdict) { v.High, v.Bears.High = "11.99000000", "11.99000000" }, "dissipation with the mains"},
		{"the limit raised", plateWatts, func(v *proof.Verdict) { v.Limit.High = "13" }, "margin_high: read -3.25"},
		{"a limit from memory", screenWatts, func(v *proof.Verdict) { v.Limit.Mark = "memory" }, `read "within", got "not-proven"`},
		{"no mark", screenWatts, func(v *proof.Verdict) { v.Limit.Mark = "" }, `read "within", got "not-proven"`},
		{"a doubt on it", screenWatts, func(v *proof.Verdict) { v.Doubt = "an average" }, `read "within", got "not-proven"`},
		{"no limit", screenWatts, func(v *proof.Verdict) { v.Limit = nil }, "margin_high"},
		{"no limit, no margin", screenWatts, func(v *proof.Verdict) { v.Limit, v.MarginHigh = nil, "" }, `read "within", got "not-enough-data"`},
		{"no meter error", screenWatts, func(v *proof.Verdict) { v.Bears.From[0].From[1].Error = "" }, `read "within", got "not-proven"`},
		{"judged at other mains", screenWatts, func(v *proof.Verdict) { v.Mains = "124" }, "judged at mains 124, read 127"},
		{"another scenario", screenWatts, func(v *proof.Verdict) { v.Scenario = proof.AtMeasured }, `mains: read 127, got 124 for "measured at the owner's"`},
		{"a scenario nobody knows", screenWatts, func(v *proof.Verdict) { v.Scenario = "on a good day" }, "mains: read 127 in a scenario without one"},
		{"another rating system", screenWatts, func(v *proof.Verdict) { v.Scenario, v.Mains = proof.AtNominal, "" }, "judged at mains , read 127"},
		{"another rule", screenWatts, func(v *proof.Verdict) { v.Bears.Rule = proof.CurrentFollows }, "current with the mains"},
		{"no such rule", screenWatts, func(v *proof.Verdict) { v.Bears.Rule = "a guess" }, "no such rule"},
		{"a step taken out", screenWatts, func(v *proof.Verdict) { v.Bears.From = v.Bears.From[:1] }, "made from 1, wants 2"},
		{"a chain cut off", screenWatts, func(v *proof.Verdict) {
			v.Bears = &proof.Step{Value: v.High, Unit: "W", What: "screen dissipation", Where: "reading 12"}
			v.Low = v.High
		}, "does not lead to a band"},
		{"no chain", screenWatts, func(v *proof.Verdict) { v.Bears = nil }, "without a chain"},
		{"a fact told twice", screenWatts, func(v *proof.Verdict) { v.Bears.From[1].From[1].Value = "118" }, "read 118, and 117 elsewhere"},
		{"a fact from nowhere", screenWatts, func(v *proof.Verdict) { v.Bears.From[0].From[1].Where = "" }, "where it stands is not said"},
		{"a number that is none", screenWatts, func(v *proof.Verdict) { v.Low = "1e-3" }, `"1e-3" is not a decimal number`},
		{"another unit", screenWatts, func(v *proof.Verdict) { v.Unit = "V" }, `unit: read "V", got "W"`},
		{"tier 1 without a circuit", screenWatts, func(v *proof.Verdict) { v.Tier = 1 }, "tier: read 1, got 0"},
		{"below the reserve called within", filter, func(v *proof.Verdict) { v.Kind = "within" }, `read "within", got "below-reserve"`},
		{"another reserve", filter, func(v *proof.Verdict) { v.Reserve = "1" }, "reserve: read 1, the shop's is 5"},
		{"no reserve", filter, func(v *proof.Verdict) { v.Reserve, v.Wanted = "", "" }, `read "below-reserve", got "within"`},
		{"over called inherited", film, func(v *proof.Verdict) { v.Kind = "over-inherited" }, `got "over-worsened"`},
		{"made worse called inherited", worse, func(v *proof.Verdict) { v.Kind = "over-inherited" }, `got "over-worsened"`},
		{"made worse by nobody", worse, func(v *proof.Verdict) { v.Cause, v.Without, v.Kind = "", "", "over-inherited" }, "without:"},
		{"ended figures called missing", ended, func(v *proof.Verdict) { v.Ended, v.Missing = "", v.Ended }, `got "not-enough-data"`},
		{"as made called within", asMade, func(v *proof.Verdict) { v.Doubt, v.Kind = "", "within" }, `got "not-proven"`},
	}
	whole := few(opened(t, certificate(t, "drover.txtar")))
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := clone(t, whole)
			tt.do(find(t, &c, tt.which))
			_, err := proof.Check(sealed(t, c))
			if err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("%v, want in it %q", err, tt.says)
			}
		})
	}
}

// The file itself: one spelling, one hash.
func TestFileIsRefused(t *testing.T) {
	data := string(certificate(t, "drover.txtar"))
	at := strings.Index(data, `"sha256":"`) + len(`"sha256":"`)
	for _, tt := range []struct{ name, file, says string }{
		{"empty", "", "not a certificate"},
		{"no JSON", "V3 is fine", "not a certificate"},
		{"more after it", data + "{}", "more follows"},
		{"a space", strings.Replace(data, `{"certificate":`, `{"certificate": `, 1), "one spelling"},
		{"a key more", strings.Replace(data, `{"certificate":{`, `{"certificate":{"a":1,`, 1), "unknown field"},
		{"a key twice", strings.Replace(data, `"format":1`, `"format":1,"format":1`, 1), "one spelling"},
		{"an escape", strings.Replace(data, "Ostervale", `\u004fstervale`, 1), "one spelling"},
		{"format 2", strings.Replace(data, `"format":1`, `"format":2`, 1), "read 2, this program checks 1"},
		{"another hash", data[:at] + strings.Repeat("0", 64) + data[at+64:], "hash: read 0000"},
		{"cut short", data[:len(data)/2], "not a certificate"},
		{"a word changed", strings.Replace(data, "Drover", "Rover", 1), "hash: read"},
	} {
		if _, err := proof.Check([]byte(tt.file)); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, want in it %q", tt.name, err, tt.says)
		}
	}
}
