package main

import (
	"fmt"
	"io"
	"os"

	"lugworth/core/proof"
)

func init() {
	add(verb{"prove", "JOB [-lists DIR] -out P.json", "write a certificate of every verdict of a job", prove})
	add(verb{"check", "P.json", "work a certificate again, with code of its own", check})
}

// prove derives a job and writes the certificate of its verdicts. It is
// checked before it is written: a certificate nobody can check is no proof.
func prove(args []string, out, notes io.Writer) error {
	f, err := flags(args, "lists", "out")
	if err != nil {
		return err
	}
	if len(f.rest) != 1 || f.given["out"] == "" {
		return wrongUse{"prove: give one job file and -out P.json"}
	}
	r, err := derive(f.rest[0], f.given["lists"])
	if err != nil {
		return err
	}
	for _, p := range r.Problems {
		fmt.Fprintln(notes, p.Error())
	}
	data, err := r.Certificate()
	if err != nil {
		return fmt.Errorf("%s: not all can be certified: %w", f.rest[0], err)
	}
	tally, err := proof.Check(data)
	if err != nil {
		return fmt.Errorf("%s: the certificate does not hold, and was not written: %w", f.rest[0], err)
	}
	fmt.Fprintf(out, "%s: %s\n", f.given["out"], tally)
	return os.WriteFile(f.given["out"], data, 0o666)
}

// check works a certificate again and says what does not agree.
func check(args []string, out, notes io.Writer) error {
	f, err := flags(args)
	if err != nil {
		return err
	}
	if len(f.rest) != 1 {
		return wrongUse{"check: give one certificate"}
	}
	data, err := os.ReadFile(f.rest[0])
	if err != nil {
		return err
	}
	tally, err := proof.Check(data)
	if err != nil {
		return fmt.Errorf("%s: refused: %w", f.rest[0], err)
	}
	fmt.Fprintf(out, "%s: holds: %s\n", f.rest[0], tally)
	return nil
}
