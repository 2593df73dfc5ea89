package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"net"
	"net/http"
	"os"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/gorilla/websocket"
)

// patience is how long a device waits for what must come; no test here is a race
// against the clock but the last, whose two seconds are promised.
const patience = 60 * time.Second

// A listener is a device that holds what it hears to its order.
type listener struct {
	conn *websocket.Conn
	rev  int64
	done chan error // one value: nil at the revision wanted, or what was wrong
}

func (s *server) dial(id string, since int64, with func(*websocket.Dialer)) (*websocket.Conn, error) {
	dialer := &websocket.Dialer{HandshakeTimeout: patience, ReadBufferSize: 1024, WriteBufferSize: 1024}
	if with != nil {
		with(dialer)
	}
	conn, _, err := dialer.Dial(fmt.Sprintf("ws%s/api/v1/sessions/%s/live?since=%d", strings.TrimPrefix(s.url, "http"), id, since), nil)
	return conn, err
}

// listen joins a session at revision 1 and hears everything up to last.
func (s *server) listen(id string, last int64) *listener {
	s.t.Helper()
	conn, err := s.dial(id, 1, nil)
	if err != nil {
		s.t.Fatalf("live: %v", err)
	}
	l := &listener{conn: conn, rev: 1, done: make(chan error, 1)}
	s.t.Cleanup(func() { conn.Close() })
	go func() { l.done <- l.hear(last) }()
	return l
}

// hear reads until revision last.
func (l *listener) hear(last int64) error {
	for l.rev < last {
		l.conn.SetReadDeadline(time.Now().Add(patience))
		_, data, err := l.conn.ReadMessage()
		if err != nil {
			return fmt.Errorf("after rev %d of %d: %w", l.rev, last, err)
		}
		var m struct {
			Rev int64
			Op  json.RawMessage
		}
		if err := json.Unmarshal(data, &m); err != nil {
			return err
		}
		switch {
		case m.Op == nil && m.Rev == l.rev: // in step
		case m.Op != nil && m.Rev == l.rev+1:
			l.rev++
		default:
			return fmt.Errorf("rev %d after %d: %.200s", m.Rev, l.rev, data)
		}
	}
	return nil
}

// goodbye is the code that the server ends the line with.
func (l *listener) goodbye() error {
	l.conn.SetReadDeadline(time.Now().Add(patience))
	for {
		if _, _, err := l.conn.ReadMessage(); err != nil {
			return err
		}
	}
}

// A thousand devices on one server, three hundred of them on one session. Among them
// one never reads, one sends rubbish, one comes back again and again, and one breaks
// the frames themselves. The others hear everything, in order, once. Then the server
// is stopped in the middle of the work: each is told to come back, and it is gone
// within two seconds.
func TestACrowdNoticesNothing(t *testing.T) {
	long(t)
	s := start(t, t.TempDir())
	class := s.planned(awayPlan)
	step := s.hereAt(class)
	const (
		inClass  = 300
		sessions = 70
		each     = 10
		ops      = 150
	)
	var stop atomic.Bool
	var mischief sync.WaitGroup
	defer mischief.Wait()
	defer stop.Store(true)
	s.neverReads(class)
	mischief.Go(func() { s.sendRubbish(class, &stop) })
	mischief.Go(func() { s.breakFrames(class, &stop) })
	loops := new(atomic.Int32)
	mischief.Go(func() { s.comeBackAgainAndAgain(class, &stop, loops) })

	var crowd []*listener
	for range inClass {
		crowd = append(crowd, s.listen(class, 1+ops))
	}
	var others []string
	for range sessions {
		id := s.planned(awayPlan)
		others = append(others, id)
		for range each {
			crowd = append(crowd, s.listen(id, 2))
		}
	}
	if len(crowd) != 1000 {
		t.Fatalf("%d devices, want 1000", len(crowd))
	}
	t.Logf("%.1f KiB of the program's memory a device, with all that went on", s.resident()/float64(len(crowd))/1024)

	note := func(id string, n int) string {
		return fmt.Sprintf(`{"op": "n%d", "kind": "note", "step": %q, "text": %q}`, n, step, strings.Repeat("x", 900)+strconv.Itoa(n))
	}
	for n := range ops {
		s.op(class, "%s", note(class, n))
	}
	for _, id := range others {
		s.op(id, "%s", note(id, 0))
	}
	for i, l := range crowd {
		if err := <-l.done; err != nil {
			t.Fatalf("device %d: %v", i, err)
		}
	}
	if n := loops.Load(); n < 10 {
		t.Errorf("the device that comes back again and again came %d times; this proves nothing", n)
	}

	// Work goes on while the server is told to stop.
	var workers sync.WaitGroup
	for w := range 4 {
		workers.Go(func() {
			for n := 0; !stop.Load(); n++ {
				if status, err := s.call("POST", "/api/v1/sessions/"+class+"/ops", note(class, 1000+w*100000+n), nil); err != nil || status != http.StatusOK {
					return // stopped
				}
			}
		})
	}
	ends := make(chan error, len(crowd))
	for _, l := range crowd {
		go func() { ends <- l.goodbye() }()
	}
	time.Sleep(200 * time.Millisecond)
	if took := s.stop(syscall.SIGTERM); took > 2*time.Second {
		t.Errorf("the stop took %v, want at most 2 s", took)
	}
	stop.Store(true)
	for range crowd {
		var bye *websocket.CloseError
		if err := <-ends; !errors.As(err, &bye) || bye.Code != websocket.CloseServiceRestart {
			t.Errorf("a device was left with %v, want 1012", err)
		}
	}
	workers.Wait()
}

