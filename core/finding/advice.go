package finding

import "lugworth/core/shop"

// An Advice is what the trade commonly does about a thing seen, and when to
// leave it alone.
type Advice struct {
	Topic   string
	Trouble bool // it shows: hum heard, leak measured, noise made
	Leave   bool // leave alone
	Pile    shop.Pile
	Say     string
	Source  string
	Mark    string
}

const practice = "common practice, no source"

// advices are pairs: without trouble, and with it.
var advices = []Advice{
	{Topic: "one heater side to chassis", Leave: true,
		Say: "no hum is heard: leave alone; many amps were made so, and a change gains nothing"},
	{Topic: "one heater side to chassis", Trouble: true, Pile: shop.Could,
		Say: "hum is heard: first rule out the filter capacitors and the tubes; then the heaters may be balanced to the chassis by two equal resistors, kept undoable, after lifting the one side"},
	{Topic: "plate resistor out of tolerance", Leave: true,
		Say: "no noise and the stage's volts in order: leave alone, and note the value"},
	{Topic: "plate resistor out of tolerance", Trouble: true, Pile: shop.Could,
		Say: "it is noisy, or the stage's volts are wrong: change it, and bag the old part"},
	{Topic: "film coupler", Leave: true,
		Say: "no leak is measured: leave in place; film needs no change for its age alone"},
	{Topic: "film coupler", Trouble: true, Pile: shop.Must,
		Say: "a leak is measured: change it before the output tubes run"},
	{Topic: "paper coupler", Pile: shop.Should,
		Say: "paper leaks with age where it blocks DC: test it warm, at its working volts, before it is trusted"},
	{Topic: "paper coupler", Trouble: true, Pile: shop.Must,
		Say: "a leak is measured: change it, and bag the old part"},
	{Topic: "mica capacitor", Leave: true,
		Say: "no crackle and no leak: leave in place"},
	{Topic: "mica capacitor", Trouble: true, Pile: shop.Could,
		Say: "it crackles or leaks: change it"},
	{Topic: "cathode bypass reads low", Pile: shop.Could, Leave: true,
		Say: "nothing is missing in the sound: may stay; it will read lower yet"},
	{Topic: "cathode bypass reads low", Trouble: true, Pile: shop.Should,
		Say: "bass or gain is missing, or it leaks: change it"},
	{Topic: "twisted and taped joints", Pile: shop.Should,
		Say: "sound for now, but not a joint: solder and sleeve it, and note it as earlier work"},
	{Topic: "twisted and taped joints", Trouble: true, Pile: shop.Must,
		Say: "bare, loose or at high voltage: make it a proper joint before power"},
	{Topic: "capacitor from mains to chassis", Pile: shop.Must,
		Say: "remove it; an ordinary capacitor does not belong there, and local code says what may take its place"},
	{Topic: "capacitor from mains to chassis", Trouble: true, Pile: shop.Must,
		Say: "it leaks: no power before it is out"},
}

// Advise returns the advice on a topic, with or without trouble showing.
func Advise(topic string, trouble bool) (Advice, bool) {
	for _, a := range advices {
		if a.Topic == topic && a.Trouble == trouble {
			return a.marked(), true
		}
	}
	return Advice{}, false
}

// Advices returns the whole table.
func Advices() []Advice {
	out := make([]Advice, len(advices))
	for i, a := range advices {
		out[i] = a.marked()
	}
	return out
}

func (a Advice) marked() Advice {
	a.Source, a.Mark = practice, "memory"
	return a
}
