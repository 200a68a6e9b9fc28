package report

import (
	"os"
	"strings"
	"testing"
)

func estimate() Estimate {
	return Estimate{
		Shop: `Bell & "Sons" </style>`, ShopSays: []string{"1 Mill Lane"}, Number: "7", Date: "2026-01-05", Valid: "holds to 2026-02-04",
		Owner: "A. Owner", Complaint: "it <hums>", Amp: "Invented One", Serial: "none found", Most: "100.00", Currency: "USD",
		Groups: []Group{{ID: "1", Pile: "must", Seen: "cord", Basis: "observed", Work: "new cord", Sum: "60.00",
			Lines: []Line{{Say: "labor", Count: "0.50 h", Amount: "40.00"}, {Say: "cord", State: "new", Count: "1", Each: "20.00", Amount: "20.00"}}}},
		Shared: []Line{{Say: "tests", Count: "0.50 h", Amount: "40.00"}}, SharedSum: "40.00",
		Sums:     []Sum{{"At most", "100.00", true}},
		Declined: []string{"2: speaker torn."}, Cautions: []string{"Stored charge: unplug."}, Code: "AAAA-BBBB",
	}
}

func TestHTMLEscapes(t *testing.T) {
	page := string(estimate().HTML())
	if strings.Contains(page, "<hums>") || strings.Count(page, "</style>") != 1 {
		t.Error("text of the job gets into the markup as it is")
	}
	for _, want := range []string{"it &lt;hums&gt;", "Bell &amp; &#34;Sons&#34;", `Bell \26  \22 Sons\22  \3c /style\3e `} {
		if !strings.Contains(page, want) {
			t.Errorf("the page does not hold %q", want)
		}
	}
}

// A self-contained page asks nothing of anybody.
func TestHTMLIsSelfContained(t *testing.T) {
	page := string(estimate().HTML())
	for _, bad := range []string{"http:", "https:", "src=", "href=", "url(", "@import", "<script", "style=\""} {
		if strings.Contains(page, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	if !strings.Contains(page, "counter(pages)") || !strings.Contains(page, "table-header-group") {
		t.Error("pages are not numbered, or the head of the table is not repeated")
	}
}

func TestSignatureOrRecord(t *testing.T) {
	e := estimate()
	if page := string(e.HTML()); !strings.Contains(page, "at most 100.00 USD") || !strings.Contains(page, "Signature, A. Owner") {
		t.Error("nothing is recorded, yet there is no room to sign")
	}
	e.Consents = []string{"channel: phone; number: 555-0142"}
	if page := string(e.HTML()); strings.Contains(page, "Signature") || !strings.Contains(page, "number: 555-0142") {
		t.Error("the recorded agreement does not stand in place of the signature")
	}
}

func TestEmptyPartsLeaveNoHeading(t *testing.T) {
	e := estimate()
	e.Declined, e.Cautions, e.Code = nil, nil, ""
	page := string(e.Article())
	for _, h := range []string{"Not part", "Cautions", "Record code", "old parts", "Terms"} {
		if strings.Contains(page, h) {
			t.Errorf("a heading %q without anything under it", h)
		}
	}
}

// The paper looks the same in the page as in its own file.
func TestPageHasTheSameStyle(t *testing.T) {
	sheet, err := os.ReadFile("../../web/static/app.css")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(sheet), Style) {
		t.Error("app.css does not hold paper.css word for word")
	}
}
