package quote

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"lugworth/core/money"
)

var stamp = Stamp{Number: "1042-1", Date: "2026-03-02", Rule: "1", Sheet: "sha256:ab12", Set: "Player",
	Accept: []string{"T1", "T2b", "T3/film"}}

// TestFrozenReopens: to the cent, line by line, after the shop has changed
// everything it charges.
func TestFrozenReopens(t *testing.T) {
	for _, b := range []Bill{
		drover.bill(t, "T1 T2b T3/film T4 T6 T6r T7a T8 T10"),
		tern.bill(t, "T1 T2 T3ii T4 T6 T5 T9"),
		drover.bill(t, ""),
	} {
		data, err := Freeze(b, stamp).JSON()
		if err != nil {
			t.Fatal(err)
		}
		f, err := ReadFrozen(data)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(f.Stamp, stamp) {
			t.Errorf("stamp %+v, want %+v", f.Stamp, stamp)
		}
		got, err := f.Bill()
		if err != nil {
			t.Fatal(err)
		}
		same(t, got, b)
		again, err := Freeze(got, f.Stamp).JSON()
		if err != nil || !bytes.Equal(again, data) {
			t.Errorf("frozen twice, the bytes differ (%v):\n%s\n%s", err, data, again)
		}
	}
}

func same(t *testing.T, got, want Bill) {
	t.Helper()
	if got.Totals != want.Totals || got.Currency != want.Currency || got.Rounding != want.Rounding {
		t.Errorf("totals %+v, want %+v", got.Totals, want.Totals)
	}
	if len(got.Lines) != len(want.Lines) || got.ReadyDays != want.ReadyDays || !reflect.DeepEqual(got.Notes, want.Notes) {
		t.Fatalf("%d lines, %d days, notes %q; want %d, %d, %q", len(got.Lines), got.ReadyDays, got.Notes, len(want.Lines), want.ReadyDays, want.Notes)
	}
	for i, l := range got.Lines {
		w := want.Lines[i]
		if l.Amount != w.Amount || l.Each != w.Each || l.Pieces != w.Pieces || l.ID != w.ID || l.Say != w.Say || l.Taxed != w.Taxed || l.Class != w.Class {
			t.Errorf("line %d is %+v, want %+v", i, l, w)
		}
	}
}

// TestFrozenDecimals: currencies of no and of three decimals keep their own.
func TestFrozenDecimals(t *testing.T) {
	for code, want := range map[string]string{"JPY": `"total": "1950"`, "KWD": `"total": "1.950"`} {
		b, err := Price(Input{Policy: Policy{Currency: currency(code)}, Parts: []Part{{Number: "P", Pieces: 1, Selling: 1950}}})
		if err != nil {
			t.Fatal(err)
		}
		data, err := Freeze(b, stamp).JSON()
		if err != nil || !bytes.Contains(data, []byte(want)) {
			t.Errorf("%s: %v, want %s in\n%s", code, err, want, data)
		}
		if _, err := ReadFrozen(data); err != nil {
			t.Errorf("%s: %v", code, err)
		}
	}
}

func TestReadFrozenRefuses(t *testing.T) {
	good, err := Freeze(drover.bill(t, "T1 T2b T3/film"), stamp).JSON()
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct{ name, old, new, want string }{
		{"a float for a sum", `"total": "471.57"`, `"total": 471.57`, "number 471.57: want a whole number"},
		{"a float for a count", `"pieces": 3`, `"pieces": 3.0`, "number 3.0: want a whole number"},
		{"an exponent", `"pieces": 3`, `"pieces": 3e0`, "number 3e0: want a whole number"},
		{"a total that is not the lines'", `"total": "471.57"`, `"total": "471.58"`, "total is 471.58, the lines come to 471.57"},
		{"a changed line", `"amount": "3.76"`, `"amount": "3.77"`, "4 × 0.94 is not 3.77"},
		{"more decimals than the currency", `"tax": "2.93"`, `"tax": "2.931"`, "tax"},
		{"an unknown field", `"lines"`, `"liens"`, "liens"},
		{"an unknown class", `"class": "fee"`, `"class": "tip"`, `class "tip" is not known`},
		{"an unknown rounding", `"half up"`, `"up"`, `rounding "up" is not known`},
		{"hours that are no number", `"expected": "4.400000"`, `"expected": "NaN"`, `hours "NaN"`},
		{"decimals no currency has", `"decimals": 2`, `"decimals": 19`, "currency USD of 19 decimals"},
		{"a second value", "\n}\n", "\n}\n{}\n", "follows the estimate"},
		{"cut short", `"notes"`, "", "frozen estimate"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			text := strings.Replace(string(good), tt.old, tt.new, 1)
			if text == string(good) {
				t.Fatalf("%q is not in\n%s", tt.old, good)
			}
			if tt.name == "cut short" {
				text = text[:len(text)/2]
			}
			if _, err := ReadFrozen([]byte(text)); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want %q", err, tt.want)
			}
		})
	}
}

// FuzzReadFrozen: whatever is read opens, adds up and writes the same again.
func FuzzReadFrozen(f *testing.F) {
	b, err := Price(Input{Policy: Policy{Currency: money.Currency{Code: "USD", Exponent: 2}, Fee: 8000}})
	if err != nil {
		f.Fatal(err)
	}
	seed, err := Freeze(b, stamp).JSON()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(seed)
	f.Add([]byte(`{"lines":[`))
	f.Fuzz(func(t *testing.T, data []byte) {
		frozen, err := ReadFrozen(data)
		if err != nil {
			return
		}
		again, err := frozen.JSON()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := ReadFrozen(again); err != nil {
			t.Fatalf("written again it is refused: %v\n%s", err, again)
		}
	})
}
