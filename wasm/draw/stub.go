package draw

// Mark is the miniature of a margin strip that stands before a verdict's word.
func Mark(k Kind) string { return "<svg></svg>" }

// MarginStrip shows expected, worst case, reserve and limit on one bar.
func MarginStrip(s Strip) string { return "<svg></svg>" }

// MoneyBuild shows a bill step by step up to the ceiling.
func MoneyBuild(b Build) string { return "<svg></svg>" }

// MoneyLine is MoneyBuild on one line, for the foot of the page.
func MoneyLine(b Build) string { return "<svg></svg>" }

// LaborSpread shows each line's three points and the doubt of their sum.
func LaborSpread(s Spread) string { return "<svg></svg>" }

// DateLine shows what the ready day waits for.
func DateLine(d Dates) string { return "<svg></svg>" }

// OrderCost shows the least cost by number of parcels.
func OrderCost(p Parcels) string { return "<svg></svg>" }

// Flow shows how a finding becomes an order.
func Flow() string { return "<svg></svg>" }

// Sign is the drawing of a posture on its tab: bench, plan, call, order, papers.
func Sign(posture string) string { return "<svg></svg>" }
