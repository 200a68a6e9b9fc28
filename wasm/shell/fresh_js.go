package shell

import (
	"crypto/rand"
	"encoding/hex"
	"syscall/js"
	"time"

	"github.com/rs/xid"

	"lugworth/wasm/port"
)

func fresh() port.Fresh {
	now := here()
	return port.Fresh{
		At:    now.Format(time.RFC3339),
		Date:  now.Format(time.DateOnly),
		NewID: xid.New().String(),
		Salt:  salt(),
	}
}

// here is the time with the offset in force now. The runtime reads the offset
// once at its start; a page may stay open over a change of the clocks.
func here() time.Time {
	minutes := js.Global().Get("Date").New().Call("getTimezoneOffset").Int()
	return time.Now().In(time.FixedZone("", -60*minutes))
}

// salt is 16 random bytes. rand.Read never fails: it ends the program instead.
func salt() string {
	var b [16]byte
	rand.Read(b[:])
	return hex.EncodeToString(b[:])
}

func minted(m port.Mint) port.Minted {
	out := port.Minted{Fresh: fresh(), For: m.For}
	for range m.N {
		out.IDs = append(out.IDs, xid.New().String())
		out.Salts = append(out.Salts, salt())
	}
	return out
}

// deviceName is 60 random bits: enough that two tablets never share one, short
// enough to print.
func deviceName() string { return rand.Text()[:12] }
