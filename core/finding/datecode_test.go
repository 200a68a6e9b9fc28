package finding

import (
	"strings"
	"testing"

	"lugworth/core/amp"
)

// Sources of the readings: common practice, guides to source-date codes
// (second-hand). The codes are our own; 999 is no maker's number we know.
func TestReadCode(t *testing.T) {
	tests := []struct{ code, about, want, err string }{
		{"999-5723", "", "source 999, 1957 week 23", ""},
		{"999-5723", "about 1957", "source 999, 1957 week 23: fits", ""},
		{"9995-5723", "", "source 9995, 1957 week 23", ""},
		{"999 57 23", "", "source 999, 1957 week 23", ""},
		{"EIA 999-5723", "", "source 999, 1957 week 23", ""},
		{"999723", "", "999723: source 999, week 23 of 1947, 1957 or 1967?", ""},
		{"998741", "about 1957", "998741: source 998, week 41 of 1947 (old stock), 1957 (fits) or 1967 (later replacement)?", ""},
		{"9995-723", "", "9995-723: source 9995, week 23 of 1947, 1957 or 1967?", ""},
		{"9995723", "", "9995723: source 999, week 23 of 1957, source 9995, week 23 of 1947, 1957 or 1967?", ""},
		{"99956423", "", "source 9995, 1964 week 23", ""},
		{"999-5753", "", "source 999, 1957 week 53", ""},
		{"999-5761", "", "", `"999-5761" is out of range; did you mean a week from 01 to 53 in place of 61?`},
		{"999761", "", "", `"999761" is out of range; did you mean a week from 01 to 53 in place of 61?`},
		{"999-5700", "", "", `"999-5700" is out of range; did you mean a week from 01 to 53 in place of 00?`},
		{"999-0523", "", "", `"999-0523" is out of range; did you mean a year from 30 to 99?`},
		{"99-5723", "", "", `"99-5723" is out of range; did you mean 3 or 4 figures of the maker, 1 or 2 of the year, 2 of the week?`},
		{"5723", "", "", `"5723" is out of range; did you mean 3 or 4 figures of the maker, 1 or 2 of the year, 2 of the week?`},
		{"999-57A3", "", "", `"999-57A3" is not a number; did you mean SOURCE-YEAR-WEEK in figures, such as 999-5723?`},
		{"", "", "", `"" is not a number; did you mean SOURCE-YEAR-WEEK in figures, such as 999-5723?`},
	}
	for _, tt := range tests {
		t.Run(tt.code+" "+tt.about, func(t *testing.T) {
			c, err := ReadCode(tt.code)
			if err != nil {
				if err.Error() != tt.err {
					t.Errorf("error %q, want %q", err, tt.err)
				}
				return
			}
			if tt.err != "" {
				t.Fatalf("read as %v, want error %q", c, tt.err)
			}
			if got := c.Against(tt.about).String(); got != tt.want {
				t.Errorf("reads %q, want %q", got, tt.want)
			}
		})
	}
}

func TestYears(t *testing.T) {
	tests := []struct {
		text     string
		from, to int
		ok       bool
	}{
		{"1957", 1957, 1957, true},
		{"about 1957", 1955, 1959, true},
		{"1955-58", 1955, 1958, true},
		{"1955–1958", 1955, 1958, true},
		{"late 1950s", 1950, 1959, true},
		{"12-inch, 1957, 85 lb", 1957, 1957, true},
		{"old", 0, 0, false},
		{"", 0, 0, false},
		{"serial 19571957", 0, 0, false},
	}
	for _, tt := range tests {
		from, to, ok := Years(tt.text)
		if from != tt.from || to != tt.to || ok != tt.ok {
			t.Errorf("Years(%q) = %d, %d, %v, want %d, %d, %v", tt.text, from, to, ok, tt.from, tt.to, tt.ok)
		}
	}
}

