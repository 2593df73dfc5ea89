package web

import (
	"errors"
	"net"
	"sync"
	"time"
)

// firstByte is how long a connection may take to say what it is.
const firstByte = 5 * time.Second

// acceptAgain is how long it waits after a connection could not be taken.
const acceptAgain = 100 * time.Millisecond

// handshake is what a TLS connection begins with (RFC 8446, 5.1).
const handshake = 22

// Split serves http and https on one port, so that who types an address without
// its https is told so. What comes in by TLS goes to secure, the rest to plain.
// Closing either ends both.
func Split(listener net.Listener) (plain, secure net.Listener) {
	s := &split{listener: listener, stop: make(chan struct{}), waiting: map[net.Conn]struct{}{}}
	p, t := &half{s, make(chan net.Conn)}, &half{s, make(chan net.Conn)}
	s.all.Go(func() { s.accept(p, t) })
	return p, t
}

type split struct {
	listener net.Listener
	once     sync.Once
	stop     chan struct{}  // closed by close
	all      sync.WaitGroup // accept, and one for each connection that has said nothing
	err      error          // of the listener; read after stop is closed

	mu      sync.Mutex
	waiting map[net.Conn]struct{} // those; nil once it is closed
}

// accept ends with the listener.
func (s *split) accept(plain, secure *half) {
	for {
		conn, err := s.listener.Accept()
		if err != nil {
			if !errors.Is(err, net.ErrClosed) && s.pause() {
				continue // as where the system lets no more files be open
			}
			s.err = err
			s.end()
			return
		}
		s.all.Go(func() { s.sort(conn, plain, secure) })
	}
}

// pause waits a moment; false when the listener is closed meanwhile.
func (s *split) pause() bool {
	select {
	case <-time.After(acceptAgain):
		return true
	case <-s.stop:
		return false
	}
}

func (s *split) sort(conn net.Conn, plain, secure *half) {
	if !s.wait(conn) {
		conn.Close()
		return
	}
	first := make([]byte, 1)
	conn.SetReadDeadline(time.Now().Add(firstByte))
	n, err := conn.Read(first)
	s.mu.Lock()
	delete(s.waiting, conn)
	s.mu.Unlock()
	if n == 0 || err != nil {
		conn.Close()
		return
	}
	conn.SetReadDeadline(time.Time{})
	to := plain
	if first[0] == handshake {
		to = secure
	}
	select {
	case to.conns <- &peeked{Conn: conn, first: first}:
	case <-s.stop:
		conn.Close()
	}
}

// wait is false when it is too late.
func (s *split) wait(conn net.Conn) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.waiting == nil {
		return false
	}
	s.waiting[conn] = struct{}{}
	return true
}

func (s *split) end() {
	s.once.Do(func() {
		close(s.stop)
		s.mu.Lock()
		for conn := range s.waiting {
			conn.Close()
		}
		s.waiting = nil
		s.mu.Unlock()
	})
}

// A half is one of the two listeners.
type half struct {
	*split
	conns chan net.Conn
}

func (h *half) Accept() (net.Conn, error) {
	select {
	case conn := <-h.conns:
		return conn, nil
	case <-h.stop:
		return nil, net.ErrClosed
	}
}

func (h *half) Close() error {
	h.end()
	err := h.listener.Close()
	h.all.Wait()
	return err
}

func (h *half) Addr() net.Addr { return h.listener.Addr() }

// A peeked connection gives its first byte again.
type peeked struct {
	net.Conn
	first []byte
}

func (p *peeked) Read(b []byte) (int, error) {
	if len(p.first) > 0 && len(b) > 0 {
		n := copy(b, p.first)
		p.first = p.first[n:]
		return n, nil
	}
	return p.Conn.Read(b)
}
