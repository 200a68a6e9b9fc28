package part

import "lugworth/wasm/keyed"

// Dialog is a question that must be answered before all else. Escape and the
// close button send the act cancel.
func Dialog(key, heading, cancel, id string, items ...keyed.Item) keyed.Node {
	return modal("dialog", key, heading, cancel, id, items)
}

// Sheet is a dialog at the side of a wide page and at the bottom of a tall
// one: a reason, a choice from a long list.
func Sheet(key, heading, cancel, id string, items ...keyed.Item) keyed.Node {
	return modal("dialog sheet", key, heading, cancel, id, items)
}

func modal(class, key, heading, cancel, id string, items []keyed.Item) keyed.Node {
	return keyed.Row("dialog", key, keyed.Class(class), keyed.Attr("data-modal", ""),
		keyed.Attr("data-cancel", cancel), attr("data-id", id), keyed.Attr("aria-labelledby", key+"-head"),
		keyed.El("div", keyed.Class("dialog-head"),
			keyed.El("h2", keyed.ID(key+"-head"), keyed.Text(heading)),
			Press("quiet", "Close", cancel, id)),
		keyed.El("div", keyed.Class("dialog-body"), keyed.Several(items...)))
}

// Toast says what was just done and offers to undo it. It stays until the next
// act: nobody at a bench can be asked to be quick.
func Toast(say, undo, id string) keyed.Node {
	return keyed.Row("div", "toast", keyed.Class("toast"), keyed.Attr("role", "status"),
		keyed.El("span", keyed.Class("toast-say"), keyed.Text(say)),
		keyed.If(undo != "", Press("", "Undo", undo, id)),
		Press("quiet", "Close", "toast-close", id))
}

// Progress is work that takes a while. total 0: nobody knows how long.
func Progress(say string, done, total int, cancel, id string) keyed.Item {
	bar := keyed.El("progress", keyed.Attr("aria-label", say))
	if total > 0 {
		bar = keyed.El("progress", keyed.Attr("aria-label", say),
			keyed.Live("max", digits(total)), keyed.Live("value", digits(done)))
	}
	return keyed.El("div", keyed.Class("progress"),
		keyed.El("span", keyed.Class("progress-say"), keyed.Text(say)), bar,
		keyed.If(cancel != "", Press("", "Stop", cancel, id)))
}

// Status is what the head says about the work's safety.
type Status struct {
	Job      string // number and amp
	Saved    string // "Saved 14:02", "Saving", "Not saved: no room left"
	Unsaved  bool   // Saved is bad news
	Copy     string // "Backed up", "Back up now"
	CopyOld  bool   // the last backup is too old to look calm
	ReadOnly string // why nothing can be changed here, "" if it can
	Update   bool   // another version is ready
	Offline  bool   // the page starts without a network
}

// Item is the status line. Presses: "backup" writes one, "update" takes
// the new version, "job" opens the list of jobs.
func (s Status) Item() keyed.Item {
	return keyed.Several(
		keyed.El("button", keyed.Attr("type", "button"), keyed.Class("job"), keyed.Do("jobs", ""), keyed.Text(s.Job)),
		keyed.El("div", keyed.Class("status"), keyed.Attr("role", "status"),
			keyed.El("span", keyed.LiveClass(loud("said", s.Unsaved)), keyed.Text(s.Saved)),
			keyed.If(s.ReadOnly != "", keyed.El("span", keyed.Class("said loud"), keyed.Text(s.ReadOnly))),
			keyed.If(s.Offline, keyed.El("span", keyed.Class("said"), keyed.Text("Works offline")))),
		keyed.If(s.Copy != "", keyed.El("button", keyed.Attr("type", "button"), keyed.LiveClass(loud("copy", s.CopyOld)),
			keyed.Do("backup", ""), keyed.Text(s.Copy))),
		keyed.If(s.Update, Press("", "Update ready", "update", "")))
}

func loud(class string, on bool) string {
	if on {
		return class + " loud"
	}
	return class
}
