package web

import (
	"crypto/sha256"
	"fmt"
	"net/http"
	"strings"
)

// A trustView is the page for a device that does not know this computer's
// authority yet. It comes by plain http: by https the device would warn of it.
type trustView struct {
	Fingerprint string
	Secure      string // where to go then
}

// Fingerprint is the SHA-256 of a certificate as people compare it, in pairs of
// hexadecimal digits.
func Fingerprint(der []byte) string {
	sum := sha256.Sum256(der)
	return fmt.Sprintf("% X", sum[:])
}

func (s *Server) trustPage(w http.ResponseWriter, r *http.Request) {
	s.show(w, r, http.StatusOK, "trust", trustView{Fingerprint(s.Authority), "https://" + r.Host + "/"})
}

func (s *Server) authority(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Type", "application/x-x509-ca-cert")
	h.Set("Content-Disposition", `attachment; filename="cornerwise.crt"`)
	h.Set("Cache-Control", "no-store")
	w.Write(s.Authority)
}

var needsTLS = &problem{status: http.StatusForbidden, Code: "needs-https",
	Message: "This program was started with --tls and takes nothing in the open. Use the same address with https in place of http."}

// inTheOpen tells what came by plain http where https was asked for. This computer
// itself may: nothing of it goes over the network.
func (s *Server) inTheOpen(r *http.Request, v visitor) bool {
	return s.Authority != nil && r.TLS == nil && !v.owner
}

// forTrust is what a device needs before it trusts the authority.
func forTrust(path string) bool {
	return path == "/trust" || path == "/authority.crt" || path == "/healthz" || strings.HasPrefix(path, "/static/")
}
