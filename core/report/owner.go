package report

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"strconv"
	"strings"
)

var (
	//go:embed owner.css
	ownerStyle string

	// OwnerScript is the one script of the owner's page.
	//
	//go:embed owner.js
	OwnerScript string
)

// An Owner is the page on which an owner ticks what is to be done: one file
// that asks nothing of any network, works from a mail or a memory stick, and
// prints. What it reckons with was reckoned for it: it adds nothing up.
type Owner struct {
	Shop         string
	ShopSays     []string
	Number, Date string // of the frozen estimate
	Valid        string // to which day it holds
	Facts        [][2]string
	Currency     string
	Decimals     int
	Ceiling      string // as said, "" where none is agreed
	Questions    []Question
	Terms        []string
	Cautions     []string
	Code         string // of the record chain

	// What the script reads. Sums are in minor units.
	Seal  string // mark, factor and start of a code, parted by blanks
	Most  string // the ceiling, "" where none is agreed
	Start string // the estimate's own choice, a number for each question
	Table string // totals of all choices in base 36, first question fastest; "-" not to be had; "" where there are too many
	Known string // then totals of the choices that are known: "1.0.2:total" in base 36
}

// A Question is one finding put to the owner.
type Question struct {
	ID, Pile, Head string
	Notes          []string
	Ways           []Way // those that exclude each other, then those that may stand beside
	NotOffered     []string
	No             string // what a no means
}

// A Way is one way to do a finding's work.
type Way struct {
	ID, Say string
	Beside  bool // may stand beside another way
	About   []string
	Change  string   // what it changes from the estimate's choice
	Needs   []string // ways that must be taken with it
}

// HTML returns the page.
func (o Owner) HTML() []byte {
	w := &writer{}
	style := pages(join(" · ", o.Shop, "Decisions "+o.Number, o.Date)) + bare + Style + ownerStyle
	w.raw(`<!doctype html><html lang="en"><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="default-src 'none'; base-uri 'none'; form-action 'none'; style-src ` +
		hashed(style) + `; script-src ` + hashed(OwnerScript) + `"><meta name="viewport" content="width=device-width,initial-scale=1"><title>`)
	w.text(join(" ", "Decisions", o.Number))
	w.raw("</title><style>" + style + "</style></head><body><main class=\"paper owner\">")
	o.head(w)
	o.form(w)
	o.said(w)
	w.list("", "Terms", "", o.Terms)
	w.list("paper-cautions", "Cautions", "", o.Cautions)
	Estimate{Code: o.Code}.code(w)
	w.raw("</main><script>" + OwnerScript + "</script></body></html>\n")
	return []byte(w.String())
}

