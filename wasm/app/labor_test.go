package app

import (
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/wasm/port"
)

// Hours are entered, asked about, added to the shop's finished work and taken
// out again.
func TestFinishedWorkIsLearnedFrom(t *testing.T) {
	b := atBench(t, "tern")
	b.press("past-add", "", "", "")
	if !strings.Contains(b.m.Screen.Toast.Say, "nothing to learn from") {
		t.Errorf("says %q before any hours are entered", b.m.Screen.Toast.Say)
	}
	b.change("set", "T1", job.KindDone+"/hours", "0.2")
	b.change("set", "T4", job.KindDone+"/hours", "0.9")
	b.change("set", "T4", job.KindDone+"/scope", job.ScopeChanged)
	if f := b.m.Open.Result.Finished(); len(f) != 2 || f[0].Actual != "0.2" || !f[1].Changed {
		t.Fatalf("%+v", f)
	}
	b.press("past-ask", "", "", "")
	if !b.m.Screen.Desk.AddPast {
		t.Error("nothing is asked")
	}
	b.press("past-no", "", "", "")
	if b.m.Screen.Desk.AddPast || b.m.Open.Result.InPast() {
		t.Error("added though it was not wanted")
	}
	var kept string
	for _, e := range b.press("past-add", "", "", "") {
		if s, ok := e.(port.SaveBook); ok && s.Book.Name == job.PastName {
			kept = string(s.Book.Bytes)
		}
	}
	if kept != "job,class,estimated,actual,note\nPS-0064,T1,0.100,0.2,option T1\n" || !b.m.Open.Result.InPast() || b.m.Open.Result.HoursOf(nil).Jobs != 1 {
		t.Errorf("kept %q", kept)
	}
	b.press("past-out", "", "", "")
	if b.m.Open.Result.InPast() || b.m.Open.Result.HoursOf(nil).Jobs != 0 {
		t.Error("not taken out")
	}
	b.press("undo", "", "", "")
	if f := b.m.Open.Result.Finished(); len(f) != 2 || f[1].Changed {
		t.Errorf("undone: %+v", f)
	}
}

// The book of finished work is taken as a file like the others, and is no
// price list.
func TestPastIsABook(t *testing.T) {
	b := atBench(t, "tern")
	lists := len(b.m.PriceLists())
	b.send(port.FileOpened{Fresh: b.fresh(), Files: []port.File{{Name: "past.csv", Bytes: []byte("job,class,estimated,actual,note\nA,x,1,2,\n")}}})
	if len(b.m.PriceLists()) != lists || len(b.m.Open.Books.Past) != 1 {
		t.Errorf("%d lists, were %d; %d rows teach", len(b.m.PriceLists()), lists, len(b.m.Open.Books.Past))
	}
	b.press("labor-sheet", "", "", "")
	if b.m.Screen.Desk.Leaf != LeafBooks || b.m.Screen.Desk.Book != BookSheet {
		t.Errorf("%+v", b.m.Screen.Desk)
	}
}

// A task of the library brings its states of access into the job.
func TestTaskBringsItsStates(t *testing.T) {
	b := atBench(t, "tern")
	b.send(port.FileOpened{Fresh: b.fresh(), Files: []port.File{{Name: "tasks.csv", Bytes: []byte("id,task,say,pile,low,mode,high,setups,state,after,wait,chance\n" +
		"out,state,chassis out,,.2,.3,.4,,,,,\nboard,state,board lifted,,.2,.3,.4,,out,,,\nX1,dry joints,Solder anew,should,.5,.6,.7,,board,,24 h,40\n")}}})
	b.press("task-attach", "B7", "dry joints", "")
	j := b.m.Open.Job
	states := map[string]string{}
	for _, s := range j.SetUps {
		states[s.ID] = s.From
	}
	o := j.Options[len(j.Options)-1]
	if states["out"] != "closed" || states["board"] != "out" || o.ID != "X1" || len(o.In) != 1 || o.Wait != 1440 || o.Chance != 40 {
		t.Errorf("%v %+v", states, o)
	}
	if f := b.m.Open.Result.Finds(nil); len(f) != 1 || f[0].Err != "" {
		t.Errorf("%+v", f)
	}
}
