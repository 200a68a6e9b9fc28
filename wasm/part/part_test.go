package part

import (
	"regexp"
	"strings"
	"testing"

	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
)

func bill(total int64) draw.Build {
	return draw.Build{Labor: total, Ceiling: 45000, HasCeiling: true, Format: func(int64) string { return "1.00" }}
}

// all is one of everything.
func all(answer string, k draw.Kind) keyed.Tree {
	cols := []Col{{Say: "Part", Wide: true}, {Say: "Each", Num: true}, {Say: "Note"}}
	return Leaf{
		Title: "Everything", Posture: "call",
		Tabs: []Posture{{ID: "bench", Say: "Bench"}, {ID: "call", Say: "Call", Count: "3", Tell: "unanswered"}},
		Head: Status{Job: "41", Saved: "Saved", Copy: "Back up now", CopyOld: true, ReadOnly: "Another tab writes", Update: true, Offline: true}.Item(),
		Main: []keyed.Node{
			keyed.Row("div", "view", Question("What is the most it can cost?", "owner"), Two(Verdict(k, ""), Picture(draw.Mark(k))),
				Why("worst/A2", "445.2 V"), Money("471.57", "USD"), Delta("+52.00", true, "over by 6.37"), Reading("Reservoir", "325", "V"),
				Chain([]Step{{0, "445.2 V", "peak", "√2 · half", "definition", "reading 3", false}, {99, "1 V", "deep", "", "", "", true}, {-1, "1 V", "", "", "", "", false}}),
				Field{ID: "f1", Label: "Mains", Value: "117", Unit: "V", Number: true, Big: true, Act: "reading", For: "r1", K: "mains", Hint: "117", Problem: "not a number", Keys: "Enter"}.Item(),
				Field{ID: "f2", Label: "Reason", Act: "reason", Lines: 3}.Item(),
				Field{ID: "f3", Label: "Supplier", Value: "a", Act: "supplier", Off: true, Options: []keyed.Option{{Value: "a", Say: "A"}}}.Item(),
				Tick("t1", "Both", true, "both", "x"),
				Chips("Answer", "answer", "d1", answer, Chip{Value: "yes", Say: "Yes", Note: "+5.00"}, Chip{Value: "no", Say: "No"}),
				BigChips("State", "state", "", "in", Chip{Value: "in", Say: "In"}),
				ChipSet("Lists", "lists", "", func(v string) bool { return v == "a" }, Chip{Value: "a", Say: "A"}, Chip{Value: "b", Say: "B"}),
				Presses(Press("main", "Next", "next", ""), Press("", "Back", "back", ""), Press("quiet", "Skip", "skip", "")),
				Pile("must", "Must", "3", Money("1.00", "")), Block("Block", keyed.Text("x")), Card("Card", Facts(Fact("Worst", keyed.Text("1 V")))),
				Table("Parts", cols, keyed.Nodes(TR("row", cols, keyed.Text("a"), keyed.Text("1"), keyed.Text("b"))), Sum(cols, keyed.Text("sum"), keyed.Text("1"), keyed.Text(""))),
				Empty("Nothing yet", "Bring a list.", "a,b", Press("main", "Bring", "bring", "")), Caution("Charged", "325 V"), Note("A remark."),
				Progress("Reading", 3, 10, "stop", ""), Progress("Reading", 0, 0, "", "")),
			CardRow("card", Moved(1), "Heading", keyed.Text("x")),
		},
		Foot:  []keyed.Node{Foot{Total: "456.37", Currency: "GBP", TotalK: "total", Ceiling: "450.00", Left: "over by 6.37", Over: true, Late: true, Line: draw.MoneyLine(bill(45637)), Ready: "ready day 4", ReadyK: "ready", Needed: "needed by day 21"}.Node()},
		Above: []keyed.Node{Dialog("ask", "Sure?", "close", "x", keyed.Text("?")), Sheet("why", "Why?", "close", ""), Toast("Done", "undo", "r1")},
	}.Tree()
}

func html(t keyed.Tree) string {
	var b strings.Builder
	for _, n := range t.Nodes {
		b.WriteString(n.HTML())
	}
	return b.String()
}

var (
	classAttr = regexp.MustCompile(` class="([^"]*)"`)
	idAttr    = regexp.MustCompile(` id="([^"]*)"`)
)

