package main

import (
	"flag"
	"fmt"
	"io"

	"lugworth/web"
)

func init() {
	add(verb{"site", "-out DIR", "write the page's files for any https host", site})
}

func site(args []string, out, notes io.Writer) error {
	flags := flag.NewFlagSet("site", flag.ContinueOnError)
	flags.SetOutput(notes)
	dir := flags.String("out", "", "folder to write into")
	if err := flags.Parse(args); err != nil {
		return wrongUse{"site: " + err.Error()}
	}
	if *dir == "" || flags.NArg() > 0 {
		return wrongUse{"site: say where to, with -out DIR"}
	}
	s, err := buildSite(out)
	if err != nil {
		return err
	}
	if err := s.Write(*dir); err != nil {
		return err
	}
	fmt.Fprintf(out, "version %s is in %s. A tablet needs it over https, or from its own %s.\n", s.Version, *dir, fmt.Sprintf("http://127.0.0.1:%d", web.Port))
	return nil
}
