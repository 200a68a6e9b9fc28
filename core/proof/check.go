package proof

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
)

// A Tally says what a checked certificate holds.
type Tally struct {
	Verdicts, Figures, States int
}

// Check works a certificate again from its stated facts.
//
// The error says which verdict and step, what was read and what the checker
// gets; it is nil only where everything agrees.
func Check(data []byte) (Tally, error) {
	c, err := open(data)
	if err != nil {
		return Tally{}, err
	}
	k := checker{c: c, facts: map[string]string{}, states: map[string]*solved{}}
	if err := k.head(); err != nil {
		return Tally{}, err
	}
	for i := range c.Circuits {
		if err := k.circuit(&c.Circuits[i]); err != nil {
			return Tally{}, err
		}
	}
	for i := range c.Verdicts {
		if err := k.verdict(&c.Verdicts[i]); err != nil {
			return Tally{}, fmt.Errorf("verdict %d, %s: %w", i+1, c.Verdicts[i].said(), err)
		}
	}
	k.tally.Verdicts = len(c.Verdicts)
	return k.tally, nil
}

type checker struct {
	c      *Certificate
	facts  map[string]string
	states map[string]*solved
	tally  Tally
}

// open reads a file and holds it against its one spelling and its hash.
func open(data []byte) (*Certificate, error) {
	var f File
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&f); err != nil {
		return nil, fmt.Errorf("not a certificate: %w", err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("not a certificate: more follows after its end")
	}
	if f.Certificate.Format != Format {
		return nil, fmt.Errorf("format: read %d, this program checks %d", f.Certificate.Format, Format)
	}
	body, err := spell(f.Certificate)
	if err != nil {
		return nil, err
	}
	if want, err := spell(f); err != nil || !bytes.Equal(append(want, '\n'), data) {
		return nil, errors.New("not in the one spelling of a certificate: something was added, moved or written otherwise")
	}
	sum := sha256.Sum256(body)
	if got := hex.EncodeToString(sum[:]); got != f.Hash {
		return nil, fmt.Errorf("hash: read %s, got %s: the file was changed", f.Hash, got)
	}
	return &f.Certificate, nil
}

// head holds the owner's supply against itself.
func (k *checker) head() error {
	m := k.c.Mains
	for _, x := range []struct{ what, text string }{{"mains, upper end", m.High}, {"mains, lower end", m.Low}, {"mains, measured", m.Measured},
		{"mains, marked", m.Marked}, {"mains of the chart", k.c.Chart}, {"reserve", k.c.Reserve}} {
		if _, _, err := number(x.text); x.text != "" && err != nil {
			return fmt.Errorf("%s: %w", x.what, err)
		}
	}
	low, _, err1 := number(m.Low)
	high, _, err2 := number(m.High)
	if err1 == nil && err2 == nil && low.lo > high.hi {
		return fmt.Errorf("mains: the range %s to %s is upside down", m.Low, m.High)
	}
	return nil
}

func (k *checker) verdict(v *Verdict) error {
	s, err := v.sides()
	if err != nil {
		return fmt.Errorf("limit: %w", err)
	}
	h, err := k.figure(v)
	if err != nil {
		return err
	}
	if err := v.place(k.c); err != nil {
		return err
	}
	if err := v.margins(h, s); err != nil {
		return err
	}
	if err := v.reserves(k.c, h); err != nil {
		return err
	}
	if got := v.kindOf(h, s); got != v.Kind {
		return fmt.Errorf("kind: read %q, got %q", v.Kind, got)
	}
	return nil
}

// figure works the chain of a verdict; nil where it states no figure, and
// then it must say why.
func (k *checker) figure(v *Verdict) (*held, error) {
	if v.Bears == nil {
		if v.Tier != 0 || v.Low != "" || v.High != "" || v.Without != "" || v.Wanted != "" || v.Missing+v.Ended == "" {
			return nil, errors.New("a figure without a chain, or neither a figure nor a reason")
		}
		return nil, nil
	}
	if v.Missing+v.Ended != "" {
		return nil, errors.New("a chain, and a reason why there is no figure")
	}
	w := working{mains: v.Mains, tap: v.Tap, found: k.c.Tap, facts: k.facts, states: k.states, subject: v.Subject, quantity: v.Quantity, scenario: v.Scenario}
	h, err := w.step(v.Bears)
	if err != nil {
		return nil, err
	}
	if v.Bears.Rule == "" && v.Mains == "" {
		h.blind = false // as marked: no meter was there
	} else if !h.band {
		return nil, errors.New("the chain does not lead to a band")
	}
	if !h.low.known() || !h.high.known() || h.low.lo > h.high.hi+touch*math.Abs(h.high.hi) {
		return nil, errors.New("the chain does not lead to a band")
	}
	if v.Tier != w.tier {
		return nil, fmt.Errorf("tier: read %d, got %d", v.Tier, w.tier)
	}
	if v.Bears.Unit != v.Unit {
		return nil, fmt.Errorf("unit: read %q, got %q", v.Unit, v.Bears.Unit)
	}
	k.tally.Figures++
	return &h, v.ends(&h)
}

// ends holds the stated ends of the band against those got.
func (v *Verdict) ends(h *held) error {
	for _, x := range []struct {
		what, text string
		got        span
	}{{"low", v.Low, h.low}, {"high", v.High, h.high}, {"without", v.Without, h.was}} {
		if x.what == "without" && x.text == "" {
			continue
		}
		if err := states(x.text, x.got); err != nil {
			return fmt.Errorf("%s: %w", x.what, err)
		}
	}
	if moved := h.high.lo > h.was.hi*(1+1e-12); moved && !v.Fitted && v.Without == "" || (v.Without == "") != (v.Cause == "") {
		return errors.New("without: what moved the figure, and from where, go together")
	}
	return nil
}

// reserves holds the wanted rating against the shop's reserve.
func (v *Verdict) reserves(c *Certificate, h *held) error {
	if v.Reserve != "" && v.Reserve != c.Reserve {
		return fmt.Errorf("reserve: read %s, the shop's is %s", v.Reserve, c.Reserve)
	}
	if (v.Reserve != "" && h != nil) != (v.Wanted != "") {
		return errors.New("wanted: a rating is wanted where there is a reserve and a figure")
	}
	if v.Wanted == "" {
		return nil
	}
	if err := states(v.Wanted, v.wanted(h)); err != nil {
		return fmt.Errorf("wanted: %w", err)
	}
	return nil
}

// String says it in words.
func (t Tally) String() string {
	return fmt.Sprintf("%d verdicts, %d of them with a figure, %d states of the circuit", t.Verdicts, t.Figures, t.States)
}
