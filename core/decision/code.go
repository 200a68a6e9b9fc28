package decision

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"strings"
)

// CodeMarks are the 19 signs of a code of ticks. None is read as another by
// eye (0 O, 1 I L, 2 Z, 5 S, 6 G, 8 B, U V), M stands without N and T without
// D for the ear, and there is no vowel, so that no word appears. Nineteen is a
// prime: that is what lets one check sign find every single change.
const CodeMarks = "CFGHJKMPQRTVWXY3479"

// TicksMost is the most answers one question may have, and the largest value
// of a group less one: a prime below 19³ = 6859.
const TicksMost = 6857

// codeWeights of the three signs before the check sign. The check sign's own is −1:
// no two are alike, so that a swap of neighbors shows as well.
var codeWeights = [3]int{2, 3, 5}

// ErrOtherEstimate: a code is whole, and of another estimate.
var ErrOtherEstimate = errors.New("the code is of another estimate")

// A Slip is what an owner was asked, as far as a code of the answers needs to
// know: the digest of the estimate, and how many answers each question has.
type Slip struct {
	Estimate string
	Sizes    []int
}

// A Seal is what a code of a slip's answers is sealed with, worked out from
// the estimate's digest: the first group's value, and factor and start of the
// sum that makes the last one.
type Seal struct{ Mark, Factor, Start int }

// Seal returns the seal of a slip. It is no secret: it tells a code that was
// misheard, or is of another estimate, not one that somebody forged.
func (s Slip) Seal() Seal {
	sum := sha256.Sum256([]byte("ticks\n" + s.Estimate))
	part := func(i int) int { return int(binary.BigEndian.Uint32(sum[4*i:])) }
	return Seal{Mark: part(0) % TicksMost, Factor: 2 + part(1)%(TicksMost-2), Start: part(2) % TicksMost}
}

// Encode writes ticks, one of each question, as a code in groups of four: the
// estimate's mark, as many groups as the ticks take, the seal.
//
//	groups of ticks: answers packed lowest first, value = t1 + size1·(t2 + size2·…) < 6857
//	seal:            h = start; for each value h = (h·factor + value + 1) mod 6857
//	a group:         value = a + 19·b + 361·c, check d = (2a + 3b + 5c + 7·number of the group) mod 19
//
// Errors: another number of ticks than of questions, one that is no answer, a
// question of more than TicksMost answers.
func (s Slip) Encode(ticks []int) (string, error) {
	values, err := s.pack(ticks)
	if err != nil {
		return "", err
	}
	seal := s.Seal()
	values = append(append([]int{seal.Mark}, values...), seal.of(values))
	groups := make([]string, len(values))
	for i, v := range values {
		groups[i] = group(i+1, v)
	}
	return strings.Join(groups, "-"), nil
}

// of seals values.
func (s Seal) of(values []int) int {
	h := s.Start
	for _, v := range values {
		h = (h*s.Factor + v + 1) % TicksMost
	}
	return h
}

// pack puts as many ticks into one value as have room.
func (s Slip) pack(ticks []int) ([]int, error) {
	if len(ticks) != len(s.Sizes) {
		return nil, fmt.Errorf("code of ticks: %d ticks for %d questions", len(ticks), len(s.Sizes))
	}
	var values []int
	value, room := 0, 1
	for i, size := range s.Sizes {
		if size < 1 || size > TicksMost {
			return nil, fmt.Errorf("code of ticks: question %d has %d answers; want 1 to %d", i+1, size, TicksMost)
		}
		if ticks[i] < 0 || ticks[i] >= size {
			return nil, fmt.Errorf("code of ticks: question %d has no answer %d", i+1, ticks[i])
		}
		if room*size > TicksMost {
			values = append(values, value)
			value, room = 0, 1
		}
		value += ticks[i] * room
		room *= size
	}
	return append(values, value), nil
}

