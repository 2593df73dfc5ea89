package web

import (
	"crypto/sha256"
	"fmt"
	"net/http"
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

// trustPage and authority are for where there is an authority.
func (s *Server) trustPage(w http.ResponseWriter, r *http.Request) {
	if s.Authority == nil {
		s.unknownPath(w, r)
		return
	}
	s.show(w, r, http.StatusOK, "trust", trustView{Fingerprint(s.Authority), "https://" + r.Host + "/"})
}

func (s *Server) authority(w http.ResponseWriter, r *http.Request) {
	if s.Authority == nil {
		s.unknownPath(w, r)
		return
	}
	h := w.Header()
	h.Set("Content-Type", "application/x-x509-ca-cert")
	h.Set("Content-Disposition", `attachment; filename="cornerwise.crt"`)
	h.Set("Cache-Control", "no-store")
	w.Write(s.Authority)
}
