package stress

import (
	"strings"

	"lugworth/core/circuit"
)

// The doubts of the first-order rules that are about the rule: it does not
// reach to where the figure is asked for. Doubts about what was read are not
// among them.
const (
	unfollowed = "the bias does not follow the mains, so the reading cannot be scaled"
	otherValue = " gets another value: read the stage again"
	anAverage  = "an average: the tubes on the shared resistor are not stated to draw alike"
	tooFar     = "the reading was taken too far from this mains to be carried over: read it nearer"
	notChecked = " does not agree with it: read both again"
	recovers   = "how far the supply recovers is not known: "
	farBias    = "the negative bias on its far side was not read"
)

// Unruled reports whether a reason says that no first-order rule reaches the
// figure, so that the amp's own circuit may answer alone.
func Unruled(reason string) bool {
	if Ends(reason) {
		return true
	}
	for _, w := range []string{unfollowed, otherValue, anAverage, tooFar, notChecked, recovers, farBias} {
		if strings.Contains(reason, w) {
			return true
		}
	}
	return false
}

// Settles says what to measure to make a band of the amp's own circuit
// narrower, "" where nothing that can be measured makes it wide.
func (s Stress) Settles() string {
	if s.Band == nil {
		return ""
	}
	for _, c := range s.Band.Causes {
		if c.Ref == "heaters" || c.Ref == "ripple" {
			continue // a rule of how tubes or filters act, and no part to be measured
		}
		if w := measures(c); w != "" {
			return w
		}
		if c.Property == 0 {
			return "read the stage at " + s.Mains.String()
		}
	}
	return ""
}

// measures says what to measure to know one number of a position.
func measures(c circuit.Cause) string {
	switch c.Property {
	case circuit.Ohms:
		return "measure " + c.Ref + " with the power off"
	case circuit.Turn:
		return "measure both sides of " + c.Ref + " with the power off"
	case circuit.Copper:
		return "measure the ohms of " + c.Ref + " with the power off"
	case circuit.Volts:
		return "read the volts of " + c.Ref + " without load"
	case circuit.Perveance, circuit.Shift:
		return "read the current of " + c.Ref
	case circuit.Share:
		return "read the screen current of " + c.Ref
	case circuit.Conduct:
		return "read the volts behind " + c.Ref + " under load"
	case circuit.Farads, circuit.Henries:
		return "measure " + c.Ref + " on a bridge"
	}
	return ""
}
