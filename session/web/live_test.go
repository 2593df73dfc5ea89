package web_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/gorilla/websocket"
	"go.etcd.io/bbolt"

	"cornerwise/session/web"
)

// patience is how long a test waits before it calls a message missing.
const patience = 10 * time.Second

// A device is one client on the live connection.
type device struct {
	t    testing.TB
	conn *websocket.Conn
}

// A message is any that the server sends.
type message struct {
	Rev     int64
	State   *stateJSON
	Op      json.RawMessage
	At      time.Time
	Changed *struct {
		Ticks map[string]bool
		Notes map[string]string
		Here  string
	}
	Ack, Nack *string
	Error     struct {
		Code, Message string
		Missing       []string
	}
}

func (h *house) join(id, query string) *device {
	h.t.Helper()
	conn, res, err := websocket.DefaultDialer.Dial("ws"+strings.TrimPrefix(h.url, "http")+at(id, "live")+query, nil)
	if err != nil {
		status := 0
		if res != nil {
			status = res.StatusCode
		}
		h.t.Fatalf("live %s%s: %v (status %d)", id, query, err, status)
	}
	h.t.Cleanup(func() { conn.Close() })
	return &device{h.t, conn}
}

func (d *device) send(text string) {
	d.t.Helper()
	if err := d.conn.WriteMessage(websocket.TextMessage, []byte(text)); err != nil {
		d.t.Fatalf("send %.80s: %v", text, err)
	}
}

func (d *device) next() message {
	d.t.Helper()
	m, err := d.read()
	if err != nil {
		d.t.Fatalf("next message: %v", err)
	}
	return m
}

func (d *device) read() (message, error) {
	d.conn.SetReadDeadline(time.Now().Add(patience))
	_, data, err := d.conn.ReadMessage()
	var m message
	if err == nil {
		err = json.Unmarshal(data, &m)
	}
	return m, err
}

// beat tells a heartbeat: a slow machine may be at a test for longer than 15 s.
func (m message) beat() bool { return m.State == nil && m.Op == nil && m.Ack == nil && m.Nack == nil }

// events reads up to the event of rev, and holds them to their order: each
// revision once, one more than the last. Acks on the way are kept by op.
func (d *device) events(from, to int64) (acks map[string]int64) {
	d.t.Helper()
	acks = map[string]int64{}
	for rev := from; rev < to; {
		m := d.next()
		switch {
		case m.Ack != nil:
			acks[*m.Ack] = m.Rev
		case m.Op != nil:
			if rev++; m.Rev != rev || m.Changed == nil || m.At.IsZero() {
				d.t.Fatalf("event: got rev %d changed %+v at %v, want rev %d with both", m.Rev, m.Changed, m.At, rev)
			}
		case !m.beat() || m.Rev != rev:
			d.t.Fatalf("got %+v, want an event, an ack or a heartbeat at rev %d", m, rev)
		}
	}
	return acks
}

func noteOp(op, step, text string) string {
	return fmt.Sprintf(`{"op": %q, "kind": "note", "step": %q, "text": %q}`, op, step, text)
}

func TestATickShowsOnTheOtherDevice(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	one, two := h.join(id, ""), h.join(id, "?since=0")
	for _, d := range []*device{one, two} {
		if m := d.next(); m.Rev != 1 || m.State == nil || m.State.ID != id || len(m.State.Stages) != 6 {
			t.Fatalf("first message: got rev %d state %+v, want the whole state at 1", m.Rev, m.State)
		}
	}
	tick := h.state(id).ready()
	one.send(tickOp("a", tick, true))
	for _, d := range []*device{one, two} {
		m := d.next()
		if m.Ack != nil { // before or after the event
			if m.Rev != 2 {
				t.Errorf("ack: got rev %d, want 2", m.Rev)
			}
			m = d.next()
		}
		if m.Rev != 2 || m.Changed == nil || !m.Changed.Ticks[tick] || !strings.Contains(string(m.Op), tick) {
			t.Errorf("event: got %+v, want rev 2 with %s done", m, tick)
		}
	}
}

