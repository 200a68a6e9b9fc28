package shop

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/money"
	"lugworth/core/unit"
)

// taskRow is tasks.csv as it stands in the file.
type taskRow struct {
	ID            string `csv:"id"`
	Task          string `csv:"task"`
	Say           string `csv:"say"`
	Pile          string `csv:"pile"`
	Low           string `csv:"low"`
	Mode          string `csv:"mode"`
	High          string `csv:"high"`
	SetUps        string `csv:"setups"`
	Parts         string `csv:"parts"`
	Fits          string `csv:"fits"`
	Tap           string `csv:"tap"`
	Look          string `csv:"look"`
	Matter        string `csv:"matter"`
	Undo          string `csv:"undo"`
	Disclosure    string `csv:"disclosure"`
	No            string `csv:"no"`
	Value         string `csv:"value"`
	Other         string `csv:"other"`
	OtherPrice    string `csv:"other_price"`
	OtherCarriage string `csv:"other_carriage"`
	OtherDays     string `csv:"other_days"`
	Both          string `csv:"both"`
	Needs         string `csv:"needs"`
	State         string `csv:"state"`
	After         string `csv:"after"`
	Wait          string `csv:"wait"`
	Chance        string `csv:"chance"`
	Source        string `csv:"source"`
}

// ReadTasks reads tasks.csv, one row for each way to do a task:
//
//	id        name of the row, once in the file
//	task      what is done; rows of one task are ways to do it; "setup" is shared
//	          work, "state" how far the amp is opened: its hours are those of
//	          getting there from the state before and back, each time
//	say       one sentence for the owner
//	pile      must, should or could; blank for a set-up
//	low, mode, high   hours, low ≤ mode ≤ high
//	setups    ids of set-ups, parted by blanks; a state among them is one the work is done in
//	parts     see ReadParts
//	fits      positions it belongs to, words
//	tap       mains tap it moves the amp to
//	look      as made, close or modern
//	matter    untouched, in place, bagged or consumed
//	undo      U0, U1, U2 or U3
//	disclosure, no    one sentence each
//	value     whole number, the shop's weight among what is not a must
//	other, other_price, other_carriage, other_days   work of an outside shop
//	both      yes if it may be taken together with another way of the same task
//	needs     ids that must be taken with it, parted by blanks
//	state     ids of states in which it can be done, any of them; "closed" is
//	          one. Of a state: the one it is reached from, blank for closed
//	after     ids of tasks that must be done before it, where they are done
//	wait      drying or settling behind it: 24 h, 2 days
//	chance    percent, 1 to 99, that it has to be done at all: priced apart
//	source    where hours and prices come from
//
// Set-ups count once a job. States count as often as the order of the tasks
// opens them: a test with the amp closed between two visits to the board has
// the board lifted twice.
//
// Only id, task, low, mode and high must be there. A row with any problem is
// left out of Tasks, and every problem of it is in Wrong.
func ReadTasks(file string, data []byte) (Library, error) {
	t, err := catalog.ReadTable(file, data, "id", "task", "low", "mode", "high")
	if err != nil {
		return Library{}, err
	}
	var rows []taskRow
	if err := t.Bind(&rows); err != nil {
		return Library{}, fmt.Errorf("%s: %w", file, err)
	}
	l := Library{Wrong: t.Problems, Rows: t.Count, Aside: t.Count - len(t.Rows)}
	ids := map[string]bool{}
	for _, row := range rows {
		ids[strings.TrimSpace(row.ID)] = true
	}
	for i, row := range rows {
		r := taskReader{file: file, line: t.Rows[i].Line, ids: ids}
		task := r.task(row)
		if _, twice := l.Find(task.ID); twice {
			r.wrong("id", row.ID, unit.Duplicate, "")
		}
		if len(r.problems) > 0 {
			l.Wrong = append(l.Wrong, r.problems...)
			l.Aside++
			continue
		}
		l.Tasks = append(l.Tasks, task)
	}
	return l, nil
}

type taskReader struct {
	file     string
	line     int
	ids      map[string]bool
	problems []unit.Problem
}

func (r *taskReader) wrong(column, cell string, code unit.Code, hint string) {
	r.problems = append(r.problems, unit.Problem{File: r.file, Line: r.line, Column: column, Cell: cell, Code: code, Hint: hint})
}

// check turns an error of a value reader into a problem of the column.
func (r *taskReader) check(column, cell string, err error) {
	if err == nil {
		return
	}
	p := unit.Problem{Code: unit.BadRow, Hint: err.Error()}
	errors.As(err, &p)
	r.wrong(column, cell, p.Code, p.Hint)
}

func (r *taskReader) task(row taskRow) Task {
	t := Task{ID: trim(row.ID), Task: trim(row.Task), Say: trim(row.Say), Fits: trim(row.Fits), Tap: trim(row.Tap),
		Disclosure: trim(row.Disclosure), No: trim(row.No), Other: trim(row.Other), Source: trim(row.Source),
		OtherDays: -1, Line: r.line}
	if t.ID == "" {
		r.wrong("id", row.ID, unit.Missing, "")
	}
	if t.Task == "" {
		r.wrong("task", row.Task, unit.Missing, "")
	}
	r.hours(&t, row)
	r.words(&t, row)
	r.numbers(&t, row)
	t.SetUps, t.Needs, t.After = r.refs("setups", row.SetUps), r.refs("needs", row.Needs), r.refs("after", row.After)
	r.access(&t, row)
	var err error
	t.Parts, err = ReadParts(row.Parts)
	r.check("parts", row.Parts, err)
	return t
}

func trim(s string) string { return strings.TrimSpace(s) }

