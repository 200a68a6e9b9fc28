package amp

import "encoding/json"

// Fields turns the fields of a record's body into the texts that NewPosition
// and NewReading take: strings as they are, lists joined by spaces, objects
// as key=value pairs in the order of their keys.
func Fields(body map[string]json.RawMessage) map[string]string { return nil }
