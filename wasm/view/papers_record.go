package view

import (
	"encoding/json"
	"fmt"
	"strings"

	"lugworth/core/job"
	"lugworth/core/money"
	"lugworth/core/quote"
	"lugworth/core/record"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// papersFrozen lists the estimates as they were given.
func papersFrozen(m app.Model) keyed.Node {
	all := m.Open.Job.Frozen
	body := keyed.Each(all, func(f job.FrozenRecord) keyed.Node { return frozenRow(m, f) })
	return keyed.Row("section", "papers-frozen", keyed.Class("card"),
		keyed.El("h2", keyed.Text("Estimates as given")),
		keyed.If(len(all) == 0, part.Note("None is frozen yet. What an owner was shown is kept here, to the cent.")),
		keyed.El("ul", keyed.Class("papers-list"), body))
}

func frozenRow(m app.Model, f job.FrozenRecord) keyed.Node {
	key := "frozen-" + f.ID
	z, b, err := f.Reopen()
	if err != nil {
		return keyed.Row("li", key, keyed.El("p", keyed.Class("wrong"), keyed.Text(f.ID+" cannot be opened: "+err.Error())))
	}
	ask, today := "Would it differ today?", keyed.Several()
	if m.Screen.Paper.Drift == f.ID {
		ask, today = "Close the comparison", driftOf(m, f, b)
	}
	return keyed.Row("li", key,
		keyed.El("p", keyed.El("strong", keyed.Text(z.Number)), keyed.Text(" "+z.Set+", "+z.Date)),
		keyed.El("p", part.Money(b.Currency.Format(b.Total), z.Currency), keyed.Text(" at most")),
		part.Presses(part.Press("", "Open", "frozen-open", f.ID), part.Press("quiet", ask, "frozen-drift", f.ID)), today)
}

// driftOf says what a frozen estimate would be today.
func driftOf(m app.Model, f job.FrozenRecord, b quote.Bill) keyed.Item {
	d, err := m.Open.Result.Drift(f)
	if err != nil {
		return part.Note(err.Error())
	}
	say := "Today it would come to the same."
	if by := d.By(); by != 0 {
		say = "Would now differ by " + signed(b.Currency, by) + ": " + b.Currency.Format(d.Is) + " in place of " + b.Currency.Format(d.Was) + ". What was given stays as it is."
	}
	cols := []part.Col{{Say: "Line", Wide: true}, {Say: "As given", Num: true}, {Say: "Today", Num: true}}
	return keyed.Several(
		keyed.El("p", keyed.Text(say)),
		keyed.If(d.Rule, part.Note("It was reckoned by another version of the rules.")),
		keyed.If(len(d.Gone) > 0, part.Note("No longer in the job: "+strings.Join(d.Gone, ", "))),
		keyed.If(len(d.Lines) > 0, part.Table("What would differ in "+f.ID, cols, keyed.Map(d.Lines, func(l job.Differs) keyed.Item {
			return keyed.El("tr", keyed.El("td", keyed.Text(l.Say)),
				keyed.El("td", keyed.Class("num"), keyed.Text(orDash(b.Currency, l.Was))), keyed.El("td", keyed.Class("num"), keyed.Text(orDash(b.Currency, l.Is))))
		}), keyed.Item{})))
}

func signed(c money.Currency, a money.Amount) string {
	if a > 0 {
		return "+" + c.Format(a)
	}
	return strings.Replace(c.Format(a), "-", "−", 1)
}

func orDash(c money.Currency, a money.Amount) string {
	if a == 0 {
		return "–"
	}
	return c.Format(a)
}

// papersRecord is the state of the record chain.
func papersRecord(m app.Model) keyed.Node {
	v := m.Open.Chain()
	state := "whole: " + entries(v.Records) + ", each in its place"
	switch {
	case v.NoChain:
		state = "written by hand: " + entries(v.Records) + ", no chain"
	case !v.Whole():
		state = "broken: " + v.Broken[0].String()
	}
	code := m.Open.Result.Code
	if code == "" {
		code = "none"
	}
	return keyed.Row("section", "papers-record", keyed.Class("card"),
		keyed.El("h2", keyed.Text("The record")),
		part.Facts(
			part.Fact("Chain", keyed.Text(state)),
			part.Fact("Code now", keyed.El("strong", keyed.Class("amount"), keyed.Text(code))),
			keyed.If(v.Redacted > 0, part.Fact("Content taken out", keyed.Text("of "+entries(v.Redacted))))),
		part.Note("Every entry holds the fingerprint of the one before it. The code on a printed estimate stands for all entries up to then; with the job's file anyone can find it again."))
}

// papersKept says where the job is kept and how it is brought back.
func papersKept(m app.Model) keyed.Node {
	s := m.Screen.Storage
	say := "This browser does not say whether it keeps what is stored here."
	switch {
	case s.Known && s.Persistent:
		say = "This browser has promised to keep what is stored here" + usage(s.Usage) + "."
	case s.Known:
		say = "This browser may clear what is stored here when room runs short" + usage(s.Usage) + ". Ask it to keep it, and keep a backup elsewhere."
	}
	return keyed.Row("section", "papers-kept", keyed.Class("card"),
		keyed.El("h2", keyed.Text("Where it is kept")),
		part.Facts(part.Fact("Here", keyed.Text(say)), part.Fact("Backup", keyed.Text(copyState(m.Screen)))),
		backupWork(m), part.Presses(part.Press("main", "Back up everything", "backup", ""), part.Press("", "Check a backup", "backup-check", ""), part.Press("", "Save this job as a file", "copy", ""), part.Press("", "Share without names", "share", ""), part.Press("", "Open files", "open-file", ""),
			keyed.If(!s.Persistent, part.Press("", "Ask the browser to keep it", "persist", ""))),
		part.Note("A backup holds every job, the shop's books, price lists and photos in one file, and is read back before it is handed out. Opened in an empty browser it brings everything back as it was."),
		part.Note("To bring a job back, here or on another device, open its file. A copy of a job that is here already is merged with it: nothing of either side is lost, and what disagrees is listed."))
}

// backupWork shows how far a backup is that waits for photos.
func backupWork(m app.Model) keyed.Item {
	b := m.Screen.Backup
	if !b.Busy {
		return keyed.Item{}
	}
	return keyed.El("div", keyed.Class("line"), keyed.Attr("role", "status"),
		keyed.El("span", keyed.Text(itoa(b.Done())+" of "+itoa(b.Total)+" photos packed")), part.Press("quiet", "Stop", "backup-stop", ""))
}

func usage(bytes int64) string {
	if bytes < 1e5 {
		return ""
	}
	return fmt.Sprintf(", %.1f MB of it", float64(bytes)/1e6)
}

func copyState(s app.Screen) string {
	switch {
	case s.CopyAt == "":
		return "none has left this browser yet"
	case s.Changes == 0:
		return "of " + day(s.CopyAt) + ", up to date"
	}
	return "of " + day(s.CopyAt) + ", " + entries(s.Changes) + " behind"
}

// day is the date and the minute of an ISO time.
func day(at string) string {
	if len(at) < 16 {
		return at
	}
	return at[:10] + " " + at[11:16]
}

func entries(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return itoa(n) + " entries"
}

// papersNotices lists what could not be taken as it is: nothing is dropped.
func papersNotices(m app.Model) (keyed.Node, bool) {
	says := noticeWords(m)
	return keyed.Row("section", "papers-notices", keyed.Class("card"),
		keyed.El("h2", keyed.Text("To be looked at")),
		keyed.El("ul", keyed.Class("papers-list"), keyed.Map(says, func(s string) keyed.Item { return keyed.El("li", keyed.Text(s)) }))), len(says) > 0
}

func noticeWords(m app.Model) []string {
	var says []string
	for _, n := range append(m.Open.Notices, m.Open.State.Notices()...) {
		says = append(says, n.Say)
	}
	for _, c := range m.Open.State.Conflicts() {
		says = append(says, conflictWords(c))
	}
	for _, u := range m.Open.State.Unknown() {
		says = append(says, "Of a kind this version does not know, kept and passed on: "+u.Kind+", "+entries(len(u.Records)))
	}
	if n := len(m.Open.State.Redacted()); n > 0 {
		says = append(says, "Content taken out, and the chain holds without it: "+entries(n))
	}
	return says
}

// conflictWords says what two devices wrote without knowing of each other.
func conflictWords(c record.Conflict) string {
	what := strings.TrimSpace(c.Kind + " " + c.ID)
	if c.Field == "removed" {
		return what + " was removed on one device while another went on with it. Write it again to keep it."
	}
	var values []string
	for _, cl := range c.Claims {
		values = append(values, plainValue(cl.Value)+" ("+day(cl.At)+")")
	}
	return what + ", " + c.Field + ": two devices wrote different things, " + strings.Join(values, " and ") + ". The last one holds; write it again to settle it."
}

func plainValue(raw json.RawMessage) string {
	var s string
	if json.Unmarshal(raw, &s) == nil {
		return "“" + s + "”"
	}
	return string(raw)
}
