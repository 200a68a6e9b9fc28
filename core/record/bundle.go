package record

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"lugworth/core/sorted"
)

// A Bundle is a backup: named files in one ZIP, stored as they are, with a
// manifest that holds the SHA-256 of each.
type Bundle struct {
	At     string // when it was made, ISO 8601
	Device string // the device it was made on
	Files  []BundleFile
}

// A BundleFile is one file of a bundle. Its name has folders parted by
// slashes: "jobs/ID.job.json", "blobs/SHA256".
type BundleFile struct {
	Name string
	Data []byte
}

const manifestName = "manifest.json"

// What a bundle may hold at most: more is no backup of a bench.
const (
	mostFiles = 100_000
	mostBytes = int64(2) << 30
)

type manifest struct {
	Format int            `json:"format"`
	At     string         `json:"at"`
	Device string         `json:"device"`
	Files  []manifestFile `json:"files"`
}

type manifestFile struct {
	Name   string `json:"name"`
	Bytes  int    `json:"bytes"`
	SHA256 string `json:"sha256"`
}

// Write packs the bundle, files in order of their names, and reads it back:
// what comes out holds every byte that went in.
//
// Errors: a name that is empty, given twice, the manifest's own or leads out
// of the bundle.
func (b Bundle) Write() ([]byte, error) {
	files := slices.Clone(b.Files)
	sorted.By(files, func(a, b BundleFile) int { return strings.Compare(a.Name, b.Name) })
	m := manifest{Format: 1, At: b.At, Device: b.Device}
	for i, f := range files {
		if badName(f.Name) || f.Name == manifestName || i > 0 && f.Name == files[i-1].Name {
			return nil, fmt.Errorf("backup: a file cannot be named %q, or there are two of it", f.Name)
		}
		m.Files = append(m.Files, manifestFile{f.Name, len(f.Data), sum(f.Data)})
	}
	head, err := json.MarshalIndent(m, "", " ")
	if err != nil {
		return nil, fmt.Errorf("backup: %w", err)
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, f := range append([]BundleFile{{manifestName, head}}, files...) {
		w, err := z.CreateHeader(&zip.FileHeader{Name: f.Name, Method: zip.Store})
		if err == nil {
			_, err = w.Write(f.Data)
		}
		if err != nil {
			return nil, fmt.Errorf("backup: %s: %w", f.Name, err)
		}
	}
	if err := z.Close(); err != nil {
		return nil, fmt.Errorf("backup: %w", err)
	}
	return out.Bytes(), readsBack(out.Bytes(), files)
}

func readsBack(packed []byte, files []BundleFile) error {
	got, err := ReadBundle(packed)
	if err != nil {
		return fmt.Errorf("backup: it does not read back: %w", err)
	}
	same := slices.EqualFunc(got.Files, files, func(a, b BundleFile) bool { return a.Name == b.Name && bytes.Equal(a.Data, b.Data) })
	if !same {
		return errors.New("backup: it reads back as something else")
	}
	return nil
}

func badName(name string) bool {
	if name == "" || len(name) > 1000 || strings.HasPrefix(name, "/") || strings.ContainsAny(name, "\\\x00") {
		return true
	}
	return slices.ContainsFunc(strings.Split(name, "/"), func(part string) bool { return part == "" || part == "." || part == ".." })
}

func sum(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}

// ReadBundle reads a backup and checks every file against the manifest. What
// holds is returned even where something else does not; the error then names
// each file that is damaged, missing or not in the manifest. Those are left
// out: nothing of a backup is taken that cannot be proven whole.
func ReadBundle(data []byte) (Bundle, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return Bundle{}, fmt.Errorf("this is no backup, or its end is missing: %w", err)
	}
	if len(z.File) > mostFiles {
		return Bundle{}, fmt.Errorf("%d files in one backup, at most %d", len(z.File), mostFiles)
	}
	r := bundleReader{left: mostBytes, held: map[string][]byte{}}
	for _, f := range z.File {
		r.file(f)
	}
	return r.finish()
}

type bundleReader struct {
	left  int64
	held  map[string][]byte
	names []string // as they come
	bad   []error
}

func (r *bundleReader) say(format string, args ...any) {
	r.bad = append(r.bad, fmt.Errorf(format, args...))
}

func (r *bundleReader) file(f *zip.File) {
	_, twice := r.held[f.Name]
	switch {
	case strings.HasSuffix(f.Name, "/"): // a folder, as other programs write them
		return
	case badName(f.Name) || twice:
		r.say("%q: a name that is not taken, or is there twice", f.Name)
		return
	}
	r.names = append(r.names, f.Name)
	from, err := f.Open()
	if err != nil {
		r.say("%s: %w", f.Name, err)
		r.held[f.Name] = nil
		return
	}
	defer from.Close()
	body, err := io.ReadAll(io.LimitReader(from, r.left+1))
	if r.left -= int64(len(body)); r.left < 0 {
		r.left, err = 0, errors.New("too large for a backup")
	}
	if err != nil {
		r.say("%s: %w", f.Name, err)
		body = nil
	}
	r.held[f.Name] = body
}

func (r *bundleReader) finish() (Bundle, error) {
	var m manifest
	head, ok := r.held[manifestName]
	if !ok {
		return Bundle{}, errors.Join(append(r.bad, errors.New("this ZIP has no "+manifestName+": it is no backup of this program"))...)
	}
	if err := json.Unmarshal(head, &m); err != nil || m.Format != 1 {
		return Bundle{}, errors.Join(append(r.bad, fmt.Errorf("%s cannot be read, or is of a later version (format %d, this program knows 1)", manifestName, m.Format))...)
	}
	b := Bundle{At: m.At, Device: m.Device}
	listed := map[string]bool{manifestName: true}
	for _, f := range m.Files {
		body, there := r.held[f.Name]
		switch {
		case listed[f.Name]:
			r.say("%s: named twice in the manifest", f.Name)
			continue
		case !there:
			r.say("%s: missing", f.Name)
		case len(body) != f.Bytes || sum(body) != f.SHA256:
			r.say("%s: damaged, its content is not what the manifest says", f.Name)
		default:
			b.Files = append(b.Files, BundleFile{f.Name, body})
		}
		listed[f.Name] = true
	}
	for _, name := range r.names {
		if !listed[name] {
			r.say("%s: not in the manifest, left out", name)
		}
	}
	return b, errors.Join(r.bad...)
}
