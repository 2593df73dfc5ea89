package web_test

import (
	"encoding/json"
	"net"
	"net/http"
	"path/filepath"
	"testing"
	"testing/synctest"
	"time"

	"github.com/gorilla/websocket"

	"cornerwise/session"
	"cornerwise/session/web"
)

// A pipes is a network in memory: in it, time can be made up.
type pipes chan net.Conn

func (p pipes) Accept() (net.Conn, error) {
	if conn, open := <-p; open {
		return conn, nil
	}
	return nil, net.ErrClosed
}
func (p pipes) Close() error   { return nil }
func (p pipes) Addr() net.Addr { return &net.TCPAddr{} }

// inMadeUpTime runs a test with a device on the live connection of a session at rev 1.
func inMadeUpTime(t *testing.T, test func(t *testing.T, conn *websocket.Conn)) {
	synctest.Test(t, func(t *testing.T) {
		store, err := session.Open(filepath.Join(t.TempDir(), "test.db"), time.Now)
		if err != nil {
			t.Fatal(err)
		}
		head, err := store.Create(t.Context(), []byte(web.DemoPlan))
		if err != nil {
			t.Fatal(err)
		}
		network, stop := make(pipes), make(chan struct{})
		pages := &web.Server{Store: store, Open: true, Stop: stop}
		server := &http.Server{Handler: pages.Handler()}
		go server.Serve(network)

		here, there := net.Pipe()
		network <- there
		dialer := websocket.Dialer{NetDial: func(string, string) (net.Conn, error) { return here, nil }}
		conn, _, err := dialer.Dial("ws://127.0.0.1"+at(head.ID, "live"), nil)
		if err != nil {
			t.Fatal(err)
		}
		test(t, conn)

		conn.Close()
		close(stop)
		pages.Wait(t.Context())
		close(network)
		server.Close()
		if err := store.Close(); err != nil {
			t.Error(err)
		}
	})
}

func TestTheHeartbeatComesEvery15Seconds(t *testing.T) {
	inMadeUpTime(t, func(t *testing.T, conn *websocket.Conn) {
		begun := time.Now()
		for beat := range 8 { // over two minutes, far past what silence would be forgiven
			_, data, err := conn.ReadMessage()
			if err != nil {
				t.Fatalf("message %d: %v", beat, err)
			}
			var m message
			json.Unmarshal(data, &m)
			if after := time.Since(begun); after != time.Duration(beat)*15*time.Second || m.Rev != 1 || (m.State != nil) != (beat == 0) {
				t.Errorf("message %d: got rev %d after %v, want rev 1 after %d s", beat, m.Rev, after, 15*beat)
			}
		}
	})
}

func TestADeviceThatAnswersNoPingIsLetGo(t *testing.T) {
	inMadeUpTime(t, func(t *testing.T, conn *websocket.Conn) {
		pings := 0
		conn.SetPingHandler(func(string) error { pings++; return nil })
		begun := time.Now()
		for {
			if _, _, err := conn.ReadMessage(); err != nil {
				break
			}
		}
		if after := time.Since(begun); after != 50*time.Second || pings != 2 {
			t.Errorf("without an answer: got let go after %v and %d pings, want 50 s and 2", after, pings)
		}
	})
}

func TestADeviceThatTakesNothingIsLetGo(t *testing.T) {
	inMadeUpTime(t, func(t *testing.T, conn *websocket.Conn) {
		time.Sleep(5*time.Second + time.Millisecond) // the first message is on its way all the while
		synctest.Wait()
		conn.SetReadDeadline(time.Now().Add(time.Second))
		begun := time.Now()
		if _, _, err := conn.ReadMessage(); err == nil || time.Since(begun) != 0 {
			t.Errorf("after 5 s of taking nothing: got %v after %v, want a closed connection at once", err, time.Since(begun))
		}
	})
}
