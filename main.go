// Lugworth quotes and plans the parts for old tube amps. Without a verb it
// builds the page and serves it on this machine; other verbs run the same core
// on files.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
)

// verb is one thing the command line does. Each stands in a file of its own
// and adds itself to the table.
type verb struct {
	name string
	args string // what follows the name
	says string // one line of help
	run  func(args []string, out, notes io.Writer) error
}

var verbs []verb

func add(v verb) { verbs = append(verbs, v) }

// wrongUse is an error of the command line itself: exit 2.
type wrongUse struct{ say string }

func (w wrongUse) Error() string { return w.say }

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run returns 0 when done, 1 for bad input and 2 for wrong use.
func run(args []string, out, notes io.Writer) int {
	name := "serve"
	if len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		name, args = args[0], args[1:]
	}
	err := dispatch(name, args, out, notes)
	var use wrongUse
	switch {
	case err == nil:
		return 0
	case errors.As(err, &use):
		fmt.Fprintln(notes, err)
		help(notes)
		return 2
	}
	fmt.Fprintln(notes, err)
	return 1
}

func dispatch(name string, args []string, out, notes io.Writer) error {
	for _, v := range verbs {
		if v.name == name {
			return v.run(args, out, notes)
		}
	}
	return wrongUse{fmt.Sprintf("there is no %q here", name)}
}

func help(w io.Writer) {
	list := slices.Clone(verbs)
	slices.SortFunc(list, func(a, b verb) int { return strings.Compare(a.name, b.name) })
	for _, v := range list {
		fmt.Fprintf(w, "  go run . %s\n        %s\n", strings.TrimSpace(v.name+" "+v.args), v.says)
	}
}