// unpack takes values apart again. It fails where one says what no ticks say.
func (s Slip) unpack(values []int) (ticks []int, ok bool) {
	at, room := 0, 1
	for _, size := range s.Sizes {
		if room*size > TicksMost {
			if at+1 >= len(values) || values[at] != 0 {
				return nil, false
			}
			at, room = at+1, 1
		}
		ticks = append(ticks, values[at]%size)
		values[at] /= size
		room *= size
	}
	return ticks, at == len(values)-1 && values[at] == 0
}

func group(number, value int) string {
	var signs [4]byte
	check := 7 * number
	for i, w := range codeWeights {
		digit := value % len(CodeMarks)
		value /= len(CodeMarks)
		check += w * digit
		signs[i] = CodeMarks[digit]
	}
	signs[3] = CodeMarks[check%len(CodeMarks)]
	return string(signs[:])
}

// Decode reads ticks back from a code. Case, blanks, dashes and dots do not
// matter.
//
// Errors, which name the group where one is known to be wrong: a sign that is
// in no code, a group that is too short or too long, one whose check sign does
// not fit it, groups missing, another seal. ErrOtherEstimate for a code that
// is whole and of another estimate. Every change of one sign and every swap of
// two neighbors is found by a group's check sign.
func (s Slip) Decode(code string) ([]int, error) {
	values, err := readGroups(code)
	if err != nil {
		return nil, err
	}
	seal := s.Seal()
	if values[0] != seal.Mark {
		return nil, ErrOtherEstimate
	}
	if want := s.groups(); len(values) != want {
		return nil, fmt.Errorf("the code has %d groups; a code of this estimate has %d", len(values), want)
	}
	last := len(values) - 1
	inner := values[1:last]
	if seal.of(inner) != values[last] {
		return nil, errors.New("the last group does not fit the others: one of the groups is not the one that was given")
	}
	ticks, ok := s.unpack(inner)
	if !ok {
		return nil, errors.New("the code says what nobody can have ticked")
	}
	return ticks, nil
}

// groups is how many groups a code of the slip has.
func (s Slip) groups() int {
	values, err := s.pack(make([]int, len(s.Sizes)))
	if err != nil {
		return 0
	}
	return len(values) + 2
}

// readGroups reads the groups of a code, each held against its check sign.
func readGroups(code string) ([]int, error) {
	words := strings.FieldsFunc(strings.ToUpper(code), func(r rune) bool { return strings.ContainsRune(" -–—.,\t\n\r\u00a0", r) })
	if len(words) == 1 { // written without a break
		words = fours(words[0])
	}
	if len(words) < 3 {
		return nil, fmt.Errorf("%q is too short for a code: want at least three groups of four signs", strings.TrimSpace(code))
	}
	var values []int
	for i, w := range words {
		v, err := readGroup(i+1, w)
		if err != nil {
			return nil, err
		}
		values = append(values, v)
	}
	return values, nil
}

func fours(s string) []string {
	var out []string
	signs := []rune(s)
	for len(signs) > 4 {
		out, signs = append(out, string(signs[:4])), signs[4:]
	}
	return append(out, string(signs))
}

func readGroup(number int, word string) (int, error) {
	signs := []rune(word)
	value, check, place := 0, 7*number, 1
	for i, r := range signs {
		digit := strings.IndexRune(CodeMarks, r)
		switch {
		case digit < 0:
			return 0, fmt.Errorf("group %d, %s: %c is in no code; the signs are %s", number, word, r, CodeMarks)
		case i < len(codeWeights):
			value += digit * place
			check += codeWeights[i] * digit
			place *= len(CodeMarks)
		}
	}
	if len(signs) != 4 {
		return 0, fmt.Errorf("group %d, %s: %d signs; want 4", number, word, len(signs))
	}
	if CodeMarks[check%len(CodeMarks)] != word[3] {
		return 0, fmt.Errorf("group %d, %s: mistyped or misheard", number, word)
	}
	return value, nil
}
