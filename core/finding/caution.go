package finding

import "lugworth/core/amp"

// Standing is the line every output carries.
const Standing = "All figures are an aid to a trained person, not proof that an amp may be touched or used. " +
	"Local code and licensed practice come first: mains wiring, grounding, isolation and tests after repair are done by those permitted to do them where the amp is worked on and used."

// Planned says what is planned and what is known of the amp. The zero value
// knows nothing, and so calls for every general caution: a fact leaves one
// out only by being stated.
type Planned struct {
	Closed      bool // the chassis stays closed
	Unpowered   bool // no power is applied
	NoMains     bool // nothing on the mains side is touched
	NoReadings  bool // nothing is measured with the power on
	Grounded    bool // the chassis was found grounded, and measured so
	Transformer bool // the amp has a mains transformer that isolates
	WarmFirst   bool // a slow-heating rectifier and no standby switch
	InUse       bool // the electrolytics were in use lately

	LineToChassis bool // a capacitor stands from mains to chassis
	Speaker       bool // the loudspeaker or baffle is handled
	Shipped       bool // the amp travels
	Tested        bool // tests after repair are made
	Limits        bool // limits of parts are judged
	Inherited     bool // the amp exceeds a limit as made or as found
	Reform        bool // electrolytics are to be re-formed
	Hazards       []Hazard
}

// A Caution is one line to print where it applies.
type Caution struct {
	Key       string
	Title     string
	Say       string
	Source    string
	Mark      string
	Authority bool // local code and licensed practice decide
}

// cautionRow is a caution and when it applies.
type cautionRow struct {
	when func(Planned) bool
	Caution
}

func memory(key, title, say string) Caution {
	return Caution{Key: key, Title: title, Say: say, Source: practice, Mark: "memory"}
}

func authority(key, title, say string) Caution {
	c := memory(key, title, say)
	c.Authority = true
	return c
}

var cautionRows = []cautionRow{
	{func(w Planned) bool { return !w.Closed }, memory("charge", "Stored charge",
		"Unplug. Discharge each filter through a resistor rated for the voltage, measure, wait, measure again: old capacitors recover charge. Never a bare screwdriver.")},
	{func(w Planned) bool { return !w.NoMains }, authority("mains", "Mains wiring",
		"Player, strings and chassis are one conductor. Check ground, fuse and switch in the line before anything else; only parts of the proper safety class (IEC 60384-14, from memory) belong between mains and chassis. Local code says how, and who may do it.")},
	{func(w Planned) bool { return w.LineToChassis && !w.NoMains }, authority("line-to-chassis", "Capacitor from mains to chassis",
		"It makes the chassis live when it fails, and passes current before that. Take it out; an ordinary capacitor never takes its place.")},
	{func(w Planned) bool { return !w.Grounded }, authority("ground", "Chassis not known to be grounded",
		"Treat the chassis as live until ground continuity is measured. No adapters that lift the ground; check polarity and ground at the owner's outlet.")},
	{func(w Planned) bool { return !w.Transformer }, authority("hot-chassis", "No isolation known",
		"A set without a mains transformer has a chassis on the mains: work on it only behind an isolating transformer. That does not make B+ harmless, it defeats residual-current protection, and a grounded instrument lead undoes it.")},
	{powered, memory("limiter", "First power",
		"Limiter first, then the variable supply, in stages: a variable supply alone does not limit current.")},
	{powered, memory("load", "No load",
		"Never drive the output stage without its load: the transformer makes voltages that kill it, and may kill you.")},
	{func(w Planned) bool { return powered(w) && !w.WarmFirst }, memory("cold", "Voltage from cold",
		"Before the tubes draw, the first filter and all behind it stand at the no-load peak, well above the warm reading. Meter, leads and parts must bear that.")},
	{func(w Planned) bool { return (powered(w) || w.Reform) && !w.InUse }, memory("electrolytics", "Electrolytics long unused",
		"Re-form slowly through a resistor or replace: one put straight on full voltage may heat and burst. Re-forming is live work: current limited, covered, eyes protected, never left alone.")},
	{func(w Planned) bool { return powered(w) && !w.NoReadings }, memory("live", "Live readings kill",
		"Clip on with the power off and the filters discharged and measured; leads and meter rated above the highest no-load voltage; free hand away from the chassis; not alone. Read, switch off, discharge, clip off. Ohms only with the power off.")},
	{powered, memory("heat", "Heat and glass",
		"Tubes, droppers and heat sinks burn long after switch-off: let cool. Cover the eyes near large envelopes.")},
	{func(w Planned) bool { return w.Speaker }, memory("speaker", "Speaker and baffle",
		"Magnets snatch tools, baffle and basket edges cut, and the weight falls on the hand that holds it.")},
	{func(w Planned) bool { return w.Shipped }, memory("shipping", "Shipping",
		"Tubes out and wrapped, chassis secured, nothing loose inside.")},
	{func(w Planned) bool { return w.Tested }, authority("tests", "Tests after repair",
		"Record ground continuity, insulation and touch current against the limit the local authority names. EN 50678:2020 leaves audio equipment out of its scope (second-hand transcription); no figure here shows that a standard is met.")},
	{func(w Planned) bool { return w.Limits }, memory("limits", "Whose limit",
		"A limit belongs to a rating system (design center, design maximum, absolute maximum); about ten percent lies between neighbors, and they are not compared raw. A verdict expires when mains, tube type, tap or a neighboring part changes.")},
	{func(w Planned) bool { return w.Inherited }, memory("inherited", "Over as made",
		"This amp exceeds a published limit as it was made or found; by how much is stated with the verdict.")},
}

