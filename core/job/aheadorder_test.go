package job_test

import (
	"reflect"
	"testing"

	"lugworth/core/job"
)

// What is looked up ahead is what the ordering says without it, line by line
// until nothing is left.
func TestAheadOrderChangesNothing(t *testing.T) {
	j, b := marten(t)
	plain := ordering(t, job.Derive(j, b, ""))
	r := job.Derive(j, b, "")
	lines := 0
	for r.AheadOrder() {
		if lines++; lines > 100 {
			t.Fatal("it never ends")
		}
	}
	if lines != 7 { // one for each part of the set in force
		t.Errorf("%d lines, want 7", lines)
	}
	ahead := ordering(t, r)
	if !reflect.DeepEqual(plain.Market, ahead.Market) || !reflect.DeepEqual(plain.Assumed, ahead.Assumed) {
		t.Errorf("looked up ahead the market is\n%+v\nwant\n%+v", ahead.Market, plain.Market)
	}
	if r.AheadOrder() {
		t.Error("something is left once the ordering is there")
	}
}
