package view

import (
	"strings"
	"testing"

	"lugworth/core/rating"
	"lugworth/core/tube"
	"lugworth/wasm/app"
)

// By hand: at -19 V the step is 2 V (a quarter is 4.75), so the lines stand at
// -16, -18, -20, -22 and -24 V, around -20 V; each rises with the plate volts
// and none crosses the next.
func TestGridLinesStandAroundTheIdle(t *testing.T) {
	law, ok := tube.Fitted("6V6GT")
	if !ok {
		t.Fatal("no law for 6V6GT")
	}
	lines := gridLines(law, tube.Specimen{P: 1, Share: 1}, 281, -19, 400)
	var got []string
	for _, l := range lines {
		got = append(got, fmtG(l.Grid))
	}
	if say := strings.Join(got, " "); say != "-16 -18 -20 -22 -24" {
		t.Errorf("lines at %s", say)
	}
	for i, l := range lines {
		for k := 1; k < len(l.At); k++ {
			if l.At[k].Amps < l.At[k-1].Amps {
				t.Errorf("%g V: the current falls at %g V", l.Grid, l.At[k].Volts)
			}
			if i > 0 && l.At[k].Amps > lines[i-1].At[k].Amps {
				t.Errorf("%g V crosses %g V at %g V", l.Grid, lines[i-1].Grid, l.At[k].Volts)
			}
		}
	}
	if near := gridLines(law, tube.Specimen{P: 1, Share: 1}, 281, -0.4, 400); len(near) == 0 || near[0].Grid > 0 {
		t.Errorf("near zero: %d lines", len(near))
	}
}

func fmtG(v float64) string { return itoa(int(v)) }

// A verdict that was worked out through the circuit leads to what that
// assumes; one that was scaled from a reading does not.
func TestAVerdictLeadsToItsSpreads(t *testing.T) {
	m := press(press(opened(t, "drover"), "posture", "plan", ""), "plan-leaf", "", app.LeafRatings)
	m = press(m, "plan-state", "", "found")
	if strings.Contains(draws(t, m), `data-act="circuit-spreads"`) {
		t.Error("a reading scaled with the mains leads to the spreads")
	}
	for i := range m.Open.Result.Found {
		m.Open.Result.Found[i].Tier = 1
	}
	if html := draws(t, m); !strings.Contains(html, `data-act="circuit-spreads"`) || !strings.Contains(html, "by the amp&#39;s own circuit") {
		t.Error("a verdict through the circuit does not lead to the spreads")
	}
}

// Ratings that send somebody to a live node carry the live-work caution; with
// nothing left open there is none.
func TestRatingsCautionBeforeLiveReadings(t *testing.T) {
	m := press(press(opened(t, "drover-sheet"), "posture", "plan", ""), "plan-leaf", "", app.LeafRatings)
	const live = "Clip on with the power off and the filters discharged"
	if !strings.Contains(draws(t, m), live) {
		t.Error("no caution where the current of a tube is asked for")
	}
	for _, all := range [][]rating.Judgment{m.Open.Result.Found, m.Open.Result.Standing} {
		for i := range all {
			all[i].Kind = rating.Within
		}
	}
	if strings.Contains(draws(t, m), live) {
		t.Error("a caution where nothing is to be read")
	}
}
