package circuit

import "errors"

// Fit returns the circuit with another tube or rectifier type in some
// positions; topology and knob indexes stay. A triode goes where a triode
// was, a screen tube where one was, a vacuum rectifier where one was.
func (n *Net) Fit(types map[string]string, laws Laws) (*Net, error) {
	m := *n
	m.tubes = append([]tubeAt(nil), n.tubes...)
	m.rects = append([]rectifierAt(nil), n.rects...)
	var bad []error
	fail := func(ref, say string) { bad = append(bad, &Unsolved{Say: ref + ": " + say, Refs: []string{ref}}) }
	for _, ref := range sortedKeys(types) {
		i, ok := n.byRef[ref]
		if !ok || n.parts[i].kind != isTube && n.parts[i].kind != isRectifier {
			fail(ref, "is no tube of the circuit")
			continue
		}
		law, doubt, known := laws(types[ref])
		k := n.parts[i].tube
		switch {
		case !known:
			fail(ref, "no current law is known for "+types[ref])
		case n.parts[i].kind == isTube && fits(n.tubes[k].kind(), law.Kind):
			m.tubes[k].law, m.tubes[k].doubt = law, doubt
		case n.parts[i].kind == isRectifier && law.Kind == n.rects[k].law.Kind:
			m.rects[k].law, m.rects[k].doubt = law, doubt
		default:
			fail(ref, types[ref]+" is a "+law.Kind+" and does not go where the sheet draws another kind")
		}
	}
	if len(bad) > 0 {
		return nil, errors.Join(bad...)
	}
	return &m, nil
}

func (t *tubeAt) kind() string {
	if t.screened {
		return "beam"
	}
	return "triode"
}
