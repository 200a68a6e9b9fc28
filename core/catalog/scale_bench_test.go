package catalog

import (
	"encoding/csv"
	"strings"
	"testing"
)

func BenchmarkWide(b *testing.B) {
	text := wideList(100_000)
	b.Run("bare-csv", func(b *testing.B) {
		b.SetBytes(int64(len(text)))
		b.ReportAllocs()
		for b.Loop() {
			if got, err := csv.NewReader(strings.NewReader(text)).ReadAll(); err != nil || len(got) != 100_001 {
				b.Fatal(len(got), err)
			}
		}
	})
	b.Run("list", func(b *testing.B) {
		b.SetBytes(int64(len(text)))
		b.ReportAllocs()
		for b.Loop() {
			l, err := ReadList("X", "x.csv", []byte(text), Terms{}, nil)
			if err != nil || len(l.Offers) != 100_000 {
				b.Fatal(len(l.Offers), l.Aside[:3], err)
			}
		}
	})
}
