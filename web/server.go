package web

import (
	"errors"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// Port is the page's own: stored jobs belong to this address and no other.
const Port = 8417

// Listen takes a port of this machine alone; 0 takes any free one.
func Listen(port int) (net.Listener, error) {
	l, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if errors.Is(err, syscall.EADDRINUSE) {
		return nil, fmt.Errorf("port %d is taken, perhaps by Lugworth itself: look at http://127.0.0.1:%d; "+
			"another port would be another address with none of your jobs", port, port)
	}
	return l, err
}

// NewServer answers for the page and any further handler, and sends whoever
// comes by another name of this machine to 127.0.0.1.
func NewServer(h http.Handler) *http.Server {
	return &http.Server{Handler: oneAddress(h), ReadHeaderTimeout: 10 * time.Second}
}

func oneAddress(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		host, port, err := net.SplitHostPort(r.Host)
		if err != nil {
			host, port = r.Host, "80"
		}
		switch strings.ToLower(host) {
		case "127.0.0.1":
			next.ServeHTTP(w, r)
		case "localhost":
			http.Redirect(w, r, "http://127.0.0.1:"+port+r.URL.RequestURI(), http.StatusPermanentRedirect)
		default:
			http.Error(w, "this page answers to http://127.0.0.1:"+port+" only", http.StatusMisdirectedRequest)
		}
	})
}
