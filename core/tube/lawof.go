package tube

import (
	"maps"
	"slices"

	"lugworth/core/limit"
)

// Fitted returns the law fitted to the published points of a shipped card,
// or, for a rectifier, the law its published drop gives; of a silicon one the
// program's own constant. Aliases answer too.
func Fitted(typeNumber string) (Law, bool) {
	if l, ok := silicon(typeNumber); ok {
		return l, true
	}
	f, ok := FittingOf(typeNumber)
	return f.Law, ok
}

// FittingOf returns the fit of a type with the points behind it.
func FittingOf(typeNumber string) (Fitting, bool) {
	want := Key(typeNumber)
	if want == "" {
		return Fitting{}, false
	}
	for i := range fitted {
		if fitted[i].keys[0] == want {
			return fitted[i].Fitting, true
		}
	}
	for i := range fitted {
		if slices.Contains(fitted[i].keys, want) {
			return fitted[i].Fitting, true
		}
	}
	return Fitting{}, false
}

// fittedType is one entry of the generated table.
type fittedType struct {
	keys []string // type and aliases, as Key writes them
	Fitting
}

// LawOf returns the law of a type: the constants its card states, else the
// shipped fit. have says whether there is a card at all. doubt says why
// nothing better than not proven may rest on the law. It is not ok where
// neither states one.
func LawOf(card Card, have bool, typeNumber string) (law Law, doubt string, ok bool) {
	if have {
		if law, doubt, ok = stated(card); ok {
			return law, doubt, true
		}
	}
	law, ok = Fitted(typeNumber)
	switch {
	case ok && law.FromMemory:
		doubt = "every published figure behind the current law of " + law.Type + " is from memory"
	case ok && !law.screenKnown():
		doubt = "no screen current of " + law.Type + " is on its card: how plate and screen share the current is taken from like tubes"
	}
	return law, doubt, ok
}

// screenKnown reports whether the share of the screen rests on a point.
func (l *Law) screenKnown() bool {
	if l.Kind != Pentode && l.Kind != Beam {
		return true
	}
	f, _ := FittingOf(l.Type)
	return slices.ContainsFunc(f.Points, func(p FitPoint) bool { return p.HasScreen })
}

// stated reads the law a card states. All constants of its kind must be
// there; a part of them is no law.
func stated(card Card) (Law, string, bool) {
	l := Law{Type: card.Type, Kind: card.Kind}
	var names []string
	var into []*float64
	switch card.Kind {
	case Triode:
		names, into = []string{"P", "mu", "k", "gamma", "phi"}, []*float64{&l.P, &l.Mu, &l.K, &l.Gamma, &l.Phi}
	case Pentode, Beam:
		names = []string{"P", "mu", "k", "gamma", "phi", "d", "A", "m"}
		into = []*float64{&l.P, &l.Mu, &l.K, &l.Gamma, &l.Phi, &l.D, &l.A, &l.M}
	case Rectifier:
		names, into = []string{"Pv"}, []*float64{&l.Pv}
	case Diode:
		names, into = []string{"Vf"}, []*float64{&l.Vf}
	default:
		return l, "", false
	}
	memory := false
	for i, n := range names {
		v, has := card.Value("law." + n)
		if !has || !v.Number {
			return l, "", false
		}
		*into[i] = v.Amount
		memory = memory || v.Mark == limit.Memory
	}
	if !l.sound() {
		return l, "", false
	}
	l.FromMemory = memory
	if memory {
		return l, "the current law on the card of " + card.Type + " is from memory", true
	}
	return l, "", true
}

// sound reports whether the constants make a law: those that must be above
// nothing are.
func (l *Law) sound() bool {
	switch l.Kind {
	case Rectifier:
		return l.Pv > 0
	case Diode:
		return l.Vf >= 0
	case Triode:
		return l.P > 0 && l.Mu > 0 && l.K > 0 && l.Gamma >= 1
	}
	return l.P > 0 && l.Mu > 0 && l.K > 0 && l.Gamma >= 1 && l.D >= 0 && l.A > 0
}

// sameElectrodes lists types whose current law is that of another card though
// their limits are their own: later or earlier versions of one tube. Common
// practice, no source.
var sameElectrodes = map[string][]string{
	"12AU7A":  {"12AU7"},
	"12AX7":   {"7025"},
	"6SN7GTB": {"6SN7GT", "6SN7", "6SN7GTA"},
	"6V6GT":   {"6V6", "6V6GTA"},
	"6L6GC":   {"6L6", "6L6G", "6L6GB"},
	"5Y3GT":   {"5Y3", "5Y3G"},
}

// electrodesOf is the card whose law a type without points of its own has.
func electrodesOf(typeNumber string) string {
	for _, owner := range slices.Sorted(maps.Keys(sameElectrodes)) {
		if slices.Contains(sameElectrodes[owner], typeNumber) {
			return owner
		}
	}
	return ""
}

// FitCards fits every shipped card that has points, and takes over the law a
// rectifier's published drop gives. Types without enough published figures
// are listed with the reason.
func FitCards(cards []Card) (fits []Fitting, keys [][]string, lacking []string, errs []error) {
	for _, c := range cards {
		var f Fitting
		var err error
		if c.Kind == Rectifier || c.Kind == Diode {
			var ok bool
			if f.Law, _, ok = stated(c); !ok {
				lacking = append(lacking, c.Type+": no drop is published that a three-halves law may be made of")
				continue
			}
		} else if f, err = Fit(c); len(f.Points) == 0 {
			why := err.Error()
			if owner := electrodesOf(c.Type); owner != "" {
				why += "; the law of " + owner + " is taken"
			}
			lacking = append(lacking, why)
			continue
		}
		if err != nil {
			errs = append(errs, err)
			continue
		}
		names := []string{Key(c.Type)}
		for _, a := range sameElectrodes[c.Type] {
			names = append(names, Key(a))
		}
		for _, a := range c.Aliases {
			names = append(names, Key(a))
		}
		fits, keys = append(fits, f), append(keys, names)
	}
	return fits, keys, lacking, errs
}
