package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/http"
	"path"
	"strings"
	"time"
)

type header struct{ name, value string }

// headerLines go with every answer. Frames are refused here because a page
// cannot refuse them itself.
func headerLines() []header {
	return []header{
		{"Content-Security-Policy", Policy + "; frame-ancestors 'none'"},
		{"X-Content-Type-Options", "nosniff"},
		{"Referrer-Policy", "no-referrer"},
		{"Cross-Origin-Opener-Policy", "same-origin"},
		{"Cache-Control", "no-cache"},
	}
}

// form is one form of a file, plain or packed, with a tag of its own.
type form struct {
	body []byte
	tag  string
}

type served struct {
	kind          string
	plain, packed form
}

// Handler hands out the site. Files are packed once, here.
func (s *Site) Handler() (http.Handler, error) {
	files := map[string]served{}
	for _, f := range s.Files {
		packed, err := pack(f.Body)
		if err != nil {
			return nil, fmt.Errorf("pack %s: %w", f.Name, err)
		}
		files["/"+f.Name] = served{kindOf(f.Name), newForm(f.Body), newForm(packed)}
	}
	files["/"] = files["/index.html"]
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for _, h := range headerLines() {
			w.Header().Set(h.name, h.value)
		}
		f, ok := files[r.URL.Path]
		if !ok {
			http.Error(w, "no such file", http.StatusNotFound)
			return
		}
		f.send(w, r)
	}), nil
}

func (f served) send(w http.ResponseWriter, r *http.Request) {
	chosen := f.plain
	w.Header().Set("Content-Type", f.kind)
	w.Header().Add("Vary", "Accept-Encoding")
	if takesGzip(r) && len(f.packed.body) < len(f.plain.body) {
		chosen = f.packed
		w.Header().Set("Content-Encoding", "gzip")
	}
	w.Header().Set("ETag", chosen.tag)
	// A range of a packed file is of no use to anybody.
	r.Header.Del("Range")
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(chosen.body))
}

func takesGzip(r *http.Request) bool {
	for _, part := range strings.Split(r.Header.Get("Accept-Encoding"), ",") {
		name, q, _ := strings.Cut(strings.TrimSpace(part), ";")
		if strings.EqualFold(strings.TrimSpace(name), "gzip") {
			q = strings.ReplaceAll(q, " ", "")
			return q != "q=0" && q != "q=0.0" && q != "q=0.00" && q != "q=0.000"
		}
	}
	return false
}

func pack(body []byte) ([]byte, error) {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	if _, err := z.Write(body); err != nil {
		return nil, err
	}
	err := z.Close()
	return b.Bytes(), err
}

func newForm(body []byte) form {
	sum := sha256.Sum256(body)
	return form{body, `"` + hex.EncodeToString(sum[:12]) + `"`}
}

// kindOf is fixed here: what a machine's own table says differs.
func kindOf(name string) string {
	switch path.Ext(name) {
	case ".html":
		return "text/html; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".wasm":
		return "application/wasm"
	case ".webmanifest":
		return "application/manifest+json"
	case ".svg":
		return "image/svg+xml"
	case ".png":
		return "image/png"
	}
	return "application/octet-stream"
}
