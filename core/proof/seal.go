package proof

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
)

// Seal returns the file of a certificate: its one spelling, with its hash.
//
// Errors: none that a certificate made here can have; what encoding/json says.
func Seal(c Certificate) ([]byte, error) {
	body, err := spell(c)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(body)
	out, err := spell(File{Certificate: c, Hash: hex.EncodeToString(sum[:])})
	if err != nil {
		return nil, err
	}
	return append(out, '\n'), nil
}

// spell writes v without spaces and without escapes for HTML. The keys come
// sorted because the fields of every type here do.
func spell(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}
