package web

import (
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"strings"
	"time"
)

// door sends away what comes under a strange Host or from another origin, before
// anything is read, and tells who the visitor is; what that one may do stands in the
// tables of routes (admit). First the Host: a page whose name was made to lead to this
// address passes every comparison of Origin with Host.
func (s *Server) door(next http.Handler) http.Handler {
	crossOrigin := http.NewCrossOriginProtection()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if fromElsewhere(r) {
			s.came.Store(true)
		}
		host, known := s.knownHost(r.Host)
		secure(w.Header(), r, known)
		switch {
		case !known:
			s.refuse(w, r, unknownHost)
			return
		case crossOrigin.Check(r) != nil, otherScheme(r):
			s.refuse(w, r, otherOrigin)
			return
		}
		v := s.visitor(r, host)
		if conn, ok := r.Context().Value(countedKey{}).(*counted); ok && conn != nil && v.in && !v.owner {
			conn.isOf(v.party.one)
		}
		if !v.owner {
			under := s.requests
			if !v.in {
				under = s.strangers
			}
			if under.take(v.party) != free {
				s.refuse(w, r, tooManyAtOnce)
				return
			}
			defer under.give(v.party)
		}
		in, end := stayOf(r, v)
		defer end()
		next.ServeHTTP(w, in)
	})
}

var (
	unknownHost = &problem{status: http.StatusMisdirectedRequest, Code: "unknown-host",
		Message: "This program answers to its address in numbers, to localhost, and to the " +
			"name that it announces, not to the name that was used."}
	tooManyAtOnce = &problem{status: http.StatusTooManyRequests, wait: time.Second, Code: "too-fast",
		Message: "This device asks for too much at once, and this was not done. It is done " +
			"when asked again in a moment."}
	otherOrigin = &problem{status: http.StatusForbidden, Code: "other-origin",
		Message: "This came from another website, which may not change anything here."}
)

// A host is what a request says it is talking to.
type host struct {
	loopback bool
}

// knownHost takes an IP literal, localhost or the announced name, with or without a
// port: names that no one outside can make lead to this address.
func (s *Server) knownHost(written string) (host, bool) {
	name := written
	if h, port, err := net.SplitHostPort(written); err == nil {
		if port == "" || strings.Trim(port, "0123456789") != "" {
			return host{}, false
		}
		name = h
	} else if strings.HasPrefix(name, "[") && strings.HasSuffix(name, "]") {
		name = name[1 : len(name)-1]
	}
	if strings.EqualFold(name, "localhost") {
		return host{loopback: true}, true
	}
	if s.Name != "" && strings.EqualFold(name, s.Name) {
		return host{}, true
	}
	// A zone may hold any character, and the host is written into a header below.
	addr, err := netip.ParseAddr(name)
	if err != nil || addr.Zone() != "" {
		return host{}, false
	}
	return host{loopback: addr.Unmap().IsLoopback()}, true
}

// sameOrigin is for the websocket, which no browser check covers. Without an
// Origin it is no browser that calls.
func sameOrigin(r *http.Request) bool {
	origins := r.Header.Values("Origin")
	if len(origins) == 0 {
		return true
	}
	u, err := url.Parse(origins[0])
	return err == nil && len(origins) == 1 && u.Host != "" &&
		strings.EqualFold(u.Host, r.Host) && !otherScheme(r)
}

// otherScheme tells a page of the same host that came in the open from one that
// came by https: anyone on the way may have written the first.
func otherScheme(r *http.Request) bool {
	return r.TLS != nil && strings.HasPrefix(strings.ToLower(r.Header.Get("Origin")), "http:")
}

func secure(h http.Header, r *http.Request, known bool) {
	live := ""
	switch { // 'self' does not cover it in older browsers
	case known && r.TLS != nil:
		live = " wss://" + r.Host
	case known:
		live = " ws://" + r.Host
	}
	h.Set("Content-Security-Policy", "default-src 'none'; script-src 'self'; worker-src 'self'; style-src 'self'; "+
		"img-src 'self' data:; font-src 'self'; media-src 'self'; manifest-src 'self'; connect-src 'self'"+live+
		"; form-action 'self'; base-uri 'none'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("X-Frame-Options", "DENY")
	// Pages say same-origin for themselves: from a page without any referrer, a form
	// on plain http names no origin, and the check above would send it away.
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
}

// A wordsView is a page that says one thing, and where to go from there.
type wordsView struct{ Sentence, On string }

func wordsOnly(w http.ResponseWriter, status int, v wordsView) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	templates.ExecuteTemplate(w, "words", v)
}