func TestReadBuild(t *testing.T) {
	tests := []struct {
		name     string
		codes    []amp.DateCode
		about    string
		earliest string // "on: date"
		outliers string // "on fit, ..."
		ask      string // "on ..."
		say      string // part of it
	}{
		{"controls decide, speaker asks", []amp.DateCode{{On: "controls", Code: "999-5723"}, {On: "speaker", Code: "998741"}}, "about 1957",
			"controls: 1957 week 23", "", "speaker", "1957 week 41 if that is what the speaker says"},
		{"speaker settled", []amp.DateCode{{On: "controls", Code: "999-5723"}, {On: "speaker", Code: "998741", Year: "1957"}}, "about 1957",
			"speaker: 1957 week 41", "", "", ""},
		{"settled as a replacement", []amp.DateCode{{On: "controls", Code: "999-5723"}, {On: "speaker", Code: "998741", Year: "1967"}}, "about 1957",
			"controls: 1957 week 23", "speaker later replacement", "", ""},
		{"old stock does not make the amp older", []amp.DateCode{{On: "choke", Code: "999-4901"}, {On: "controls", Code: "999-5723"}}, "about 1957",
			"controls: 1957 week 23", "choke old stock", "", ""},
		// By hand: middle of 1957, 1957, 1971 is 1957; 1971 is 14 years younger.
		{"no year stated: held against each other", []amp.DateCode{{On: "pot", Code: "999-5723"}, {On: "choke", Code: "999-5709"}, {On: "speaker", Code: "998-7105"}}, "",
			"pot: 1957 week 23", "speaker later replacement", "", ""},
		{"two are too few to tell", []amp.DateCode{{On: "pot", Code: "999-5723"}, {On: "speaker", Code: "998-7105"}}, "",
			"speaker: 1971 week 5", "", "", ""},
		{"only guesses", []amp.DateCode{{On: "speaker", Code: "998741"}}, "", "", "", "speaker", "no code says for certain"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := ReadBuild(tt.codes, tt.about)
			earliest := ""
			if b.Earliest != nil {
				earliest = b.Earliest.On + ": " + b.Earliest.Choices[0].String()
			}
			var outliers, ask []string
			for _, o := range b.Outliers {
				outliers = append(outliers, o.On+" "+string(o.Fit))
			}
			for _, c := range b.Ask {
				ask = append(ask, c.On)
			}
			if earliest != tt.earliest || strings.Join(outliers, ", ") != tt.outliers || strings.Join(ask, " ") != tt.ask || !strings.Contains(b.Say, tt.say) {
				t.Errorf("earliest %q, outliers %q, ask %q, say %q; want %q, %q, %q, %q", earliest, outliers, ask, b.Say, tt.earliest, tt.outliers, tt.ask, tt.say)
			}
			if len(b.Problems) > 0 {
				t.Errorf("problems %v", b.Problems)
			}
		})
	}
	b := ReadBuild([]amp.DateCode{{On: "pot", Code: "999-5761"}, {On: "speaker", Code: "998741", Year: "1958"}}, "")
	want := "pot: column \"date code\": \"999-5761\" is out of range; did you mean a week from 01 to 53 in place of 61?\n" +
		"speaker: column \"date code\": \"998741\" is out of range; did you mean 1947 or 1957 or 1967?"
	if got := problemTexts(b.Problems); got != want {
		t.Errorf("problems\n%s\nwant\n%s", got, want)
	}
}

func FuzzReadCode(f *testing.F) {
	for _, s := range []string{"999-5723", "999723", "9995723", "EIA 999 57 23", "--", "999-57-2-3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := ReadCode(text)
		if err == nil && len(c.Choices) == 0 {
			t.Fatalf("%q reads as nothing", text)
		}
		for _, d := range c.Choices {
			if d.Week < 1 || d.Week > 53 || d.Year < 1930 || d.Year > 1999 {
				t.Fatalf("%q reads as %v", text, d)
			}
		}
		_ = c.Against(text).String()
	})
}
