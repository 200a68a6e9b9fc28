package app

import (
	"strings"
	"testing"

	triage "lugworth/core/bench"
	"lugworth/wasm/port"
)

// passed does every check before the first power.
func (b *bench) passed() {
	for _, c := range triage.Checks {
		b.press("check", c.ID, "", "passed")
	}
}

var firstVolts = Entry{At: "B1", Quantity: "volts", Value: "325", Unit: "V", Mains: "117.0"}

// Without the check of the load on the output the powered chart stays closed;
// ohms can be read. A reason opens it and stands in the estimate.
func TestPowerWaitsForTheChecks(t *testing.T) {
	b := empty(t)
	b.reads(firstVolts)
	if len(b.m.Open.Job.Amp.Readings) != 0 || !strings.Contains(b.m.Screen.Ask, "checks before the first power") {
		t.Fatalf("%d readings, asks %q", len(b.m.Open.Job.Amp.Readings), b.m.Screen.Ask)
	}
	for _, c := range triage.Checks {
		if c.ID != "load" {
			b.press("check", c.ID, "", "passed")
		}
	}
	b.reads(firstVolts)
	if len(b.m.Open.Job.Amp.Readings) != 0 || !b.m.Unpowered() {
		t.Error("powered without a load on the output")
	}
	b.reads(Entry{At: "R20", Quantity: "ohms", Value: "250", Unit: "Ω"})
	if len(b.m.Open.Job.Amp.Readings) != 1 || !b.m.Unpowered() {
		t.Error("ohms are not to be read, or open the chart")
	}
	b.form("power-anyway", "", "reason", " ")
	if !b.m.Unpowered() || !strings.Contains(b.m.Screen.Ask, "reason stands in the report") {
		t.Errorf("opened without a reason: %q", b.m.Screen.Ask)
	}
	b.form("power-anyway", "", "reason", "speaker comes tomorrow")
	b.reads(firstVolts)
	if len(b.m.Open.Job.Amp.Readings) != 2 {
		t.Errorf("still closed: %q", b.m.Screen.Ask)
	}
	if w := b.m.Gate().Words(); !strings.Contains(w, "load on the output (speaker comes tomorrow)") {
		t.Error(w)
	}
	b.press("undo", "", "", "")
	b.press("undo", "", "", "")
	if !b.m.Unpowered() {
		t.Error("undo does not close it again")
	}
}

// A job that was powered before it came here is not closed.
func TestPoweredBefore(t *testing.T) {
	if atBench(t, "drover").m.Unpowered() {
		t.Error("a job with a chart is closed")
	}
}

// Put down and opened again, the card stands before everything; whether the
// filters are charged is asked until someone measured.
func TestTheWorkIsTakenUpAgain(t *testing.T) {
	b := atBench(t, "drover")
	id, other := b.m.Open.ID, b.m.Jobs[0].ID
	b.press("park", "", "", "")
	b.form("park", "", "discharged", "", "lifted", "C4 at the plate", "out", "", "next", "read R12")
	if p := b.m.Open.Job.Park; !p.Parked() || !p.Asks() || p.Lifted != "C4 at the plate" || b.m.Screen.Dialog != "" {
		t.Fatalf("%+v, dialog %q", p, b.m.Screen.Dialog)
	}
	again := func() {
		b.press("job-open", other, "", "")
		b.press("job-open", id, "", "")
	}
	again()
	if b.m.Screen.Dialog != "resume" {
		t.Error("the card does not come up")
	}
	b.press("resume", "", "", "later")
	if b.m.Screen.Dialog != "" || !b.m.Open.Job.Park.Asks() {
		t.Error("later settles it")
	}
	again()
	if b.m.Screen.Dialog != "resume" {
		t.Error("it does not ask again")
	}
	b.press("resume", "", "", "measured")
	again()
	if b.m.Screen.Dialog != "" || b.m.Open.Job.Park.Parked() {
		t.Error("it asks for ever")
	}
	b.send(port.Changed{Where: port.Where{Act: "set", ID: "ground", K: "check/say"}, Fresh: b.fresh(), Value: "0.2 ohms"})
	if a := b.m.Open.Job.Triage; len(a) != 1 || a[0].Say != "0.2 ohms" {
		t.Errorf("%+v", a)
	}
}
