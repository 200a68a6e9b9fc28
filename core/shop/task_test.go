package shop

import (
	"os"
	"slices"
	"testing"

	"lugworth/core/catalog"
)

func TestReadTasks(t *testing.T) {
	const text = `id,task,say,pile,low,mode,high,setups,parts,fits,look,matter,undo,value,other,other_price,other_carriage,other_days,both,needs
S1,setup,Chassis out,,.4,.6,1.4,,,,,,,,,,,,,
T2a,filter can,New can,must,.6,.8,1.6,S1,1 can 20+20+20uF 475V = K:K-1001,filter,close,bagged,U1,,,,,,,
T2b,filter can,Under the chassis,must,.8,1.0,1.8,S1,3 electrolytic 22uF = K:K-1002,filter,modern,in place,U1,,,,,,,
T7a,speaker,Recone,could,.3,.4,.5,,,,as made,consumed,U3,2,recone,95.00,36.00,21,,
T8,pots,Clean,could,.1,.2,.3,S1,,,,,,,,,,,yes,T2a
`
	l, err := ReadTasks("tasks.csv", []byte(text))
	if err != nil || len(l.Wrong) > 0 || l.Rows != 5 || len(l.Tasks) != 5 {
		t.Fatalf("%d rows, %d tasks, %v, %v", l.Rows, len(l.Tasks), l.Wrong, err)
	}
	a, _ := l.Find("T7a")
	if a.Other != "recone" || a.OtherPrice.String() != "95" || a.OtherCarriage.String() != "36" || a.OtherDays != 21 ||
		a.Look != AsMade || a.Matter != Consumed || a.Undo != U3 || a.Value != 2 || a.Line != 5 {
		t.Errorf("T7a: %+v", a)
	}
	b, _ := l.Find("T2b")
	if b.Mode.String() != "1" || b.Pile != Must || !slices.Equal(b.SetUps, []string{"S1"}) || b.OtherDays != -1 ||
		!slices.Equal(b.Parts, []Need{{3, "electrolytic 22uF", "K", "K-1002"}}) {
		t.Errorf("T2b: %+v", b)
	}
	if ways := l.Ways("filter can"); len(ways) != 2 || ways[0].ID != "T2a" || len(l.SetUps()) != 1 {
		t.Errorf("%d ways, %d set-ups, want 2 and 1", len(ways), len(l.SetUps()))
	}
	if c, _ := l.Find("T8"); !c.Both || !slices.Equal(c.Needs, []string{"T2a"}) {
		t.Errorf("T8: %+v", c)
	}
}

func TestWrongTasks(t *testing.T) {
	const head = "id,task,pile,low,mode,high,setups,parts,look,undo,needs,value,other_price\n"
	tests := []struct{ row, column string }{
		{"A,x,must,1,.5,2,,,,,,,", "mode"},
		{"A,x,must,one,1,2,,,,,,,", "low"},
		{"A,x,must,-1,1,2,,,,,,,", "low"},
		{"A,x,must,1,1,,,,,,,,", "high"},
		{"A,x,,1,1,1,,,,,,,", "pile"},
		{"A,x,urgent,1,1,1,,,,,,,", "pile"},
		{",x,must,1,1,1,,,,,,,", "id"},
		{"A,,must,1,1,1,,,,,,,", "task"},
		{"A,x,must,1,1,1,S9,,,,,,", "setups"},
		{"A,x,must,1,1,1,,some caps,,,,,", "parts"},
		{"A,x,must,1,1,1,,3 caps = K,,,,,", "parts"},
		{"A,x,must,1,1,1,,,shiny,,,,", "look"},
		{"A,x,must,1,1,1,,,,U9,,,", "undo"},
		{"A,x,must,1,1,1,,,,,B,,", "needs"},
		{"A,x,must,1,1,1,,,,,,2.5,", "value"},
		{"A,x,must,1,1,1,,,,,,,95", "other"},
	}
	for _, tt := range tests {
		l, err := ReadTasks("tasks.csv", []byte(head+tt.row+"\n"))
		if err != nil || len(l.Tasks) != 0 || l.Aside != 1 || len(l.Wrong) != 1 || l.Wrong[0].Column != tt.column || l.Wrong[0].Line != 2 {
			t.Errorf("%s: %d tasks, %v, %v; want one problem in column %s", tt.row, len(l.Tasks), l.Wrong, err, tt.column)
		}
	}
	l, err := ReadTasks("tasks.csv", []byte(head+"A,x,must,1,1,1,,,,,,,\nA,y,must,1,1,1,,,,,,,\n"))
	if err != nil || len(l.Tasks) != 1 || l.Rows != 2 || l.Aside != 1 {
		t.Errorf("an id twice: %d tasks of %d rows, %v", len(l.Tasks), l.Rows, err)
	}
}

func TestParts(t *testing.T) {
	for _, cell := range []string{"", "1 can", "3 electrolytic 22uF 500V = K:K-1002; 1 terminal strip", "2 jack = U:A:1 b"} {
		needs, err := ReadParts(cell)
		if got := WriteParts(needs); err != nil || got != cell {
			t.Errorf("parts %q came back as %q, %v", cell, got, err)
		}
	}
	if needs, err := ReadParts("2 jack = U:A:1 b"); err != nil || needs[0].List != "U" || needs[0].Number != "A:1 b" {
		t.Errorf("%+v, %v: the number is the rest of the item", needs, err)
	}
	for _, cell := range []string{"0 can", "can", "3", "-1 can", "1.5 can", "1 can = :K", "1 can = K:"} {
		if needs, err := ReadParts(cell); err == nil {
			t.Errorf("ReadParts(%q) = %+v, want an error", cell, needs)
		}
	}
}

