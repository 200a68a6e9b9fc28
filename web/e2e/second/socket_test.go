// Package second tries the page in another engine, through the open WebDriver
// BiDi protocol (W3C). It runs in `make long-second-engine` alone.
package second

import (
	"bufio"
	"crypto/rand"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"time"
)

// socket is a WebSocket client (RFC 6455), as much of it as is needed: whole
// text messages out, text messages and pings in.
type socket struct {
	conn net.Conn
	in   *bufio.Reader
	last int
}

func dial(address string) (*socket, error) {
	u, err := url.Parse(address)
	if err != nil {
		return nil, err
	}
	conn, err := net.DialTimeout("tcp", u.Host, 5*time.Second)
	if err != nil {
		return nil, err
	}
	var key [16]byte
	rand.Read(key[:])
	fmt.Fprintf(conn, "GET %s HTTP/1.1\r\nHost: %s\r\nUpgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Key: %s\r\nSec-WebSocket-Version: 13\r\n\r\n",
		u.RequestURI(), u.Host, base64.StdEncoding.EncodeToString(key[:]))
	in := bufio.NewReader(conn)
	answer, err := http.ReadResponse(in, nil)
	if err != nil {
		return nil, err
	}
	if answer.StatusCode != http.StatusSwitchingProtocols {
		return nil, fmt.Errorf("%s answers %s", address, answer.Status)
	}
	return &socket{conn: conn, in: in}, nil
}

// write sends one frame, masked as a client must (section 5.3).
func (s *socket) write(kind byte, body []byte) error {
	head := []byte{0x80 | kind}
	switch n := len(body); {
	case n < 126:
		head = append(head, 0x80|byte(n))
	case n < 1<<16:
		head = binary.BigEndian.AppendUint16(append(head, 0x80|126), uint16(n))
	default:
		head = binary.BigEndian.AppendUint64(append(head, 0x80|127), uint64(n))
	}
	var mask [4]byte
	rand.Read(mask[:])
	out := append(head, mask[:]...)
	for i, b := range body {
		out = append(out, b^mask[i%4])
	}
	_, err := s.conn.Write(out)
	return err
}

// read gives the next whole message.
func (s *socket) read() ([]byte, error) {
	var message []byte
	for {
		last, kind, body, err := s.frame()
		if err != nil {
			return nil, err
		}
		switch kind {
		case 8:
			return nil, io.EOF
		case 9:
			if err := s.write(10, body); err != nil {
				return nil, err
			}
		case 0, 1, 2:
			if message = append(message, body...); last {
				return message, nil
			}
		}
	}
}

func (s *socket) frame() (last bool, kind byte, body []byte, err error) {
	var head [2]byte
	if _, err = io.ReadFull(s.in, head[:]); err != nil {
		return
	}
	size := uint64(head[1] & 0x7f)
	if size >= 126 {
		long := make([]byte, map[uint64]int{126: 2, 127: 8}[size])
		if _, err = io.ReadFull(s.in, long); err != nil {
			return
		}
		size = 0
		for _, b := range long {
			size = size<<8 | uint64(b)
		}
	}
	body = make([]byte, size)
	_, err = io.ReadFull(s.in, body)
	return head[0]&0x80 != 0, head[0] & 0x0f, body, err
}

// call sends a command and waits for its answer; events are passed over.
func (s *socket) call(method string, params, result any) error {
	s.last++
	body, err := json.Marshal(map[string]any{"id": s.last, "method": method, "params": params})
	if err != nil {
		return err
	}
	s.conn.SetDeadline(time.Now().Add(60 * time.Second))
	if err := s.write(1, body); err != nil {
		return err
	}
	for {
		answer, err := s.read()
		if err != nil {
			return fmt.Errorf("%s: %w", method, err)
		}
		var a struct {
			ID             int
			Error, Message string
			Result         json.RawMessage
		}
		if err := json.Unmarshal(answer, &a); err != nil {
			return fmt.Errorf("%s: %w", method, err)
		}
		switch {
		case a.ID != s.last:
		case a.Error != "":
			return fmt.Errorf("%s: %s: %s", method, a.Error, a.Message)
		case result == nil:
			return nil
		default:
			return json.Unmarshal(a.Result, result)
		}
	}
}