func (s *server) hereAt(id string) string {
	s.t.Helper()
	var state struct{ Here string }
	if status, err := s.call("GET", "/api/v1/sessions/"+id, "", &state); status != 200 || err != nil {
		s.t.Fatalf("GET the session: got %d %v, want 200", status, err)
	}
	return state.Here
}

// neverReads joins and takes nothing, with as little room on its side as there is.
func (s *server) neverReads(id string) {
	s.t.Helper()
	conn, err := s.dial(id, 1, func(d *websocket.Dialer) {
		d.NetDial = func(network, address string) (net.Conn, error) {
			c, err := net.Dial(network, address)
			if err == nil {
				c.(*net.TCPConn).SetReadBuffer(1)
			}
			return c, err
		}
	})
	if err != nil {
		s.t.Fatalf("live: %v", err)
	}
	s.t.Cleanup(func() { conn.Close() })
}

// sendRubbish sends what is no op, in good frames, and reads the answers.
func (s *server) sendRubbish(id string, stop *atomic.Bool) {
	random := rand.New(rand.NewPCG(1, 2))
	for !stop.Load() {
		conn, err := s.dial(id, 1, nil)
		if err != nil {
			return // the server was stopped
		}
		for !stop.Load() {
			rubbish := make([]byte, random.IntN(300))
			for i := range rubbish {
				rubbish[i] = byte(random.Uint32())
			}
			if conn.WriteMessage(1+random.IntN(2), rubbish) != nil {
				break
			}
			conn.SetReadDeadline(time.Now().Add(patience))
			if _, _, err := conn.ReadMessage(); err != nil {
				break
			}
		}
		conn.Close()
	}
}

// breakFrames sends bytes that are not even a websocket's.
func (s *server) breakFrames(id string, stop *atomic.Bool) {
	random := rand.New(rand.NewPCG(3, 4))
	for !stop.Load() {
		conn, err := s.dial(id, 1, nil)
		if err != nil {
			return
		}
		rubbish := make([]byte, 64)
		for i := range rubbish {
			rubbish[i] = byte(random.Uint32())
		}
		conn.NetConn().Write(rubbish)
		conn.SetReadDeadline(time.Now().Add(time.Second))
		for err == nil {
			_, _, err = conn.ReadMessage()
		}
		conn.Close()
	}
}

// comeBackAgainAndAgain asks for the whole state each time and leaves.
func (s *server) comeBackAgainAndAgain(id string, stop *atomic.Bool, loops *atomic.Int32) {
	for !stop.Load() {
		conn, err := s.dial(id, 0, nil)
		if err != nil {
			return
		}
		loops.Add(1)
		conn.Close()
	}
}

var residentSet = regexp.MustCompile(`VmRSS:\s+(\d+) kB`)

// resident is the program's memory in bytes, as the system counts it; 0 where it
// does not say.
func (s *server) resident() float64 {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", s.cmd.Process.Pid))
	if err != nil {
		return 0
	}
	found := residentSet.FindSubmatch(data)
	if found == nil {
		return 0
	}
	kib, _ := strconv.ParseFloat(string(found[1]), 64)
	return kib * 1024
}
