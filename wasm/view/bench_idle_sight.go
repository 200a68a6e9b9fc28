package view

import (
	"strings"

	"lugworth/core/limit"
	"lugworth/core/rating"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
)

// idle adds what is dialed: windows, how far tubes differ, where they stand,
// and, once asked for, the choices side by side.
func (s sight) idle(m app.Model) sight {
	if s.Missing != "" {
		return s
	}
	s.Windows = m.Windows()
	stands := m.Stands()
	s.Pairs = pairsOf(m.Work(), m.Outputs())
	s.Curves = curvesOf(m, stands)
	fs, done, all, asked := m.Fittings()
	s.Fitted, s.ToFit, s.FitAsked = done, all, asked
	for _, f := range fs {
		s.Choices = append(s.Choices, choiceOf(m, f, fs[0]))
	}
	return s
}

// curvesOf draws each output tube once; tubes that stand alike share one
// picture.
func curvesOf(m app.Model, stands []app.Stand) []draw.Curves {
	var out []draw.Curves
	var words []string
	for _, st := range stands {
		c := draw.Curves{Subject: strings.Join(m.For(st.Ref), ", ") + " " + st.Type, Volts: plateVolts(m, st.Type)}
		say := st.Type
		for _, p := range st.Points {
			if p.Watts.HasLimit && c.Watts == 0 {
				c.Watts = p.Watts.Limit.High
			}
			if p.Plate <= 0 {
				continue
			}
			d := draw.Idle{Say: volts(p.Mains) + " V " + p.Say, Volts: p.Plate, Amps: p.PlateAmps, Kind: kind(p.Watts.Kind)}
			if p.Watts.HasFigure {
				d.Low, d.High = p.Watts.Low/p.Plate, p.Watts.High/p.Plate
			}
			c.Points = append(c.Points, d)
			say += " " + unit.FormatAmount(d.Volts, unit.Volt, 0) + unit.FormatAmount(d.Amps, unit.Ampere, 1)
		}
		if i := indexOf(words, say); i >= 0 {
			ref, rest, _ := strings.Cut(out[i].Subject, " "+st.Type)
			out[i].Subject = ref + ", " + st.Ref + " " + st.Type + rest
			continue
		}
		c.Lines = linesOf(st)
		out, words = append(out, c), append(words, say)
	}
	return out
}

// plateVolts is what the plate of a type may bear to its cathode, the least of
// its limits, 0 where none is known.
func plateVolts(m app.Model, typ string) (least float64) {
	card, _ := m.Open.Books.Cards.Find(typ)
	for _, l := range card.LimitsOf(limit.PlateVolts) {
		if l.HasHigh && (least == 0 || l.High < least) {
			least = l.High
		}
	}
	return least
}

func indexOf(all []string, s string) int {
	for i := range all {
		if all[i] == s {
			return i
		}
	}
	return -1
}

// linesOf are the grid lines around where a tube stands at the highest mains.
func linesOf(st app.Stand) []draw.GridLine {
	if len(st.Points) == 0 {
		return nil
	}
	p := st.Points[len(st.Points)-1]
	if p.Plate <= 0 || p.Grid >= 0 {
		return nil
	}
	return gridLines(st.Law, st.Specimen, p.Screen, p.Grid, p.Plate*1.5)
}

// pairsOf says how far output tubes draw apart, two by two. Tubes whose
// currents were read together say nothing of each other.
func pairsOf(w *app.Work, outputs []string) []pairDiffers {
	var out []pairDiffers
	for _, x := range w.Calibration.Mismatches(outputs) {
		p := pairDiffers{Refs: x.A + " and " + x.B}
		if x.Read {
			p.Read = unit.FormatAmount(x.Amps, unit.Ampere, 1) + ", " + unit.FormatAmount(100*x.Part.Expected, unit.Percent, 1)
			p.Band = bandWords(unit.Interval{Low: 100 * x.Part.Low, Expected: 100 * x.Part.Expected, High: 100 * x.Part.High}, unit.Percent) + " with the error of both readings"
		}
		out = append(out, p)
	}
	return out
}

// choiceOf is one fitting as it is drawn. What is over and worse than now is
// so by the choice; what is over and no worse was so already.
func choiceOf(m app.Model, f, now app.Fitting) idleChoice {
	c := idleChoice{Key: f.Type, Name: f.Type, Type: f.Type, Now: f.Now}
	if f.Ref != "" {
		c.Key += "-" + f.Ref + "-" + unit.Short(f.Ohms, unit.Ohm)
		c.Name += " with " + f.Ref + " " + unit.FormatAmount(f.Ohms, unit.Ohm, -1)
	}
	if f.By != "" {
		c.Name += " (" + f.By + ")"
	}
	j := f.Plate
	c.Strip = draw.Strip{Subject: c.Name + ", plate watts", Unit: unit.Watt, Kind: kind(j.Kind)}
	if j.HasFigure {
		j.Low = max(j.Low, 0) // watts are not negative, whatever a cautious band says
		c.Strip.Low, c.Strip.Expected, c.Strip.Worst = j.Low, j.Expected, j.Worst
	}
	if j.HasLimit {
		c.Strip.Limit = j.Bound
	}
	c.Strip.Kind = kind(byChoice(j, f, now))
	c.Kind = c.Strip.Kind
	for _, r := range f.Rest {
		if v := byChoice(r, f, now); rating.Less(v, rating.Verdict(c.Kind)) {
			c.Kind = kind(v)
		}
	}
	c.Say = choiceSays(f, now)
	c.Dial = choiceDial(m, f)
	return c
}

// byChoice is the verdict on one figure of a fitting: over is made worse by it
// unless the amp as it stands is over the same limit by as much.
func byChoice(j rating.Judgment, f, now app.Fitting) rating.Verdict {
	if !j.Kind.Over() || f.Now {
		return j.Kind
	}
	for _, was := range append([]rating.Judgment{now.Plate}, now.Rest...) {
		if was.Quantity == j.Quantity && was.Kind.Over() && j.Worst <= was.Worst {
			return rating.OverInherited
		}
	}
	return rating.OverWorsened
}

// choiceSays is the plate's band, what keeps it from being better, and each
// further limit that is not surely kept.
func choiceSays(f, now app.Fitting) string {
	j := f.Plate
	j.Low = max(j.Low, 0)
	say := "Plate " + bandWords(j.Interval, unit.Watt) + " at " + volts(j.Mains) + " V"
	if !j.HasFigure {
		say = "No figure: " + j.Detail
	} else if !j.HasLimit {
		say += "; the card states no limit on it"
	} else if j.Because == rating.Doubtful {
		say += "; " + j.Detail
	} else if j.Because == rating.FromMemory {
		say += "; the limit is from memory"
	}
	seen := map[string]bool{}
	for _, r := range f.Rest {
		if q := string(r.Quantity); r.Kind != rating.Within && !seen[q] {
			seen[q] = true
			say += "; " + q + " " + kind(byChoice(r, f, now)).Word()
		}
	}
	return say + "."
}

// choiceDial is what a meter will show at the bench mains.
func choiceDial(m app.Model, f app.Fitting) string {
	b := f.Bench
	if b.Missing != "" || b.High <= 0 {
		return ""
	}
	if p, ok := m.Open.Job.Amp.Find(f.Ref); ok && p.Role == "cathode resistor" {
		n := f.Ohms * float64(f.Tubes)
		return bandWords(unit.Interval{Low: b.Low * n, Expected: b.Expected * n, High: b.High * n}, unit.Volt) + " across " + f.Ref
	}
	return bandWords(b.Interval, unit.Ampere) + " of cathode current"
}
