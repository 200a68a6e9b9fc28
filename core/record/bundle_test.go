package record

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"
)

func bundle() Bundle {
	return Bundle{At: "2026-03-02T09:15:00+01:00", Device: "bench", Files: []BundleFile{
		{"shop/terms.csv", []byte("list,currency\r\nK,USD\r\n")},
		{"jobs/a.job.json", []byte(`{"format":1,"records":[]}`)},
		{"blobs/" + sum([]byte("photo")), []byte("photo")},
		{"lists/K.csv", nil},
	}}
}

func TestBundle(t *testing.T) {
	packed, err := bundle().Write()
	if err != nil {
		t.Fatal(err)
	}
	got, err := ReadBundle(packed)
	if err != nil {
		t.Fatal(err)
	}
	if got.At != bundle().At || got.Device != "bench" || len(got.Files) != 4 {
		t.Errorf("read back: %+v", got)
	}
	again, err := got.Write()
	if err != nil || !bytes.Equal(again, packed) {
		t.Errorf("written again it differs (%v)", err)
	}
	// The reader of the language's own library sees the same files, stored.
	z, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	if err != nil || len(z.File) != 5 || z.File[0].Name != manifestName || z.File[1].Method != zip.Store {
		t.Errorf("as a ZIP: %v, %d files", err, len(z.File))
	}
}

func TestBundleNames(t *testing.T) {
	for _, name := range []string{"", "/a", "a/../b", "a//b", "a\\b", "..", manifestName, "jobs/a.job.json", strings.Repeat("a", 1001)} {
		b := bundle()
		b.Files = append(b.Files, BundleFile{Name: name})
		if _, err := b.Write(); err == nil {
			t.Errorf("%q: written, want an error", name)
		}
	}
}

// Every byte of a file, changed, is found, and no file that is changed is
// taken for whole.
func TestBundleDamaged(t *testing.T) {
	packed, _ := bundle().Write()
	want, _ := ReadBundle(packed)
	whole := map[string]string{}
	for _, f := range want.Files {
		whole[f.Name] = string(f.Data)
	}
	noticed := 0
	for i := range packed {
		bad := bytes.Clone(packed)
		bad[i] ^= 1
		got, err := ReadBundle(bad)
		if err != nil {
			noticed++
		}
		for _, f := range got.Files {
			if have, ok := whole[f.Name]; (!ok || have != string(f.Data)) && err == nil {
				t.Fatalf("byte %d: %s taken as %q", i, f.Name, f.Data)
			}
		}
		if err == nil && len(got.Files) != len(want.Files) {
			t.Fatalf("byte %d: %d files and nothing said", i, len(got.Files))
		}
	}
	if noticed < len(packed)/2 {
		t.Errorf("%d of %d changed bytes noticed", noticed, len(packed))
	}
	for n := 0; n < len(packed); n += 7 {
		if _, err := ReadBundle(packed[:n]); err == nil {
			t.Errorf("cut off after %d bytes: read as whole", n)
		}
	}
}

func TestBundleRefusals(t *testing.T) {
	zipped := func(files ...string) []byte {
		var out bytes.Buffer
		z := zip.NewWriter(&out)
		for i := 0; i < len(files); i += 2 {
			w, _ := z.Create(files[i])
			io.WriteString(w, files[i+1])
		}
		z.Close()
		return out.Bytes()
	}
	one := func(name, body string) string {
		return fmt.Sprintf(`{"format":1,"files":[{"name":%q,"bytes":%d,"sha256":%q}]}`, name, len(body), sum([]byte(body)))
	}
	for _, c := range []struct {
		say, want string
		in        []byte
		files     int
	}{
		{"no zip", "no backup", []byte("hello"), 0},
		{"another zip", "no manifest.json", zipped("a.txt", "a"), 0},
		{"manifest of words", "cannot be read", zipped(manifestName, "words"), 0},
		{"later version", "format 2", zipped(manifestName, `{"format":2}`), 0},
		{"missing", "jobs/a: missing", zipped(manifestName, one("jobs/a", "x")), 0},
		{"other content", "jobs/a: damaged", zipped(manifestName, one("jobs/a", "x"), "jobs/a", "y"), 0},
		{"one too many", "jobs/b: not in the manifest", zipped(manifestName, one("jobs/a", "x"), "jobs/a", "x", "jobs/b", "y"), 1},
		{"out of the bundle", "not taken", zipped(manifestName, one("../a", "x"), "../a", "x"), 0},
		{"packed small by another program", "", zipped(manifestName, one("jobs/a", "x"), "jobs/", "", "jobs/a", "x"), 1},
	} {
		got, err := ReadBundle(c.in)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: %v, want %q", c.say, err, c.want)
		}
		if len(got.Files) != c.files {
			t.Errorf("%s: %d files, want %d", c.say, len(got.Files), c.files)
		}
	}
}

func FuzzReadBundle(f *testing.F) {
	packed, _ := bundle().Write()
	f.Add(packed)
	f.Add([]byte("PK\x05\x06"))
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := ReadBundle(data)
		if err != nil {
			return
		}
		if _, err := b.Write(); err != nil {
			t.Errorf("read whole and cannot be written: %v", err)
		}
	})
}
