package circuit

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"lugworth/core/amp"
)

var rewriteAmps = flag.Bool("amps", false, "write the whole amps anew from their blocks; read the diff")

const ampDir = "../../testdata/amps/"

// wholeAmp is an invented amp as the blocks it is made of.
type wholeAmp struct {
	name string
	says string
	uses []Use
}

type g = map[string]string

// wholeAmps are invented: no such amp was ever sold. Values are common for
// their kind; common practice, no source.
var wholeAmps = []wholeAmp{
	{"ambleton", "one 6V6GT single-ended, 5Y3GT", []Use{
		{"mains", "", g{"volts": "117", "ohms": "4.5", "hertz": "60", "heater": "17"}},
		{"full-wave supply", "1", g{"volts": "640 3%", "copper": "310", "tube": "5Y3GT", "socket": "V3", "reservoir": "16uF 450V", "dropper": "1k 2W", "smoother": "16uF 450V"}},
		{"dropper", "2", g{"dropper": "22k 1W", "smoother": "8uF 450V"}},
		{"triode stage", "3", g{"tube": "V1a", "input": "jack", "out": "P3"}},
		{"volume control", "4", g{"in": "P3", "out": "W4", "turn": "0.4"}},
		{"triode stage", "5", g{"tube": "V1b", "input": "pot", "in": "W4", "out": "OUT1"}},
		{"single-ended stage", "6", g{"tube 1": "V2", "screens": "none", "cathode": "470 5W", "bypass": "25uF 50V", "couple": "0.022uF 400V", "leak": "470k", "primary": "12H", "primary ohms": "280"}},
	}},
	{"corvane", "two 6V6GT in push-pull, fixed bias, 5AR4, choke", []Use{
		{"mains", "", g{"volts": "120", "ohms": "2.1", "hertz": "60", "heater": "24"}},
		{"full-wave supply", "1", g{"volts": "630 3%", "copper": "150", "tube": "5AR4", "socket": "V5", "reservoir": "32uF 500V", "smoothing": "choke", "choke": "6H", "choke ohms": "170", "smoother": "16uF 500V"}},
		{"dropper", "2", g{"dropper": "4.7k 2W", "smoother": "16uF 500V"}},
		{"bias supply", "3", g{"volts": "45 3%", "copper": "25", "series": "470 1W", "reservoir": "25uF 100V", "feed": "3.3k", "set by": "range resistor", "range": "7.5k 5%", "smoother": "25uF 100V"}},
		{"triode stage", "4", g{"tube": "V1a", "input": "jack", "out": "P4"}},
		{"volume control", "5", g{"in": "P4", "out": "W5", "turn": "0.6"}},
		{"triode stage", "6", g{"tube": "V1b", "input": "pot", "in": "W5", "out": "P6"}},
		{"long-tailed pair", "7", g{"type": "12AT7", "tube 1": "V2a", "tube 2": "V2b", "in": "P6", "bias": "470", "tail": "22k", "foot": "100"}},
		{"push-pull pair, fixed bias", "8", g{"type": "6V6GT", "tube 1": "V3", "tube 2": "V4", "primary": "14H", "primary ohms": "145", "screen": "470 1W", "couple": "0.1uF 600V", "sense": "each"}},
	}},
	{"delmere", "two EL84 in push-pull with one cathode resistor, silicon bridge, EF86 at the input", []Use{
		{"mains", "", g{"volts": "230", "ohms": "14", "hertz": "50", "heater": "19"}},
		{"bridge supply", "1", g{"volts": "245 3%", "copper": "34", "reservoir": "47uF 450V", "dropper": "470 5W", "smoother": "47uF 450V"}},
		{"dropper", "2", g{"dropper": "10k 1W", "smoother": "22uF 450V"}},
		{"pentode stage", "3", g{"tube": "V1", "input": "jack", "load": "220k", "screen": "1.5M", "cathode": "2.2k", "out": "P3"}},
		{"volume control", "4", g{"in": "P3", "out": "W4", "pot": "500k"}},
		{"triode stage", "5", g{"tube": "V2a", "input": "pot", "in": "W4", "out": "P5", "load": "220k", "cathode": "1.5k"}},
		{"cathodyne splitter", "6", g{"tube": "V2b", "input": "capacitor", "in": "P5", "load": "56k"}},
		{"cathode-biased pair", "7", g{"type": "EL84", "kind": "pentode", "tube 1": "V3", "tube 2": "V4", "cathode": "130 5W", "leak": "470k", "screen": "100 1W", "primary": "9H", "primary ohms": "160"}},
	}},
	{"estrick", "two 6L6GC in push-pull, fixed bias, silicon full wave, choke", []Use{
		{"mains", "", g{"volts": "117", "ohms": "1.3", "hertz": "60", "heater": "26"}},
		{"full-wave supply", "1", g{"volts": "650 3%", "copper": "78", "rectifiers": "silicon", "reservoir": "50uF 600V", "smoothing": "choke", "choke": "4H", "choke ohms": "105", "smoother": "20uF 525V"}},
		{"dropper", "2", g{"dropper": "10k 2W", "smoother": "20uF 500V"}},
		{"bias supply", "3", g{"volts": "55 3%", "copper": "18", "series": "1k", "reservoir": "50uF 100V", "feed": "2.7k", "set by": "pot", "pot": "10k", "turn": "0.35", "range": "15k", "smoother": "50uF 100V"}},
		{"triode stage", "4", g{"tube": "V1a", "input": "jack", "out": "P4"}},
		{"cathode follower", "5", g{"tube": "V1b", "in": "P4", "out": "K5"}},
		{"volume control", "6", g{"in": "K5", "out": "W6"}},
		{"long-tailed pair", "7", g{"tube 1": "V2a", "tube 2": "V2b", "in": "W6", "feed": "B3"}},
		{"push-pull pair, fixed bias", "8", g{"type": "6L6GC", "tube 1": "V3", "tube 2": "V4", "primary": "11H", "primary ohms": "62", "screen": "470 5W", "couple": "0.1uF 600V"}},
	}},
	{"fallowby", "four EL34 in push-pull, fixed bias, silicon bridge, choke", []Use{
		{"mains", "", g{"volts": "240", "ohms": "4", "hertz": "50", "heater": "48"}},
		{"bridge supply", "1", g{"volts": "345 2%", "copper": "16", "reservoir": "50uF 500V", "smoothing": "choke", "choke": "3H", "choke ohms": "105", "smoother": "50uF 500V"}},
		{"dropper", "2", g{"dropper": "10k 2W", "smoother": "50uF 500V"}},
		{"dropper", "3", g{"dropper": "10k 1W", "smoother": "50uF 500V", "in": "B3", "out": "B4"}},
		{"bias supply", "4", g{"volts": "60 3%", "copper": "22", "series": "1k", "reservoir": "10uF 100V", "feed": "15k", "set by": "pot", "pot": "22k", "turn": "0.55", "range": "27k", "smoother": "10uF 100V"}},
		{"triode stage", "5", g{"tube": "V1a", "input": "jack", "out": "P5", "feed": "B4", "cathode": "2.7k"}},
		{"volume control", "6", g{"in": "P5", "out": "W6"}},
		{"triode stage", "7", g{"tube": "V1b", "input": "pot", "in": "W6", "out": "P7", "feed": "B4", "cathode": "820", "bypassed": "no"}},
		{"triode stage", "8", g{"tube": "V2a", "input": "capacitor", "in": "P7", "out": "P8", "feed": "B4", "cathode": "820", "bypassed": "no"}},
		{"cathode follower", "9", g{"tube": "V2b", "in": "P8", "feed": "B4", "out": "K9"}},
		{"long-tailed pair", "10", g{"tube 1": "V3a", "tube 2": "V3b", "in": "K9", "feed": "B3"}},
		{"quad", "11", g{"tube 1": "V4", "tube 2": "V5", "tube 3": "V6", "tube 4": "V7", "primary": "5H", "primary ohms": "28", "screen": "1k 5W", "stopper": "5.6k", "leak": "150k"}},
	}},
	{"garrowin", "two 6L6GC in push-pull with one cathode resistor, 5U4GB", []Use{
		{"mains", "", g{"volts": "117", "ohms": "1.6", "hertz": "60", "heater": "31"}},
		{"full-wave supply", "1", g{"volts": "700 3%", "copper": "130", "tube": "5U4GB", "socket": "V5", "reservoir": "20uF 500V", "dropper": "1k 5W", "smoother": "20uF 500V"}},
		{"dropper", "2", g{"dropper": "22k 1W", "smoother": "20uF 450V"}},
		{"triode stage", "3", g{"type": "6SL7GT", "tube": "V1a", "input": "jack", "out": "P3", "cathode": "2.2k"}},
		{"triode stage", "4", g{"type": "6SL7GT", "tube": "V1b", "input": "capacitor", "in": "P3", "out": "P4", "load": "270k", "cathode": "1.5k"}},
		{"cathodyne splitter", "5", g{"type": "6SN7GTB", "tube": "V2a", "input": "direct", "in": "P4", "load": "47k"}},
		{"cathode-biased pair", "6", g{"type": "6L6GC", "tube 1": "V3", "tube 2": "V4", "cathode": "250 10W", "bypass": "50uF 50V", "screens": "none", "primary": "8H", "primary ohms": "95"}},
	}},
	{"hollinset", "one EL84 single-ended, half-wave silicon", []Use{
		{"mains", "", g{"volts": "230", "ohms": "32", "hertz": "50", "heater": "8.5"}},
		{"half-wave supply", "1", g{"volts": "235 5%", "copper": "170", "series": "47 2W", "reservoir": "50uF 350V", "dropper": "470 5W", "smoother": "50uF 350V", "out": "B2"}},
		{"triode stage", "2", g{"tube": "V1a", "input": "jack", "out": "P2", "feed": "B2", "load": "220k"}},
		{"volume control", "3", g{"in": "P2", "out": "W3", "turn": "0.7"}},
		{"triode stage", "4", g{"tube": "V1b", "input": "pot", "in": "W3", "out": "OUT1", "feed": "B2"}},
		{"single-ended stage", "5", g{"type": "EL84", "kind": "pentode", "tube 1": "V2", "screens": "none", "feed": "B2", "cathode": "150 2W", "bypass": "100uF 25V", "leak": "470k", "primary": "7H", "primary ohms": "330"}},
	}},
	{"ivermoss", "two 6L6GC in push-pull, fixed bias, full-wave doubler, tremolo on the bias", []Use{
		{"mains", "", g{"volts": "120", "ohms": "1.2", "hertz": "60", "heater": "27"}},
		{"doubler supply", "1", g{"volts": "170 3%", "copper": "5.5", "reservoir": "100uF 350V", "dropper": "1k 10W", "smoother": "40uF 500V"}},
		{"dropper", "2", g{"dropper": "15k 2W", "smoother": "20uF 450V"}},
		{"bias supply", "3", g{"volts": "52 3%", "copper": "15", "series": "470", "reservoir": "50uF 100V", "feed": "3.9k", "set by": "range resistor", "range": "15k 5%", "smoother": "10uF 100V"}},
		{"tremolo on the bias", "4", g{"tube": "V2a", "into": "470k", "turn": "0.5"}},
		{"triode stage", "5", g{"tube": "V1a", "input": "jack", "out": "P5"}},
		{"triode stage", "6", g{"tube": "V1b", "input": "capacitor", "in": "P5", "out": "P6", "load": "270k"}},
		{"cathodyne splitter", "7", g{"tube": "V2b", "input": "direct", "in": "P6", "load": "100k"}},
		{"push-pull pair, fixed bias", "8", g{"type": "6L6GC", "tube 1": "V3", "tube 2": "V4", "primary": "9H", "primary ohms": "55", "screen": "1k 5W"}},
	}},
}

// sheet expands an amp. Its values are its own, even where a block starts
// from the same ones.
func (a wholeAmp) sheet(t *testing.T) []amp.Position {
	t.Helper()
	sheet, problems := Assemble(a.uses)
	for _, p := range problems {
		t.Error(p)
	}
	for i := range sheet {
		sheet[i].Note = ""
	}
	return sheet
}

// The whole amps of the test data are what their blocks expand into.
func TestWholeAmps(t *testing.T) {
	for _, a := range wholeAmps {
		t.Run(a.name, func(t *testing.T) {
			sheet := a.sheet(t)
			got := amp.WriteSheet(sheet)
			path := ampDir + a.name + ".csv"
			if *rewriteAmps {
				if err := os.WriteFile(path, got, 0o666); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got, want) {
				t.Errorf("%s is not what its blocks expand into: run this test with -amps and read the diff", path)
			}
		})
	}
}
