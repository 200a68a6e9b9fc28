package intake

import "testing"

func TestDeclared(t *testing.T) {
	for _, c := range []struct {
		name string
		m    Mains
		want bool
	}{
		{"nothing", Mains{}, false},
		{"as it should be", Mains{Measured: 124, Low: 114, High: 127}, true},
		{"not measured", Mains{Low: 207, High: 253}, true},
		{"only the top", Mains{High: 127}, false},
		{"upside down", Mains{Low: 127, High: 114}, false},
		{"measured above the top", Mains{Measured: 131, Low: 114, High: 127}, false},
		{"measured below the bottom", Mains{Measured: 109, Low: 114, High: 127}, false},
		{"a decimal point too far left", Mains{Low: 11.4, High: 12.7}, false},
		{"a decimal point too far right", Mains{Low: 1140, High: 1270}, false},
	} {
		if got := c.m.Declared(); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
