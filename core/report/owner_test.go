package report_test

import (
	"crypto/sha256"
	"encoding/base64"
	"regexp"
	"strings"
	"testing"

	"lugworth/core/report"
)

const hostile = `"><script>alert(1)</script><img src=x onerror=alert(2)>' onclick='x' </style>{}`

// Whatever stands in the job is text on the page and nothing else.
func TestOwnersPageKeepsHostileTextInert(t *testing.T) {
	h := hostile
	o := report.Owner{Shop: h, ShopSays: []string{h}, Number: h, Date: h, Valid: h, Facts: [][2]string{{h, h}}, Currency: h, Ceiling: h,
		Questions: []report.Question{{ID: h, Pile: "must", Head: h, Notes: []string{h}, NotOffered: []string{h}, No: h, Ways: []report.Way{{ID: h, Say: h, About: []string{h}, Change: h, Needs: []string{h}}}}},
		Terms:     []string{h}, Cautions: []string{h}, Code: h, Seal: h, Most: h, Start: h, Table: h, Known: h}
	page := string(o.HTML())
	tags := regexp.MustCompile(`<[a-zA-Z][^>]*>`).FindAllString(strings.ReplaceAll(page, report.OwnerScript, ""), -1)
	if len(tags) < 40 {
		t.Fatalf("%d tags", len(tags))
	}
	scripts := 0
	for _, tag := range tags {
		if strings.HasPrefix(tag, "<script") {
			scripts++
		}
		if strings.HasPrefix(tag, "<img") || strings.Contains(tag, "<script ") {
			t.Errorf("a tag out of a text: %s", tag)
		}
		if rest := regexp.MustCompile(`"[^"]*"`).ReplaceAllString(tag, ""); regexp.MustCompile(`(?i)\son[a-z]+=|'`).MatchString(rest) {
			t.Errorf("an attribute out of a text: %s", tag)
		}
	}
	if scripts != 1 || strings.Count(page, "</style>") != 1 {
		t.Errorf("%d scripts, %d ends of style", scripts, strings.Count(page, "</style>"))
	}
}

// The policy names the one style and the one script that stand in the page,
// and nothing in it asks for anything outside.
func TestOwnersPagePolicy(t *testing.T) {
	page := string(report.Owner{Shop: "Shop", Number: "1", Questions: []report.Question{{ID: "A1", Pile: "could", Head: "hums", No: "hums on", Ways: []report.Way{{ID: "A1/x", Say: "mend it"}}}}}.HTML())
	for _, of := range []string{"style", "script"} {
		text := regexp.MustCompile(`(?s)<` + of + `>(.*?)</` + of + `>`).FindStringSubmatch(page)
		if text == nil {
			t.Fatalf("no %s", of)
		}
		sum := sha256.Sum256([]byte(text[1]))
		if want := of + "-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"; !strings.Contains(page, want) {
			t.Errorf("the policy lacks %s", want)
		}
	}
	if !strings.Contains(page, "default-src 'none'; base-uri 'none'; form-action 'none'") {
		t.Error("the policy lets something in")
	}
	for _, bad := range []string{"http:", "https:", "//", " src=", " href=", "url(", "@import", " style=", "fetch(", "XMLHttp", "localStorage", "innerHTML", "eval("} {
		if strings.Contains(strings.ReplaceAll(page, "// ", ""), bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	for _, never := range []string{"safe", "guarante", "complies", " from £", "minimum"} {
		if strings.Contains(strings.ToLower(page), never) {
			t.Errorf("the page says %q", never)
		}
	}
}
