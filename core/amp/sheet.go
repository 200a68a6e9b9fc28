package amp

import "lugworth/core/unit"

// ReadSheet reads a circuit sheet.
func ReadSheet(file string, data []byte) ([]Position, []unit.Problem) { return nil, nil }

// WriteSheet writes positions as a circuit sheet.
func WriteSheet(positions []Position) []byte { return nil }

// NewPosition makes a position from named fields: the columns of a sheet,
// and "role", "id".
func NewPosition(fields map[string]string) (Position, []unit.Problem) { return Position{}, nil }