// TestShippedBooks reads the sample books the program ships with: nothing is
// wrong in them, and every part a task names is in the list it names.
func TestShippedBooks(t *testing.T) {
	const dir = "../../catalogs/"
	file := func(name string) []byte {
		data, err := os.ReadFile(dir + name)
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	sheet, err := ReadSheet("shop.csv", file("shop.csv"))
	if err != nil || len(sheet.Wrong)+len(sheet.Missing)+len(sheet.Unknown)+len(sheet.Unsourced) > 0 {
		t.Errorf("sheet: %v, wrong %v, missing %v, unknown %v, unsourced %v", err, sheet.Wrong, sheet.Missing, sheet.Unknown, sheet.Unsourced)
	}
	terms, problems := catalog.ReadTerms("terms.csv", file("terms.csv"))
	if len(problems) > 0 || len(terms) != 3 {
		t.Fatalf("terms: %d, %v", len(terms), problems)
	}
	var lists []catalog.List
	for _, tm := range terms {
		l, err := catalog.ReadList(tm.List, tm.List+".csv", file("list-"+tm.List+".csv"), tm, nil)
		if err != nil || len(l.Aside)+len(l.Notes) > 0 || len(l.Offers) < 60 {
			t.Errorf("%s: %v, %d offers, aside %v, notes %v", tm.List, err, len(l.Offers), l.Aside, l.Notes)
		}
		for _, o := range l.Offers {
			if landed, err := catalog.Landed(o, tm); err != nil {
				t.Errorf("%s: %v", o.Number, err)
			} else if _, err := SellingPrice(sheet, landed); err != nil {
				t.Errorf("%s: %v", o.Number, err)
			}
			if o.Part.Kind == catalog.Unknown {
				t.Errorf("%s %s: kind unknown", o.Number, o.Text)
			}
		}
		lists = append(lists, l)
	}
	tasks, err := ReadTasks("tasks.csv", file("tasks.csv"))
	if err != nil || len(tasks.Wrong) > 0 || len(tasks.Tasks) < 25 {
		t.Fatalf("tasks: %d, %v, %v", len(tasks.Tasks), tasks.Wrong, err)
	}
	x := catalog.NewIndex(lists)
	for _, task := range tasks.Tasks {
		if task.Source == "" || !task.SetUp() && (task.No == "" || task.Disclosure == "" || task.Undo == "") {
			t.Errorf("%s lacks source, disclosure, undo or what a no means", task.ID)
		}
		for _, n := range task.Parts {
			if _, ok := x.ByNumber(n.List, n.Number); n.List != "" && !ok {
				t.Errorf("%s: no %s in list %s", task.ID, n.Number, n.List)
			}
		}
	}
}

func TestStatesOfAccess(t *testing.T) {
	const text = `id,task,say,pile,low,mode,high,setups,state,after,wait,chance
S1,state,chassis out,,.4,.6,1.4,,,,,
S3,state,board lifted,,.3,.4,.5,,S1,,,
S2,setup,final tests,,.8,1,1.8,,,,,
T1,filters,New can,must,.4,.6,1.4,S2 S3,,,24 h,
T2,ripple,Ripple test,must,.1,.1,.1,,closed,T1,,
T3,sockets,Sockets,could,.1,.1,.1,,S1 S3,,,30 %
`
	l, err := ReadTasks("tasks.csv", []byte(text))
	if err != nil || len(l.Wrong) > 0 || len(l.Tasks) != 6 || len(l.States()) != 2 || len(l.SetUps()) != 1 {
		t.Fatalf("%v %v", err, l.Wrong)
	}
	s1, _ := l.Find("S1")
	s3, _ := l.Find("S3")
	t1, _ := l.Find("T1")
	t2, _ := l.Find("T2")
	t3, _ := l.Find("T3")
	if s1.From() != Closed || s3.From() != "S1" || t1.Wait != "24 h" || !slices.Equal(t2.In, []string{Closed}) || !slices.Equal(t2.After, []string{"T1"}) || t3.Chance != 30 {
		t.Errorf("%+v\n%+v\n%+v\n%+v", s3, t1, t2, t3)
	}
	if a := l.Access(t1); len(a) != 2 || a[0].ID != "S1" || a[1].ID != "S3" || len(l.Access(t2)) != 0 {
		t.Errorf("T1 needs %+v, want S1 and S3", a)
	}
	for row, column := range map[string]string{
		"A,x,,must,1,1,1,,lid,,,": "state", "S9,state,,,1,1,1,,S1 S3,,,": "state", "A,x,,must,1,1,1,,,T9,,": "after",
		"A,x,,must,1,1,1,,,,soon,": "wait", "A,x,,must,1,1,1,,,,,100": "chance", "A,x,,must,1,1,1,,,,,0": "chance",
	} {
		l, err := ReadTasks("tasks.csv", []byte(text+row+"\n"))
		if err != nil || len(l.Wrong) != 1 || l.Wrong[0].Column != column {
			t.Errorf("%s: %v %v, want a problem of %s", row, err, l.Wrong, column)
		}
	}
}
