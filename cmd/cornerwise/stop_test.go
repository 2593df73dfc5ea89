package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/gorilla/websocket"
)

// TestStopUnderLoad stops the server while eight devices tick over the live line,
// four programs over HTTP, and one device is connected and reads nothing.
func TestStopUnderLoad(t *testing.T) {
	data := t.TempDir()
	s := start(t, data)
	id, step := s.begin()
	var acked sync.Map
	var count atomic.Int64
	op := func(name string) string {
		return fmt.Sprintf(`{"op": %q, "kind": "note", "step": %q, "text": %q}`, name, step, name)
	}
	ack := func(name string, rev int64) {
		acked.Store(name, rev)
		count.Add(1)
	}

	live := func() *websocket.Conn {
		conn, _, err := websocket.DefaultDialer.Dial("ws"+strings.TrimPrefix(s.url, "http")+"/api/v1/sessions/"+id+"/live", nil)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { conn.Close() })
		return conn
	}
	live() // reads nothing
	var devices, programs sync.WaitGroup
	for d := range 8 {
		conn := live()
		devices.Go(func() {
			sent := 0
			for {
				var m struct {
					Ack  string
					Nack *string
					Rev  int64
				}
				_, text, err := conn.ReadMessage()
				var closed *websocket.CloseError
				if errors.As(err, &closed) && closed.Code == websocket.CloseServiceRestart && closed.Text == "come back" {
					return
				}
				if err != nil {
					t.Errorf("device %d: the line ended with %v, want it told to come back", d, err)
					return
				}
				json.Unmarshal(text, &m)
				if m.Nack != nil && !strings.Contains(string(text), "stopping") {
					t.Errorf("device %d: got %.200s, want an ack", d, text)
				}
				if m.Ack != "" {
					ack(m.Ack, m.Rev)
				}
				if m.Ack != "" || sent == 0 {
					sent++
					// Once it is told to come back this fails, and the read tells why.
					conn.WriteMessage(websocket.TextMessage, []byte(op(fmt.Sprintf("device-%d-%d", d, sent))))
				}
			}
		})
	}
	for p := range 4 {
		programs.Go(func() {
			for n := 0; ; n++ {
				name := fmt.Sprintf("program-%d-%d", p, n)
				a, status, err := s.note(id, step, name)
				if err != nil || status == 503 && a.Error.Code == "stopping" {
					return // not answered, or told that it was not kept
				}
				if status != 200 {
					t.Errorf("op %s: got %d %+v, want 200", name, status, a)
					return
				}
				ack(name, a.Rev)
			}
		})
	}
	for count.Load() < 500 {
		time.Sleep(time.Millisecond)
	}
	if took := s.stop(syscall.SIGTERM); took > 2*time.Second {
		t.Errorf("SIGTERM under load: took %v, want at most 2 s", took)
	} else {
		t.Logf("SIGTERM under load: gone after %v with %d ops answered", took, count.Load())
	}
	devices.Wait()
	programs.Wait()
	if log := s.stderr.String(); strings.Contains(log, "level=ERROR") || !strings.Contains(log, "msg=stop") {
		t.Errorf("log: got %s, want a stop and no fault", log)
	}
	sound(t, data)
	again := start(t, data)
	again.hold(id, &acked)
	again.stop(syscall.SIGTERM)
}
