package circuit

// Bands answers figures under scenarios after a choice: every specimen that
// agrees with the readings, every corner of what stays open. For each
// scenario and figure, in that order, one band; one that cannot be had says
// why. With need, a band whose cautious bound is outside what is needed is
// looked at more closely; without, every band is the cautious one.
func (c *Calibration) Bands(ch Choice, scenarios []Scenario, fs []Figure, laws Laws, need Need) []Band {
	panic("not written")
}
