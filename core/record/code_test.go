package record

import (
	"crypto/sha256"
	"encoding/hex"
	"math/big"
	"strings"
	"testing"
)

// Held against math/big, which divides the whole hash as one number.
func TestCodeOfAgainstGreatNumbers(t *testing.T) {
	for i := range 200 {
		hash := sha256.Sum256([]byte{byte(i)})
		n, base, digit := new(big.Int).SetBytes(hash[:]), big.NewInt(21), new(big.Int)
		want := ""
		for range 12 {
			n.DivMod(n, base, digit)
			want += marks[digit.Int64() : digit.Int64()+1]
		}
		got := strings.ReplaceAll(CodeOf(hex.EncodeToString(hash[:])), "-", "")
		if got != want {
			t.Fatalf("hash %x: %s, want %s", hash, got, want)
		}
	}
}
