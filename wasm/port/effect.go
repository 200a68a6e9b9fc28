package port

// Effect is work for the browser. The update function returns them; the shell
// carries them out in order and answers with messages.
type Effect interface{ effect() }

// SaveRecords adds Entries to a job's journal. With a Snapshot, that one takes
// the place of the job's former snapshot and of its whole journal so far, and
// Entries (a draft, perhaps) follow it; all in one transaction. What waits is
// written together, in order. Answer: [Saved] or [SaveFailed].
type SaveRecords struct {
	Tag      int64 // rises with each effect that saves
	Job      string
	Snapshot []byte
	Entries  [][]byte
}

// SaveBook keeps a book of the shop under its name.
type SaveBook struct {
	Tag  int64
	Book Book
}

// SaveList keeps a price list under its name.
type SaveList struct {
	Tag  int64
	List List
}

// SaveBlob keeps a photo under its name, the SHA-256 of its bytes.
type SaveBlob struct {
	Tag        int64
	Name, Mime string
	Bytes      []byte
}

// DropJob, DropBook, DropList and DropBlob remove what is kept under a name.
type DropJob struct {
	Tag int64
	Job string
}

// DropBook: see [DropJob].
type DropBook struct {
	Tag  int64
	Name string
}

// DropList: see [DropJob].
type DropList struct {
	Tag  int64
	Name string
}

// DropBlob: see [DropJob].
type DropBlob struct {
	Tag  int64
	Name string
}

// RetrySave tries again what could not be written.
type RetrySave struct{}

// LoadBlob answers with [BlobLoaded].
type LoadBlob struct{ Name string }

// OpenFile lets the person choose a file. It works only in answer to a press.
type OpenFile struct {
	For      string // comes back in FileOpened
	Accept   string // ".csv,.txt"
	Several  bool
	Camera   bool // offer the camera first
	ShrinkTo int  // longest side of a photo in pixels; 0 leaves it as it is
}

// WriteFile hands the person a file to keep.
type WriteFile struct{ File File }

// Print shows the print dialog for a paper: Title becomes the proposed file
// name, Body is markup that prints in place of the page. An empty Body prints
// the page itself. Answer: [Printed].
type Print struct{ Title, Body string }

// Mint asks for N new names and salts. Answer: [Minted].
type Mint struct {
	For string
	N   int
}

// NewDevice gives this device another random name, after a restore.
type NewDevice struct{}

// AskPersist asks the browser to keep what is stored. Answer: [Storage].
type AskPersist struct{}

// MeasureStorage answers with [Storage].
type MeasureStorage struct{}

// TakeUpdate starts the waiting version: what waits is saved, then the page
// loads again.
type TakeUpdate struct{}

// FocusOn gives the focus to an element once the page is drawn, and scrolls it
// into sight. Select marks its text.
type FocusOn struct {
	ID     string
	Select bool
}

// SetHash changes the fragment of the address; Replace adds no step to Back.
type SetHash struct {
	Hash    string
	Replace bool
}

// After answers with [Elapsed] in that many milliseconds; 0 lets the browser
// draw first.
type After struct {
	Tag    string
	Millis int
}

// Soon answers with [Elapsed] as soon as there is a moment for a little more of
// a long work. Several answers may come within one moment; presses and
// drawings have their turn between moments, and the page is drawn only now and
// then while the work goes on.
type Soon struct{ Tag string }

// KeepAwake keeps the screen on, where the browser can.
type KeepAwake struct{ On bool }

func (SaveRecords) effect()    {}
func (SaveBook) effect()       {}
func (SaveList) effect()       {}
func (SaveBlob) effect()       {}
func (DropJob) effect()        {}
func (DropBook) effect()       {}
func (DropList) effect()       {}
func (DropBlob) effect()       {}
func (RetrySave) effect()      {}
func (LoadBlob) effect()       {}
func (OpenFile) effect()       {}
func (WriteFile) effect()      {}
func (Print) effect()          {}
func (Mint) effect()           {}
func (NewDevice) effect()      {}
func (AskPersist) effect()     {}
func (MeasureStorage) effect() {}
func (TakeUpdate) effect()     {}
func (FocusOn) effect()        {}
func (SetHash) effect()        {}
func (After) effect()          {}
func (Soon) effect()           {}
func (KeepAwake) effect()      {}
