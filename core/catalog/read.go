package catalog

// ReadList reads a whole price list. m may be nil: the mapping is then
// proposed from the headings and the first rows, and List.Mapping tells what
// was taken. It returns an error only when nothing can be read at all (not a
// text file, no heading, no price column); bad rows are in List.Aside.
func ReadList(name, file string, data []byte, terms Terms, m *Mapping, fixes ...Fix) (List, error) {
	return List{}, nil
}
