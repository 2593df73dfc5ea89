package main

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"
)

// knock opens a connection and asks for health on it, which stays open.
func knock(address string) (net.Conn, error) {
	conn, err := net.Dial("tcp", address)
	if err != nil {
		return nil, err
	}
	conn.SetDeadline(time.Now().Add(10 * time.Second))
	fmt.Fprintf(conn, "GET /healthz HTTP/1.1\r\nHost: %s\r\n\r\n", address)
	res, err := http.ReadResponse(bufio.NewReader(conn), nil)
	if err != nil {
		conn.Close()
		return nil, err
	}
	io.Copy(io.Discard, res.Body)
	return conn, nil
}

func TestConnectionsOfADeviceAreLimited(t *testing.T) {
	s, there := lan(t)
	there = strings.TrimPrefix(there, "http://")
	var open []net.Conn
	defer func() {
		for _, conn := range open {
			conn.Close()
		}
	}()
	for n := range 64 {
		conn, err := knock(there)
		if err != nil {
			t.Fatalf("connection %d: %v, want it served", n+1, err)
		}
		open = append(open, conn)
	}
	if conn, err := knock(there); err == nil {
		conn.Close()
		t.Errorf("connection 65 of one device: served, want it closed")
	}
	if status, err := s.call("GET", "/healthz", "", nil); status != 200 {
		t.Errorf("the owner meanwhile: got %d %v, want 200", status, err)
	}
	open[0].Close()
	for end := time.Now().Add(10 * time.Second); ; time.Sleep(10 * time.Millisecond) {
		conn, err := knock(there)
		if err == nil {
			conn.Close()
			break
		}
		if time.Now().After(end) {
			t.Fatalf("after one was closed: %v, want the next served", err)
		}
	}
}

// A client that says nothing, or a line without end, is let go.
func TestHeadersAreLimited(t *testing.T) {
	s := start(t, t.TempDir())
	conn, err := net.Dial("tcp", strings.TrimPrefix(s.url, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	conn.SetDeadline(time.Now().Add(20 * time.Second))
	go fmt.Fprintf(conn, "GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nCookie: %s\r\n\r\n", strings.Repeat("x", 1<<20))
	res, err := http.ReadResponse(bufio.NewReader(conn), nil)
	if err != nil || res.StatusCode != 431 {
		t.Errorf("1 MiB of headers: got %v, %v; want 431", res, err)
	}
	long(t) // the five seconds that half a request may take
	slow, err := net.Dial("tcp", strings.TrimPrefix(s.url, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer slow.Close()
	fmt.Fprint(slow, "GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n")
	slow.SetDeadline(time.Now().Add(20 * time.Second))
	if _, err := io.ReadAll(slow); err != nil {
		t.Errorf("half a request: got %v, want it closed in 5 s", err)
	}
}
