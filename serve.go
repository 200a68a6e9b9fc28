package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/signal"
	"syscall"
	"time"

	"lugworth/web"
)

func init() {
	add(verb{"serve", "[-port N]", "build the page and serve it on this machine (also without a verb)", serve})
}

func serve(args []string, out, notes io.Writer) error {
	port, err := servePort(args, notes)
	if err != nil {
		return err
	}
	// The port first: no use in building what cannot be served.
	listener, err := web.Listen(port)
	if err != nil {
		return err
	}
	site, err := buildSite(out)
	if err != nil {
		return err
	}
	handler, err := site.Handler()
	if err != nil {
		return err
	}
	server := web.NewServer(handler)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	go func() {
		<-ctx.Done()
		end, cancel := context.WithTimeout(context.Background(), 2*time.Second)
		defer cancel()
		server.Shutdown(end)
	}()
	fmt.Fprintf(out, "Lugworth %s is at http://%s   (Ctrl+C ends it; jobs stay in the browser)\n", site.Version, listener.Addr())
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return fmt.Errorf("serve: %w", err)
	}
	return nil
}

func servePort(args []string, notes io.Writer) (int, error) {
	flags := flag.NewFlagSet("serve", flag.ContinueOnError)
	flags.SetOutput(notes)
	port := flags.Int("port", web.Port, "for tests: another port; 0 takes any free one")
	if err := flags.Parse(args); err != nil {
		return 0, wrongUse{"serve: " + err.Error()}
	}
	if flags.NArg() > 0 {
		return 0, wrongUse{fmt.Sprintf("serve: %q is one word too many", flags.Arg(0))}
	}
	if *port < 0 || *port > 65535 {
		return 0, wrongUse{fmt.Sprintf("serve: there is no port %d", *port)}
	}
	return *port, nil
}

// buildSite builds the page and says how it goes: a first build takes a while.
func buildSite(out io.Writer) (*web.Site, error) {
	started := time.Now()
	fmt.Fprintln(out, "building the page (the first time takes up to a minute) ...")
	program, err := web.Build(web.Page)
	if err != nil {
		return nil, err
	}
	fmt.Fprintf(out, "  %.1f MB of program in %.1f s\n", float64(len(program.Wasm))/1e6, time.Since(started).Seconds())
	return web.NewSite(program)
}
