package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"strings"
	"time"

	"github.com/gorilla/websocket"
)

// A guest is a paired device as a program: it has a cookie, and an address where the test has
// a network of its own.
type guest struct {
	*soak
	n       int
	host    string // that it asks for
	at      string // where that is
	from    net.Addr
	client  *http.Client
	cookie  string
	until   time.Time // when what it does now is over
	made    int       // ops so far
	session string    // of its own, large
}

func (k *soak) guest(n int) *guest {
	k.t.Helper()
	_, port, _ := strings.Cut(strings.TrimPrefix(k.url, "http://"), ":")
	g := &guest{soak: k, n: n, until: time.Now().Add(time.Hour), host: "192.168.7.1:" + port, at: "127.0.0.1:" + port}
	if os.Getenv("CORNERWISE_TEST_ALONE") != "" {
		g.at = g.host
		g.from = &net.TCPAddr{IP: net.IPv4(192, 168, 7, byte(n))}
	}
	g.client = &http.Client{Timeout: patience,
		Transport:     &http.Transport{DialContext: g.dialContext, MaxIdleConnsPerHost: 20},
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	var offer struct{ Token string }
	if status, err := k.call("POST", "/api/v1/offers", "{}", &offer); status != 201 {
		k.t.Fatalf("POST an offer: got %d, %v", status, err)
	}
	res, err := g.post("/pair", "application/x-www-form-urlencoded", url.Values{"token": {offer.Token}}.Encode())
	if err != nil || len(res.Cookies()) != 1 {
		k.t.Fatalf("pair device %d: %v, %v", n, res, err)
	}
	res.Body.Close()
	g.cookie = "cornerwise-device=" + res.Cookies()[0].Value
	return g
}

func (g *guest) dialContext(ctx context.Context, network, _ string) (net.Conn, error) {
	return (&net.Dialer{LocalAddr: g.from}).DialContext(ctx, network, g.at)
}

func (g *guest) request(method, path, kind string, body io.Reader) *http.Request {
	ctx, cancel := context.WithDeadline(g.t.Context(), g.until)
	context.AfterFunc(ctx, cancel)
	req, err := http.NewRequestWithContext(ctx, method, "http://"+g.host+path, body)
	if err != nil {
		g.t.Error(err)
	}
	req.Header.Set("Content-Type", kind)
	if g.cookie != "" {
		req.Header.Set("Cookie", g.cookie)
	}
	return req
}

func (g *guest) post(path, kind, body string) (*http.Response, error) {
	return g.client.Do(g.request("POST", path, kind, strings.NewReader(body)))
}

// ask is a request whose answer is counted; into gets what came, where it is taken.
func (g *guest) ask(deed, method, path, kind string, body io.Reader, into any) (status int) {
	res, err := g.client.Do(g.request(method, path, kind, body))
	if err != nil {
		why := "no answer"
		if errors.Is(err, context.DeadlineExceeded) {
			why = "given up"
		}
		g.answered(deed, 0, why)
		return 0
	}
	defer res.Body.Close()
	var data bytes.Buffer
	if res.StatusCode >= 400 || into != nil {
		io.Copy(&data, res.Body)
	} else {
		io.Copy(io.Discard, res.Body)
	}
	var refused struct{ Error struct{ Code string } }
	if res.StatusCode >= 400 {
		json.Unmarshal(data.Bytes(), &refused)
	} else if into != nil {
		json.Unmarshal(data.Bytes(), into)
	}
	g.answered(deed, res.StatusCode, refused.Error.Code)
	return res.StatusCode
}

// do sends an op, whose words but its id are given, and remembers that it was taken.
func (g *guest) do(deed, id, words string) (status int) {
	g.mu.Lock()
	g.made++
	op := fmt.Sprintf("device-%d-%d", g.n, g.made)
	g.mu.Unlock()
	var taken struct{ Rev int64 }
	status = g.ask(deed, "POST", "/api/v1/sessions/"+id+"/ops", "application/json", strings.NewReader(`{"op": "`+op+`", `+words+`}`), &taken)
	if status == 200 {
		g.acknowledged(id, op, taken.Rev)
	}
	return status
}

// begin begins a session, with patience for what is refused for a moment; "" once time is up.
func (g *guest) begin(deed, plan string) string {
	for time.Now().Before(g.until) {
		var made struct{ ID string }
		if g.ask(deed, "POST", "/api/v1/sessions", "application/json", strings.NewReader(plan), &made) == 201 {
			return made.ID
		}
		time.Sleep(200 * time.Millisecond)
	}
	return ""
}

// join is a live connection.
func (g *guest) join(id string, since int64) (*websocket.Conn, error) {
	dialer := &websocket.Dialer{HandshakeTimeout: patience, ReadBufferSize: 1024, WriteBufferSize: 1024,
		NetDialContext: func(ctx context.Context, network, addr string) (net.Conn, error) {
			conn, err := g.dialContext(ctx, network, addr)
			if err == nil {
				conn.(*net.TCPConn).SetReadBuffer(4096)
			}
			return conn, err
		}}
	ctx, cancel := context.WithDeadline(g.t.Context(), g.until)
	defer cancel()
	conn, res, err := dialer.DialContext(ctx, fmt.Sprintf("ws://%s/api/v1/sessions/%s/live?since=%d", g.host, id, since), http.Header{"Cookie": {g.cookie}})
	if res != nil {
		g.answered("join", res.StatusCode, "")
	}
	return conn, err
}

// raw sends the head of a request by a connection with little room, and leaves the rest to
// whoever asked.
func (g *guest) raw(method, path string, more ...string) (net.Conn, error) {
	conn, err := g.dialContext(context.Background(), "tcp", "")
	if err != nil {
		return nil, err
	}
	conn.(*net.TCPConn).SetReadBuffer(4096)
	_, err = fmt.Fprintf(conn, "%s %s HTTP/1.1\r\nHost: %s\r\nCookie: %s\r\n%s\r\n", method, path, g.host, g.cookie, strings.Join(more, ""))
	return conn, err
}
