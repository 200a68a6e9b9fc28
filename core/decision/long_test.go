package decision

import "os"

// long reports whether the long comparisons are asked for.
func long() bool { return os.Getenv("LUGWORTH_LONG") == "oracle" }
