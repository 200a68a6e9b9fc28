package app

import (
	"strings"
	"testing"

	"lugworth/core/decision"
	"lugworth/wasm/port"
)

func (b *bench) types(code string) {
	b.send(port.Submitted{Where: port.Where{Act: "owner-code"}, Fresh: b.fresh(), Fields: []port.Field{{Name: "code", Value: code}}})
}

// The page is saved with the estimate frozen beside it; saved again on the
// same day it is of the same estimate.
func TestThePageForTheOwnerIsSaved(t *testing.T) {
	b := atBench(t, "tern")
	b.types("CCCC-CCCC-CCCC")
	if w := b.m.Ticks().Wrong; !strings.Contains(w, "no page was saved") {
		t.Errorf("says %q", w)
	}
	files := effectsOf[port.WriteFile](b.press("owner-file", "", "", ""))
	if len(files) != 1 || len(b.m.Open.Job.Frozen) != 1 || !strings.HasPrefix(files[0].File.Name, "decide-") || !strings.Contains(string(files[0].File.Bytes), "432.37") {
		t.Fatalf("%d files, %d frozen, problems %q", len(files), len(b.m.Open.Job.Frozen), b.m.Screen.Problems)
	}
	if b.m.MayUndo() && b.m.Screen.Toast.Undo {
		t.Error("a frozen estimate can be undone")
	}
	again := effectsOf[port.WriteFile](b.press("owner-file", "", "", ""))
	if len(again) != 1 || len(b.m.Open.Job.Frozen) != 1 || string(again[0].File.Bytes[:2000]) != string(files[0].File.Bytes[:2000]) {
		t.Errorf("%d files, %d frozen", len(again), len(b.m.Open.Job.Frozen))
	}
}

// A code sets the choice in one press that can be taken back, and the answer
// being taken down comes in writing.
func TestACodeOfTheOwner(t *testing.T) {
	b := atBench(t, "tern")
	b.press("owner-file", "", "", "")
	f := b.m.Open.Job.Frozen[0]
	ticks := make([]int, len(f.Asked))
	want, no := "", ""
	for i, a := range f.Asked {
		switch {
		case i%3 == 0 && len(a.Ways) > 0:
			ticks[i] = 2 // the first way
			want += " " + a.Ways[0]
		case i%3 == 1:
			ticks[i] = 1
			no = a.Finding
		}
	}
	code, err := f.Code(ticks)
	if err != nil {
		t.Fatal(err)
	}
	bad := []byte(code)
	bad[6] = decision.CodeMarks[(strings.IndexByte(decision.CodeMarks, bad[6])+1)%19]
	b.types(string(bad))
	if got := b.m.Ticks(); got.Read != nil || !strings.HasPrefix(got.Wrong, "group 2, ") {
		t.Errorf("altered: %+v", got)
	}
	before := strings.Join(b.m.Open.Result.Accepted(), " ")
	b.types(strings.ToLower(code))
	got := b.m.Ticks()
	if got.Read == nil || " "+strings.Join(got.Read.Accept(), " ") != want {
		t.Fatalf("%s: %+v, want%s", code, got, want)
	}
	if channel, _ := b.m.OnPaper(); channel != "" {
		t.Error("in writing before the choice is set")
	}
	b.press("owner-take", "", "", "")
	if !b.m.AsTicked() || b.m.Answered(no) != "no" || len(b.m.Open.Job.Consents) != 0 || !b.m.MayUndo() {
		t.Errorf("in force %q, want%s; %s is %q", b.m.Open.Result.Accepted(), want, no, b.m.Answered(no))
	}
	if channel, conditions := b.m.OnPaper(); channel != "in writing" || !strings.Contains(conditions, code) || !strings.Contains(conditions, f.ID) {
		t.Errorf("prefilled %q, %q", channel, conditions)
	}
	b.press("undo", "", "", "")
	if now := strings.Join(b.m.Open.Result.Accepted(), " "); now != before {
		t.Errorf("taken back: %s, before %s", now, before)
	}
	if channel, _ := b.m.OnPaper(); channel != "" {
		t.Error("in writing though the choice is another")
	}
}
