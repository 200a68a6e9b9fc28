package job

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"slices"

	"lugworth/core/decision"
	"lugworth/core/shop"
)

// Asked is one finding as it was put to the owner on a page to tick: its ways
// that exclude each other, and those that may stand beside another.
type Asked struct {
	Finding string   `json:"finding"`
	Ways    []string `json:"ways,omitempty"`
	Beside  []string `json:"beside,omitempty"`
}

func (a Asked) equal(b Asked) bool {
	return a.Finding == b.Finding && slices.Equal(a.Ways, b.Ways) && slices.Equal(a.Beside, b.Beside)
}

// choices is how many choices a finding has, none taken among them. One that
// would have more than a code can say has 0.
func (a Asked) choices() int {
	if len(a.Ways) > decision.TicksMost || len(a.Beside) > 12 {
		return 0
	}
	n := (len(a.Ways) + 1) << len(a.Beside)
	if n >= decision.TicksMost {
		return 0
	}
	return n
}

// taken returns the ways of the k-th choice; 0 takes none.
func (a Asked) taken(k int) []string {
	var out []string
	if one := k % (len(a.Ways) + 1); one > 0 {
		out = append(out, a.Ways[one-1])
	}
	bits := k / (len(a.Ways) + 1)
	for i, id := range a.Beside {
		if bits>>i&1 == 1 {
			out = append(out, id)
		}
	}
	return out
}

// choice is the number of a choice, the reverse of taken.
func (a Asked) choice(accept []string) int {
	k := 0
	for i, id := range a.Ways {
		if slices.Contains(accept, id) {
			k = i + 1
		}
	}
	for i, id := range a.Beside {
		if slices.Contains(accept, id) {
			k += (len(a.Ways) + 1) << i
		}
	}
	return k
}

// Asked lists what can be put to the owner now, musts first: each finding with
// its ways, those left out that are refused beside the choice in force.
func (r *Result) Asked() []Asked {
	var out []Asked
	for _, pile := range []shop.Pile{shop.Must, shop.Should, shop.Could} {
		for _, f := range r.Findings {
			if pileOf(f) != pile {
				continue
			}
			a := Asked{Finding: f.Finding.ID}
			for _, i := range f.Options {
				switch o := &r.Options[i]; {
				case o.Option.Chance > 0 || barred(o):
				case o.Option.Both:
					a.Beside = append(a.Beside, o.Option.ID)
				default:
					a.Ways = append(a.Ways, o.Option.ID)
				}
			}
			if len(a.Ways)+len(a.Beside) > 0 {
				out = append(out, a)
			}
		}
	}
	return out
}

// pileOf is the pile of a finding; one that nobody sorted is not declinable.
func pileOf(f FindingResult) shop.Pile {
	if f.Finding.Pile == "" {
		return shop.Must
	}
	return f.Finding.Pile
}

func barred(o *OptionResult) bool { return o.Refused != "" && !o.Accepted }

// SameAsked reports whether two pages ask the same.
func SameAsked(a, b []Asked) bool { return slices.EqualFunc(a, b, Asked.equal) }

// slip is what a code of the answers to a frozen estimate's page rests on.
func (f FrozenRecord) slip() decision.Slip {
	asked, _ := json.Marshal(f.Asked) // names alone: it cannot fail
	sum := sha256.Sum256([]byte(f.Estimate + "\n" + string(asked)))
	s := decision.Slip{Estimate: hex.EncodeToString(sum[:])}
	for _, a := range f.Asked {
		s.Sizes = append(s.Sizes, a.choices()+1)
	}
	return s
}

// Ticked is what a code of the owner says.
type Ticked struct {
	Frozen  FrozenRecord
	Later   bool // an estimate that was frozen later has a page of its own
	Answers []Answered
}

// Answered is what was ticked of one finding: ways, or none and a no, or none
// and still thought about.
type Answered struct {
	Finding string
	Accept  []string
	No      bool
}

// Accept lists the ways that were ticked.
func (t Ticked) Accept() []string {
	var out []string
	for _, a := range t.Answers {
		out = append(out, a.Accept...)
	}
	return out
}

// ReadTicks reads a code that the owner read out or wrote.
//
// Errors: no page was made for the owner; those of decision.Slip.Decode, with
// the group that is wrong; a code that is whole and of no estimate of this job.
func (j *Job) ReadTicks(code string) (Ticked, error) {
	later := false
	for _, f := range slices.Backward(j.Frozen) {
		if len(f.Asked) == 0 {
			continue
		}
		ticks, err := f.slip().Decode(code)
		if errors.Is(err, decision.ErrOtherEstimate) {
			later = true
			continue
		}
		if err != nil {
			return Ticked{}, err
		}
		t := Ticked{Frozen: f, Later: later}
		for i, tick := range ticks {
			a := Answered{Finding: f.Asked[i].Finding, No: tick == 1}
			if tick > 1 {
				a.Accept = f.Asked[i].taken(tick - 1)
			}
			t.Answers = append(t.Answers, a)
		}
		return t, nil
	}
	if !later {
		return Ticked{}, errors.New("no page was saved for the owner of this job to tick, so there is no code of it")
	}
	return Ticked{}, errors.New("the code is whole, but of no estimate of this job: it is of another one, or of another amp")
}

// Code writes ticks as the page of a frozen estimate does: of each finding it
// asks 0 still thought about, 1 no, k+1 its k-th choice.
//
// Errors: those of decision.Slip.Encode.
func (f FrozenRecord) Code(ticks []int) (string, error) { return f.slip().Encode(ticks) }
