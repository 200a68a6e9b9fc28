package job

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"golang.org/x/tools/txtar"

	"lugworth/core/amp"
	"lugworth/core/record"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// A Case is a job with everything brought beside it: one text archive, or a
// job file and a folder of the shop's files.
type Case struct {
	File     record.File
	Books    []File
	Want     map[string][]byte // wanted outputs, for tests
	sheet    *File
	readings *File
}

// OpenCase reads a job file, or a txtar archive that holds job.json and the
// shop's files. more are the files of a folder of lists, if there is one.
//
// Errors: neither JSON nor an archive with a job.json; records that cannot be
// read.
func OpenCase(name string, data []byte, more []File) (*Case, error) {
	c := &Case{Want: map[string][]byte{}}
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, fmt.Errorf("%s: the file is empty", name)
	}
	if bytes.HasPrefix(data, []byte("\xFF\xFE")) || bytes.HasPrefix(data, []byte("\xFE\xFF")) {
		return nil, fmt.Errorf("%s: the file is in UTF-16; save it in UTF-8", name)
	}
	if isJSON(data) {
		f, err := record.Read(data)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		c.File = f
		return c.with(more), nil
	}
	a := txtar.Parse(data)
	if len(a.Files) == 0 {
		return nil, fmt.Errorf("%s: neither a job file (JSON) nor a text archive with a job.json in it", name)
	}
	found := false
	for _, f := range a.Files {
		switch {
		case f.Name == "job.json":
			r, err := record.Read(f.Data)
			if err != nil {
				return nil, fmt.Errorf("%s: job.json: %w", name, err)
			}
			c.File, found = r, true
		case strings.HasPrefix(f.Name, "want/"):
			c.Want[strings.TrimPrefix(f.Name, "want/")] = f.Data
		default:
			c.add(File{Name: f.Name, Data: returns(f.Data)})
		}
	}
	if !found {
		return nil, fmt.Errorf("%s: the archive holds no job.json", name)
	}
	return c.with(more), nil
}

// returns turns "^M" at a line's end back into a carriage return, as archives
// write it.
func returns(data []byte) []byte { return bytes.ReplaceAll(data, []byte("^M\n"), []byte("\r\n")) }

func isJSON(data []byte) bool {
	t := bytes.TrimLeft(bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF")), " \t\r\n")
	return len(t) > 0 && t[0] == '{'
}

func (c *Case) with(more []File) *Case {
	for _, f := range more {
		c.add(f)
	}
	return c
}

// add files one file where it belongs; a file given later replaces one of the
// same name.
func (c *Case) add(f File) {
	switch base := f.Name[strings.LastIndexByte(f.Name, '/')+1:]; base {
	case "sheet.csv":
		c.sheet = &f
	case "readings.csv":
		c.readings = &f
	default:
		c.Books = slices.DeleteFunc(c.Books, func(o File) bool { return o.Name == f.Name })
		c.Books = append(c.Books, f)
	}
}

// Open folds the job and opens the books: those the job carries first, those
// brought beside it in their place where they have the same name.
func (c *Case) Open(builtin []tube.Card) (*Job, *Books) {
	j := Read(c.File)
	j.verify(c.File)
	if c.sheet != nil {
		ps, problems := amp.ReadSheet(c.sheet.Name, c.sheet.Data)
		j.Add(ps, nil)
		j.Problems = append(j.Problems, problems...)
	}
	if c.readings != nil {
		rs, problems := amp.ReadReadings(c.readings.Name, c.readings.Data)
		for i := range rs {
			if rs[i].ID == "" {
				rs[i].ID = fmt.Sprintf("%s:%d", c.readings.Name, i+2)
			}
		}
		j.Add(nil, rs)
		j.Problems = append(j.Problems, problems...)
	}
	return j, OpenBooks(builtin, Carried(j, c.Books)).WithCopies(j.Copies)
}

// verify says where the chain of the records does not hold. The job is
// derived all the same: the facts are there to be looked at.
func (j *Job) verify(f record.File) {
	if f.NoChain {
		return
	}
	for _, b := range record.Verify(f).Broken {
		j.Broken = true
		j.Problems = append(j.Problems, unit.Problem{Code: unit.Unusable, Say: "the chain does not hold: " + b.String()})
	}
}

// Carried returns the books a job carries, then those at hand; a file at hand
// takes the place of one of the same name that the job carries.
func Carried(j *Job, at []File) []File {
	var out []File
	for _, b := range j.Books {
		if !slices.ContainsFunc(at, func(f File) bool { return f.Name[strings.LastIndexByte(f.Name, '/')+1:] == b.ID }) {
			out = append(out, File{Name: b.ID, Data: []byte(b.Text)})
		}
	}
	return append(out, at...)
}

// Sheet returns the circuit sheet that came beside the job, nil if none did.
func (c *Case) Sheet() *File { return c.sheet }

// Readings returns the chart that came beside the job, nil if none did.
func (c *Case) Readings() *File { return c.readings }