func TestEveryDeviceHearsEveryOpInOrder(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	step := h.state(id).Here
	const devices, each = 4, 25
	const last = 1 + (devices+1)*each
	var all sync.WaitGroup
	for n := range devices {
		d := h.join(id, "")
		first := d.next().Rev // the others are at it already
		all.Go(func() {
			for i := range each {
				text := noteOp(fmt.Sprintf("d%d-%d", n, i), step, fmt.Sprint(n, i))
				if err := d.conn.WriteMessage(websocket.TextMessage, []byte(text)); err != nil {
					t.Errorf("device %d: %v", n, err)
				}
			}
		})
		all.Go(func() {
			acks, rev := map[string]bool{}, first
			for rev < last || len(acks) < each {
				m, err := d.read()
				switch {
				case err != nil:
					t.Errorf("device %d at rev %d: %v", n, rev, err)
					return
				case m.Ack != nil && acks[*m.Ack]:
					t.Errorf("device %d: ack of %s twice", n, *m.Ack)
				case m.Ack != nil:
					acks[*m.Ack] = true
				case m.beat():
				case m.Rev != rev+1:
					t.Errorf("device %d: got rev %d after %d", n, m.Rev, rev)
					return
				default:
					rev++
				}
			}
		})
	}
	for i := range each {
		h.must(200, "POST", at(id, "ops"), noteOp(fmt.Sprint("http", i), step, fmt.Sprint(i)), nil)
	}
	all.Wait()
}

func TestADeviceThatComesBackGetsWhatItMissed(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	step := h.state(id).Here
	for i := range 5 {
		h.must(200, "POST", at(id, "ops"), noteOp(fmt.Sprint(i), step, fmt.Sprint("note ", i)), nil)
	}
	h.join(id, "?since=3").events(3, 6)

	if m := h.join(id, "?since=6").next(); m.Rev != 6 || m.State != nil || m.Op != nil {
		t.Errorf("since=6 at 6: got %+v, want only that 6 is in step", m)
	}
	for _, query := range []string{"", "?since=0", "?since=7000"} {
		if m := h.join(id, query).next(); m.Rev != 6 || m.State == nil {
			t.Errorf("live%s: got rev %d state %t, want the whole state at 6", query, m.Rev, m.State != nil)
		}
	}
	// What comes next joins what was missed.
	d := h.join(id, "?since=5")
	h.must(200, "POST", at(id, "ops"), noteOp("after", step, "x"), nil)
	d.events(5, 7)
}

func TestTheSameOpOverBothWaysIsOne(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	s := h.state(id)
	d := h.join(id, "")
	d.next()
	op := tickOp("twice", s.ready(), true)
	h.must(200, "POST", at(id, "ops"), op, nil)
	d.send(op)
	d.send(op)
	acks := 0
	for acks < 2 {
		m := d.next()
		if m.Rev != 2 {
			t.Fatalf("got %+v, want rev 2 in all", m)
		}
		if m.Ack != nil {
			acks++
		}
	}
	if got := h.state(id).Rev; got != 2 {
		t.Errorf("the same op three times: got rev %d, want 2", got)
	}
}

func TestRubbishIsAnsweredAndHarmsNoOne(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	s := h.state(id)
	quiet, d := h.join(id, ""), h.join(id, "")
	quiet.next()
	d.next()
	for _, c := range []struct{ name, text, op, code string }{
		{"no JSON", "tick it", "", "bad-json"},
		{"nothing", "", "", "bad-json"},
		{"bytes that are no text", "\xff\xfe", "", "bad-json"},
		{"a list", "[1]", "", "bad-op"},
		{"an unknown field", `{"op": "r1", "kind": "tick", "thick": 1}`, "r1", "bad-op"},
		{"a wrong type", `{"op": "r2", "kind": "tick", "done": "yes"}`, "r2", "bad-op"},
		{"an unknown tick", tickOp("r3", "nosuch", true), "r3", "unknown-tick"},
		{"a tick too early", tickOp("r4", s.blocked(), true), "r4", "not-yet"},
		{"the same too early again", tickOp("r4", s.blocked(), true), "r4", "not-yet"},
	} {
		d.send(c.text)
		m := d.next()
		if m.Nack == nil || *m.Nack != c.op || m.Error.Code != c.code || !sentence(m.Error.Message) {
			t.Errorf("%s: got %+v, want a nack of %q with %s", c.name, m, c.op, c.code)
		}
	}
	d.conn.WriteMessage(websocket.BinaryMessage, []byte("{}"))
	if m := d.next(); m.Nack == nil || *m.Nack != "" || m.Error.Code != "bad-json" {
		t.Errorf("a binary message: got %+v, want a nack", m)
	}
	d.send(strings.Repeat("x", 65<<10))
	if _, err := d.read(); !websocket.IsCloseError(err, websocket.CloseMessageTooBig) {
		t.Errorf("a message of 65 KiB: got %v, want the connection closed as too big", err)
	}
	h.must(200, "POST", at(id, "ops"), tickOp("good", s.ready(), true), nil)
	if m := quiet.next(); m.Rev != 2 {
		t.Errorf("the other device: got %+v, want the tick as rev 2", m)
	}
}

