package circuit

import "lugworth/core/tube"

// A node is an index into the unknowns; the chassis is the number of
// unknowns, so that volts[chassis] is a zero nobody solves for.

// linkSort says how a link's conductance comes from its part.
type linkSort uint8

const (
	linkOhms   linkSort = iota // resistor
	linkUpper                  // pot, a to wiper
	linkLower                  // pot, wiper to b
	linkTrack                  // pot, a to b: only where the wiper is off
	linkClosed                 // fuse, closed switch, jack: a milliohm
	linkChoke                  // copper at rest, copper and henries at ripple
	linkFarads                 // nothing at rest
	linkCopper                 // a winding that feeds no rectifier, seen at rest
)

// closedOhms stands for a contact; small against anything it is in series
// with, large enough that its current can still be told from its volts.
const closedOhms = 1e-3

// A link is a two-lead path of one part.
type link struct {
	part, a, b int
	sort       linkSort
	share      float64  // linkCopper: part of the whole winding between its ends
	at         [4]int32 // places aa, bb, ab, ba
}

// partKind groups positions by how they act.
type partKind uint8

const (
	isResistor partKind = iota
	isPot
	isCapacitor
	isChoke
	isContact
	isTube
	isRectifier
	isWinding
	isMains
)

// A part is one position that takes part.
type part struct {
	ref   string
	kind  partKind
	first int    // index of its first knob
	links [2]int // its links, from and to
	tube  int    // index into tubes or rectifiers
	nodes []int  // ends; -1 where the end swings with the mains
	drawn bool   // tubes: screen lead present
	loose bool   // pot whose turn nobody stated; switch that standby opens
}

// A tubeAt is one tube section on its nodes.
type tubeAt struct {
	part                         int
	plate, screen, grid, cathode int // screen is the chassis for a triode
	at                           [16]int32
	law                          tube.Law
	doubt                        string
	screened                     bool
}

// A rectifierAt is one rectifier position.
type rectifierAt struct {
	part  int
	law   tube.Law
	doubt string
	group int
}

// A group is rectifiers in parallel: same plate node, same cathode node.
type group struct {
	members []int // rectifiers
}

// A section is one coil that a leg passes through.
type section struct {
	part  int     // winding
	share float64 // of the whole winding, negative against its direction
}

// A leg is one way a rectified current takes: from the minus node of its
// port, through windings, resistors and rectifiers, to the plus node.
type leg struct {
	port     int
	sections []section
	links    []int // resistors and contacts in series
	groups   []int // rectifiers in series
}

// A port is a pair of nodes that legs charge.
type port struct {
	plus, minus int
	legs        []int
	at          [4]int32 // places pp, mm, pm, mp
	full        bool     // charged in both half cycles
}

// A supply is the mains and everything up to the reservoirs.
type supply struct {
	mains   int // part, -1 if there is none
	nominal float64
	hertz   float64
	groups  []group
	legs    []leg
	ports   []port
}
