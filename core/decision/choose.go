package decision

import (
	"fmt"
	"slices"

	"lugworth/core/shop"
)

// Check says what is wrong with the model, so that nothing is chosen from one
// that cannot be read: a finding without a name, in no pile or with no option,
// an option without an ID, two of one ID, a need nobody offers, no pricing
// function.
func (m Model) Check() error {
	if m.Price == nil {
		return fmt.Errorf("decisions: no pricing function")
	}
	seen := map[string]string{}
	for _, d := range m.Decisions {
		if d.Pile != shop.Must && d.Pile != shop.Should && d.Pile != shop.Could {
			return fmt.Errorf("decision %s: pile %q; want must, should or could", d.Finding, d.Pile)
		}
		if d.Finding == "" {
			return fmt.Errorf("a decision names no finding")
		}
		if len(d.Options) == 0 {
			return fmt.Errorf("decision %s: no options", d.Finding)
		}
		for _, o := range d.Options {
			if o.ID == "" {
				return fmt.Errorf("decision %s: an option without an ID", d.Finding)
			}
			if other, taken := seen[o.ID]; taken {
				return fmt.Errorf("decision %s: option %s stands in %s as well", d.Finding, o.ID, other)
			}
			seen[o.ID] = d.Finding
		}
	}
	return m.checkNeeds(seen)
}

func (m Model) checkNeeds(known map[string]string) error {
	for _, d := range m.Decisions {
		for _, o := range d.Options {
			for _, need := range o.Needs {
				if known[need] == "" {
					return fmt.Errorf("decision %s: option %s needs %q, which is not an option of this job", d.Finding, o.ID, need)
				}
			}
		}
	}
	return nil
}

// Pile returns the decisions of one pile, in the order of the model.
func (m Model) Pile(p shop.Pile) []Decision {
	var of []Decision
	for _, d := range m.Decisions {
		if d.Pile == p {
			of = append(of, d)
		}
	}
	return of
}

// mostBeside is the most undecided options of one finding that may stand
// beside each other, each taken or not, 2^16 ways.
const mostBeside = 16

// besides counts the undecided options of a finding that are marked Both.
func besides(d Decision) int {
	n := 0
	for _, o := range d.Options {
		if o.Answer == Undecided && o.Both {
			n++
		}
	}
	return n
}

// ways returns every allowed choice of one finding's options, as indexes in
// the finding's order; the empty way is a no. Answers given stand. A must has
// no empty way unless the owner declined all its options.
func ways(d Decision) [][]int {
	alone := []int{-1} // of those that exclude each other: none, or one
	var beside []int
	declined := true
	for i, o := range d.Options {
		switch {
		case o.Answer == Undecided && o.Both:
			beside = append(beside, i)
		case o.Answer == Undecided:
			alone = append(alone, i)
		}
		declined = declined && o.Answer != Undecided
	}
	var all [][]int
	for _, one := range alone {
		for pick := range uint64(1) << min(len(beside), mostBeside) {
			w, ok := way(d, one, pick)
			if ok && (d.Pile != shop.Must || len(w) > 0 || declined) {
				all = append(all, w)
			}
		}
	}
	return all
}

// way takes what was answered with a yes, one more option, and of those that
// may stand beside others the ones whose bit is set. It is not allowed where
// two then exclude each other.
func way(d Decision, one int, pick uint64) (w []int, ok bool) {
	alone, bit := 0, 0
	for i, o := range d.Options {
		take := o.Answer == Yes || i == one
		if o.Answer == Undecided && o.Both {
			take = pick>>bit&1 == 1
			bit++
		}
		if take {
			w = append(w, i)
			if !o.Both {
				alone++
			}
		}
	}
	return w, alone <= 1
}

// value adds the technician's weights of the accepted options.
func (m Model) value(accept []string) int {
	sum, in := 0, setOf(accept)
	for _, d := range m.Decisions {
		for i := range d.Options {
			if o := &d.Options[i]; o.Value != 0 && in[o.ID] {
				sum += o.Value
			}
		}
	}
	return sum
}

func setOf(ids []string) map[string]bool {
	in := make(map[string]bool, len(ids))
	for _, id := range ids {
		in[id] = true
	}
	return in
}

// needy returns the options that rest on others, in the order of the model.
func (m Model) needy() []Option {
	var out []Option
	for _, d := range m.Decisions {
		for _, o := range d.Options {
			if len(o.Needs) > 0 {
				out = append(out, o)
			}
		}
	}
	return out
}

// lacking names every accepted option whose needs are not accepted.
func lacking(needy []Option, accept []string) []string {
	var said []string
	for _, o := range needy {
		if !slices.Contains(accept, o.ID) {
			continue
		}
		for _, need := range o.Needs {
			if !slices.Contains(accept, need) {
				said = append(said, o.ID+" needs "+need)
			}
		}
	}
	return said
}

// Order returns the accepted IDs in the order of the model, each once. An ID
// the model does not know, or two options that exclude each other, is an
// error.
func (m Model) Order(accept []string) ([]string, error) {
	ordered, in := make([]string, 0, len(accept)), setOf(accept)
	for _, d := range m.Decisions {
		alone := ""
		for i := range d.Options {
			o := &d.Options[i]
			if !in[o.ID] {
				continue
			}
			if alone != "" && !o.Both {
				return nil, fmt.Errorf("finding %s: options %s and %s exclude each other", d.Finding, alone, o.ID)
			}
			if !o.Both {
				alone = o.ID
			}
			ordered = append(ordered, o.ID)
		}
	}
	for _, id := range accept {
		if len(ordered) < len(in) && !slices.Contains(ordered, id) {
			return nil, fmt.Errorf("choice: no option %q in this job", id)
		}
	}
	return ordered, nil
}
