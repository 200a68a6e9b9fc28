package tube

import (
	"testing"

	"lugworth/core/unit"
)

// A number without its unit would be a limit a thousand or a million times
// too wide: the row is set aside.
func TestUnitsNobodyPrintsPlainMustBeWritten(t *testing.T) {
	const head = "type,aliases,kind,quantity,value,unit,system,source,mark\n"
	for _, row := range []string{
		"5U4GB,,rectifier,first capacitor,32,,,my sheet,user\n",
		"EL84,,pentode,cathode current,65,,,my sheet,user\n",
		"EL84,,pentode,gm low,9,,,my sheet,user\n",
	} {
		cards, problems := ReadCards("cards.csv", []byte(head+row))
		if len(cards) != 0 || len(problems) != 1 || problems[0].Code != unit.Missing || problems[0].Column != "unit" {
			t.Errorf("%q: %d cards, %v", row, len(cards), problems)
		}
	}
	if cards, problems := ReadCards("cards.csv", []byte(head+"EL84,,pentode,plate volts,300,,,my sheet,user\n")); len(cards) != 1 || len(problems) != 0 {
		t.Errorf("plain volts: %v", problems)
	}
}
