package web_test

import (
	"io"
	"net"
	"testing"
	"time"

	"cornerwise/session/web"
)

func TestSplitTellsWhatComesInByItsFirstByte(t *testing.T) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	plain, secure := web.Split(listener)
	dial := func(say string) net.Conn {
		conn, err := net.Dial("tcp", listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { conn.Close() })
		io.WriteString(conn, say)
		return conn
	}
	silent := dial("") // holds no one up
	for _, c := range []struct {
		half net.Listener
		says string
	}{{plain, "GET / HTTP/1.1"}, {secure, "\x16\x03\x01"}, {plain, "\x15"}, {secure, "\x16"}, {plain, "\x00"}} {
		dial(c.says)
		conn, err := c.half.Accept()
		if err != nil {
			t.Fatal(err)
		}
		got := make([]byte, len(c.says))
		if _, err := io.ReadFull(conn, got); err != nil || string(got) != c.says {
			t.Errorf("%q: got %q, %v; want all of it", c.says, got, err)
		}
		conn.Close()
	}
	begun := time.Now()
	plain.Close()
	if _, err := secure.Accept(); err == nil {
		t.Errorf("after Close of one: the other goes on")
	}
	silent.SetDeadline(time.Now().Add(patience))
	if _, err := silent.Read(make([]byte, 1)); err == nil {
		t.Errorf("after Close: who said nothing is still connected")
	}
	if took := time.Since(begun); took > 4*time.Second {
		t.Errorf("Close waited %v for who said nothing", took)
	}
	secure.Close() // safe to repeat
}
