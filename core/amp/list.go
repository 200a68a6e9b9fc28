package amp

// Kinds returns the kinds of position that rules know, in order.
func Kinds() []string { return append([]string(nil), kindWords...) }

// Roles returns the roles that rules know, in the order of the supply.
func Roles() []string { return append([]string(nil), roleWords...) }

// Leads returns the electrodes or leads a kind of position names, nil where
// the kind is unknown or its leads have no fixed names.
func Leads(kindWord string) []string { return append([]string(nil), kinds[kindWord].need...) }
