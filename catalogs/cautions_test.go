package catalogs

import (
	"regexp"
	"strings"
	"testing"
)

// What the work must carry, each by its own line.
var needed = []string{
	"aid", "local-code", "stored-charge", "live-readings", "winding-drop", "mains-wiring", "hot-chassis", "load",
	"first-power", "cold-start", "reforming", "chlorinated-oil", "asbestos", "cadmium", "selenium", "lead", "radioactive",
	"mercury", "hot-glass", "weight", "mold", "outlet", "shipping", "after-repair", "rating-system", "inherited", "expires",
}

func TestCautions(t *testing.T) {
	cautions, err := ReadCautions(Cautions)
	if err != nil {
		t.Fatal(err)
	}
	have := map[string]Caution{}
	claims := regexp.MustCompile(`(?i)\b(safe|guaranteed?|complies|compliant|harmless now)\b`)
	for _, c := range cautions {
		have[c.ID] = c
		if claims.MatchString(c.Says) {
			t.Errorf("%s claims too much: %q", c.ID, c.Says)
		}
		if strings.Contains(c.Source, "memory") && c.Mark != "memory" {
			t.Errorf("%s: source %q, mark %q", c.ID, c.Source, c.Mark)
		}
		if strings.Contains(c.Source, "second-hand") && c.Mark == "" {
			t.Errorf("%s: source %q, no mark", c.ID, c.Source)
		}
	}
	for _, id := range needed {
		if have[id].Says == "" {
			t.Errorf("no caution %q", id)
		}
	}
}

func TestReadCautionsRefuses(t *testing.T) {
	const head = "id,when,says,source,mark\n"
	for _, text := range []string{"", "id,says\n", head + "a,b,c\n", head + "a,always,x,s,\na,always,y,s,\n", head + "a,always,,s,\n", head + "a,always,x,,\n", head + "\"a"} {
		if got, err := ReadCautions([]byte(text)); err == nil {
			t.Errorf("%q: %v, want an error", text, got)
		}
	}
}

func TestCardsAreThere(t *testing.T) {
	if !strings.HasPrefix(string(Cards), "type,aliases,kind,quantity,value,unit,system,source,mark\n6V6GT,") {
		t.Error("the card file is not the one expected")
	}
}
