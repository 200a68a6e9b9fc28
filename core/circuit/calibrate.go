package circuit

// matching is what a calibration keeps to itself.
type matching struct{}

// Calibrate matches a circuit to what was read. Readings marked as checks,
// final, soak or taken behind a limiter are compared, not used.
func Calibrate(n *Net, b Bench) (*Calibration, error) { panic("not written") }
