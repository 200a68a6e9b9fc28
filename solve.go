package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"lugworth/catalogs"
	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

func init() {
	add(verb{"solve", "SHEET.csv -mains V [-tubes CARDS.csv] [-readings R.csv] [-cold] [-json]",
		"solve the amp's own circuit: node volts, currents, ripple", solve})
}

// errUnsolved ends the verb with exit 1 once the answer, which holds the
// reason, is written.
var errUnsolved = errors.New("solve: not solved")

// solveAsk is what the command line asks for.
type solveAsk struct {
	sheet    []amp.Position
	readings []amp.Reading
	matched  bool // readings were given
	laws     circuit.Laws
	mains    float64
	cold     bool
	json     bool
}

// solve answers one state of the amp of a sheet.
//
// Output with -json (SI numbers; keys in order):
//
//	{"solved":true,"reason":"","mains":117,"scenario":"working",
//	 "nodes":{NODE:{"volts","ripple_pp"}},
//	 "positions":{REF:{"volts","amps","watts"}},
//	 "legs":{REF:{"mean_amps","peak_amps"}},
//	 "residual","power_balance"}
//
// A node's volts are the mean to the chassis. Of a tube, volts are plate to
// cathode, amps those of the cathode, watts those of plate and screen
// together, and "plate_amps", "screen_amps", "plate_watts", "screen_watts"
// stand beside them. Of another part volts are the mean from its first lead
// to its second, amps the mean through it, watts the mean in it. A rectifier
// is a leg, with its mean and peak current. The scenario is "working" or,
// with -cold, "cold start": no indirectly heated tube conducts.
//
// With -readings the circuit is matched to them first, and each of these
// figures is {"low","expected","high"}; residual and power_balance stay
// numbers, the worst met.
//
// What cannot be solved is {"solved":false,"reason":...} with no figures,
// and exit 1. Remarks on the sheet go to standard error.
func solve(args []string, out, notes io.Writer) error {
	ask, err := solveArgs(args)
	if err != nil {
		return err
	}
	for _, r := range circuit.Check(ask.sheet, ask.laws) {
		fmt.Fprintln(notes, r)
	}
	a := ask.answer(notes)
	if ask.json {
		err = writeSolved(out, a)
	} else {
		err = tellSolved(out, ask.sheet, a)
	}
	if err == nil && !a.Solved {
		err = fmt.Errorf("%w: %s", errUnsolved, a.Reason)
	}
	return err
}

func solveArgs(args []string) (*solveAsk, error) {
	ask := &solveAsk{}
	args, ask.json = without(args, "json")
	args, ask.cold = without(args, "cold")
	f, err := flags(args, "mains", "tubes", "readings")
	if err != nil {
		return nil, err
	}
	if len(f.rest) != 1 || f.given["mains"] == "" {
		return nil, wrongUse{"solve: give one circuit sheet and -mains VOLTS"}
	}
	ask.mains, err = unit.Read(f.given["mains"], unit.Volt)
	if err != nil || !(ask.mains > 0 && ask.mains <= 1000) {
		return nil, wrongUse{fmt.Sprintf("solve: -mains %s: want volts rms, more than 0 and at most 1000", f.given["mains"])}
	}
	return ask, ask.open(f)
}

// without takes a flag that has no value out of the arguments.
func without(args []string, name string) ([]string, bool) {
	is := func(a string) bool { return a == "-"+name || a == "--"+name }
	return slices.DeleteFunc(slices.Clone(args), is), slices.ContainsFunc(args, is)
}

// open reads the files. A sheet with problems is not solved: a value that
// could not be read would be missing from the circuit.
func (ask *solveAsk) open(f given) error {
	data, err := os.ReadFile(f.rest[0])
	if err != nil {
		return err
	}
	var problems []unit.Problem
	ask.sheet, problems = amp.ReadSheet(f.rest[0], data)
	if err := joinProblems(problems); err != nil {
		return err
	}
	if ask.laws, err = lawsWith(f.given["tubes"]); err != nil {
		return err
	}
	if path := f.given["readings"]; path != "" {
		if data, err = os.ReadFile(path); err != nil {
			return err
		}
		ask.readings, problems = amp.ReadReadings(path, data)
		problems = append(problems, amp.Unplaced(ask.sheet, ask.readings)...)
		ask.matched = true
	}
	return joinProblems(problems)
}

func joinProblems(problems []unit.Problem) error {
	errs := make([]error, len(problems))
	for i, p := range problems {
		errs[i] = p
	}
	return errors.Join(errs...)
}

// lawsWith looks types up in the shipped cards, behind those of a file.
func lawsWith(path string) (circuit.Laws, error) {
	shipped, problems := tube.ReadCards("cards.csv", catalogs.Cards)
	if len(problems) > 0 {
		return nil, fmt.Errorf("shipped cards: %w", problems[0])
	}
	set := tube.NewSet(shipped)
	if path != "" {
		data, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		cards, problems := tube.ReadCards(path, data)
		if err := joinProblems(problems); err != nil {
			return nil, err
		}
		set = set.With(cards)
	}
	return func(typeNumber string) (tube.Law, string, bool) {
		card, have := set.Find(typeNumber)
		return tube.LawOf(card, have, typeNumber)
	}, nil
}

func (ask *solveAsk) scenario() string {
	if ask.cold {
		return "cold start"
	}
	return "working"
}

// writeSolved writes the answer as JSON.
func writeSolved(out io.Writer, a *solved) error {
	data, err := json.Marshal(a)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "%s\n", data)
	return err
}

// unsolved is the answer that says why there is none.
func (ask *solveAsk) unsolved(err error) *solved {
	return &solved{Mains: ask.mains, Scenario: ask.scenario(), Reason: strings.ReplaceAll(err.Error(), "\n", "; ")}
}
