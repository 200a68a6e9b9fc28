package e2e

import (
	"path/filepath"
	"testing"
)

// given opens a whole job through the list of jobs, as a person does.
func given(t testing.TB, size Size, files ...string) *Page {
	t.Helper()
	p := Start(t, size)
	for i, f := range files {
		path, err := filepath.Abs("../../testdata/" + f)
		if err != nil {
			t.Fatal(err)
		}
		files[i] = path
	}
	p.WaitText(".status", "Saved")
	p.Tap(`[data-act="jobs"]`)
	p.Give(`#jobs-dialog [data-act="open-file"]`, files...)
	p.Wait(`/Drover|Tern|Marten/.test(document.querySelector(".job").textContent)`)
	Eval[bool](p, `(document.querySelector("dialog [data-act=dialog-close]")?.click(), true)`)
	p.Wait(`document.querySelector("dialog") === null`)
	return p
}

// Plan and Order, on both ways of holding the tablet, with nothing that a
// reader of the screen, a finger or a narrow page would stumble over.
func TestPlanAndOrder(t *testing.T) {
	for _, size := range []struct {
		Size
		name string
	}{{Landscape, "wide"}, {Portrait, "tall"}} {
		for _, job := range []string{"drover", "tern"} {
			t.Run(job+" "+size.name, func(t *testing.T) {
				p := given(t, size.Size, "jobs/"+job+".txtar")
				p.planAndOrder(job + "-" + size.name)
			})
		}
	}
}

func (p *Page) planAndOrder(name string) {
	p.t.Helper()
	see := func(state string) {
		p.t.Helper()
		p.Shot(name + "-" + state)
		p.Accessible(name + " " + state)
	}
	p.Tap(`[data-act="posture"][data-id="plan"]`)
	p.Wait(`document.querySelector(".plan-head") !== null`)
	see("plan")
	for _, leaf := range []string{"ratings", "labor", "books"} {
		p.Tap(`[data-act="plan-leaf"][value="` + leaf + `"]`)
		p.Wait(`document.querySelector("[data-act=plan-leaf][value=` + leaf + `]").getAttribute("aria-pressed") === "true"`)
		see(leaf)
	}
	for _, book := range []string{"sheet", "cards", "terms"} {
		p.Tap(`[data-act="plan-book"][value="` + book + `"]`)
		p.Wait(`document.querySelector("[data-act=plan-book][value=` + book + `]").getAttribute("aria-pressed") === "true"`)
		see("book-" + book)
	}
	p.Tap(`[data-act="posture"][data-id="order"]`)
	p.Wait(`document.querySelector("#main-order .basket") !== null`)
	see("order")
}

// A list with a slip in it is mended in place, and the count follows.
func TestMendAList(t *testing.T) {
	p := given(t, Landscape, "jobs/drover.txtar", "lists/letter-o.csv")
	p.Tap(`[data-act="posture"][data-id="plan"]`)
	p.Tap(`[data-act="plan-leaf"][value="books"]`)
	p.Tap(`[data-act="list-open"][data-id="letter-o"]`)
	p.WaitText("#list-letter-o", "2 rows: 1 read, 1 set aside")
	p.Shot("mend-before")
	p.Accessible("a list that is open")
	p.Tap(`button[data-act="list-fix"]`)
	p.WaitText("#list-letter-o", "2 rows: 2 read, 0 set aside")
	p.Shot("mend-after")
	p.Reload()
	p.WaitText(".main", "What")
	p.Tap(`[data-act="plan-leaf"][value="books"]`)
	p.WaitText("#list-letter-o", "2 rows: 2 read, 0 set aside")
}
