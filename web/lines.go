package web

import (
	"bytes"
	"encoding/binary"
)

// The toolchain keeps, for each instruction, the file and line it came from: a
// fifteenth of what a tablet loads, for traces that nobody at a bench reads.
// Names of functions stay. What follows is the layout of the linker's table
// (Go 1.20 to 1.26; runtime, symtab.go, struct _func); a table of another form
// is left as it is.

// tableStart begins the table: its magic number, and for wasm instructions of
// one byte and pointers of eight.
var tableStart = []byte("\xf1\xff\xff\xff\x00\x00\x01\x08")

// Offsets in a function's entry.
const (
	entryStack = 16 // steps of the stack: the collector needs them
	entryFile  = 20
	entryLine  = 24
	entryCount = 28 // of further tables the collector needs
	entryRest  = 44
)

// withoutLines returns memory without files and lines.
func withoutLines(memory []byte) []byte {
	t, ok := tableOf(memory)
	if !ok {
		return memory
	}
	out := bytes.Clone(memory)
	needed := make([]bool, t.funcs-t.steps)
	for n := range t.count {
		entry := t.start + t.funcs + int(word(memory, t.start+t.funcs+8*n+4))
		if entry < 0 || entry+entryRest > len(memory) {
			return memory
		}
		count := int(word(memory, entry+entryCount))
		if count < 0 || count > 64 || entry+entryRest+4*count > len(memory) {
			return memory
		}
		kept := []uint32{word(memory, entry+entryStack)}
		for i := range count {
			kept = append(kept, word(memory, entry+entryRest+4*i))
		}
		for _, at := range kept {
			if at != 0 && !t.mark(memory, needed, int(at)) {
				return memory
			}
		}
		clear(out[entry+entryFile : entry+entryLine+4])
	}
	for i := 1; i < len(needed); i++ { // 0 stands for no table
		if !needed[i] {
			out[t.start+t.steps+i] = 0
		}
	}
	return out
}

// table is where the parts of the linker's table stand, from its start.
type table struct{ start, count, steps, funcs int }

func tableOf(memory []byte) (table, bool) {
	at := bytes.Index(memory, tableStart)
	if at < 0 || at+72 > len(memory) || bytes.Contains(memory[at+1:], tableStart) {
		return table{}, false
	}
	field := func(i int) int { return int(binary.LittleEndian.Uint64(memory[at+8+8*i:])) }
	t := table{start: at, count: field(0), steps: field(6), funcs: field(7)}
	whole := t.count > 0 && t.steps > 0 && t.funcs > t.steps && t.funcs < len(memory) && t.count < len(memory)/8 &&
		at+t.funcs+8*t.count+8 <= len(memory)
	return t, whole
}

// mark notes the bytes of one table of steps: pairs of numbers, ended by a
// zero that is not the first.
func (t table) mark(memory []byte, needed []bool, at int) bool {
	r := reader{memory[t.start+t.steps : t.start+t.funcs], nil}
	if at >= len(r.left) {
		return false
	}
	r.left = r.left[at:]
	for first := true; ; first = false {
		if v := r.number(); v == 0 && !first {
			break
		}
		r.number()
		if r.err != nil {
			return false
		}
	}
	if r.err != nil {
		return false
	}
	for i := at; i < t.funcs-t.steps-len(r.left); i++ {
		needed[i] = true
	}
	return true
}

func word(memory []byte, at int) uint32 { return binary.LittleEndian.Uint32(memory[at:]) }