// Every class of the blocks and the pictures has a rule, so that none is
// misspelled.
func TestEveryClassHasARule(t *testing.T) {
	css := sheet(t)
	pictures := ""
	for k := draw.NotEnoughData; k <= draw.Within; k++ {
		pictures += html(all("yes", k)) + draw.MarginStrip(draw.Strip{Low: 1, Expected: 2, Worst: 3, Limit: 2, Wanted: 4, Kind: k})
	}
	seen := map[string]bool{}
	for _, m := range classAttr.FindAllStringSubmatch(pictures, -1) {
		for _, class := range strings.Fields(m[1]) {
			seen[class] = true
		}
	}
	for class := range seen {
		if strings.HasPrefix(class, "mark-") || strings.HasPrefix(class, "strip-") || plain[class] {
			continue
		}
		if !regexp.MustCompile(`\.` + class + `[^a-z-]`).MatchString(css) {
			t.Errorf("class %s has no rule", class)
		}
	}
}

// plain are classes without a look of their own: handles for a test, or states
// that a rule names only together with another.
var plain = map[string]bool{
	"tab-say": true, "foot-total": true, "foot-ceiling": true, "verdict-word": true, "toast-say": true, "depth-0": true,
	"is-within": true, "is-below-reserve": true, "is-not-proven": true, "is-not-enough-data": true, "pile-could": true, "money-line": true, "strip": true, "sum": true,
}

func TestNoStyleAndNoDoubleID(t *testing.T) {
	page := html(all("yes", draw.Within))
	if strings.Contains(page, " style=") || strings.Contains(page, "<style") {
		t.Error("the page sets a style of its own")
	}
	seen := map[string]bool{}
	for _, m := range idAttr.FindAllStringSubmatch(page, -1) {
		if seen[m[1]] {
			t.Errorf("id %s is there twice", m[1])
		}
		seen[m[1]] = true
	}
	for _, m := range regexp.MustCompile(`(?:for|aria-describedby|aria-labelledby)="([^"]*)"`).FindAllStringSubmatch(page, -1) {
		for _, id := range strings.Fields(m[1]) {
			if !seen[id] {
				t.Errorf("%s is named and not there", id)
			}
		}
	}
}

func TestEveryButtonActsAndSendsNoForm(t *testing.T) {
	for _, b := range regexp.MustCompile(`<button[^>]*>`).FindAllString(html(all("yes", draw.Within)), -1) {
		if !strings.Contains(b, `type="button"`) || !strings.Contains(b, "data-act=") {
			t.Errorf("%s", b)
		}
	}
}

func TestBlocks(t *testing.T) {
	page := html(all("yes", draw.BelowReserve))
	tests := []struct{ name, want string }{
		{"the reason of a figure", `class="why" data-act="why" data-k="worst/A2">445.2 V<`},
		{"the word beside the mark", `class="verdict-word">below reserve<`},
		{"the mark is not read twice", `class="verdict-mark" aria-hidden="true">`},
		{"the open tab", `aria-current="page"`},
		{"the chosen chip", `data-act="answer" data-id="d1" data-k="yes" value="yes" aria-pressed="true"`},
		{"the other chip", `data-act="answer" data-id="d1" data-k="no" value="no" aria-pressed="false"`},
		{"a problem is said", `aria-invalid="true"`},
		{"digits on the keyboard", `inputmode="decimal"`},
		{"keys of a field", `data-keys="Enter"`},
		{"a dialog is modal and has a way out", `data-modal="" data-cancel="close"`},
		{"over the ceiling", `class="foot is-over is-late"`},
		{"the deepest step is not deeper than the style sheet", `class="step depth-6"`},
		{"progress", `max="10"`},
	}
	for _, tt := range tests {
		if !strings.Contains(page, tt.want) {
			t.Errorf("%s: page lacks %s", tt.name, tt.want)
		}
	}
}

// A press on a chip and a changed verdict write slots; nothing is made anew, so
// focus and scroll stay.
func TestAToggleWritesSlotsOnly(t *testing.T) {
	ops := keyed.Diff(all("yes", draw.Within), all("no", draw.OverWorsened), nil)
	if len(ops) == 0 {
		t.Fatal("nothing to do")
	}
	for _, op := range ops {
		if op.Do != keyed.Write {
			t.Errorf("%+v", op)
		}
	}
}

func TestMovedChangesEachTime(t *testing.T) {
	if Moved(1) == Moved(2) || Moved(2) != Moved(4) {
		t.Error("the class of motion does not alternate")
	}
}
