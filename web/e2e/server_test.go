package e2e

import (
	"net"
	"net/http"
	"sync"
	"sync/atomic"
	"testing"

	"lugworth/web"
)

const toyProgram = "lugworth/web/e2e/testpage"

// programs are built once for all tests.
var programs sync.Map // package -> func() (web.Program, error)

func program(t testing.TB, pkg string) web.Program {
	t.Helper()
	build, _ := programs.LoadOrStore(pkg, sync.OnceValues(func() (web.Program, error) { return web.Build(pkg) }))
	p, err := build.(func() (web.Program, error))()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Server is the real server on a free port. It can be stopped, which is how
// the network goes away here, and come back on the same port.
type Server struct {
	t       testing.TB
	Port    int
	handler atomic.Value // of http.Handler
	running *http.Server
	stopped atomic.Bool
}

func newServer(t testing.TB, pkg string) *Server {
	t.Helper()
	s := &Server{t: t}
	s.Put(program(t, pkg))
	s.Start()
	t.Cleanup(s.Stop)
	return s
}

// Put has the server hand out another program from now on.
func (s *Server) Put(p web.Program) *web.Site {
	s.t.Helper()
	site, err := web.NewSite(p)
	if err != nil {
		s.t.Fatal(err)
	}
	handler, err := site.Handler()
	if err != nil {
		s.t.Fatal(err)
	}
	s.handler.Store(handler)
	return site
}

// Start listens, the second time on the port of the first.
func (s *Server) Start() {
	s.t.Helper()
	l, err := web.Listen(s.Port)
	if err != nil {
		s.t.Fatal(err)
	}
	s.Port = l.Addr().(*net.TCPAddr).Port
	s.running = web.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.handler.Load().(http.Handler).ServeHTTP(w, r)
	}))
	s.stopped.Store(false)
	go s.running.Serve(l)
}

// Stop ends the server and every connection to it.
func (s *Server) Stop() {
	if !s.stopped.Swap(true) {
		s.running.Close()
	}
}
