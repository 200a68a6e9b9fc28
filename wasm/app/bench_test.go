package app

import (
	"os"
	"testing"

	"lugworth/wasm/port"
)

func opened(t testing.TB, name string) Model {
	t.Helper()
	data, err := os.ReadFile("../../testdata/jobs/" + name + ".txtar")
	if err != nil {
		t.Fatal(err)
	}
	m := Start()
	m.Screen.Tab.Writer = true
	m, _ = Update(m, port.Loaded{Device: "d1", Fresh: port.Fresh{At: "2026-03-02T09:00:00+01:00", Date: "2026-03-02", NewID: "n0", Salt: "ffeeddccbbaa99887766554433221100"}})
	m, _ = Update(m, port.FileOpened{Fresh: port.Fresh{At: "2026-03-02T09:15:00+01:00", Date: "2026-03-02", NewID: "n1", Salt: "00112233445566778899aabbccddeeff"},
		Files: []port.File{{Name: name + ".txtar", Bytes: data}}})
	return m
}

func BenchmarkZDeltas(b *testing.B) {
	m := opened(b, "drover")
	b.Log(m.Screen.Problems, len(m.Open.Job.Amp.Readings))
	for i := 0; i < b.N; i++ {
		m.Open.Result.Deltas()
	}
}
func BenchmarkZBest(b *testing.B) {
	m := opened(b, "drover")
	for i := 0; i < b.N; i++ {
		m.Open.Result.Best()
	}
}
func BenchmarkZDerive(b *testing.B) {
	m := opened(b, "drover")
	for i := 0; i < b.N; i++ {
		m.refold()
	}
}
