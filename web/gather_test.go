package web

import (
	"bytes"
	"testing"
)

// A program with memory in several pieces, by hand from the format
// (WebAssembly core specification, binary format of the data section).
func TestGather(t *testing.T) {
	head := []byte("\x00asm\x01\x00\x00\x00")
	with := func(section ...byte) []byte {
		return append(append(append([]byte(nil), head...), dataSection, byte(len(section))), section...)
	}
	in := with(3, // pieces
		0, 0x41, 0x10, 0x0b, 2, 'a', 'b', // at 16
		0, 0x41, 0xc8, 0x00, 0x0b, 1, 'c', // at 72: two bytes of number
		0, 0x41, 0x80, 0x08, 0x0b, 1, 'd') // at 1024, more than the fewest zeros on
	first := append([]byte{'a', 'b'}, make([]byte, 54)...)
	first = append(first, 'c')
	want := with(append(append([]byte{2, 0, 0x41, 0x10, 0x0b, 57}, first...), 0, 0x41, 0x80, 0x08, 0x0b, 1, 'd')...)
	if got := gather(in); !bytes.Equal(got, want) {
		t.Errorf("gathered:\n% x\nwant\n% x", got, want)
	}
	// Out of their order, and over one another: the later holds.
	in = with(2, 0, 0x41, 0x10, 0x0b, 2, 'a', 'b', 0, 0x41, 0x0f, 0x0b, 2, 'c', 'd')
	if got, want := gather(in), with(1, 0, 0x41, 0x0f, 0x0b, 3, 'c', 'd', 'b'); !bytes.Equal(got, want) {
		t.Errorf("gathered:\n% x\nwant\n% x", got, want)
	}
	for _, c := range []struct {
		say string
		in  []byte
	}{
		{"nothing", nil},
		{"no program", []byte("hello, world")},
		{"a piece of another memory", with(1, 2, 0, 0x41, 0x10, 0x0b, 1, 'a')},
		{"a passive piece", with(1, 1, 1, 'a')},
		{"a piece below nothing", with(1, 0, 0x41, 0x7f, 0x0b, 1, 'a')},
		{"cut off", in[:len(in)-1]},
		{"a number without end", with(0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff)},
	} {
		if got := gather(c.in); !bytes.Equal(got, c.in) {
			t.Errorf("%s: changed to % x, want it as it is", c.say, got)
		}
	}
}

// The page's own program: its memory is the same, and so is all else.
func TestGatherKeepsTheProgram(t *testing.T) {
	dir := t.TempDir()
	plain, err := compile(Page, dir)
	if err != nil {
		t.Fatal(err)
	}
	packed := gather(plain)
	was, is := sections(t, plain), sections(t, packed)
	if len(was) != len(is) {
		t.Fatalf("%d sections became %d", len(was), len(is))
	}
	found := false
	for i := range was {
		if was[i].id != dataSection {
			if was[i].id != is[i].id || !bytes.Equal(was[i].body, is[i].body) {
				t.Errorf("section %d changed", i)
			}
			continue
		}
		found = true
		a, err1 := memoryOf(was[i].body)
		b, err2 := memoryOf(is[i].body)
		a, b = bytes.TrimRight(withoutLines(a), "\x00"), bytes.TrimRight(b, "\x00")
		if err1 != nil || err2 != nil || !bytes.Equal(a, b) {
			t.Errorf("memory differs (%v, %v)", err1, err2)
		}
		if n := (&reader{is[i].body, nil}).number(); n > 1000 {
			t.Errorf("memory is in %d pieces, want at most 1000", n)
		}
	}
	if !found {
		t.Error("no data section")
	}
}

type section struct {
	id   byte
	body []byte
}

func sections(t *testing.T, program []byte) []section {
	var out []section
	r := reader{program[8:], nil}
	for len(r.left) > 0 {
		id := r.byte()
		out = append(out, section{id, r.take(int(r.number()))})
	}
	if r.err != nil {
		t.Fatal(r.err)
	}
	return out
}
