package web

import (
	"net/http"
	"time"

	"cornerwise/session"
)

// secretCookie holds a device's secret. Browsers send a cookie to every port of a
// host, so the name is one that no other program takes.
const secretCookie = "cornerwise-device"

// secretLasts is as long as browsers keep a cookie, and is begun anew with every
// visit to the first page.
const secretLasts = 400 * 24 * time.Hour

// cookieName has the prefix that keeps a sealed cookie from being set in the open
// (RFC 6265bis, 4.1.3.2).
func cookieName(r *http.Request) string {
	if r.TLS != nil {
		return "__Host-" + secretCookie
	}
	return secretCookie
}

func secretOf(r *http.Request) string {
	c, err := r.Cookie(cookieName(r))
	if err != nil {
		return ""
	}
	return c.Value
}

// giveSecret leaves the secret with the device. Lax, not Strict: a link in a
// message leads in as a saved address does, and what changes something is held to its
// origin at the door.
func giveSecret(w http.ResponseWriter, r *http.Request, secret string) {
	http.SetCookie(w, &http.Cookie{Name: cookieName(r), Value: secret, Path: "/",
		MaxAge: int(secretLasts / time.Second), HttpOnly: true, Secure: r.TLS != nil, SameSite: http.SameSiteLaxMode})
}

// A pairView is the page where a device is let in.
type pairView struct {
	Device session.Device // as it is known already; zero where it is not
	Fault  string
	Typed  string // what else was typed, to keep
}

// pairPage is where a device lands that may not come in.
func (s *Server) pairPage(w http.ResponseWriter, r *http.Request) {
	v := visitorOf(r)
	if v.in && v.device.ID == "" {
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return
	}
	s.show(w, r, http.StatusOK, "pair", pairView{Device: v.device})
}

// pair lets a device in by what it brings.
func (s *Server) pair(w http.ResponseWriter, r *http.Request) {
	if !s.readValues(w, r) {
		return
	}
	v, sent := visitorOf(r), r.PostForm
	if v.in && v.device.ID == "" {
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return
	}
	name := sent.Get("name")
	if name == "" {
		name = deviceName(r.UserAgent())
	}
	from := partyAt(remoteOf(r))
	secret, device, err := s.Devices.Pair(r.Context(), session.Guess{
		Token: sent.Get("token"), Code: sent.Get("code"), From: from.one, Around: from.around, Name: name, Old: secretOf(r)})
	if err != nil {
		p := explain(err)
		s.record(r, p, err)
		retryAfter(w, p)
		s.show(w, r, p.status, "pair", pairView{Device: v.device, Fault: p.Message, Typed: sent.Get("name")})
		return
	}
	s.Log.Info("paired", "looks", device.Looks, "one", device.Only != "")
	giveSecret(w, r, secret)
	http.Redirect(w, r, "/", http.StatusSeeOther)
}
