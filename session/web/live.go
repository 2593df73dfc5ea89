package web

import (
	"encoding/json"
	"fmt"
	"log/slog"
	"net/http"
	"runtime/debug"
	"strconv"
	"sync"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/gorilla/websocket"

	"cornerwise/session"
)

const (
	messageLimit = opBody
	writeWait    = 5 * time.Second
	pingEvery    = 20 * time.Second
	pongWait     = 50 * time.Second // two pings and a half
	beatEvery    = 15 * time.Second // a page can't see pings
	closeWait    = 500 * time.Millisecond
)

// An idle device should cost little: ops are short, so a small buffer reads them,
// and buffers to write with are shared.
const readBuffer = 512

var writeBuffers sync.Pool

// What goes out, beside session.Event as it stands.
type (
	// whole begins the first message when the gap is long, or none was given; "state" follows.
	whole struct {
		Rev  int64  `json:"rev"`
		Past string `json:"past,omitempty"` // in which the revision counts
	}
	// inStep says that the device has all up to Rev: the first message when it
	// missed nothing, and the heartbeat.
	inStep struct {
		Rev int64 `json:"rev"`
	}
	ack struct {
		Ack string `json:"ack"`
		Rev int64  `json:"rev"`
	}
	nack struct {
		Nack  string   `json:"nack"` // "" where the op's id could not be read
		Error *problem `json:"error"`
	}
)

// A line is one device's live connection: a goroutine that reads and one that
// writes. Whichever ends first ends the other. The server waits for both (Wait).
type line struct {
	conn    *websocket.Conn
	guest   visitor
	leave   func() // it no longer counts
	watch   *session.Watch
	texts   *stateTexts
	desks   desks
	past    string        // of the store
	rev     int64         // up to which the device has everything; the writer's
	replies chan any      // from reader to writer
	gone    chan struct{} // closed by the reader: nothing more comes from the device
	ended   chan struct{} // closed by the writer: nothing more goes to it
}

// live joins a device to a session: it hears every op and may send its own. The line
// outlives the request: a handler that stayed would hold net/http's buffers, the request and
// a deep stack for each device. An idle device takes 15 KiB so, and took 53 KiB before
// (BenchmarkIdleDevice: heap and stacks, after a collection).
func (s *Server) live(w http.ResponseWriter, r *http.Request) {
	id := chi.URLParam(r, "id")
	since, err := readSince(r.URL.Query().Get("since"))
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	if past := r.URL.Query()["past"]; past != nil && past[0] != s.Store.Epoch() {
		since = 0 // its revisions are of a past that was discarded
	}
	v := visitorOf(r)
	leave := func() {}
	if !v.owner {
		if s.liveQuota.take(v.party) != free {
			s.refuse(w, r, tooManyLives)
			return
		}
		leave = func() { s.liveQuota.give(v.party) }
	}
	var watch *session.Watch
	if err = s.opened(r.Context(), v, id); err == nil {
		watch, err = s.Store.Watch(id, since)
	}
	if err != nil {
		leave()
		s.refuse(w, r, err)
		return
	}
	s.lives.Add(1) // before net/http forgets the connection
	up := websocket.Upgrader{CheckOrigin: sameOrigin, Error: s.refuseUpgrade,
		ReadBufferSize: readBuffer, WriteBufferPool: &writeBuffers}
	conn, err := up.Upgrade(w, r, nil)
	if err != nil { // refuseUpgrade has replied
		watch.Close()
		s.lives.Done()
		leave()
		return
	}
	l := &line{conn: conn, guest: v, leave: leave, watch: watch, texts: s.texts, desks: s.desks, past: s.Store.Epoch(), rev: since,
		replies: make(chan any), gone: make(chan struct{}), ended: make(chan struct{})}
	go s.readLine(l, id)
	go s.writeLine(l)
}

func (s *Server) readLine(l *line, id string) {
	defer close(l.gone)
	defer s.survive()
	l.read(func(data []byte) any { return s.takeOp(l.guest, id, data) })
}

func (s *Server) writeLine(l *line) {
	defer s.lives.Done()
	defer l.leave()
	defer func() { <-l.gone }()
	defer l.watch.Close()
	defer close(l.ended)
	defer l.conn.Close()
	defer s.survive()
	l.write(s.Stop)
}

// survive keeps a bug on one line from ending the server; the line ends.
func (s *Server) survive() {
	if bug := recover(); bug != nil {
		s.tally.add(s.Log, "bug", slog.LevelError, "bug", "what", bug, "stack", string(debug.Stack()))
	}
}

var tooManyLives = &problem{status: http.StatusTooManyRequests, Code: "too-many-lines",
	Message: "Too many pages are open at once on this device, or on all of them together. " +
		"Close some; ticks are kept all the same."}

func (s *Server) refuseUpgrade(w http.ResponseWriter, r *http.Request, status int, reason error) {
	if status == http.StatusForbidden {
		s.refuse(w, r, otherOrigin)
		return
	}
	s.refuse(w, r, &problem{status: status, Code: "not-a-websocket",
		Message: "This address is for a websocket, and none could be opened: " + reason.Error() + "."})
}