// hashed names a style or a script as the page's policy wants it: only what
// has this hash is used.
func hashed(s string) string {
	sum := sha256.Sum256([]byte(s))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

func (o Owner) head(w *writer) {
	w.open("header", "paper-top")
	w.open("p", "paper-shop")
	w.text(o.Shop)
	w.tag("small", "", join(" · ", o.ShopSays...))
	w.raw("</p>")
	w.open("p", "paper-what")
	w.tag("strong", "", "Decisions "+o.Number)
	w.tag("span", "", o.Date)
	w.tag("span", "", o.Valid)
	w.raw(`</p></header><section class="owner-ask"><h1>What is done, and what is left?</h1>`)
	w.tag("p", "", "Tick one answer for each finding. Every sum is the most it can cost, reckoned by the shop for exactly what is ticked: single figures do not add up, because shared work is counted once. Nothing leaves this page. When all is answered it gives a short code: read it out on the telephone, or write it in a mail. It is an answer once the shop has read it back to you.")
	w.raw(`<noscript><p class="owner-warn">This reader runs no script, so sums and code stay empty. Tick on a print, and call the shop for the total.</p></noscript></section>`)
	w.facts(o.Facts)
}

// attr writes an attribute.
func (w *writer) attr(name, value string) {
	w.raw(" " + name + `="`)
	w.text(value)
	w.raw(`"`)
}

func (o Owner) form(w *writer) {
	w.raw(`<form id="slip" autocomplete="off"`)
	w.attr("data-seal", o.Seal)
	w.attr("data-decimals", strconv.Itoa(o.Decimals))
	w.attr("data-most", o.Most)
	w.attr("data-start", o.Start)
	w.attr("data-table", o.Table)
	w.attr("data-known", o.Known)
	w.raw(`><p class="owner-presses"><button type="button" id="as-estimate">Tick as the estimate stands</button><button type="button" id="clear">Clear all</button></p>`)
	pile := ""
	for i, q := range o.Questions {
		if q.Pile != pile {
			pile = q.Pile
			p := piles[pile]
			w.tag("h2", "owner-pile", p[0])
			w.tag("p", "paper-intro", p[1])
		}
		q.write(w, i)
	}
	w.raw("</form>")
}

var piles = map[string][2]string{
	"must":   {"Must", "Dangerous, or will destroy something dear. After a no to any of these the amp is not released for use."},
	"should": {"Should", "Not proven to keep its limit, or will fail before long. A no is a risk, and is written down."},
	"could":  {"Could", "Looks, tone and taste. A no is a preference."},
}

func (q Question) write(w *writer, at int) {
	alone := 0
	for _, x := range q.Ways {
		if !x.Beside {
			alone++
		}
	}
	n := strconv.Itoa(at)
	w.raw("<fieldset")
	w.attr("data-alone", strconv.Itoa(alone))
	w.attr("data-beside", strconv.Itoa(len(q.Ways)-alone))
	w.raw("><legend>")
	w.tag("span", "paper-no", q.ID)
	w.text(" " + sentence(q.Head))
	w.raw("</legend>")
	for _, s := range q.Notes {
		w.tag("p", "owner-note", stopped(s))
	}
	for i, x := range q.Ways {
		kind := "radio"
		if x.Beside {
			kind = "checkbox"
		}
		w.raw(`<label><input type="` + kind + `" name="q` + n + `" id="w` + n + "-" + strconv.Itoa(i) + `"`)
		w.attr("data-id", x.ID)
		w.attr("data-needs", strings.Join(x.Needs, "\n"))
		w.raw("><span><b>Yes")
		if x.Beside {
			w.raw(", as well")
		}
		w.raw(": ")
		w.text(x.Say)
		w.raw("</b>")
		for _, s := range x.About {
			w.tag("span", "owner-about", stopped(s))
		}
		w.raw(`<span class="owner-then">`)
		w.text(x.Change)
		w.raw("</span></span></label>")
	}
	for _, s := range q.NotOffered {
		w.tag("p", "owner-note", stopped(s))
	}
	w.raw(`<label><input type="radio" name="q` + n + `" value="no"><span><b>No</b>`)
	w.tag("span", "owner-about", stopped(q.No))
	w.raw(`</span></label><label><input type="radio" name="q` + n + `" value="think"><span><b>I think about it</b><span class="owner-about">Nothing is done until you say yes.</span></span></label></fieldset>`)
}

// said is where the script writes: the total, and the code.
func (o Owner) said(w *writer) {
	w.raw(`<section class="owner-code" aria-labelledby="code-head"><h2 id="code-head">Your code</h2><p id="code" class="owner-signs" role="status">not yet: some findings have no answer</p><p id="spelled" class="owner-note"></p>`)
	w.raw(`<p class="owner-note">The code says what is ticked above, of this estimate alone. A sign that is misheard or mistyped is noticed.</p></section><section class="owner-bar" aria-label="Total of what is ticked"><p role="status"><span>At most <b id="total">–</b> `)
	w.text(o.Currency)
	w.raw(`</span> <span id="left">`)
	w.text(o.Ceiling)
	w.raw(`</span> <span id="count"></span></p></section>`)
}
