package part

import (
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// sheet is the page's style sheet without comments.
func sheet(t *testing.T) string {
	t.Helper()
	b, err := os.ReadFile("../../web/static/app.css")
	if err != nil {
		t.Fatal(err)
	}
	return regexp.MustCompile(`(?s)/\*.*?\*/`).ReplaceAllString(string(b), "")
}

var token = regexp.MustCompile(`--([a-z-]+):\s*([^;]+);`)

// tokens are the variables of the first block that the opening starts.
func tokens(t *testing.T, css, opening string) map[string]string {
	t.Helper()
	_, rest, found := strings.Cut(css, opening+" {")
	if !found {
		t.Fatalf("the style sheet has no block %q", opening)
	}
	block, _, _ := strings.Cut(rest, "}")
	all := map[string]string{}
	for _, m := range token.FindAllStringSubmatch(block, -1) {
		all[m[1]] = m[2]
	}
	return all
}

// Each text color on each ground it may stand on, 7:1 (WCAG 2.2, success
// criterion 1.4.6, contrast enhanced); edges of controls and areas that carry
// meaning at least 3:1 (success criterion 1.4.11, non-text contrast).
var (
	grounds = []string{"paper", "sheet", "board", "band"}
	inks    = []string{"ink", "soft", "over"}
	edges   = []string{"line", "solid", "wash", "chosen-line"}
)

func TestContrast(t *testing.T) {
	css := sheet(t)
	for theme, opening := range map[string]string{
		"day": ":root", "night": `:root:not([data-theme="light"])`, "night, chosen": `:root[data-theme="dark"]`, "print": ":root:root:root",
	} {
		v := tokens(t, css, opening)
		for _, ground := range grounds {
			for _, ink := range inks {
				atLeast(t, theme, v, ink, ground, 7)
			}
			for _, edge := range edges {
				atLeast(t, theme, v, edge, ground, 3)
			}
		}
		atLeast(t, theme, v, "on-chosen", "chosen", 7)
	}
}

func atLeast(t *testing.T, theme string, v map[string]string, ink, ground string, want float64) {
	t.Helper()
	if got := contrast(t, v[ink], v[ground]); got < want {
		t.Errorf("%s: %s %s on %s %s has %.2f:1, want %g:1", theme, ink, v[ink], ground, v[ground], got, want)
	}
}

// The ratio's own published ends: black on white is 21:1, a color on itself
// 1:1 (WCAG 2.2, definition of contrast ratio).
func TestContrastRatio(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want float64
	}{{"#000000", "#ffffff", 21}, {"#fff", "#000", 21}, {"#8c1a12", "#8c1a12", 1}, {"#777777", "#ffffff", 4.48}} {
		if got := contrast(t, tt.a, tt.b); math.Abs(got-tt.want) > 0.005 {
			t.Errorf("%s on %s: %.3f, want %g", tt.a, tt.b, got, tt.want)
		}
	}
}

func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	high, low := luminance(t, a), luminance(t, b)
	if high < low {
		high, low = low, high
	}
	return (high + 0.05) / (low + 0.05)
}

func luminance(t *testing.T, color string) float64 {
	t.Helper()
	hex := strings.TrimPrefix(color, "#")
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	n, err := strconv.ParseUint(hex, 16, 32)
	if err != nil || len(hex) != 6 {
		t.Fatalf("%q is not a color", color)
	}
	return 0.2126*channel(n>>16) + 0.7152*channel(n>>8) + 0.0722*channel(n)
}

func channel(n uint64) float64 {
	c := float64(n&255) / 255
	if c <= 0.04045 {
		return c / 12.92
	}
	return math.Pow((c+0.055)/1.055, 2.4)
}

func TestNightIsOneDesign(t *testing.T) {
	css := sheet(t)
	asked, chosen := tokens(t, css, `:root:not([data-theme="light"])`), tokens(t, css, `:root[data-theme="dark"]`)
	for name, value := range asked {
		if chosen[name] != value {
			t.Errorf("--%s is %s by the system's wish and %s by choice", name, value, chosen[name])
		}
	}
	if len(asked) != len(chosen) {
		t.Errorf("%d tokens by the system's wish, %d by choice", len(asked), len(chosen))
	}
}

func TestStyleSheetKeepsTheRules(t *testing.T) {
	css := sheet(t)
	for _, never := range []string{"url(", "@import", ":hover", "expression(", "http"} {
		if strings.Contains(css, never) {
			t.Errorf("the style sheet holds %q", never)
		}
	}
	_, calm, _ := strings.Cut(css, "@media (prefers-reduced-motion: no-preference)")
	if all, inside := strings.Count(css, "animation:"), strings.Count(calm, "animation:"); all != inside || all == 0 {
		t.Errorf("%d of %d animations ask whether motion is wanted", inside, all)
	}
	if strings.Contains(css, "transition") {
		t.Error("the style sheet has a transition; motion belongs to the rows a toggle moved")
	}
	if strings.Count(css, "{") != strings.Count(css, "}") {
		t.Error("braces do not match")
	}
}

// 48 CSS pixels are 3rem at the usual 16: 12 mm on a tablet of 100 px an inch.
func TestTouchTargets(t *testing.T) {
	css := sheet(t)
	_, rest, _ := strings.Cut(css, "--touch:")
	if value, _, _ := strings.Cut(rest, ";"); strings.TrimSpace(value) != "3rem" {
		t.Errorf("a target is %s, want 3rem", value)
	}
	button := regexp.MustCompile(`(?s)\nbutton \{.*?\n\}`).FindString(css)
	for _, want := range []string{"min-width: var(--touch)", "min-height: var(--touch)"} {
		if !strings.Contains(button, want) {
			t.Errorf("button lacks %s", want)
		}
	}
}

func TestUsedVariablesExist(t *testing.T) {
	css := sheet(t)
	known := map[string]bool{}
	for _, m := range token.FindAllStringSubmatch(css, -1) {
		known[m[1]] = true
	}
	for _, m := range regexp.MustCompile(`var\(--([a-z-]+)`).FindAllStringSubmatch(css, -1) {
		if !known[m[1]] {
			t.Errorf("--%s is used and nowhere set", m[1])
		}
	}
}
