package web_test

import (
	"bufio"
	"fmt"
	"net"
	"net/http"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"
)

// joinBare is a device on the live line with no more memory in this process than a
// socket, so that what is measured is the server's side.
func (h *house) joinBare(id string) net.Conn {
	h.t.Helper()
	conn, err := net.Dial("tcp", strings.TrimPrefix(h.url, "http://"))
	if err != nil {
		h.t.Fatal(err)
	}
	h.t.Cleanup(func() { conn.Close() })
	fmt.Fprintf(conn, "GET %s?since=1 HTTP/1.1\r\nHost: %s\r\nConnection: Upgrade\r\nUpgrade: websocket\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\n\r\n",
		at(id, "live"), strings.TrimPrefix(h.url, "http://"))
	from := bufio.NewReaderSize(conn, 512)
	conn.SetReadDeadline(time.Now().Add(patience))
	res, err := http.ReadResponse(from, nil)
	if err != nil || res.StatusCode != http.StatusSwitchingProtocols {
		h.t.Fatalf("live: got %v %v, want 101", res, err)
	}
	// The first message: two bytes of frame, then that it is in step.
	frame := make([]byte, 2+len(`{"rev":1}`))
	for i := range frame {
		if frame[i], err = from.ReadByte(); err != nil {
			h.t.Fatalf("first message: %v", err)
		}
	}
	if string(frame[2:]) != `{"rev":1}` {
		h.t.Fatalf("first message: got %q, want that rev 1 is in step", frame[2:])
	}
	return conn
}

func memory() uint64 {
	runtime.GC()
	runtime.GC() // what the first one only found
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapInuse + m.StackInuse
}

// BenchmarkIdleDevice is what one device costs in memory that is on the line and has
// nothing to say: heap and stacks of the server, with the socket of the test's end.
func BenchmarkIdleDevice(b *testing.B) {
	h := openHouse(b)
	id := h.begin()
	h.joinBare(id)
	before, devices := memory(), 0
	for b.Loop() {
		h.joinBare(id)
		devices++
	}
	b.StopTimer()
	b.ReportMetric((float64(memory())-float64(before))/float64(devices)/1024, "KiB/device")
}

// BenchmarkTickSeenBy100 is from the sending of a tick until the last of a hundred
// devices has it: alone, and beside one that joins and leaves all the time, which
// makes the server write out the whole state each time. The bar is our own: 300 ms at the
// 95th percentile, so that two people at one quilt see one state. On two cores that did
// other work too it was 3.3 ms and 7 ms at the 95th percentile, beside the other 6.4 and 20.
func BenchmarkTickSeenBy100(b *testing.B) {
	b.Run("alone", func(b *testing.B) { seenBy100(b, func(*house, string) bool { return false }) })
	b.Run("beside one that comes and goes", func(b *testing.B) {
		seenBy100(b, func(h *house, id string) bool {
			conn, _, err := websocket.DefaultDialer.Dial("ws"+strings.TrimPrefix(h.url, "http")+at(id, "live"), nil)
			if err != nil {
				return false
			}
			conn.ReadMessage()
			conn.Close()
			return true
		})
	})
}

func seenBy100(b *testing.B, mischief func(h *house, id string) bool) {
	h := openHouse(b)
	id := h.begin()
	tick := h.state(id).ready()
	const devices = 100
	seen := make(chan error, devices)
	for range devices {
		d := h.join(id, "?since=1")
		go func() {
			for {
				m, err := d.read()
				if err == nil && m.Op == nil {
					continue // in step, a heartbeat
				}
				seen <- err
				if err != nil {
					return
				}
			}
		}()
	}
	one := h.join(id, "?since=1")
	go func() { // its own acks and events
		for {
			if _, err := one.read(); err != nil {
				return
			}
		}
	}()
	enough, ended, times := make(chan struct{}), make(chan struct{}), 0
	go func() {
		defer close(ended)
		for mischief(h, id) {
			times++
			select {
			case <-enough:
				return
			default:
			}
		}
	}()
	var all []float64
	for n := 0; b.Loop(); n++ {
		begun := time.Now()
		one.send(tickOp(fmt.Sprint("op", n), tick, n%2 == 0))
		for range devices {
			if err := <-seen; err != nil {
				b.Fatal(err)
			}
		}
		all = append(all, float64(time.Since(begun).Microseconds())/1000)
	}
	b.StopTimer()
	close(enough)
	<-ended
	slices.Sort(all)
	b.ReportMetric(all[len(all)/2], "ms/median")
	b.ReportMetric(all[len(all)*95/100], "ms/p95")
	b.ReportMetric(float64(times), "joins")
}
