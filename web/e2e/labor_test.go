package e2e

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// calendar is what a shop states of its bench, to have dates said.
const calendar = "bench_hours,2,own\nopen_days,mon-fri,own\nholidays,none,own\nanswer_days,0/1/4,own\ncarriage_days,1/2/4,own\n"

// atLabor opens a whole job with more said in the shop's books, on the leaf of
// its work.
func atLabor(t *testing.T, size Size, name, sheet string, change func(string) string) *Page {
	t.Helper()
	data, err := os.ReadFile("../../testdata/jobs/" + name + ".txtar")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(string(data), "date_test,longest-lead,scenario\n", "date_test,longest-lead,scenario\n"+sheet, 1)
	if change != nil {
		text = change(text)
	}
	path := filepath.Join(t.TempDir(), name+".txtar")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	p := Start(t, size)
	p.WaitText(".status", "Saved")
	p.Tap(`[data-act="jobs"]`)
	p.Give(`#jobs-dialog [data-act="open-file"]`, path)
	p.Wait(`/Drover|Tern/.test(document.querySelector(".job").textContent)`)
	Eval[bool](p, `(document.querySelector("dialog [data-act=dialog-close]")?.click(), true)`)
	p.Wait(`document.querySelector("dialog") === null`)
	p.Tap(`[data-act="posture"][data-id="plan"]`)
	p.Tap(`[data-act="plan-leaf"][value="labor"]`)
	p.WaitText("#labor", "How long does it take?")
	return p
}

// Hours, dates, chances and what is missing, on both ways of holding the
// tablet.
func TestLaborLeaf(t *testing.T) {
	for _, size := range []struct {
		Size
		name string
	}{{Landscape, "wide"}, {Portrait, "tall"}} {
		t.Run(size.name, func(t *testing.T) {
			p := atLabor(t, size.Size, "tern", calendar, func(s string) string {
				// Work that may be found, and a test with the amp closed between two visits to the chassis.
				s = strings.Replace(s, `{"kind":"pick"`, `{"kind":"option","body":{"id":"T8","chance":"30"}}`+",\n"+`{"kind":"setup","body":{"id":"S1","from":"closed"}}`+",\n"+
					`{"kind":"option","body":{"id":"T1","state":["closed"],"after":["T3ii"]}}`+",\n"+`{"kind":"option","body":{"id":"T4","after":["T1"]}}`+",\n"+`{"kind":"pick"`, 1)
				return s
			})
			p.WaitText("#labor", "Enough in 8 of 10 cases")
			p.WaitText("#labor", "comes again because")
			p.WaitText("#labor-dates", "The date hangs on the owner's answer in")
			p.WaitText("#labor-finds", "30 %")
			p.WaitText("#labor-past", "Too few finished jobs")
			for _, row := range []string{"labor", "labor-dates", "labor-past", "labor-done"} {
				Eval[bool](p, `(document.querySelector("#`+row+`").scrollIntoView(), true)`)
				p.Shot(row + "-" + size.name)
			}
			p.Accessible("labor " + size.name)
			p.Tap(`#labor-finds [data-act="set"][data-id="T8"]`)
			p.Wait(`document.querySelector("#labor-finds") === null`)
			p.Tap(`#labor-dates .why`)
			p.WaitText("dialog", "bench hours")
			p.Accessible("why of a ready date")
		})
	}
}

// Without the shop's hours there is no date, and the way to state them is a
// press away.
func TestLaborSaysWhatIsMissing(t *testing.T) {
	p := atLabor(t, Portrait, "drover", "", nil)
	p.WaitText("#labor-dates", "Bench hours a day for one job (bench_hours in shop.csv)")
	Eval[bool](p, `(document.querySelector("#labor-dates").scrollIntoView(), true)`)
	p.Shot("labor-missing")
	p.Accessible("labor without dates")
	p.Tap(`[data-act="labor-sheet"]`)
	p.WaitText("#sheet", "Days until the owner answers")
}

// What work took is entered, asked about and learned from; it can be taken
// out again.
func TestLaborIsLearnedFrom(t *testing.T) {
	p := atLabor(t, Landscape, "tern", calendar, nil)
	p.Type("#done-T1", "0.2")
	p.Leave()
	p.Wait(`!document.querySelector("#scope-T1").disabled`)
	p.Tap(`[data-act="past-ask"]`)
	p.WaitText("#labor-done", "Add 1 task of job PS-0064")
	p.Accessible("asked whether to learn from a job")
	p.Tap(`[data-act="past-add"]`)
	p.WaitText("#labor-done", "stands among the shop's finished work")
	p.WaitText("#labor-past", "1 of at least 4")
	p.Shot("labor-learned")
	p.Tap(`[data-act="past-out"]`)
	p.WaitText("#labor-done", "Add to the shop's finished work")
}
