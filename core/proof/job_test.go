package proof_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"lugworth/catalogs"
	"lugworth/core/job"
	"lugworth/core/proof"
	"lugworth/core/tube"
)

// source is one of the whole jobs of the tests.
func source(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "jobs", name))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func derive(t testing.TB, name string, data []byte) *job.Result {
	t.Helper()
	c, err := job.OpenCase(name, data, nil)
	if err != nil {
		t.Fatal(err)
	}
	builtin, problems := tube.ReadCards("cards.csv", catalogs.Cards)
	if len(problems) > 0 {
		t.Fatal(problems[0])
	}
	j, books := c.Open(builtin)
	return job.Derive(j, books, "2031-05-01")
}

func certificate(t testing.TB, name string) []byte {
	t.Helper()
	data, err := derive(t, name, []byte(source(t, name))).Certificate()
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func opened(t testing.TB, data []byte) proof.Certificate {
	t.Helper()
	var f proof.File
	if err := json.Unmarshal(data, &f); err != nil {
		t.Fatal(err)
	}
	return f.Certificate
}

func sealed(t testing.TB, c proof.Certificate) []byte {
	t.Helper()
	data, err := proof.Seal(c)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// few keeps one verdict of each sort: quantity, scenario, kind, length of its chain.
func few(c proof.Certificate) proof.Certificate {
	type sort struct {
		quantity, kind, scenario string
		fitted                   bool
		steps                    int
	}
	seen := map[sort]bool{}
	all := c.Verdicts
	c.Verdicts = nil
	for _, v := range all {
		s := sort{v.Quantity, v.Kind, v.Scenario, v.Fitted, steps(v.Bears)}
		if !seen[s] {
			seen[s] = true
			c.Verdicts = append(c.Verdicts, v)
		}
	}
	return c
}

func steps(s *proof.Step) int {
	if s == nil {
		return 0
	}
	n := 1
	for i := range s.From {
		n += steps(&s.From[i])
	}
	return n
}

// clone copies a certificate deeply, so that a test may spoil it.
func clone(t testing.TB, c proof.Certificate) proof.Certificate {
	t.Helper()
	return opened(t, sealed(t, c))
}

// find returns the first verdict that is asked for.
func find(t testing.TB, c *proof.Certificate, want func(*proof.Verdict) bool) *proof.Verdict {
	t.Helper()
	i := slices.IndexFunc(c.Verdicts, func(v proof.Verdict) bool { return want(&v) })
	if i < 0 {
		t.Fatal("the certificate holds no such verdict")
	}
	return &c.Verdicts[i]
}
