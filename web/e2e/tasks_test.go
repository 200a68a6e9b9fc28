package e2e

import (
	"context"
	"encoding/json"
	"slices"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/tracing"
	"github.com/chromedp/chromedp"
)

// A task is one piece of work of the page's thread, as the browser's own
// tracing sees it: how much of a processor it took. On a machine that does
// other things as well this says how long the page would be held without them.
type task struct {
	Name   string  `json:"name"`
	Phase  string  `json:"ph"`
	Pid    int     `json:"pid"`
	Tid    int     `json:"tid"`
	Thread float64 `json:"tdur"` // millionths of a second of processor time
	Args   struct {
		Name string `json:"name"`
	} `json:"args"`
}

// tracing notes the tasks of all threads until end is called, which returns
// the processor time of each task of the page's own thread, in thousandths of
// a second.
func (p *Page) tracing(pid int) (end func() []float64) {
	p.t.Helper()
	ctx, stop := context.WithCancel(p.ctx)
	data := chromedp.Events(ctx, tracing.DataCollected)
	_, err := chromedp.Call(p.ctx, tracing.Start, tracing.StartParams{TraceConfig: &tracing.TraceConfig{IncludedCategories: []string{"toplevel"}, ExcludedCategories: []string{"*"}}})
	p.check("begin to trace", err)
	collected := make(chan []task, 1)
	go func() {
		var all []task
		for d, err := range data {
			if err != nil {
				break
			}
			for _, raw := range d.Value {
				var one task
				if json.Unmarshal(raw, &one) == nil && one.Pid == pid {
					all = append(all, one)
				}
			}
		}
		collected <- all
	}()
	return func() []float64 {
		p.t.Helper()
		_, err := chromedp.Run(p.ctx, chromedp.WaitEvent(tracing.TracingComplete, nil, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, tracing.End, cdp.Empty{})
			return err
		})))
		p.check("end the trace", err)
		time.Sleep(time.Second) // the last of the data is on its way here
		stop()
		return mainTasks(<-collected)
	}
}

func mainTasks(all []task) []float64 {
	main := slices.IndexFunc(all, func(x task) bool { return x.Name == "thread_name" && x.Args.Name == "CrRendererMain" })
	var out []float64
	for _, x := range all {
		if main >= 0 && x.Phase == "X" && x.Tid == all[main].Tid {
			out = append(out, x.Thread/1000)
		}
	}
	return out
}
