package e2e

import (
	"context"
	"strings"
	"sync"

	"github.com/chromedp/chromedp"
)

// console keeps what the page wrote.
type console struct {
	mu     sync.Mutex
	lines  []string
	errors []string
}

func (c *console) listen(ctx context.Context, s *Server) {
	messages := chromedp.Console(ctx)
	go func() {
		for m, err := range messages {
			if err != nil {
				return
			}
			c.add(m, s.stopped.Load())
		}
	}()
}

// add notes a message. With the server stopped, requests fail as they must.
func (c *console) add(m chromedp.ConsoleMessage, offline bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.lines = append(c.lines, m.String())
	bad := m.IsException() || m.Type == chromedp.ConsoleError || m.Type == chromedp.ConsoleWarning
	if bad && !(offline && (m.Source == "network" || strings.Contains(m.Text, "fetching the script"))) {
		c.errors = append(c.errors, m.String())
	}
}

func (c *console) all() []string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return append([]string{}, c.lines...)
}

func (c *console) bad() []string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return append([]string{}, c.errors...)
}

func (c *console) forget() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.errors = nil
}

// Forgive takes the errors that hold text off the list; a test that causes
// one says so this way, and fails if there is none.
func (p *Page) Forgive(text string) {
	p.t.Helper()
	p.log.mu.Lock()
	defer p.log.mu.Unlock()
	var left []string
	for _, line := range p.log.errors {
		if !strings.Contains(line, text) {
			left = append(left, line)
		}
	}
	if len(left) == len(p.log.errors) {
		p.t.Errorf("no error of the page holds %q", text)
	}
	p.log.errors = left
}
