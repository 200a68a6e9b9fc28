package app

import (
	"strconv"
	"strings"

	"lugworth/core/job"
	"lugworth/core/record"
)

// mostUndo is how many presses can be taken back after the page was loaded
// anew.
const mostUndo = 50

// undoable finds the presses of this device that can be taken back: a press
// is the records of one name, those after the first with a number behind it.
// What stands undone, what only a later record supersedes, and rows copied
// along are left out.
func undoable(records []record.Record, s record.State, device string) [][]string {
	undone := map[string]bool{}
	for _, u := range s.Undone() {
		undone[u.Record.ID] = true
	}
	var groups [][]string
	last := ""
	for _, r := range records {
		press, _, _ := strings.Cut(r.ID, ".")
		switch {
		case record.Sealed(r.Kind):
			groups, last = nil, "" // what came before is what was agreed on, on whichever device
			continue
		case r.Device != device || r.Kind == record.Undo || r.Kind == job.KindOffer || byHand(press) || undone[r.ID] || r.N == 1: // the first record makes the job
			continue
		}
		if press != last {
			groups = append(groups, nil)
			last = press
		}
		at := len(groups) - 1
		groups[at] = append(groups[at], r.ID)
	}
	return groups[max(0, len(groups)-mostUndo):]
}

// byHand reports whether a name is one that a hand-written file gives its
// records: r1, r2, ...
func byHand(id string) bool {
	n, err := strconv.Atoi(strings.TrimPrefix(id, "r"))
	return err == nil && n > 0 && id[0] == 'r'
}