func TestLiveOnlyFromTheSameOrigin(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	for _, c := range []struct {
		origin string
		want   int
	}{
		{"", 101}, {h.url, 101}, {"http://evil.example", 403}, {"null", 403}, {"http://localhost:1", 403},
	} {
		header := http.Header{}
		if c.origin != "" {
			header.Set("Origin", c.origin)
		}
		conn, res, err := websocket.DefaultDialer.Dial("ws"+strings.TrimPrefix(h.url, "http")+at(id, "live"), header)
		if err == nil {
			conn.Close()
		}
		if res == nil || res.StatusCode != c.want {
			t.Errorf("live from origin %q: got %v, %v; want %d", c.origin, res, err, c.want)
		}
	}
}

func TestADeviceThatNeverReadsHoldsNoOneUp(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	silent, reader := h.join(id, ""), h.join(id, "")
	reader.next()
	// A changed plan tells the whole procedure anew: enough to fill every buffer
	// between here and a device that does not read.
	const ops = 150
	done := make(chan struct{})
	go func() {
		defer close(done)
		for i := range ops {
			plan := strings.Replace(web.DemoPlan, `"5 1/2"`, fmt.Sprintf(`"%d 1/2"`, 5+i%2), 1)
			h.call("POST", at(id, "ops"), fmt.Sprintf(`{"op": "%d", "kind": "plan", "plan": %s}`, i, plan))
		}
	}()
	reader.events(1, 1+ops)
	<-done

	// It gets what was on the way, without a gap. Then it is sent to start
	// afresh, or was cut off because a message was not taken in time.
	for rev := silent.next().Rev; ; {
		m, err := silent.read()
		if websocket.IsCloseError(err, websocket.CloseTryAgainLater, websocket.CloseAbnormalClosure) || errors.Is(err, syscall.ECONNRESET) {
			break
		}
		if err == nil && m.beat() {
			continue
		}
		if rev++; err != nil || m.Rev != rev {
			t.Fatalf("the silent device after rev %d: got rev %d, %v; want the next or the end", rev-1, m.Rev, err)
		}
		if rev == 1+ops {
			t.Fatalf("the silent device got all %d events; it was never too slow", ops)
		}
	}
}

func TestTheBinEndsTheLine(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	d := h.join(id, "")
	d.next()
	h.must(200, "DELETE", at(id), "", nil)
	if _, err := d.read(); !websocket.IsCloseError(err, websocket.CloseTryAgainLater) {
		t.Errorf("after the session went into the bin: got %v, want the line closed", err)
	}
}

func TestAStopSaysGoodbye(t *testing.T) {
	h := openHouse(t)
	id := h.begin()
	h.join(id, "") // one that never reads does not hold it up
	d := h.join(id, "")
	d.next()
	begun := time.Now()
	close(h.stop)
	_, err := d.read()
	var bye *websocket.CloseError
	if !errors.As(err, &bye) || bye.Code != websocket.CloseServiceRestart || bye.Text != "come back" {
		t.Errorf("at the stop: got %v, want 1012 come back", err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	h.web.Wait(ctx)
	if took := time.Since(begun); took > 2*time.Second {
		t.Errorf("the stop took %v, want at most the 2 s of the contract", took)
	}
}

// BenchmarkTickBesideBolt is a tick from one websocket to another, beside a bare
// put of the same size in a bbolt file of its own, turn about in the same run.
func BenchmarkTickBesideBolt(b *testing.B) {
	h := openHouse(b)
	id := h.begin()
	tick := h.state(id).ready()
	one, two := h.join(id, ""), h.join(id, "")
	one.next()
	two.next()
	db, err := bbolt.Open(filepath.Join(b.TempDir(), "bare.db"), 0o600, &bbolt.Options{NoFreelistSync: true})
	if err != nil {
		b.Fatal(err)
	}
	defer db.Close()
	var ticks, puts time.Duration
	n := 0
	for b.Loop() {
		n++
		op := tickOp(fmt.Sprint("op", n), tick, n%2 == 1)
		begun := time.Now()
		one.send(op)
		for two.next().Rev != int64(n+1) {
			b.Fatal("a message out of order")
		}
		ticks += time.Since(begun)
		for range 2 { // its own event and ack, in either order
			one.next()
		}
		begun = time.Now()
		err := db.Update(func(tx *bbolt.Tx) error {
			bucket, err := tx.CreateBucketIfNotExists([]byte("ops"))
			if err != nil {
				return err
			}
			return bucket.Put(fmt.Appendf(nil, "%08d", n), []byte(op))
		})
		if err != nil {
			b.Fatal(err)
		}
		puts += time.Since(begun)
	}
	b.ReportMetric(float64(ticks.Microseconds())/float64(n), "µs/tick")
	b.ReportMetric(float64(puts.Microseconds())/float64(n), "µs/put")
	b.ReportMetric(float64(ticks)/float64(puts), "tick/put")
}
