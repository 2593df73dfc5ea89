package web

import (
	"context"
	"net/http"
	"net/netip"
	"strings"
	"time"

	"cornerwise/session"
)

// A visitor is who a request comes from.
type visitor struct {
	in     bool            // it may come in
	owner  bool            // it is at this computer
	device session.Device  // zero where it is no paired one
	party  party           // as limits count it; none for the owner
	while  context.Context // ends when the device is forgotten; never where it is none
}

// only is the id of the one quilt that it was let in for; "" where it sees all.
func (v visitor) only() string { return v.device.Only }

// wayOn is the address to which a page leads on that says why something can't be had: the
// first page, or that of the only quilt that the visitor sees; "" where that is the one.
func (v visitor) wayOn(r *http.Request) string {
	switch way := "/s/" + v.only(); {
	case v.only() == "":
		return "/"
	case way != r.URL.Path:
		return way
	}
	return ""
}

// forgotten is nil, or why a device that came in may not be in any more.
func (v visitor) forgotten() error {
	if v.while.Err() != nil {
		return notPaired
	}
	return nil
}

type visitorKey struct{}

// visitorOf is the visitor that came in by the door.
func visitorOf(r *http.Request) visitor {
	v, _ := r.Context().Value(visitorKey{}).(visitor)
	return v
}

// visitor tells the owner at this computer, a paired device, and, when the server
// is open, anyone, who goes by what its browser calls it. Forwarding headers are never read:
// anyone can write them.
func (s *Server) visitor(r *http.Request, h host) visitor {
	if h.loopback && fromLoopback(r) {
		return visitor{in: true, owner: true, while: context.Background()}
	}
	here := partyAt(remoteOf(r))
	if s.Open {
		while := session.Charged(context.Background(), s.accounts.of(here))
		return visitor{in: true, party: here, while: session.Named(while, deviceName(r.UserAgent()))}
	}
	device, while, ok := s.Devices.Enter(r.Context(), secretOf(r))
	if !ok {
		return visitor{party: here, while: context.Background()}
	}
	return visitor{in: true, party: party{one: device.ID}, device: device, while: while}
}

// A stay is the context of one request of a visitor. It ends with the request; and as a child
// of visitor.while it ends with that one too, before Forget returns.
type stay struct {
	context.Context
	request context.Context
}

func (s stay) Value(key any) any {
	if value := s.Context.Value(key); value != nil {
		return value
	}
	return s.request.Value(key)
}

// stayOf is the request in the context of its visitor, until end.
func stayOf(r *http.Request, v visitor) (in *http.Request, end func()) {
	ctx, cancel := context.WithCancelCause(context.WithValue(v.while, visitorKey{}, v))
	stop := context.AfterFunc(r.Context(), func() { cancel(context.Cause(r.Context())) })
	return r.WithContext(stay{ctx, r.Context()}), func() {
		stop()
		cancel(nil)
	}
}

var onlyLooks = &problem{status: http.StatusForbidden, Code: "only-looks",
	Message: "This device was let in to look, and nothing was changed. " +
		"To tick on it, pair it again at the computer."}

// mayChange is nil, or why this visitor may change nothing now: it looks only, was
// forgotten since it came in, or changes too much at once.
func (s *Server) mayChange(v visitor) error {
	if err := v.forgotten(); err != nil {
		return err
	}
	if v.device.Looks {
		return onlyLooks
	}
	if v.owner {
		return nil
	}
	wait := s.changes.Use(v.party.one, time.Now())
	if wait == 0 && v.party.around != "" {
		wait = s.around.Use(v.party.around, time.Now())
	}
	if wait > 0 {
		return &problem{status: http.StatusTooManyRequests, wait: wait, Code: "too-fast",
			Message: "This device sends more at once than is taken, and this was not kept. " +
				"It is taken in " + inSeconds(wait) + "."}
	}
	return nil
}

// mayRead is nil, or why this visitor may read nothing now: it reads too much at once.
func (s *Server) mayRead(v visitor) error {
	if v.owner {
		return nil
	}
	if wait := s.reads.Use(v.party.one, time.Now()); wait > 0 {
		return &problem{status: http.StatusTooManyRequests, wait: wait, Code: "too-fast",
			Message: "This device reads more at once than is given out. Ask again in " + inSeconds(wait) + "."}
	}
	return nil
}

func fromLoopback(r *http.Request) bool { return remoteOf(r).Unmap().IsLoopback() }

// remoteOf is where a request comes from; none where that is no address.
func remoteOf(r *http.Request) netip.Addr {
	remote, _ := netip.ParseAddrPort(r.RemoteAddr)
	return remote.Addr()
}

// deviceName is what a browser's own words call the device.
func deviceName(userAgent string) string {
	for _, known := range []struct{ sign, name string }{
		{"iPad", "iPad"}, {"iPhone", "iPhone"}, {"CrOS", "Chromebook"},
		{"Macintosh", "Mac"}, {"Windows", "Windows computer"},
	} {
		if strings.Contains(userAgent, known.sign) {
			return known.name
		}
	}
	switch {
	case strings.Contains(userAgent, "Android") && strings.Contains(userAgent, "Mobile"):
		return "Android phone"
	case strings.Contains(userAgent, "Android"):
		return "Android tablet"
	case strings.Contains(userAgent, "Linux"):
		return "Linux computer"
	}
	return "Device"
}
