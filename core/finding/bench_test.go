package finding

import (
	"encoding/json"
	"strings"
	"testing"
)

// A large job has 60 findings, worked out at every change of mind.
func BenchmarkWork(b *testing.B) {
	var f Finding
	if err := json.Unmarshal([]byte(strings.Replace(plates, "METER", "1", 1)), &f); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		for range 60 {
			Work(f, Facts{About: "about 1957"})
		}
	}
}
