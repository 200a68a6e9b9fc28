package web

import (
	"bytes"
	"errors"
)

// The linker writes a program's memory as up to a hundred thousand pieces, a
// new one after each eight bytes of zero. Written as a few long ones it is a
// little longer, a twentieth shorter once compressed, and quicker to set up.

// fewest is the run of zeros that is left out between two pieces; shorter
// ones are written out.
const fewest = 256

const dataSection = 11

// gather writes the pieces of a program's memory anew, without the files and
// lines of its traces. What memory holds at the start else stays the same: the
// rest of it is zero. A program written in another way than the linker's is
// returned as it is.
func gather(program []byte) []byte {
	if len(program) < 8 || string(program[:4]) != "\x00asm" {
		return program
	}
	out := bytes.NewBuffer(make([]byte, 0, len(program)+len(program)/8))
	out.Write(program[:8])
	for r := (reader{program[8:], nil}); len(r.left) > 0; {
		id := r.byte()
		body := r.take(int(r.number()))
		if id == dataSection {
			memory, err := memoryOf(body)
			if err != nil {
				return program
			}
			body = pieces(withoutLines(memory))
		}
		if r.err != nil {
			return program
		}
		out.WriteByte(id)
		out.Write(number(nil, uint64(len(body))))
		out.Write(body)
	}
	return out.Bytes()
}

// most is how much memory a program may have at the start.
const most = 1 << 28

// memoryOf lays the pieces of a data section out as memory holds them.
func memoryOf(section []byte) ([]byte, error) {
	r := reader{section, nil}
	var memory []byte
	for n := r.number(); n > 0 && r.err == nil; n-- {
		// A piece of the first memory, at a place given as a number.
		if r.byte() != 0 || r.byte() != 0x41 {
			return nil, errOther
		}
		at := r.signed()
		if r.byte() != 0x0b {
			return nil, errOther
		}
		piece := r.take(int(r.number()))
		end := at + int64(len(piece))
		if r.err != nil || at < 0 || end > most {
			return nil, errOther
		}
		if end > int64(len(memory)) {
			memory = append(memory, make([]byte, int(end)-len(memory))...)
		}
		copy(memory[at:], piece) // of pieces that overlap the later one holds
	}
	if r.err != nil || len(r.left) > 0 {
		return nil, errOther
	}
	return memory, nil
}

var errOther = errors.New("a data section of another form")

// pieces writes memory as a data section.
func pieces(memory []byte) []byte {
	var body []byte
	n := uint64(0)
	for at := 0; ; n++ {
		for at < len(memory) && memory[at] == 0 {
			at++
		}
		if at == len(memory) {
			break
		}
		end, zeros := at, 0
		for i := at; i < len(memory) && zeros < fewest; i++ {
			if zeros++; memory[i] != 0 {
				end, zeros = i+1, 0
			}
		}
		body = signed(append(body, 0, 0x41), int64(at))
		body = number(append(body, 0x0b), uint64(end-at))
		body = append(body, memory[at:end]...)
		at = end
	}
	return append(number(nil, n), body...)
}

// reader reads the numbers of the format. After an error it gives zeros.
type reader struct {
	left []byte
	err  error
}

func (r *reader) take(n int) []byte {
	if n < 0 || n > len(r.left) {
		r.left, r.err = nil, errOther
		return nil
	}
	b := r.left[:n]
	r.left = r.left[n:]
	return b
}

func (r *reader) byte() byte {
	if b := r.take(1); len(b) == 1 {
		return b[0]
	}
	return 0
}

// bits reads seven bits a byte, least first, and says how many it read.
func (r *reader) bits() (v uint64, n int, last byte) {
	for last = 0x80; last >= 0x80 && n < 63 && r.err == nil; n += 7 {
		last = r.byte()
		v |= uint64(last&0x7f) << n
	}
	if last >= 0x80 {
		r.left, r.err = nil, errOther
	}
	return v, n, last
}

func (r *reader) number() uint64 {
	v, _, _ := r.bits()
	return v
}

func (r *reader) signed() int64 {
	v, n, last := r.bits()
	if last&0x40 != 0 {
		v |= ^uint64(0) << n
	}
	return int64(v)
}

func number(to []byte, v uint64) []byte {
	for ; v >= 0x80; v >>= 7 {
		to = append(to, byte(v)|0x80)
	}
	return append(to, byte(v))
}

func signed(to []byte, v int64) []byte {
	for ; v >= 0x40; v >>= 7 {
		to = append(to, byte(v)&0x7f|0x80)
	}
	return append(to, byte(v))
}
