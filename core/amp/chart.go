package amp

import "lugworth/core/unit"

// ReadReadings reads a chart of readings.
func ReadReadings(file string, data []byte) ([]Reading, []unit.Problem) { return nil, nil }

// WriteReadings writes readings as a chart.
func WriteReadings(readings []Reading) []byte { return nil }

// NewReading makes a reading from named fields: the columns of a chart, and
// "id". previous, oldest first, serves the hint "same as last" only.
func NewReading(fields map[string]string, previous []Reading) (Reading, []unit.Problem) {
	return Reading{}, nil
}

// Plausible returns a question about a reading that looks mistyped, "" if
// nothing about it is odd.
func Plausible(previous []Reading, r Reading) string { return "" }
