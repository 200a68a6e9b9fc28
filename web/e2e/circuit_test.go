package e2e

import (
	"os"
	"path/filepath"
	"testing"
)

// The circuit on the page: a sheet from a file, a stage by a form, the
// drawing, the chart and what is assumed; and what to dial. At both sizes,
// with nothing that a reader of the screen or a finger would stumble over.
func TestCircuitOnThePage(t *testing.T) {
	for _, size := range []struct {
		Size
		name string
	}{{Landscape, "wide"}, {Portrait, "tall"}} {
		t.Run(size.name, func(t *testing.T) {
			p := given(t, size.Size, "jobs/drover-sheet.txtar")
			p.Turn("plan")
			p.Touch(`[data-act="plan-leaf"][value="circuit"]`)
			p.Wait(`document.querySelectorAll("#stages svg").length > 4`)
			p.circuitSeen(size.name, "drawing")
			for _, place := range []string{"rows", "chart", "spreads"} {
				p.Touch(`[data-act="circuit-place"][value="` + place + `"]`)
				p.Wait(`document.querySelector("[data-act=circuit-place][value=` + place + `]").getAttribute("aria-pressed") === "true"`)
				p.circuitSeen(size.name, place)
			}
			p.Touch(`[data-act="circuit-place"][value="chart"]`)
			p.Touch(`[data-act="circuit-suspects"]`)
			p.WaitText("#suspects", "nothing needs to be explained")
			p.Turn("bench")
			p.BenchPart("idle")
			p.WaitText(".idle-card", "the meter across R20 shows")
			p.circuitSeen(size.name, "idle")
			p.Touch(`[data-act="idle-method"][value="winding drop"]`)
			p.WaitText(".idle-card", "Both leads are at full B+")
			p.circuitSeen(size.name, "winding")
			p.Touch(`[data-act="idle-options"]`)
			p.WaitText("#idle-choices", "6V6GT with R20 300 Ω (T6r)")
			p.Wait(`document.querySelector("#idle-choices progress") === null`)
			Eval[bool](p, `(document.querySelector("#idle-choices").scrollIntoView(), true)`)
			p.circuitSeen(size.name, "choices")
			Eval[bool](p, `(document.querySelector("[id^=curves-]").scrollIntoView(), true)`)
			p.circuitSeen(size.name, "curves")
		})
	}
}

func (p *Page) circuitSeen(size, state string) {
	p.t.Helper()
	p.Shot("circuit-" + size + "-" + state)
	p.Accessible("circuit " + size + " " + state)
}

// An empty job gets its circuit from a file of any name and from a form.
func TestMakeACircuit(t *testing.T) {
	p := Start(t, Portrait)
	p.WaitText(".status", "Saved")
	p.Touch(`[data-act="jobs"]`)
	p.Touch(`#jobs-dialog [data-act="job-new"]`)
	p.BenchPart("idle")
	p.WaitText("#idle-none", "It needs the amp's circuit")
	p.circuitSeen("tall", "idle-empty")
	p.Touch(`#idle-none [data-act="circuit-open"]`)
	p.WaitText("#sheet-load", "Load a circuit sheet")
	p.circuitSeen("tall", "empty")
	p.Choose("#block-choose", "triode stage")
	p.WaitText("form h3", "triode stage")
	p.circuitSeen("tall", "form")
	p.TapText("form button", "Add the stage")
	p.WaitText(".toast", "triode stage: ")
	p.WaitText("#sheet-rows", "plate=")
	file := filepath.Join(tempDir(t), "any name.csv")
	if err := os.WriteFile(file, []byte("ref,kind,type,value,rating,tolerance,nodes,place,note,extra\nR77,resistor,,2.7k,2W,10%,a=B1 b=B3,board,,\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	p.Give(`[data-act="sheet-file"]`, file)
	p.WaitText("#sheet-rows", "a=B1 b=B3")
	p.circuitSeen("tall", "made")
	p.Touch(`[data-act="circuit-place"][value="drawing"]`)
	p.Wait(`document.querySelector("#stages svg") !== null`)
	p.circuitSeen("tall", "made-drawing")
}
