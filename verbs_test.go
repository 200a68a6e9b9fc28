package main

import (
	"bytes"
	"strings"
	"testing"
)

// Wrong use is exit 2 with help; it builds and serves nothing.
func TestWrongUse(t *testing.T) {
	tests := []struct {
		args []string
		want string // on standard error
	}{
		{[]string{"polish"}, `there is no "polish" here`},
		{[]string{"serve", "now"}, `serve: "now" is one word too many`},
		{[]string{"-port", "70000"}, "serve: there is no port 70000"},
		{[]string{"-port", "x"}, "serve: invalid value"},
		{[]string{"site"}, "site: say where to, with -out DIR"},
	}
	for _, tt := range tests {
		var out, notes bytes.Buffer
		code := run(tt.args, &out, &notes)
		if code != 2 || !strings.Contains(notes.String(), tt.want) || !strings.Contains(notes.String(), "go run . serve") || out.Len() > 0 {
			t.Errorf("%q: exit %d, want 2; notes %q, want %q and help", tt.args, code, notes.String(), tt.want)
		}
	}
}
