package labor

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"lugworth/core/money"
	"lugworth/core/unit"
	"lugworth/core/why"
)

var (
	lineRule = &why.Rule{
		Name:    "labor line",
		Says:    "The expected hours times the rate, rounded once for the line.",
		Formula: "rate · (low + 4·most likely + high)/6",
		Source:  "three-point estimating, common practice, no source",
	}
	sumRule = &why.Rule{
		Name:    "labor",
		Says:    "The rounded lines added; shared set-up counts once.",
		Formula: "Σ lines",
		Source:  "common practice, no source",
	}
)

// Sum returns the labor of the accepted tasks. A task given twice, because two
// options share it, is counted once; a set-up is counted once if any of the
// tasks names it, and its line says which.
//
// Errors, all of them together: hours that fall or are negative, two
// different tasks or set-ups of one ID, a set-up nobody defined, a negative
// rate, a sum too large.
func Sum(tasks []Task, setUps []SetUp, rate Rate) (Estimate, error) {
	once, err := distinct(tasks, setUps)
	if rate.Hour.Sign() < 0 {
		err = errors.Join(err, fmt.Errorf("labor: the rate is %v an hour", rate.Hour))
	}
	if err != nil {
		return Estimate{}, err
	}
	lines, again, err := counted(once, setUps)
	if err != nil {
		return Estimate{}, fmt.Errorf("labor: %w", err)
	}
	lines = append(lines, taskLines(once)...)
	hour := why.Given("rate an hour", why.Text(rate.Hour.String()+" "+rate.Currency.Code), rate.Where)
	for i := range lines {
		if err := lines[i].price(rate, hour); err != nil {
			return Estimate{}, fmt.Errorf("labor of %s: %w", lines[i].ID, err)
		}
	}
	e, err := total(lines, rate)
	e.Again = again
	return e, err
}

// distinct returns each task once and every problem found on the way.
func distinct(tasks []Task, setUps []SetUp) ([]Task, error) {
	var problems []error
	known := map[string]bool{}
	for _, s := range setUps {
		if known[s.ID] {
			problems = append(problems, fmt.Errorf("set-up %s is defined twice", s.ID))
		}
		known[s.ID] = true
		problems = append(problems, named("set-up "+s.ID, s.Three.Check()))
	}
	var once []Task
	for _, t := range tasks {
		at := slices.IndexFunc(once, func(o Task) bool { return o.ID == t.ID })
		if at >= 0 {
			problems = append(problems, alike(once[at], t))
			continue
		}
		once = append(once, t)
		problems = append(problems, named("task "+t.ID, t.Three.Check()))
		for _, s := range t.SetUps {
			if !known[s] {
				problems = append(problems, fmt.Errorf("task %s needs set-up %q, which is not defined", t.ID, s))
			}
		}
	}
	return once, errors.Join(problems...)
}

func named(what string, err error) error {
	if err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	return nil
}

// alike refuses two different pieces of work under one ID.
func alike(a, b Task) error {
	same := a.Three.Low.Cmp(b.Three.Low) == 0 && a.Three.Mode.Cmp(b.Three.Mode) == 0 &&
		a.Three.High.Cmp(b.Three.High) == 0 && slices.Equal(a.SetUps, b.SetUps) && slices.Equal(a.In, b.In) && slices.Equal(a.After, b.After)
	if same {
		return nil
	}
	return fmt.Errorf("task %s is given twice with different hours or set-ups", a.ID)
}

// counted returns a line for each set-up some task needs, in the order given,
// and why a state is opened more than once.
func counted(tasks []Task, setUps []SetUp) (lines []Line, again string, err error) {
	opened, again, err := openings(tasks, setUps)
	if err != nil {
		return nil, "", err
	}
	for _, s := range setUps {
		l := Line{ID: s.ID, Say: s.Say, SetUp: true, Three: s.Three, Where: s.Where}
		if s.From != "" {
			l.Times, l.For = opened[s.ID].times, opened[s.ID].serves
			if l.Times > 1 {
				l.Say += fmt.Sprintf(" (%d times)", l.Times)
			}
			if l.Three, err = s.Three.times(l.Times); err != nil {
				return nil, "", fmt.Errorf("set-up %s: %w", s.ID, err)
			}
		} else {
			for _, t := range tasks {
				if slices.Contains(t.SetUps, s.ID) {
					l.For = append(l.For, t.ID)
				}
			}
		}
		if len(l.For) > 0 {
			lines = append(lines, l)
		}
	}
	return lines, again, nil
}

func taskLines(tasks []Task) []Line {
	var lines []Line
	for _, t := range tasks {
		lines = append(lines, Line{ID: t.ID, Finding: t.Finding, Say: t.Say, Three: t.Three, Where: t.Where})
	}
	return lines
}

func (l *Line) price(rate Rate, hour *why.Node) error {
	amount, err := l.Three.Cost(rate)
	if err != nil {
		return err
	}
	l.Amount = amount
	l.Hours, l.Spread = l.Three.Expected(), l.Three.Deviation()
	l.Why = why.Found(lineRule, l.ID+" "+l.Say, money.Sum{Amount: amount, Currency: rate.Currency},
		why.Given("least, most likely, most",
			why.Text(fmt.Sprintf("%v / %v / %v h", l.Three.Low, l.Three.Mode, l.Three.High)), l.Where), hour)
	return nil
}

func total(lines []Line, rate Rate) (Estimate, error) {
	e := Estimate{Lines: lines}
	var squares float64
	var from []*why.Node
	for _, l := range lines {
		sum, err := e.Amount.Plus(l.Amount)
		if err != nil {
			return Estimate{}, fmt.Errorf("labor total: %w", err)
		}
		e.Amount = sum
		e.Hours += l.Hours
		e.Linked += l.Spread
		squares += float64(l.Spread * l.Spread)
		from = append(from, l.Why)
	}
	e.Independent = unit.Hours(math.Sqrt(squares))
	e.Why = why.Found(sumRule, "labor", money.Sum{Amount: e.Amount, Currency: rate.Currency}, from...)
	return e, nil
}
