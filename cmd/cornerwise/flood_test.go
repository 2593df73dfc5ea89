package main

import (
	"bufio"
	"crypto/tls"
	"fmt"
	"io"
	"net"
	"net/http"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"testing"
)

// A flood of refused requests, with words of a stranger's wherever they fit, makes few lines;
// they say how many came, and hold none of those words. So does one of broken handshakes.
func TestAFloodFillsNoLog(t *testing.T) {
	s, there := lan(t, "--tls")
	address := strings.TrimPrefix(there, "https://")
	const requests, handshakes, word = 20000, 300, "STRANGER"
	conn, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	from := bufio.NewReader(conn)
	methods := []string{"GET", strings.Repeat(word, 1500), "POST"}
	for n := range requests {
		fmt.Fprintf(conn, "%s /api/v1/%s?%s HTTP/1.1\r\nHost: %s\r\nUser-Agent: %s\r\nContent-Length: 0\r\n\r\n", methods[n%3], word, word, address, word)
		res, err := http.ReadResponse(from, nil)
		if err != nil {
			t.Fatalf("request %d: %v", n+1, err)
		}
		io.Copy(io.Discard, res.Body)
		if res.StatusCode != 403 {
			t.Fatalf("request %d: got %d, want 403, as it came in the open", n+1, res.StatusCode)
		}
	}
	for n := range handshakes {
		conf := &tls.Config{InsecureSkipVerify: true, NextProtos: []string{word}}
		if n%2 == 0 {
			conf = &tls.Config{ServerName: word} // trusts nothing
		}
		if _, err := tls.Dial("tcp", address, conf); err == nil {
			t.Fatalf("handshake %d: taken, want it refused", n+1)
		}
	}
	s.stop(syscall.SIGTERM)
	log := s.stderr.String()
	if len(log) > 50<<10 {
		t.Errorf("the log has %d bytes, want less than 50 KB", len(log))
	}
	if strings.Contains(log, word) {
		t.Errorf("the log holds words of a stranger's: %.2000s", log)
	}
	told := 0
	for _, times := range regexp.MustCompile(`msg=refused times=(\d+)`).FindAllStringSubmatch(log, -1) {
		n, _ := strconv.Atoi(times[1])
		told += n
	}
	if told != requests {
		t.Errorf("the log tells of %d refused requests, want %d: %s", told, requests, log)
	}
	if !strings.Contains(log, "no TLS that is spoken here") || !strings.Contains(log, "does not trust the authority") {
		t.Errorf("the log does not tell of handshakes: %s", log)
	}
}