func readSince(written string) (int64, error) {
	if written == "" {
		return 0, nil
	}
	since, err := strconv.ParseInt(written, 10, 64)
	if err != nil || since < 0 {
		return 0, &problem{status: http.StatusUnprocessableEntity, Code: "bad-since", Field: "since",
			Message: "since is the last revision that this device has; it must be a whole " +
				"number, 0 or more."}
	}
	return since, nil
}

// takeOp does the op of one message, and gives what to reply: an ack or a nack.
func (s *Server) takeOp(v visitor, id string, data []byte) any {
	op, err := decodeOp(data)
	if err == nil {
		err = s.mayChange(v)
	}
	if err == nil {
		var rev int64
		// The op is the person's, whatever becomes of the connection.
		rev, err = s.takeFor(v.while, v, id, op)
		if err == nil {
			return ack{op.ID, rev}
		}
	}
	p := explainTo(v, err)
	s.recordAt("live", livePath, p, err)
	return nack{op.ID, p}
}

func (l *line) read(take func([]byte) any) {
	l.conn.SetReadLimit(messageLimit)
	l.conn.SetReadDeadline(time.Now().Add(pongWait))
	l.conn.SetPongHandler(func(string) error { return l.conn.SetReadDeadline(time.Now().Add(pongWait)) })
	for {
		kind, data, err := l.conn.ReadMessage()
		if err != nil {
			return
		}
		var reply any = nack{Error: badJSON("This is not text; an op comes as JSON text.")}
		if kind == websocket.TextMessage {
			reply = take(data)
		}
		select {
		case l.replies <- reply:
		case <-l.ended:
			return
		}
	}
}

func (l *line) write(stop <-chan struct{}) {
	ping, beat := time.NewTicker(pingEvery), time.NewTicker(beatEvery)
	defer ping.Stop()
	defer beat.Stop()

	for err := l.greet(); err == nil; {
		select {
		case <-l.gone:
			return
		case <-stop:
			l.part(websocket.CloseServiceRestart, "come back")
			return
		case <-l.guest.while.Done():
			l.part(websocket.ClosePolicyViolation, "forgotten")
			return
		case event, more := <-l.watch.Events:
			if !more {
				l.partWatch(stop)
				return
			}
			l.rev = event.Rev
			err = l.tell(event)
		case reply := <-l.replies:
			err = l.send(reply)
		case <-beat.C:
			err = l.send(inStep{l.rev})
		case <-ping.C:
			err = l.conn.WriteControl(websocket.PingMessage, nil, time.Now().Add(writeWait))
		}
	}
}

// greet brings the device up to date.
func (l *line) greet() error {
	if start := l.watch.Start; start.Work != nil {
		l.rev, l.watch.Start = start.Rev, session.Snapshot{}
		rise, err := l.desks.sit(l.guest.while, l.guest)
		if err != nil {
			return err
		}
		data, err := l.texts.state(start)
		rise()
		if err != nil {
			return err
		}
		return l.sendWhole(whole{start.Rev, l.past}, *data)
	}
	if len(l.watch.Missed) == 0 {
		return l.send(inStep{l.rev})
	}
	missed := l.watch.Missed
	l.watch.Missed = nil // a device that is idle from here on need not hold it
	for _, event := range missed {
		l.rev = event.Rev
		if err := l.tell(event); err != nil {
			return err
		}
	}
	return nil
}

// sendWhole sends a state as it is in memory for all: a slow network holds no copy.
func (l *line) sendWhole(begins whole, state []byte) error {
	head, err := json.Marshal(begins)
	if err != nil {
		return fmt.Errorf("write a live message: %w", err)
	}
	l.conn.SetWriteDeadline(time.Now().Add(writeWait))
	w, err := l.conn.NextWriter(websocket.TextMessage)
	if err != nil {
		return err
	}
	for _, part := range [][]byte{head[:len(head)-1], []byte(`,"state":`), state, []byte("}")} {
		if _, err := w.Write(part); err != nil {
			return err
		}
	}
	return w.Close()
}

func (l *line) send(v any) error {
	data, err := json.Marshal(v)
	return l.sendText(data, err)
}

func (l *line) tell(e session.Event) error {
	data, err := e.JSON()
	return l.sendText(data, err)
}

func (l *line) sendText(data []byte, err error) error {
	if err != nil {
		return fmt.Errorf("write a live message: %w", err)
	}
	l.conn.SetWriteDeadline(time.Now().Add(writeWait))
	return l.conn.WriteMessage(websocket.TextMessage, data)
}

// partWatch ends a line whose watch has ended: the device was too slow, the
// session went into the bin, or the store is closing.
func (l *line) partWatch(stop <-chan struct{}) {
	select {
	case <-stop:
		l.part(websocket.CloseServiceRestart, "come back")
	default:
		l.part(websocket.CloseTryAgainLater, "read the session afresh")
	}
}

// part says goodbye by a close code, and waits a moment for the device's: closing at once
// with unread messages about would throw the goodbye away. At a stop the code is 1012,
// service restart, and each page comes back by itself after a pause of its own.
func (l *line) part(code int, why string) {
	now := time.Now()
	l.conn.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(code, why), now.Add(closeWait))
	timer := time.NewTimer(closeWait)
	defer timer.Stop()
	for {
		select {
		case <-l.gone:
			return
		case <-timer.C:
			return
		case <-l.replies: // too late for a reply: the device asks again
		}
	}
}
