// Package port is the border between the page's thinking and the browser:
// messages come in, effects go out, both plain values. Tests send the ones and
// compare the others; nothing here does anything.
package port

// Msg is something that happened. The update function gets one at a time.
type Msg interface{ msg() }

// Fresh comes with every message a person or a file causes, so that a record
// can be made at once: there is no clock and no chance inside the update.
type Fresh struct {
	At    string // ISO 8601 with seconds and offset: 2026-03-02T09:15:00+01:00
	Date  string // the day of At: 2026-03-02
	NewID string // a new name, used by nobody else
	Salt  string // 16 random bytes in hexadecimal
}

// Where says on what an event happened: data-act, data-id and data-k of the
// nearest element that has a data-act.
type Where struct{ Act, ID, K string }

// Pressed: a button, a link or another element with an act was pressed.
type Pressed struct {
	Where
	Fresh
	Value string // the value attribute of a button
}

// Typed: the text of an input changed and is not committed. Not a record; at
// most a draft.
type Typed struct {
	Where
	Fresh
	Value string
}

// Changed: an input was committed, a choice made, a box ticked.
type Changed struct {
	Where
	Fresh
	Value   string
	Checked bool // check boxes and radio buttons
}

// Submitted: a form with an act was sent. Fields are in page order.
type Submitted struct {
	Where
	Fresh
	Fields []Field
}

// Field is one named input of a form.
type Field struct {
	Name, Value string
	Checked     bool
}

// Get is the value of the first field of that name, "" if there is none.
func (s Submitted) Get(name string) string {
	for _, f := range s.Fields {
		if f.Name == name {
			return f.Value
		}
	}
	return ""
}

// Keyed: a key listed in data-keys of the element in focus or one around it.
type Keyed struct {
	Where
	Fresh
	Key   string // as listed: "Enter", "Ctrl+z"
	Value string // of the input in focus
}

// Loaded: everything kept on this device. The first message of all; comes
// again, with Again set, in a tab that follows another one.
type Loaded struct {
	Fresh
	Device string // random name of this device, made at its first start
	Hash   string // fragment of the address, without #
	Jobs   []Job
	Books  []Book
	Lists  []List
	Blobs  []string // their names only
	Again  bool
	Broken []string // what could not be read, in plain words
	// Restored says that the browser had lost its store and that all is back
	// from the second copy; "" otherwise. To be shown until it is read.
	Restored string
}

// Job is one job as kept: a snapshot, and what was written after it, in order.
type Job struct {
	ID       string
	Snapshot []byte // nil: none yet
	Journal  [][]byte
}

// Book is one of the shop's own books: sheet, cards, tasks, terms.
type Book struct {
	Name  string
	Bytes []byte
}

// List is a price list file with what is remembered about reading it.
type List struct {
	Name  string
	Meta  string
	Bytes []byte
}

// Saved: all effects with a Tag up to and including this one are on the disk.
type Saved struct {
	Fresh
	Tag int64
}

// SaveFailed: nothing of what is waiting is on the disk. It is tried again
// with the next effect that saves and at [RetrySave].
type SaveFailed struct {
	Say     string // plain words
	Full    bool   // no room left
	Waiting int    // effects not yet on the disk
}

// Tab: this tab may write, or follows another that does.
type Tab struct {
	Writer bool
	Say    string // why the rule of one writer cannot be kept here, or ""
}

// FileOpened answers [OpenFile]. No message comes when the person cancels.
type FileOpened struct {
	Fresh
	For   string
	Files []File
}

// File is a file's name and content.
type File struct {
	Name, Mime string
	Bytes      []byte
}

// FileFailed: a file could not be read or written.
type FileFailed struct{ For, Name, Say string }

// BlobLoaded answers [LoadBlob]; Bytes is nil when there is no such blob.
type BlobLoaded struct {
	Name, Mime string
	Bytes      []byte
	URL        string // blob: address to show it with, good while the page is open
}

// Minted answers [Mint].
type Minted struct {
	Fresh
	For   string
	IDs   []string
	Salts []string
}

// DeviceNamed answers [NewDevice].
type DeviceNamed struct{ Device string }

// Storage is what the browser says about what is kept here.
type Storage struct {
	Persistent bool  // the browser promised not to clear it by itself
	Known      bool  // false: this browser or address cannot say
	Usage      int64 // bytes in use. How much is left is never known.
}

// Shell is the state of the program's own files.
type Shell struct {
	Offline bool   // the page starts without a network
	Update  bool   // another version waits for [TakeUpdate]
	Version string // of the page that runs
	Say     string // why it cannot work without a network here, or ""
}

// Hidden: the page goes out of sight and may never come back. Save drafts.
type Hidden struct{ Fresh }

// Shown: the page is in sight again.
type Shown struct{ Fresh }

// Route: the fragment of the address changed, by the Back button or a link.
type Route struct{ Hash string }

// Elapsed answers [After].
type Elapsed struct {
	Fresh
	Tag string
}

// Printed: the print dialog is closed, whatever was chosen in it.
type Printed struct{}

// Failed: something of the browser did not work and no other message fits.
type Failed struct{ Say string }

func (Pressed) msg()     {}
func (Typed) msg()       {}
func (Changed) msg()     {}
func (Submitted) msg()   {}
func (Keyed) msg()       {}
func (Loaded) msg()      {}
func (Saved) msg()       {}
func (SaveFailed) msg()  {}
func (Tab) msg()         {}
func (FileOpened) msg()  {}
func (FileFailed) msg()  {}
func (BlobLoaded) msg()  {}
func (Minted) msg()      {}
func (DeviceNamed) msg() {}
func (Storage) msg()     {}
func (Shell) msg()       {}
func (Hidden) msg()      {}
func (Shown) msg()       {}
func (Route) msg()       {}
func (Elapsed) msg()     {}
func (Printed) msg()     {}
func (Failed) msg()      {}