func powered(w Planned) bool { return !w.Unpowered }

// Cautions returns what the planned work calls for, in a fixed order:
// electricity first, then handling, then each hazard found. Page and papers
// print them with Standing above.
//
// Sources: bench practice for limiter and free hand, EN 50678:2020 for its
// scope (second-hand transcriptions), the rest from memory.
func Cautions(w Planned) []Caution {
	var out []Caution
	for _, r := range cautionRows {
		if r.when(w) {
			out = append(out, r.Caution)
		}
	}
	for _, h := range w.Hazards {
		if h.Level == NoHazard {
			continue
		}
		c := Caution{Key: "hazard-" + h.Key, Title: hazardTitles[h.Key], Say: h.Say, Source: h.Source, Mark: h.Mark, Authority: true}
		if c.Title == "" {
			c.Title = "Hazard"
		}
		if h.On != "" {
			c.Title += ", " + h.On
		}
		out = append(out, c)
	}
	return out
}

var hazardTitles = map[string]string{
	"oil": "Oil-filled capacitor", "asbestos": "Asbestos", "cadmium": "Cadmium", "selenium": "Selenium",
	"mercury": "Mercury", "radioactive": "Radioactive source", "beryllia": "Beryllia", "wax": "Old wax",
	"mold": "Mold and droppings", "lead": "Lead",
}

// Known fills in what the amp and its findings say of the work, and the
// hazards its age gives reason to look for; what they do not say stays
// unknown, and an amp of unknown age counts as old. slow says that every rectifier is known to heat
// slowly.
func (w Planned) Known(a *amp.Amp, all []Finding, slow bool) Planned {
	w.Grounded = w.Grounded || a.Grounded
	w.Transformer = w.Transformer || len(a.WithRole(amp.HighWinding)) > 0
	w.WarmFirst = w.WarmFirst || slow && !a.Standby
	w.LineToChassis = w.LineToChassis || len(a.WithRole(amp.LineToChassis)) > 0
	for i := range a.Positions {
		w.Hazards = append(w.Hazards, PartHazards(a.Positions[i])...)
	}
	for _, f := range all {
		h := Hazards(string(f.Hazard)+" "+string(f.Seen), oilYear(nil, string(f.Code)))
		for i := range h {
			h[i].On = string(f.Place)
		}
		w.Hazards = append(w.Hazards, h...)
	}
	from, _, _ := Years(a.About)
	for _, h := range Era(from) {
		if !holds(w.Hazards, h.Key) {
			w.Hazards = append(w.Hazards, h)
		}
	}
	return w
}
