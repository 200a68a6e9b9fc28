package proof

// A Circuit is the direct-current circuit of one amp, with the states that
// certified bands rest on.
type Circuit struct {
	Elements   []Element   `json:"elements"`
	Knobs      []Knob      `json:"knobs"`
	Laws       []Law       `json:"laws"`
	Name       string      `json:"name"`    // the choice it stands for, "" as found
	Nodes      []string    `json:"nodes"`   // chassis left out
	Nominal    string      `json:"nominal"` // mains volts the windings have their volts at
	Rectifiers []Rectifier `json:"rectifiers,omitempty"`
	States     []State     `json:"states"`
}

// Kinds of elements, and the nodes and knobs of each.
const (
	Resistor   = "resistor"    // a b; ohms
	UpperTrack = "upper track" // a wiper; ohms · turn
	LowerTrack = "lower track" // wiper b; ohms · (1 − turn)
	Copper     = "copper"      // a b; copper · share
	Contact    = "contact"     // a b; a milliohm, its current stated
	Capacitor  = "capacitor"   // a b; carries nothing
	TriodeTube = "triode"      // plate grid cathode; perveance, shift
	ScreenTube = "screen tube" // plate screen grid cathode; perveance, shift, share
	Feed       = "feed"        // minus plus; its current stated, held against its legs
)

// An Element is one thing direct current passes.
type Element struct {
	Kind  string   `json:"kind"`
	Legs  []Leg    `json:"legs,omitempty"` // of a feed
	Nodes []string `json:"nodes"`          // "0" is the chassis
	Ref   string   `json:"ref"`
	Type  string   `json:"type,omitempty"` // of a tube: its law
}

// A Leg is one way a rectified current takes into a feed: coils that drive
// it, resistors in series, and rectifiers, each a list of those in parallel.
type Leg struct {
	Coils  []Coil     `json:"coils"`
	Drops  [][]string `json:"drops"`
	Series []string   `json:"series,omitempty"`
}

// A Rectifier names the law of one rectifier.
type Rectifier struct {
	Ref  string `json:"ref"`
	Type string `json:"type"`
}

// A Coil is part of a winding, negative against its direction.
type Coil struct {
	Ref   string `json:"ref"`
	Share string `json:"share"`
}

// A Knob is one number of the circuit, and the range it is claimed to lie in.
type Knob struct {
	High     string `json:"high"`
	Low      string `json:"low"`
	Property string `json:"property"`
	Ref      string `json:"ref"`
	Why      string `json:"why"` // where the range comes from
}

// Properties a knob may name.
const (
	Ohms       = "ohms"
	Turn       = "turn"
	Windings   = "copper" // ohms of a choke, a winding, or the mains source
	Turns      = "volts"  // of a whole winding, no load, at nominal mains
	Perveance  = "perveance"
	Shift      = "shift"
	Share      = "share"
	Conduct    = "conduct"
	HeaterLoad = "heater load"
)

// A Law is the constants of one type: of a tube its current law, of a vacuum
// rectifier pv, of a silicon one vf.
//
//	S(x, w) = w · ln(1 + exp(x ÷ w));  va' = S(va, 0.3), vs' = S(vs, 0.3)
//	triode: ve = va';  screen tube: ve = (vs' + d·va') ÷ (1 + d)
//	Ik = p · S(vg + shift + phi + ve÷mu, (ve + 1)÷k)^gamma
//	triode: Ia = Ik · va' ÷ (va' + 1)
//	screen tube: r = va'÷vs', o = share · a · r^m ÷ (1 + (0.08÷r)^1.6),
//	  Ia = Ik · o÷(1 + o) · 1÷(1 + exp(−va ÷ 0.3)),  Is = Ik ÷ (1 + o) · vs'÷(vs' + 1)
//	Ig = 0.001 · S(vg + 0.3, 0.15)^1.5
//	vacuum rectifier: i = conduct · pv · v^1.5;  silicon: none below vf
type Law struct {
	A     string `json:"a,omitempty"`
	D     string `json:"d,omitempty"`
	Gamma string `json:"gamma,omitempty"`
	K     string `json:"k,omitempty"`
	M     string `json:"m,omitempty"`
	Mu    string `json:"mu,omitempty"`
	P     string `json:"p,omitempty"`
	Phi   string `json:"phi,omitempty"`
	Pv    string `json:"pv,omitempty"`
	Type  string `json:"type"`
	Vf    string `json:"vf,omitempty"`
}

// A State is one specimen of the amp under one mains: a corner of what is
// left open.
type State struct {
	Amps   []string `json:"amps"`            // of every contact and feed, in the order of the elements
	Bound  string   `json:"bound"`           // no sum of currents at a node is greater
	Drive  []Drive  `json:"drive,omitempty"` // extra mean currents at full signal
	Mains  string   `json:"mains"`           // volts rms at the amp's entry
	Name   string   `json:"name"`            // which corner
	Off    []string `json:"off,omitempty"`   // elements and rectifiers that carry nothing: cold tubes, open switches
	Ratio  string   `json:"ratio"`           // volts of the tap as found over those of the tap in use
	Ripple []string `json:"ripple"`          // of every feed: mean volts above those a steady reservoir would have
	Shift  string   `json:"shift"`           // of every grid: heaters off nominal
	Sums   []string `json:"sums"`            // of the currents leaving each node, by node
	Values []string `json:"values"`          // of the knobs, in their order
	Volts  []string `json:"volts"`           // of the nodes, in their order
}

// A Drive is extra mean current of one tube, in amps.
type Drive struct {
	Plate  string `json:"plate"`
	Ref    string `json:"ref"`
	Screen string `json:"screen"`
}
