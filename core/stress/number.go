package stress

// Ends returns the number a ratio or factor stands for, as both ends.
func (p plain) Ends() (low, high float64) { return float64(p), float64(p) }

// Ends returns the ends of a factor.
func (e ends) Ends() (low, high float64) { return e.low, e.high }

// Ends returns the ends of a figure, in SI base amounts.
func (s span) Ends() (low, high float64) { return s.low, s.high }
