package stress

import "lugworth/core/why"

// The rules of reckoning, each with the pencil formula. Those that have no
// published source say so.
var (
	RuleRatio = &why.Rule{
		Name: "mains ratio", Says: "Every winding follows the mains, so a reading is carried to another mains by the ratio of volts for each tap volt.",
		Formula: "r = (V2 ÷ tap at V2) ÷ (V1 ÷ tap at V1)", Source: "transformer action; no table needed",
	}
	RuleVolts = &why.Rule{
		Name: "volts follow the mains", Says: "A DC voltage of the amp is taken to rise in proportion to the mains.",
		Formula: "V2 = V1 · r", Source: "common practice, no source",
	}
	RulePeak = &why.Rule{
		Name: "no-load peak", Says: "Before any tube conducts, the filter capacitors charge to the peak of the unloaded winding, whatever the rectifier.",
		Formula: "V = √2 · rms of one side, no load · r", Source: "peak of a sine wave; no table needed",
	}
	RuleSwitchOn = &why.Rule{
		Name: "highest switch-on reading", Says: "Behind a slow-heating rectifier with no standby switch, the highest voltage seen at switch-on stands in place of the no-load peak.",
		Formula: "V = highest reading · r", Source: "common practice, no source",
	}
	RuleCoupler = &why.Rule{
		Name: "coupler volts", Says: "A coupling capacitor bears the no-load peak on one side and the negative bias on the other.",
		Formula: "V = peak + |bias| · r", Source: "sum of two voltages; no table needed",
	}
	RuleDifference = &why.Rule{
		Name: "to the cathode", Says: "Tube volts are counted from the cathode.",
		Formula: "V = V node − V cathode", Source: "definition",
	}
	RuleCathodeCurrent = &why.Rule{
		Name: "cathode current", Says: "The drop over the cathode resistor, shared by the tubes that stand on it.",
		Formula: "Ik = Vk ÷ Rk ÷ tubes", Source: "Ohm's law",
	}
	RulePlateWatts = &why.Rule{
		Name: "plate dissipation", Says: "Volts from plate to cathode times plate current; screen current does not count.",
		Formula: "Pa = (Va − Vk) · (Ik − Ig2)", Source: "definition",
	}
	RuleScreenWatts = &why.Rule{
		Name: "screen dissipation", Says: "Volts from screen to cathode times screen current.",
		Formula: "Pg2 = (Vg2 − Vk) · Ig2", Source: "definition",
	}
	RuleBothWatts = &why.Rule{
		Name: "plate and screen together", Says: "The heat of both electrodes, where the sheet limits their sum.",
		Formula: "P = Pa + Pg2", Source: "definition",
	}
	RuleWattsEnds = &why.Rule{
		Name: "dissipation with the mains", Says: "Where the bias follows the mains, dissipation rises between the square and the two-and-a-half power of the mains ratio.",
		Formula: "P1 · r² … P1 · r^2.5", Source: "current between proportional and three-halves law; our own judgment",
	}
	RuleCurrentEnds = &why.Rule{
		Name: "current with the mains", Says: "Where the bias follows the mains, tube current rises between proportion and the three-halves power.",
		Formula: "I1 · r … I1 · r^1.5", Source: "our own judgment",
	}
	RuleBigger = &why.Rule{
		Name: "bigger cathode resistor", Says: "A bigger cathode resistor lowers the current by a factor that depends on the tubes' total transconductance.",
		Formula: "f = (1 + g·R0) ÷ (1 + g·R1)", Source: "first-order feedback; no table needed",
	}
	RuleRise = &why.Rule{
		Name: "supply recovers", Says: "With less current the supply rises, at most by the share of current taken away times what the node stands below the no-load peak.",
		Formula: "rise ≤ (1 − f) · (no-load peak − loaded volts)", Source: "our own bound",
	}
	RuleResistorWatts = &why.Rule{
		Name: "resistor dissipation", Says: "Volts across the resistor squared, over its ohms.",
		Formula: "P = V² ÷ R", Source: "Ohm's law",
	}
)
