package proof

// A Circuit is one amp's circuit with the states its bands rest on.
type Circuit struct {
	Name string `json:"name"`
}
