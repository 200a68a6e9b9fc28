package decision

import (
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// Worked by hand. The digest "a" gives the seal that is stated; the values and
// signs follow from the formulas beside Encode.
func TestCodeByHand(t *testing.T) {
	s := Slip{Estimate: "a", Sizes: []int{3, 4, 3}}
	seal := s.Seal()
	// 2 + 3·(3 + 4·1) = 23 = 4 + 19·1: J F C, check 2·4 + 3·1 + 7·2 = 25 = 6 mod 19: M
	if got := group(2, 23); got != "JFCM" {
		t.Errorf("group 2 of 23: %s", got)
	}
	// 6856 = 16 + 19·18 + 361·18: 4 9 9, check 2·16 + 3·18 + 5·18 + 7 = 183 = 12 mod 19: W
	if got := group(1, 6856); got != "499W" {
		t.Errorf("group 1 of 6856: %s", got)
	}
	code, err := s.Encode([]int{2, 3, 1})
	if err != nil {
		t.Fatal(err)
	}
	want := group(1, seal.Mark) + "-JFCM-" + group(3, (seal.Start*seal.Factor+24)%6857)
	if code != want {
		t.Errorf("%s, want %s", code, want)
	}
}

func TestEncodeRefuses(t *testing.T) {
	for _, c := range []struct {
		sizes, ticks []int
		say          string
	}{
		{[]int{3, 3}, []int{1}, "1 ticks for 2 questions"},
		{[]int{3}, []int{3}, "question 1 has no answer 3"},
		{[]int{3}, []int{-1}, "question 1 has no answer -1"},
		{[]int{6858}, []int{0}, "question 1 has 6858 answers"},
		{[]int{0}, []int{0}, "question 1 has 0 answers"},
	} {
		if _, err := (Slip{"a", c.sizes}).Encode(c.ticks); err == nil || !strings.Contains(err.Error(), c.say) {
			t.Errorf("%v of %v: %v, want %q", c.ticks, c.sizes, err, c.say)
		}
	}
}

func TestDecodeSays(t *testing.T) {
	s := Slip{"a", []int{3, 4, 3}}
	code, _ := s.Encode([]int{2, 3, 1})
	first, last := code[:4], code[10:]
	for _, c := range []struct{ code, say string }{
		{"", "too short"},
		{first, "too short"},
		{first + "-JFCM", "too short"},
		{first + "-JFCK-" + last, "group 2, JFCK: mistyped or misheard"},
		{first + "-JFOM-" + last, "group 2, JFOM: O is in no code"},
		{first + "-JFC-" + last, "group 2, JFC: 3 signs; want 4"},
		{first + "-JFCMM-" + last, "group 2, JFCMM: 5 signs; want 4"},
		{strings.ReplaceAll(code, "-", "")[:11], "group 3, "},
		{first + "-" + group(2, 24) + "-" + last, "the last group does not fit"},
		{first + "-JFCM-" + group(3, 7) + "-" + group(4, 7), "the code has 4 groups; a code of this estimate has 3"},
		{first + "-" + group(2, 36) + "-" + group(3, s.Seal().of([]int{36})), "nobody can have ticked"}, // 3·4·3 = 36 answers, 0 to 35
	} {
		if got, err := s.Decode(c.code); err == nil || !strings.Contains(err.Error(), c.say) {
			t.Errorf("%s: %v %v, want %q", c.code, got, err, c.say)
		}
	}
	for _, same := range []string{code, strings.ToLower(code), strings.ReplaceAll(code, "-", ""), "  " + strings.ReplaceAll(code, "-", " ") + " ", strings.ReplaceAll(code, "-", ". ") + "."} {
		if got, err := s.Decode(same); err != nil || !slices.Equal(got, []int{2, 3, 1}) {
			t.Errorf("%q: %v %v", same, got, err)
		}
	}
	if _, err := (Slip{"b", s.Sizes}).Decode(code); !errors.Is(err, ErrOtherEstimate) {
		t.Errorf("of another estimate: %v", err)
	}
}

// slips are random slips and ticks.
func slips(n int, visit func(s Slip, ticks []int, code string)) {
	rnd := rand.New(rand.NewPCG(7, 19))
	for i := range n {
		s := Slip{Estimate: string(rune('a'+i%26)) + string(rune('A'+i/26%26))}
		var ticks []int
		for range 1 + rnd.IntN(12) {
			size := 2 + rnd.IntN(5)
			if rnd.IntN(20) == 0 {
				size = 2 + rnd.IntN(TicksMost-1)
			}
			s.Sizes, ticks = append(s.Sizes, size), append(ticks, rnd.IntN(size))
		}
		code, err := s.Encode(ticks)
		if err != nil {
			panic(err)
		}
		visit(s, ticks, code)
	}
}

// Every code reads back; every other sign in any place, and every swap of two
// neighbors that differ, across groups too, is refused with the group named.
func TestEveryChangeOfACodeIsRefused(t *testing.T) {
	tried := 0
	slips(150, func(s Slip, ticks []int, code string) {
		if got, err := s.Decode(code); err != nil || !slices.Equal(got, ticks) {
			t.Fatalf("%s: %v %v, want %v", code, got, err, ticks)
		}
		plain := []byte(strings.ReplaceAll(code, "-", ""))
		refused := func(what string) {
			tried++
			if got, err := s.Decode(string(plain)); err == nil || !strings.HasPrefix(err.Error(), "group ") {
				t.Fatalf("%s: %s of %s: %v %v", plain, what, code, got, err)
			}
		}
		for i, was := range plain {
			for _, sign := range []byte(CodeMarks) {
				if plain[i] = sign; sign != was {
					refused("one sign")
				}
			}
			plain[i] = was
			if i+1 < len(plain) && plain[i+1] != was {
				plain[i], plain[i+1] = plain[i+1], was
				refused("a swap")
				plain[i], plain[i+1] = was, plain[i]
			}
		}
	})
	if tried < 20_000 {
		t.Errorf("only %d changes tried", tried)
	}
}

// Whole groups in another order, a group twice, a group of another code of the
// same estimate: refused.
func TestOtherGroupsAreRefused(t *testing.T) {
	slips(300, func(s Slip, ticks []int, code string) {
		words := strings.Split(code, "-")
		for i := range len(words) - 1 {
			if words[i] == words[i+1] {
				continue
			}
			swapped := slices.Clone(words)
			swapped[i], swapped[i+1] = words[i+1], words[i]
			if got, err := s.Decode(strings.Join(swapped, "-")); err == nil {
				t.Errorf("%s reads as %v with groups %d and %d swapped", code, got, i+1, i+2)
			}
		}
		other := slices.Clone(ticks)
		other[0] = (other[0] + 1) % s.Sizes[0]
		next, _ := s.Encode(other)
		mixed := slices.Clone(words)
		mixed[1] = strings.Split(next, "-")[1]
		if got, err := s.Decode(strings.Join(mixed, "-")); err == nil {
			t.Errorf("%s with a group of %s reads as %v", code, next, got)
		}
	})
}

// Of codes of other estimates none is read. That the seals are alike has a
// chance of one in 47 million a pair.
func TestCodesOfOtherEstimatesAreRefused(t *testing.T) {
	s := Slip{"this", []int{4, 4, 4}}
	for i := range 5000 {
		other := Slip{"that " + string(rune(i)), s.Sizes}
		code, _ := other.Encode([]int{i % 4, i / 4 % 4, i / 16 % 4})
		if got, err := s.Decode(code); err == nil {
			t.Errorf("%s of %q reads as %v", code, other.Estimate, got)
		}
	}
}

// Whatever is typed, what is read writes the same code again.
func FuzzDecodeTicks(f *testing.F) {
	s := Slip{"fuzz", []int{3, 4, 3, 60, 5, 7000 - 200, 2}}
	code, _ := s.Encode([]int{2, 3, 1, 59, 0, 6799, 1})
	f.Add(code)
	f.Add("CCCC-CCCC-CCCC")
	f.Add("é–—. ﬁ\x00\xff")
	f.Add("")
	f.Fuzz(func(t *testing.T, text string) {
		ticks, err := s.Decode(text)
		if err != nil {
			return
		}
		again, err := s.Encode(ticks)
		if err != nil {
			t.Fatalf("%q reads as %v, which cannot be written: %v", text, ticks, err)
		}
		if got, err := s.Decode(again); err != nil || !slices.Equal(got, ticks) {
			t.Errorf("%q: %v, again %v %v", text, ticks, got, err)
		}
	})
}