func (r *taskReader) hours(t *Task, row taskRow) {
	before := len(r.problems)
	for _, h := range []struct {
		column, cell string
		to           *money.Decimal
	}{{"low", row.Low, &t.Low}, {"mode", row.Mode, &t.Mode}, {"high", row.High, &t.High}} {
		r.check(h.column, h.cell, amount(h.to, trim(h.cell)))
	}
	if len(r.problems) == before && (t.Low.Cmp(t.Mode) > 0 || t.Mode.Cmp(t.High) > 0) {
		r.wrong("mode", row.Mode, unit.OutOfRange, "low ≤ mode ≤ high")
	}
}

func (r *taskReader) words(t *Task, row taskRow) {
	if p := trim(row.Pile); p != "" || !t.Shared() {
		r.check("pile", row.Pile, choose(&t.Pile, p, Must, Should, Could))
	}
	if v := trim(row.Look); v != "" {
		r.check("look", v, choose(&t.Look, v, AsMade, Close, Modern))
	}
	if v := trim(row.Matter); v != "" {
		r.check("matter", v, choose(&t.Matter, v, Untouched, InPlace, Bagged, Consumed))
	}
	if v := trim(row.Undo); v != "" {
		r.check("undo", v, choose(&t.Undo, v, U0, U1, U2, U3))
	}
	if v := trim(row.Both); v != "" {
		r.check("both", v, yesNo(&t.Both, v))
	}
}

func (r *taskReader) numbers(t *Task, row taskRow) {
	if v := trim(row.OtherPrice); v != "" {
		r.check("other_price", v, amount(&t.OtherPrice, v))
	}
	if v := trim(row.OtherCarriage); v != "" {
		r.check("other_carriage", v, amount(&t.OtherCarriage, v))
	}
	if v := trim(row.OtherDays); v != "" {
		r.check("other_days", v, days(&t.OtherDays, v))
	}
	if v := trim(row.Value); v != "" {
		n, err := strconv.Atoi(v)
		if err != nil || n < 0 || n > 1000 {
			r.wrong("value", v, unit.OutOfRange, "a whole number from 0 to 1000")
		}
		t.Value = n
	}
	if t.Other == "" && (!t.OtherPrice.IsZero() || !t.OtherCarriage.IsZero()) {
		r.wrong("other", row.Other, unit.Missing, "")
	}
}

// access reads states, waits and chances.
func (r *taskReader) access(t *Task, row taskRow) {
	for _, id := range strings.Fields(row.State) {
		if !r.ids[id] && id != Closed {
			r.wrong("state", id, unit.UnknownWord, "")
		}
		t.In = append(t.In, id)
	}
	if t.State() && len(t.In) > 1 {
		r.wrong("state", row.State, unit.OutOfRange, "one state that it is reached from")
	}
	if t.Wait = trim(row.Wait); t.Wait != "" {
		_, err := ReadWait(t.Wait)
		r.check("wait", t.Wait, err)
	}
	if v := trim(strings.TrimSuffix(trim(row.Chance), "%")); v != "" {
		n, err := strconv.Atoi(v)
		if err != nil || n < 1 || n > 99 {
			r.wrong("chance", row.Chance, unit.OutOfRange, "whole percent from 1 to 99")
		}
		t.Chance = n
	}
}

// refs reads ids of other rows.
func (r *taskReader) refs(column, cell string) []string {
	ids := strings.Fields(cell)
	for i, id := range ids {
		if !r.ids[id] {
			r.wrong(column, id, unit.UnknownWord, "")
		}
		if slices.Contains(ids[:i], id) {
			r.wrong(column, id, unit.Duplicate, "")
		}
	}
	return ids
}

// ReadParts reads a parts cell. Items are parted by semicolons:
//
//	parts = item { ";" item }
//	item  = count need [ "=" list ":" number ]
//
// count is a whole number of pieces; need is the marking wanted, free words;
// list and number name a row of a price list, number being the rest of the
// item, so that it may hold colons and blanks. A need may hold no ";" and no
// " = ".
//
//	3 electrolytic 22uF 500V = K:K-1002; 1 terminal strip
func ReadParts(cell string) ([]Need, error) {
	var out []Need
	for _, item := range strings.Split(cell, ";") {
		item = trim(item)
		if item == "" {
			continue
		}
		need, err := readItem(item)
		if err != nil {
			return nil, err
		}
		out = append(out, need)
	}
	return out, nil
}

func readItem(item string) (Need, error) {
	want, offer, chosen := strings.Cut(item, " = ")
	count, say, _ := strings.Cut(trim(want), " ")
	n, err := strconv.Atoi(count)
	if err != nil || n < 1 || n > 10_000 || trim(say) == "" {
		return Need{}, unit.Problem{Cell: item, Code: unit.BadRow, Hint: `an item like "3 electrolytic 22uF 500V = K:K-1002"`}
	}
	need := Need{Count: n, Say: trim(say)}
	if !chosen {
		return need, nil
	}
	list, number, ok := strings.Cut(trim(offer), ":")
	need.List, need.Number = trim(list), trim(number)
	if !ok || need.List == "" || need.Number == "" {
		return Need{}, unit.Problem{Cell: item, Code: unit.BadRow, Hint: `an offer like "= K:K-1002"`}
	}
	return need, nil
}

// WriteParts is the inverse of ReadParts.
func WriteParts(needs []Need) string {
	items := make([]string, len(needs))
	for i, n := range needs {
		items[i] = strconv.Itoa(n.Count) + " " + n.Say
		if n.List != "" {
			items[i] += " = " + n.List + ":" + n.Number
		}
	}
	return strings.Join(items, "; ")
}
