package circuit

// Fit returns the circuit with another tube or rectifier type in some
// positions; topology and knob indexes stay.
func (n *Net) Fit(types map[string]string, laws Laws) (*Net, error) { panic("not written") }

// Gradient returns, for each figure, d(figure)/d(knob) and d(figure)/d(mains)
// at a solution, by one linear solve for each knob that moves anything. The
// supply's ripple correction is held.
func (s *Solution) Gradient(fs []Figure) (byKnob [][]float64, byMains []float64, err error) {
	panic("not written")
}
